"""Numbers as people write and say them: digits, commas, fractions, number words."""

from typing import NamedTuple

from bot.units.tokens import VULGAR, Line, word_set

_SMALL = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen
sixteen seventeen eighteen nineteen"""
_TIES = "twenty thirty forty fifty sixty seventy eighty ninety"
ONES = {word: k for k, word in enumerate(_SMALL.split())} | {"nought": 0, "naught": 0}
TENS = {word: 10 * k for k, word in enumerate(_TIES.split(), start=2)} | {"fourty": 40}
SCALES = {"hundred": 100, "thousand": 1000}
PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
    "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16,
}  # fmt: skip
DIGITS = {w: str(v) for w, v in ONES.items() if v < 10} | {"oh": "0", "o": "0"}
#: Under a fraction bar these are parts of an inch or a plain fraction; anything else is a date or a pair.
DENOMINATORS = frozenset((2, 3, 4, 5, 6, 8, 10, 16, 32, 64))
#: Before these two spoken digits are tens and ones: "four five amps".
_LARGE = word_set("a amp amps lb lbs pound pounds kg rpm psi percent degrees feet ft foot mm minutes seconds")
#: Words a spoken number can begin with.
OPENERS = frozenset((*ONES, *TENS, *PARTS, "a", "an", "point", "inch")) - {
    "third",
    "thirds",
    "fourth",
    "fourths",
}


class Number(NamedTuple):
    """A number and where it ends.

    ``next`` is the place after it; ``spoken`` when number words carry it; ``explicit`` when it can only be
    meant as a figure (a decimal, "flat", "and a half"); ``comma`` is "decimal", "group", "odd" or empty;
    ``guess`` when two spoken numbers stood side by side and were joined; ``mixed`` for a whole number and a
    fraction.
    """

    value: float
    next: int
    spoken: bool = False
    explicit: bool = False
    comma: str = ""
    guess: bool = False
    mixed: bool = False


def figure(text: str) -> tuple[float, str] | None:
    """The value of one written figure and how its comma was taken; None when it is no number (1.2.3).

    >>> figure("14,000"), figure("12,5"), figure("1.234,5"), figure("0,500")
    ((14000.0, 'group'), (12.5, 'decimal'), (1234.5, 'decimal'), (0.5, 'decimal'))
    """
    if len(text) > 40 or len(text.split(".")[0]) > 15:  # beyond what a float holds, and beyond any reading
        return None
    if "," not in text:
        return None if text.count(".") > 1 else (float(text), "")
    head, _, tail = text.rpartition(",")
    if "." in tail or "," in head:
        return float(text.replace(",", "")), "group"
    if "." in head:
        return float(head.replace(".", "") + "." + tail), "decimal"
    if len(tail) == 3 and head != "0":
        return float(head + tail), "group"
    return float(head + "." + tail), "odd" if len(tail) > 3 else "decimal"


def slash(line: Line, i: int) -> tuple[int, int] | None:
    """Numerator and denominator of whole/whole at place ``i``, where no second / makes it a date."""
    if line.mark(i + 1) != "/" or not (line.glued(i + 1) and line.glued(i + 2)):
        return None
    over, under = line.whole(i), line.whole(i + 2)
    if over is None or under is None or line.mark(i + 3) == "/" and line.whole(i + 4) is not None:
        return None
    return (over, under) if line.mark(i - 1) != "/" or not line.glued(i) else None


def fraction(line: Line, i: int) -> tuple[float, int] | None:
    """A fraction at place ``i``, written in any of three ways, and the place after it.

    >>> from bot.units.tokens import tokens
    >>> fraction(tokens("3/8"), 0), fraction(tokens("½"), 0), fraction(tokens("three quarters"), 0)
    ((0.375, 3), (0.5, 1), (0.75, 2))
    """
    token = line.at(i)
    if token.kind == "v":
        return VULGAR[token.text], i + 1
    if token.kind == "n" and (pair := slash(line, i)):
        over, under = pair
        return (over / under, i + 3) if under in DENOMINATORS and 0 < over < under else None
    low = token.low
    count: float | None = 1
    j = i
    if low in ("a", "one", "an"):
        j = i + 1
    elif low in ONES:
        count, j = ONES[low], i + 1
    elif token.kind == "n":
        count, j = line.whole(i), i + 1
    if line.mark(j) == "-" and line.glued(j) and line.glued(j + 1):
        j += 1
    under = PARTS.get(line.word(j), 0)
    if line.word(j) == "thirty" and line.mark(j + 1) == "-" and line.word(j + 2) in ("second", "seconds"):
        under, j = 32, j + 2
    if not under or not count or count >= under or (j == i and low not in ("half", "quarter")):
        return None
    return count / under, j + 1


def _joint(line: Line, i: int) -> int:
    """The place after a hyphen that ties two words, or ``i`` itself."""
    return i + 1 if line.mark(i) == "-" and line.glued(i) and line.glued(i + 1) else i


def cardinal(line: Line, i: int) -> tuple[float, int] | None:
    """A whole number in words at place ``i``, and the place after it.

    >>> from bot.units.tokens import tokens
    >>> cardinal(tokens("fourteen thousand five hundred and thirty-five"), 0)
    (14535.0, 8)
    """
    total, part, room, j, seen = 0, 0, 1 << 40, i, False
    if line.word(i) in ("a", "an"):
        if line.word(i + 1) == "dozen":
            return 12.0, i + 2
        if line.word(i + 1) == "couple":
            return 2.0, i + (3 if line.word(i + 2) == "of" else 2)
        if line.word(i + 1) not in SCALES:
            return None
        part, seen, room, j = 1, True, 1, i + 1
    while True:
        k = _joint(line, j) if seen else j
        word = line.word(k)
        if word == "and" and room in (100, 1000) and line.word(k + 1) in (ONES | TENS):
            if line.word(k + 2) in PARTS:
                break
            word, k = line.word(k + 1), k + 1
        after = line.word(k + 1)
        if room == 1000 and 0 < ONES.get(word, 0) < 10 and (after in TENS or ONES.get(after, 0) > 9):
            part, room = ONES[word] * 100, 100  # fourteen thousand nine fifty
        elif word in ONES and (not seen or room >= (100 if ONES[word] > 9 else 10)):
            part, room = part + ONES[word], 1
        elif word in TENS and (not seen or room >= 100):
            part, room = part + TENS[word], 10
        elif word == "hundred" and seen and 0 < part < 100:
            part, room = part * 100, 100
        elif word == "thousand" and seen and part > 0:
            total, part, room = total + part * 1000, 0, 1000
        else:
            break
        seen, j = True, k + 1
    return (float(total + part), j) if seen else None


def _decimals(line: Line, i: int) -> tuple[str, int]:
    """Spoken digits after "point", as text, and the place after them."""
    text, j = "", i
    while True:
        word = line.word(j)
        if word in DIGITS:
            text, j = text + DIGITS[word], j + 1
        elif not text and (pair := cardinal(line, j)) and pair[0] < 100:
            return str(int(pair[0])), pair[1]
        elif not text and (number := line.whole(j)) is not None:
            return line.at(j).text if number < 1000 else "", j + 1
        else:
            return text, j


def _tail(line: Line, whole: float, i: int, spoken: bool) -> Number | None:
    """What may follow a whole number: point and digits, a fraction, "flat"; None when nothing does."""
    word = line.word(i)
    if word in ("point", "dot") and whole < 1e6:
        digits, j = _decimals(line, i + 1)
        if digits:
            return Number(float(f"{whole:.0f}.{digits}"), j, True, True)
    if word == "flat":
        return Number(whole, i + 1, spoken, True)
    k = _joint(line, i)
    if (word == "and" or line.mark(i) in ("&", "+") or line.word(k) == "and") and whole < 10000:
        start = (
            _joint(line, (i if word == "and" or line.mark(i) else k) + 1) if k == i else _joint(line, k + 1)
        )
        if part := fraction(line, start):
            return _scaled(line, Number(whole + part[0], part[1], spoken, True, mixed=True))
    return None


def _scaled(line: Line, number: Number) -> Number:
    factor = SCALES.get(line.word(number.next)) or (1000 if line.word(number.next) == "k" else 0)
    return number._replace(value=number.value * factor, next=number.next + 1) if factor else number


def spoken(line: Line, i: int) -> Number | None:
    """The number in words at place ``i``, or None where no number begins.

    >>> from bot.units.tokens import tokens
    >>> [spoken(tokens(t), 0).value for t in ("twelve point four", "nine and a half", "point five", "half")]
    [12.4, 9.5, 0.5, 0.5]
    """
    if line.word(i) == "point":
        digits, j = _decimals(line, i + 1)
        return Number(float(f"0.{digits}"), j, True) if digits else None
    if part := fraction(line, i):
        return Number(part[0], part[1], True)
    run = i
    while line.word(run) in DIGITS and line.word(run) != "o":
        run += 1
    if run - i > 1 and line.word(run) in ("point", "dot") and line.word(i) not in ("oh", "o"):
        whole = float("".join(DIGITS[line.word(k)] for k in range(i, run)))
        return _tail(line, whole, run, True)
    first = cardinal(line, i)
    if first is None:
        return None
    value, j = first
    if tail := _tail(line, value, j, True):
        return tail
    second = cardinal(line, j) if line.word(j) in ONES or line.word(j) in TENS else None
    if second and 0 < second[0] < 100 and 0 < value < 100:
        after = line.word(second[1])
        volts = 5 <= value < 10 > second[0] and after not in _LARGE  # "nine eight" of a 12 V battery
        text = f"{value:.0f}{'.' if value >= 10 or volts else ''}{second[0]:.0f}"
        return Number(float(text), second[1], True, guess=True)
    return Number(value, j, True)


def written(line: Line, i: int) -> Number | None:
    """The number in digits at place ``i`` with what belongs to it: a fraction, "point 4", k, thousand.

    >>> from bot.units.tokens import tokens
    >>> [written(tokens(t), 0).value for t in ("1 1/2", "20-1/2", "12½", "12 thousand", "14k", "3/4")]
    [1.5, 20.5, 12.5, 12000.0, 14000.0, 0.75]
    """
    if part := fraction(line, i):
        return Number(part[0], part[1], spoken=line.at(part[1] - 1).kind == "w")
    if line.at(i).kind != "n":
        return None
    taken = figure(line[i].text)
    if taken is None:
        return None
    value, comma = taken
    whole = line.whole(i) is not None
    j = i + 1
    if whole:
        k = j + 1 if line.mark(j) == "-" and line.glued(j) and line.glued(j + 1) else j
        follows = line.at(k)
        near = (
            follows.kind in ("n", "v")
            and follows.start - line[i].end <= 2
            and (k > j or follows.kind == "v" or not line.glued(k))
        )
        if near and (part := fraction(line, k)) and line.at(part[1] - 1).kind in ("n", "v"):
            return Number(value + part[0], part[1], mixed=True)
        if tail := _tail(line, value, j, False):
            return tail
    low = line.word(j)
    if low == "k" and (line.glued(j) or value < 1000):
        return Number(value * 1000, j + 1, comma=comma)
    return _with_hundreds(line, _scaled(line, Number(value, j, comma=comma)))


_POUNDS = ("lb", "lbs", "pound", "pounds", "kg", "kilos", "kgs")


def _with_hundreds(line: Line, number: Number) -> Number:
    """2 thousand 2 hundred, 14 thousand 500 lb: what follows the thousands belongs to them."""
    j = number.next
    if line.word(j - 1) != "thousand" or number.value % 1000:
        return number
    j += line.word(j) == "and"
    more, after = line.whole(j) or 0, j + 1
    if not more and (said := cardinal(line, j)) and said[0] < 1000 and line.word(said[1] - 1) == "hundred":
        more, after = int(said[0]), said[1]
    elif 0 < more < 10 and line.word(after) == "hundred":
        more, after = more * 100, after + 1
        rest = line.whole(after + (line.word(after) == "and")) or 0
        if 0 < rest < 100 and line.word(after + (line.word(after) == "and") + 1) in _POUNDS:
            more, after = more + rest, after + (line.word(after) == "and") + 1
    elif not (100 <= more < 1000 and line.word(after) in _POUNDS):
        return number
    return number._replace(value=number.value + more, next=after)


def grouped(line: Line, i: int) -> Number | None:
    """A number with a space between its thousands (15 480), or None; a unit must follow it."""
    first = line.whole(i)
    if not first or len(line[i].text) > 3:
        return None
    digits, j = line[i].text, i + 1
    while (
        line.whole(j) is not None
        and len(line[j].text) == 3
        and line[j].start - line[j - 1].end == 1
        and j - i < 3
    ):
        digits, j = digits + line[j].text, j + 1
    if j == i + 1 or line.mark(j) == "/" or line.at(j).kind == "n" and line.glued(j):
        return None
    return Number(float(digits), j)
