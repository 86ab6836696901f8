"""One number with its unit, and what is joined to it: 5 ft 6 in, an inch and a half, 12-ish volts."""

from typing import NamedTuple

from bot.units import numbers
from bot.units.numbers import Number
from bot.units.spelling import Match, unit_at
from bot.units.table import kind_of
from bot.units.tokens import Line, word_set

_GROUPS_BY_SPACE = frozenset(("weight", "force", "pressure", "turning speed", "torque"))
_WITHIN = {"ft": ("in", 12), "lb": ("oz", 16), "h": ("min", 60), "min": ("s", 60)}
_TRUCKS = word_set("truck trucks pickup pickups dually pick")
_NOT_ONE = word_set("meter drop gauge tester reading or pound")
_ODD = word_set("odd some something")  # fifty odd amps
NUMERIC = ("n", "v")


class Piece(NamedTuple):
    """A number, its unit, the place after both, the value in that unit, and what was said around it.

    ``about`` for a tied "ish", ``plus`` for a tied "+": 50+ amps.
    """

    number: Number
    unit: Match | None
    next: int
    value: float
    about: bool = False
    plus: bool = False


def _article(line: Line, i: int) -> Piece | None:
    """An inch, a volt: the article is a one; so is its lack in "inch and a quarter"."""
    if line.word(i) == "inch" and line.word(i + 1) == "and" and not line.glued(i):
        part = numbers.fraction(line, i + 2)
        unit = unit_at(line, i, True)
        return Piece(Number(1.0, i, True), unit, part[1], 1.0 + part[0]) if part and unit else None
    if line.word(i) == "a" and line.word(i + 1) in ("ton", "tonne") and line.word(i + 2) == "and":
        # "weighs a ton" is a manner of speaking, a ton and a half is not
        unit = unit_at(line, i + 1, True)
        part = numbers.fraction(line, i + 3)
        return Piece(Number(1.0, i + 1, True), unit, part[1], 1.0 + part[0]) if part and unit else None
    if line.word(i) not in ("a", "an") or line.word(i + 1) not in (
        "inch",
        "volt",
        "millimeter",
        "millimetre",
    ):
        return None
    if line.word(i + 2) in _NOT_ONE:
        return None
    unit = unit_at(line, i + 1, True)
    return _with_part(line, Piece(Number(1.0, i + 1, True), unit, unit.next, 1.0)) if unit else None


def piece_at(line: Line, i: int, words: bool) -> Piece | None:
    """One number with its unit and what it is joined with (5 ft 6 in, an inch and a half)."""
    opened = line.mark(i - 1)
    quote = opened if opened in ("'", '"') and line.glued(i) and not line.glued(i - 1) else ""
    token = line.at(i)
    number: Number | None = None
    if token.kind in NUMERIC:
        if by_space := numbers.grouped(line, i):
            unit = unit_at(line, by_space.next)
            number = (
                by_space
                if unit and kind_of(unit.unit) in _GROUPS_BY_SPACE or unit and unit.unit == "mm"
                else None
            )
        number = number or numbers.written(line, i)
    elif token.kind == "w":
        number = numbers.spoken(line, i)
        if number is None:
            return _article(line, i)
    if number is None:
        return None
    if between := _letter_for_point(line, i, number):
        return between
    about, j = False, number.next
    if line.word(j) == "ish" or line.mark(j) == "-" and line.word(j + 1) == "ish" and line.glued(j + 1):
        about, j = True, j + (1 if line.word(j) == "ish" else 2)
    if line.word(j) in _ODD and unit_at(line, j + 1, True):
        about, j = True, j + 1
    plus = line.mark(j) == "+" and line.at(j + 1).kind == "w"
    plus = plus or line.word(j) == "plus" and unit_at(line, j + 1, True) is not None
    j += plus
    soft = number.spoken and not number.explicit
    unit = None
    if number.value % 1 or number.mixed:  # half an inch, 1/16 of an inch
        k = j + 1 if line.word(j) == "of" else j
        if line.word(k) in ("a", "an"):
            unit = unit_at(line, k + 1, True)
    unit = unit or unit_at(line, j, soft, quote)
    if unit is None:
        if soft and number.guess and not words and not _like_volts(line, number):
            return None
        return Piece(number, None, j - plus, number.value, about)
    if unit.unit == "ton" and line.word(unit.next) in _TRUCKS:
        return None
    whole = Piece(number, unit, unit.next, number.value, about or unit.ish, plus)
    return _with_part(line, _with_smaller(line, whole, quote))


def _letter_for_point(line: Line, i: int, number: Number) -> Piece | None:
    """12V6: the unit stands where the point belongs (the way of IEC 60062 for printed values)."""
    j = i + 2
    if number.next != i + 1 or line.word(i + 1) != "v" or line.whole(i) is None or line.whole(j) is None:
        return None
    if not (line.glued(i + 1) and line.glued(j)) or len(line[j].text) > 2 or number.value > 30:
        return None
    if line.glued(j + 1) and line.at(j + 1).kind == "w":  # 12V2A of a charger's label
        return None
    value = float(f"{number.value:.0f}.{line[j].text}")
    return Piece(Number(value, j + 1), Match("V", j + 1, key="v"), j + 1, value)


def _like_volts(line: Line, number: Number) -> bool:
    """Whether two spoken numbers side by side, without a unit, can be volts of a 12 V system: twelve four."""
    after = line.word(number.next)
    return 5 <= number.value < 16 and after not in numbers.ONES and after not in numbers.TENS


def _with_smaller(line: Line, piece: Piece, quote: str) -> Piece:
    """5 ft 6 in, 8 lb 4 oz, 2 min 30 s as one quantity."""
    unit = piece.unit
    if unit is None or unit.unit not in _WITHIN or unit.doubt:
        return piece
    small, count = _WITHIN[unit.unit]
    j = piece.next
    dash = line.mark(j) == "-" and unit.key == "'"
    dot = line.mark(j) == "." and line.at(j + 1).kind == "n"
    if dash or dot or line.word(j) == "and" and small in ("min", "s"):
        j += 1
    number = numbers.written(line, j) if line.at(j).kind in NUMERIC else numbers.spoken(line, j)
    if number is None or not 0 <= number.value < count:
        return piece
    second = unit_at(line, number.next, number.spoken and not number.explicit, quote)
    after = line.at(number.next)
    if second and second.unit == small:
        end = second.next
    elif (
        second is None
        and unit.unit == "ft"
        and (not after.kind or unit.key == "'" and after.kind == "s" and after.text in ",.;)")
    ):
        end = number.next
    else:
        return piece
    return piece._replace(next=end, value=piece.value + number.value / count)


def _with_part(line: Line, piece: Piece) -> Piece:
    """An inch and a half; two feet and a quarter."""
    if line.word(piece.next) == "and" and line.at(piece.next + 1).kind == "w":
        part = numbers.fraction(line, piece.next + 1)
        if part and unit_at(line, part[1], True) is None:
            return piece._replace(next=part[1], value=piece.value + part[0])
    return piece
