"""Every quantity in a free line of text, and nothing that only looks like one."""

import math
from typing import NamedTuple

from bot.units import context, numbers
from bot.units.bolts import bolt_at
from bot.units.doubts import figure_doubt
from bot.units.pieces import Piece, piece_at
from bot.units.spelling import Match, unit_at
from bot.units.table import DOUBT, kind_of
from bot.units.tokens import Line, tokens, word_set

#: "About" without a figure of its own means this much either way. Common practice, no source.
ABOUT_SHARE = 0.05

_READ = word_set("get gets got see sees read reads reading says shows only have has")
_AT = word_set("at on across")
_RULER_PARTS = word_set("eighth eighths sixteenth sixteenths")
_FAR_FEET = word_set(
    "long of away apart tall high off deep wide from short down up above below low longer shorter run"
)


class Found(NamedTuple):
    """One quantity in a line.

    ``start`` and ``end`` count characters of the line, ``text`` is what stands there. ``value`` is the
    figure, the middle of a range, or the limit of an open bound, in ``unit`` (short name, None for a bare
    number). ``low`` and ``high`` are its ends; an open end is infinite, or 0 for what cannot be negative.
    ``about`` says the person was unsure. ``doubtful`` is a question back where the text has more than one
    sense, else None. Until it is answered the unit may be "ton", "mil" or "deg", which ``convert`` does not
    take.
    """

    start: int
    end: int
    value: float
    low: float
    high: float
    unit: str | None
    kind: str
    about: bool
    text: str
    doubtful: str | None


_GAUGE_LABELS = word_set("awg number no num nr size")
_WIRES = word_set("wire wires cable cables lead leads wiring copper stranded awg")
_SIZES = (0, 1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20)  # sold as battery, motor and trailer wire


def scan(text: str, *, words: bool = False) -> tuple[Found, ...]:
    """Every quantity in a line, in order.

    Number words count when a unit follows or a decimal is spoken; with ``words`` they always count, and so
    do plain numbers that would else be taken for a year or a date fraction: for the answer to a question.
    Dates, clock times, phone numbers, prices, counts (2 motors), labels (step 4) and names (7-way) are left
    out. Never raises.

    >>> [(f.value, f.unit) for f in scan("12.6 volts at rest, 33 to 34 amps, 5 1/2 ft of 10 ga, since 11/25")]
    [(12.6, 'V'), (33.5, 'A'), (5.5, 'ft'), (10.0, 'AWG')]
    """
    line = tokens(text)
    found: list[Found] = []
    i = 0
    while i < len(line):
        token = line[i]
        if (
            token.kind in ("n", "v")
            or token.low in numbers.OPENERS
            or token.low in _GAUGE_LABELS
            or token.text == "#"
            or token.low == "m"
        ):
            taken, after = _one(text, line, i, words)
            if taken:
                found.append(taken)
            i = max(after, i + 1)
        else:
            i += 1
    return tuple(found)


def _one(text: str, line: Line, i: int, words: bool) -> tuple[Found | None, int]:
    """The quantity that begins at place ``i``, if one does, and the place to go on from."""
    if bolt := bolt_at(line, i):
        size, after = bolt
        start, end = line[i].start, line[after - 1].end
        return Found(
            start,
            end,
            size.diameter,
            size.diameter,
            size.diameter,
            size.unit,
            "bolt",
            False,
            text[start:end],
            None,
        ), after
    if line[i].kind == "w" and line[i].low == "m":
        return None, i + 1
    if line[i].low in _GAUGE_LABELS and (found := _named_gauge(text, line, i)):
        return found
    if line[i].text == "#":
        return _hash(text, line, i)
    if line[i].kind == "n":
        if after := context.no_reading(line, i):
            return None, after
        if special := _aught(text, line, i, words):
            return special
        if after := _past_slash(line, i):
            return None, after
    first = _alternative(line, i) or piece_at(line, i, words)
    if first is None:
        return None, i + 1
    if _leg_foot(line, i, first, words):
        return None, first.next
    last, low, high = _range(line, i, first, words)
    unit = last.unit or first.unit
    if math.isnan(high):
        return None, last.next
    if unit is None and not _counts_bare(line, i, last, words):
        return None, last.next
    if unit is None and context.no_bare_reading(line, i, last.next, words):
        return None, last.next
    return _found(text, line, i, (first, last), low, high, unit), last.next


def _past_slash(line: Line, i: int) -> int:
    """Past whole/whole that is neither a fraction nor a pair like 12/24 V; else 0."""
    pair = numbers.slash(line, i)
    if pair is None or numbers.fraction(line, i) or _alternative(line, i):
        return 0
    return i + 3


def _alternative(line: Line, i: int) -> Piece | None:
    """12 of 12/24 V, with the unit of the pair."""
    pair = numbers.slash(line, i)
    unit = unit_at(line, i + 3) if pair and not numbers.fraction(line, i) else None
    if pair is None or unit is None or unit.unit not in ("V", "A"):
        return None
    return Piece(numbers.Number(float(pair[0]), i + 1), unit, i + 1, float(pair[0]))


def _counts_bare(line: Line, i: int, piece: Piece, words: bool) -> bool:
    """True when a number without a unit may still be a reading."""
    number = piece.number
    if not number.spoken or number.explicit or words:
        return words or numbers.slash(line, i) is None or _ruler(line, i)
    if number.guess or number.value >= 1000 or line.word(number.next - 1) in _RULER_PARTS:
        return True  # twelve four, sixteen thousand, three eighths: the caller looks for what they are of
    if 5 <= number.value <= 16 and line.word(i - 1) in _READ and line.word(piece.next) in _AT:
        return True  # "I get twelve on the motor"
    if number.value == 0 and piece.next == i + 1:
        after = line.at(piece.next)
        return line.word(i - 1) in (
            "dead",
            "reads",
            "read",
            "reading",
            "shows",
            "says",
            "at",
            "is",
            "get",
            "gets",
            "got",
            "a",
        ) or (after.kind != "w")
    return False


def _ruler(line: Line, i: int) -> bool:
    """True for a bare fraction that a ruler has and a date rarely is: 3/8, 11/16."""
    pair = numbers.slash(line, i)
    return bool(pair and pair[1] in (2, 4, 8, 16, 32, 64) and pair[0] % 2)


def _leg_foot(line: Line, i: int, piece: Piece, words: bool) -> bool:
    """True for "one foot" and "two feet" as parts of the legs, not as a length."""
    if words or not piece.number.spoken or piece.unit is None or piece.unit.key not in ("foot", "feet"):
        return False
    if piece.value not in (1, 2) or piece.next != i + 2:
        return False
    return line.word(piece.next) not in _FAR_FEET and not context.led_by(line, i)[1]


def _hash(text: str, line: Line, i: int) -> tuple[Found | None, int]:
    """#10 wire is a gauge, #10 alone may be, case #214 is not."""
    whole = line.whole(i + 1)
    if whole is None or not line.glued(i + 1):
        return None, i + 1
    unit = unit_at(line, i + 2)
    run = line.word(i - 1) == "of" and line.word(i - 2) in ("ft", "feet", "foot", "m", "metres", "meters")
    wire = line.word(i + 2) in ("wire", "wires", "cable", "awg", "stranded", "copper")
    gauge = wire or unit is not None and unit.unit in ("AWG", "SAE")
    if unit and not gauge:
        return None, i + 1
    before = line.word(i - 1)
    if not gauge and (
        not 4 <= whole <= 20
        or whole % 2
        or before
        and not before.endswith("wire")
        and before not in ("a", "with", "is", "its")
        and not run
    ):
        return None, i + 2
    after = unit.next if unit and gauge else i + 2
    start, end = line[i].start, line[after - 1].end
    doubt = None if wire or unit and not unit.doubt else DOUBT["gauge" if gauge else "#"]
    size = float(whole)
    return Found(start, end, size, size, size, "AWG", "gauge", False, text[start:end], doubt), after


def _named_gauge(text: str, line: Line, i: int) -> tuple[Found, int] | None:
    """AWG8, AWG 10, number eight wire, "wire is number 6": the label before the number of a wire size."""
    sure = line[i].low == "awg"
    j = i + 1
    while line.mark(j) in (".", ":", "#", "=", "-") or line.word(j) in ("number", "size", "is"):
        j += 1
    number = numbers.written(line, j) if line.at(j).kind == "n" else numbers.spoken(line, j)
    if number is None or number.explicit or number.mixed or number.value not in _SIZES:
        return None
    after, behind = line.word(number.next), unit_at(line, number.next, number.spoken)
    if behind and behind.unit != "AWG":
        return None
    named = any(line.word(k) in _WIRES for k in range(max(0, i - 3), i))
    if not (sure or after in _WIRES or named and line[i].low != "no"):
        return None
    end = behind.next if behind else number.next
    start, stop = line[i].start, line[end - 1].end
    size = number.value
    return Found(start, stop, size, size, size, "AWG", "gauge", False, text[start:stop], None), end


def _aught(text: str, line: Line, i: int, words: bool) -> tuple[Found, int] | None:
    """Wire sizes above one: 2/0, or 00 before a gauge word."""
    whole, value, after = line.whole(i), 0.0, i
    if whole is None:
        return None
    if (pair := numbers.slash(line, i)) and pair[1] == 0 and 1 <= pair[0] <= 4:
        value, after = 1.0 - pair[0], i + 3
    elif whole == 0 and 2 <= len(line[i].text) <= 4:
        value, after = 1.0 - len(line[i].text), i + 1
    unit = unit_at(line, after) if after > i else None
    gauge = unit if unit and unit.unit == "AWG" else None
    if after == i or (after == i + 1 and not gauge and not (words and len(line) == 1)):
        return None
    after = gauge.next if gauge else after
    start, end = line[i].start, line[after - 1].end
    return Found(start, end, value, value, value, "AWG", "gauge", False, text[start:end], None), after


def _range(line: Line, i: int, first: Piece, words: bool) -> tuple[Piece, float, float]:
    """The last piece of a range that opens with ``first``, and both ends; ``first`` where there is none."""
    alone = first, first.value, first.value
    j = first.next
    word, mark = line.word(j), line.mark(j)
    spread = (
        mark == "±"
        or mark == "+"
        and line.mark(j + 1) in ("/", "-")
        or word == "plus"
        and line.word(j + 1) == "or"
    )
    if spread:
        while line.at(j).kind == "s" or line.word(j) in ("plus", "or", "minus"):
            j += 1
        width = piece_at(line, j, words)
        if width is None or (width.unit and first.unit and width.unit.unit != first.unit.unit):
            return alone
        joined = width._replace(unit=width.unit or first.unit)
        return joined, first.value - width.value, first.value + width.value
    between = word == "and" and line.word(i - 1) == "between"
    if not (mark == "-" or word in ("to", "thru", "through", "or", "till") or between):
        return alone
    k = j + 1
    if line.word(k) == "maybe" or line.word(k) == "about":
        k += 1
    second = piece_at(line, k, words) if line.at(k).kind in ("n", "v", "w") else None
    if second is None or mark == "-" and line.glued(j + 1) and not line.glued(j):
        return alone
    if line.at(k).kind == "n" and context.no_reading(line, k) and line.whole(i) is not None:
        return alone
    merged = _same_unit(first, second)
    if merged is None or second.number.spoken and merged.unit is None and not words:
        return alone
    a, b = first.value, second.value
    if first.unit is None and a < 1000 <= b and _thousands(line, second) and a < b / 1000 <= 3 * a:
        a *= 1000  # between 13 and 14 thousand
        first = first._replace(value=a)
    if merged.unit and merged.unit.unit == "AWG":
        a, b = min(a, b), max(a, b)
    if a == b and merged.unit is None:  # fifty-fifty
        return second, a, math.nan
    if not a < b or word == "or" and b > 1.5 * a:
        return _lend(first, merged) if word in ("to", "or", "thru") else alone
    if (
        word == "to"
        and line.word(i - 1) == "from"
        and (line.word(i - 2) in context.CHANGES or line.word(i - 3) in context.CHANGES)
    ):
        return _lend(first, merged)
    if merged.unit is None and (
        context.no_bare_reading(line, k, second.next, words) or _alternatives(line, word)
    ):
        return alone
    return merged._replace(about=first.about or second.about), a, b


def _thousands(line: Line, piece: Piece) -> bool:
    """Whether the number of a piece ends in "thousand" or k."""
    return line.word(piece.number.next - 1) in ("thousand", "k")


def _alternatives(line: Line, word: str) -> bool:
    return word == "or" and len(line) > 3


def _same_unit(first: Piece, second: Piece) -> Piece | None:
    """The second piece carrying the unit both share, or None when each has its own."""
    if first.unit and second.unit:
        return second if first.unit.unit == second.unit.unit else None
    return second._replace(unit=second.unit or first.unit)


def _lend(first: Piece, second: Piece) -> tuple[Piece, float, float]:
    """From 12.6 to 9.8 volts: two readings, and the unit of the second is that of the first as well."""
    unit = first.unit or second.unit
    return first._replace(unit=unit), first.value, first.value


def _found(
    text: str, line: Line, i: int, ends: tuple[Piece, Piece], low: float, high: float, unit: Match | None
) -> Found:
    first, last = ends
    begin = context.negative(line, i)
    kind = kind_of(unit.unit) if unit else "bare"
    if begin != i:
        low, high = (-low, high) if first is not last else (-high, -low)
        low, high = min(low, high), max(low, high)
    value = (low + high) / 2
    side, about = context.led_by(line, begin)
    side_after, about_after = context.followed_by(line, last.next)
    about = (
        about
        or about_after
        or last.about
        or first.about
        or line.word(i) in ("a", "an")
        and line.word(i + 1) in ("couple", "dozen")
    )
    side = side or side_after or int(first.plus)
    if side and low == high:
        floor = -math.inf if kind == "temperature" else min(0.0, value)
        low, high = (floor, value) if side < 0 else (value, math.inf)
    elif about and low == high:
        low, high = value - abs(value) * ABOUT_SHARE, value + abs(value) * ABOUT_SHARE
    start, end = line[begin].start, line[last.next - 1].end
    piece = text[start:end]
    return Found(
        start,
        end,
        value,
        low,
        high,
        unit.unit if unit else None,
        kind,
        about,
        piece,
        _doubt(line, i, first, unit, piece),
    )


def _doubt(line: Line, i: int, first: Piece, unit: Match | None, piece: str) -> str | None:
    """The question back, where the text has more than one sense."""
    if unit and unit.doubt:
        return DOUBT[unit.doubt]
    number = first.number
    if number.guess:
        return f'"{piece}": is that {number.value:g}? Type it in digits.'
    if (
        line[i].kind == "n"
        and number.next == i + 1
        and (doubt := figure_doubt(line[i].text, unit.unit if unit else None))
    ):
        return doubt
    if (
        number.mixed
        and line.at(i + 1).kind == "n"
        and line.word(first.next) in ("bolts", "pins", "screws", "nuts")
    ):
        return f'"{piece}": one size, or {line[i].text} of the fraction? Type the size alone.'
    return None
