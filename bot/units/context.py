"""What stands round a number: whether it is a reading at all, and words like about, under, at least."""

from bot.units.tokens import Line, word_set

_LABELS = word_set(
    "step case number num nr model part item option choice version ver page slot site lot row room "
    "unit exit highway hwy route rt interstate space spot serial grade class question type mark "
    "section chapter line channel zip mile"
)
_COUNTED = word_set(
    "leg jack motor battery wire bolt fuse time turn click crank person people guy man men trailer "
    "truck tire wheel axle block pad board post terminal switch button relay hole pin tooth teeth "
    "gear side way direction season camper cell trip shop tech person kid dog friend photo picture "
    "step question crank part piece set pair cable lead connector screw nut washer plate stand crib "
    "chock slide door box key lug spot place rig buck dollar usd euro cent star batterie switche boxe "
    "busse position speed stage revolution rev rotation"
)
_BETWEEN = word_set(
    "new old bad good front rear other different more big little small separate spare of blown"
)
_PRICED = word_set("paid pay paying cost costs priced price spent asking")
_CLOCK = frozenset(("am", "pm", "o'clock", "oclock"))
_DATE_LEAD = word_set("on since until till dated before after date by")
_YEAR_LEAD = word_set("in since model year from a until till")
_WEIGHTY = word_set("weight weighs weigh weighed load gross gvw gvwr pin gcwr carries rated total")
CHANGES = word_set(
    "went goes go going gone got gets climbs climbed comes came jumps jumped spikes spiked rose rises "
    "drops dropped drop falls fell fall dips dipped sags sagged down moved changed ran runs cranked "
    "brought charged"
)
_NOT = word_set(
    "not never no cant can't cannot won't wont doesn't doesnt didn't didnt don't dont isn't isnt "
    "nothing couldn't couldnt wouldn't wouldnt ain't aint wasn't wasnt barely hardly"
)
_ABOUT = word_set(
    "about around approx approximately roughly near nearly almost maybe circa bout abt ca like say "
    "probably somewhere"
)
_UNDER = frozenset(("under", "below", "<"))
_OVER = frozenset(("over", "above", ">", "past", "exceeding"))
_BOUND_2 = {
    ("less", "than"): -1, ("lower", "than"): -1, ("fewer", "than"): -1, ("at", "most"): -1,
    ("up", "to"): -1, ("more", "than"): 1, ("greater", "than"): 1, ("higher", "than"): 1,
    ("at", "least"): 1, ("upwards", "of"): 1, ("max", "of"): -1, ("maximum", "of"): -1,
    ("minimum", "of"): 1, ("min", "of"): 1,
}  # fmt: skip


def no_reading(line: Line, i: int) -> int:
    """The place after a date, clock time, phone number, price or name at ``i``; 0 where there is none."""
    whole = line.whole(i)
    if line.mark(i - 1) in ("$", "€", "£") and line.glued(i):
        return i + 1
    if whole is None:
        glued_name = line.glued(i) and line.at(i - 1).kind == "w" and "." not in line.at(i).text
        return i + 1 if glued_name and line.at(i).kind == "n" else 0
    for mark, least in (("/", 3), ("-", 3), (":", 2)):
        j = i
        while (
            line.mark(j + 1) == mark
            and line.glued(j + 1)
            and line.glued(j + 2)
            and line.whole(j + 2) is not None
        ):
            j += 2
        if (j - i) // 2 + 1 >= least and not (mark == "-" and line.mark(j + 1) == "/"):
            return _past_clock(line, j + 1)
    if end := _past_clock(line, i + 1, 0):
        return end
    size = len(line.at(i).text)
    second, third = line.whole(i + 2), line.whole(i + 4)
    if size == 3 and line.mark(i - 1) == "(" and line.mark(i + 1) == ")" and second is not None:
        return i + (
            5 if line.mark(i + 3) == "-" and third is not None else 4 if line.whole(i + 3) is not None else 3
        )
    if (
        size == 3
        and line.mark(i + 1) == "-"
        and line.glued(i + 1)
        and line.glued(i + 2)
        and len(line.at(i + 2).text) == 4
    ):
        return (
            0 if second is None or line.word(i + 3) in ("rpm", "lb", "lbs", "pounds", "kg", "psi") else i + 3
        )
    lengths = [len(line.at(k).text) if line.whole(k) is not None else 0 for k in range(i, i + 3)]
    if lengths == [3, 3, 4]:
        return i + 3
    if line.mark(i - 1) == "+" and line.glued(i) and lengths[1]:
        return i + 1
    return _name(line, i)


def _name(line: Line, i: int) -> int:
    """Past a number that belongs to a name: T350, I-40, '11."""
    if line.glued(i) and line.at(i - 1).kind == "w" and line.word(i - 1) not in ("x", "by"):
        return i + 1
    if line.mark(i - 1) == "-" and line.glued(i) and line.glued(i - 1) and 0 < len(line.word(i - 2)) <= 2:
        return i + 1
    apostrophe = line.mark(i - 1) == "'" and line.glued(i) and not line.glued(i - 1)
    return i + 1 if apostrophe and len(line.at(i).text) == 2 and line.mark(i + 1) != "'" else 0


def _past_clock(line: Line, j: int, default: int | None = None) -> int:
    if line.word(j) in _CLOCK:
        return j + 1
    if line.word(j) in ("a", "p") and line.mark(j + 1) == "." and line.word(j + 2) == "m":
        return j + 3
    return j if default is None else default


def no_bare_reading(line: Line, i: int, after: int, answering: bool = False) -> bool:
    """True when a number without a unit, ``i`` to ``after``, counts, labels, multiplies or dates something.

    In the answer to a question, ``answering``, a figure like 2000 is a year only where the words say so.
    """
    word, before = line.word(after), line.word(i - 1)
    whole = line.whole(i) if after == i + 1 else None
    if word and line.glued(after):
        return True
    if (
        word in ("x", "by")
        and (line.at(after + 1).kind == "n" or line.glued(after))
        or before in ("x", "by", "times")
    ):
        return True
    if (
        line.mark(after) == "-"
        and line.glued(after)
        and line.glued(after + 1)
        and line.word(after + 1)
        and whole is not None
    ):
        return True
    # Nobody counts 11.2 motors: a decimal before a part is a reading at that part.
    counts = "." not in line.at(i).text and "," not in line.at(i).text and line.word(after - 1) != "k"
    if any(line.word(k) in _PRICED for k in range(max(0, i - 3), i)):
        return True
    if (
        counts
        and _is_counted(word)
        or counts
        and word in _BETWEEN
        and (_is_counted(line.word(after + 1)) or word == "of")
    ):
        return True
    if (
        counts
        and word == "out"
        and line.word(after + 1) == "of"
        or before == "of"
        and line.at(i - 2).kind in ("n",)
    ):
        return True
    named = (
        before in _LABELS or line.mark(i - 1) in ("#", ".", ":") and line.word(i - 2) in (_LABELS | {"no"})
    )
    if before in ("class", "grade") or named and whole is not None and not (answering and before == "number"):
        return True
    if line.mark(i - 1) == "#":
        return True
    if line.mark(i + 1) == "/" and line.whole(i) is not None:
        return before in _DATE_LEAD
    if whole is None:
        return False
    if before in ("leg", "pin") and whole < 10:  # leg 2, pin 4 of the plug; a pin weight has more figures
        return True
    size = len(line.at(i).text)
    dated = before in _YEAR_LEAD or word in ("model", "year") if answering else not _weighed(line, i)
    return size >= 7 or whole == 911 or (_is_year(line, i) and dated)


def _is_counted(word: str) -> bool:
    return word in _COUNTED or (word.endswith("s") and word[:-1] in _COUNTED)


def _is_year(line: Line, i: int) -> bool:
    whole = line.whole(i)
    return whole is not None and 1950 <= whole <= 2049 and len(line.at(i).text) == 4


def _weighed(line: Line, i: int) -> bool:
    return any(line.word(k) in _WEIGHTY for k in range(max(0, i - 3), i))


def negative(line: Line, i: int) -> int:
    """The place of a minus that belongs to the number at ``i``, or ``i`` where there is none.

    >>> from bot.units.tokens import tokens
    >>> negative(tokens("-5 C"), 1), negative(tokens("plus to minus 12 V"), 3)
    (0, 3)
    """
    if line.mark(i - 1) == "-" and line.glued(i) and not line.glued(i - 1) and line.mark(i - 2) not in ("-",):
        return i - 1
    if line.mark(i - 1) == "-" and line.glued(i) and line.mark(i - 2) in ("(", "=", ":", "~"):
        return i - 1
    if line.word(i - 1) == "minus" and line.word(i - 2) not in (
        "to",
        "and",
        "or",
        "the",
        "from",
        "at",
        "on",
        "plus",
        "battery",
    ):
        return i - 1
    return i


def led_by(line: Line, i: int) -> tuple[int, bool]:
    """How the words before place ``i`` bound a number: (-1 under, 1 over, 0 neither; about).

    A bound that is denied turns round: "never over 9 volts" is under 9.

    >>> from bot.units.tokens import tokens
    >>> led_by(tokens("not over 9"), 2), led_by(tokens("went up to 9"), 3), led_by(tokens("about 9"), 1)
    ((-1, False), (0, False), (0, True))
    """
    k, about = i - 1, False
    if line.mark(k) == "." and line.word(k - 1) in ("approx", "ca", "abt"):
        k -= 1
    while (
        line.at(k).low in _ABOUT
        or line.mark(k) == "~"
        or (line.word(k) == "to" and line.word(k - 1) == "close")
    ):
        about = True
        k -= 2 if line.word(k) == "to" else 1
    if line.word(k) in ("a", "an", "just", "of") and line.word(k - 1) not in ("more", "up"):
        k -= (
            1
            if line.word(k) != "of" or line.word(k - 1) not in ("upwards", "max", "maximum", "minimum", "min")
            else 0
        )
    if line.mark(k) == "=" and line.mark(k - 1) in ("<", ">"):
        k -= 1
    low, width = line.at(k).low, 1
    side = -1 if low in _UNDER else 1 if low in _OVER else 0
    if not side:
        side, width = _BOUND_2.get((line.word(k - 1), low), 0), 2
        if (line.word(k - 1), low) == ("up", "to") and line.word(k - 2) in CHANGES:
            side = 0
    if side:
        for j in range(k - width, max(-1, k - width - 5), -1):
            if line.mark(j):
                break
            if line.word(j) in _NOT:
                return -side, about
    return side, about


def followed_by(line: Line, i: int) -> tuple[int, bool]:
    """The same for the words after a number: "or so", "ish", "or less", "+"; no place is consumed.

    >>> from bot.units.tokens import tokens
    >>> followed_by(tokens("or so"), 0), followed_by(tokens("or more"), 0)
    ((0, True), (1, False))
    """
    one, two = line.word(i), line.word(i + 1)
    if (
        line.mark(i) == "+"
        and line.at(i + 1).kind != "n"
        or (one, two) in (("or", "more"), ("or", "better"), ("and", "up"))
    ):
        return 1, False
    if (one, two) in (("or", "less"), ("or", "under"), ("at", "most"), ("tops", "")) or one == "tops":
        return -1, False
    about = one in ("ish", "roughly", "approximately", "approx", "thereabouts") or (one, two) in (
        ("or", "so"),
        ("more", "or"),
        ("give", "or"),
        ("or", "thereabouts"),
        ("or", "about"),
        ("or", "around"),
    )
    return 0, about or (line.mark(i) == "-" and two == "ish")
