"""Which unit, if any, stands at a place in a line."""

from typing import NamedTuple

from bot.units.table import CASED, DOUBTFUL, openers, spellings
from bot.units.tokens import Line, word_set

#: After "in", these make it the preposition: 12 in the morning, 2 in a row.
_IN_WHAT = word_set(
    "the a an my our his her their your this that these those it its each both all one two park camp "
    "case there here front back between total reverse gear use place at series parallel order line "
    "half time stock town winter summer spring fall service storage fact general which what any every "
    "some no not by"
)
#: After a spoken number, "in" is inches only before one of these or at the end.
_IN_ABOUT = word_set(
    "low lower high higher long longer short shorter wide deep tall apart gap difference off out up "
    "down thick"
)
_A_WHAT = word_set(
    "day week month year bit little few lot couple while piece side pop time good half quarter new "
    "bad minute second hour man guy friend tech meter trip leg motor battery fuse wire different"
)
#: Single letters that also stand for words (n: and, w: with, s: is): taken apart from the number only at
#: its end.
_SHY = frozenset("nwlgtsk")
#: Units a spoken number may not take: too easily the end of another word.
_NEVER_SPOKEN = word_set("a m s c f t h g n w l mi mo ma pa te bar bars gr in")
#: After "stone" as a weight comes the end or one of these; "ten stone steps" weigh nothing.
_STONE_BEFORE = word_set("on at of and or all each total gross for in says so") | {""}
_SQUARED = frozenset(("mm", "cm", "m", "in", "ft"))


class Match(NamedTuple):
    """A unit found: short name, the place after it, key of its doubt, its spelling, and a glued "ish"."""

    unit: str
    next: int
    doubt: str = ""
    key: str = ""
    ish: bool = False


def unit_at(line: Line, i: int, spoken: bool = False, quote: str = "") -> Match | None:
    """The unit that stands at place ``i``, right after a number, or None.

    ``spoken`` says that the number was in words; ``quote`` is the mark that opened a quotation before the
    number, and so closes it after.

    >>> from bot.units.tokens import tokens
    >>> unit_at(tokens("ft. lbs. dry"), 0).unit, unit_at(tokens("in the rain"), 0)
    ('lb-ft', None)
    """
    mark = line.mark(i)
    if not mark:
        return _worded(line, i, spoken)
    if mark == quote and line.glued(i):
        return None
    if mark == '"':
        return Match("in", i + 1, key=mark)
    if mark == "'":
        if line.mark(i + 1) == "'" and line.glued(i + 1):
            return Match("in", i + 2, key="''")
        tied = line.glued(i + 1) and line.at(i + 1).kind == "w" and line.word(i + 1) not in ("x", "by")
        return None if tied else Match("ft", i + 1, key=mark)
    if mark == "#":
        return (
            None
            if line.at(i + 1).kind == "n" and line.glued(i + 1) and not line.glued(i)
            else Match("lb", i + 1)
        )
    if mark == "%":
        return Match("%", i + 1)
    if mark == "°":
        return _worded(line, i, spoken)
    if mark == "-" and line.glued(i) and line.glued(i + 1) and line.word(i + 1):
        return _worded(line, i + 1, spoken)
    return None


def _worded(line: Line, i: int, spoken: bool) -> Match | None:
    token = line.at(i)
    low = token.low
    table = spellings()
    if low not in openers():
        bare = low.removesuffix("ish")
        ish = bare != low and bare in table and (line.glued(i) or len(bare) > 2)
        return Match(table[bare], i + 1, key=bare, ish=True) if ish else None
    cased = CASED.get(token.text) or (
        DOUBTFUL[token.text][0] if token.text in DOUBTFUL and low != token.text else ""
    )
    if cased:
        return Match(cased, i + 1, "Mohm" if token.text in DOUBTFUL else "", low)
    best: Match | None = None
    key, k = "", i
    for _ in range(5):
        piece = line.at(k).low
        k += 1
        if piece in _SQUARED:
            if line.at(k).text == "2" and line.glued(k):
                piece, k = piece + "2", k + 1
            elif line.mark(k) == "^" and line.at(k + 1).text == "2":
                piece, k = piece + "2", k + 2
        key += piece
        if key in table:
            best = Match(table[key], k, key=key)
        elif key in DOUBTFUL:
            best = Match(DOUBTFUL[key][0], k, DOUBTFUL[key][1], key)
        sep = _between(line, k)
        if sep is None or len(key) > 24:
            break
        key += sep[0]
        k = sep[1]
    return best if best and _means_unit(line, i, best, spoken) else None


def _between(line: Line, k: int) -> tuple[str, int] | None:
    """What joins the word before ``k`` to the next, as the table writes it, and where the next stands."""
    if line.word(k):
        return ("" if line.glued(k) else " "), k
    if not line.word(k + 1):
        return None
    mark = line.mark(k)
    if mark == "/":
        return "/", k + 1
    if mark == "." and not line.glued(k + 1):
        return " ", k + 1
    if mark and mark in "-*." and line.glued(k) and line.glued(k + 1):
        return "-", k + 1
    return ("-", k + 1) if mark == "*" else None


def _means_unit(line: Line, i: int, found: Match, spoken: bool) -> bool:
    key, after = found.key, line.word(found.next)
    if key == "in":
        if line.at(i).text == "IN" and after == "":
            return True
        return (after in _IN_ABOUT or not after) if spoken else after not in _IN_WHAT
    if spoken and key in _NEVER_SPOKEN:
        return False
    if key == "w" and line.mark(found.next) == "/":  # w/ and w/o are with and without
        return False
    if key == "stone":
        return after in _STONE_BEFORE
    if len(key) == 1 and not line.glued(i):
        if key == "a" and line.at(i).text == "a":
            return after not in _A_WHAT
        if key in _SHY and line.at(i).text == key:
            return not after
    return not (key == "volt" and after in ("meter", "meters"))
