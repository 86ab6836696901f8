"""Bolt sizes as text: 1/2-13 x 2, M12x1.75, #10-24."""

from typing import NamedTuple

from bot.units.numbers import DENOMINATORS, slash, written
from bot.units.tokens import Line, tokens, word_set

#: Coarse preferred and second-choice metric threads. Source: ISO 261, first and second choice, M3 to M36
#: (from memory).
_METRIC_MM = frozenset((3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 22, 24, 27, 30, 33, 36))
_BOLT_WORDS = word_set("bolt bolts unc unf unef thread threads nut nuts screw screws capscrew")


class BoltSize(NamedTuple):
    """A bolt: ``diameter`` in ``unit`` ("in" or "mm"), threads per inch or pitch [mm], length in ``unit``."""

    diameter: float
    unit: str
    threads_per_inch: float | None
    pitch_mm: float | None
    length: float | None


def bolt_at(line: Line, i: int) -> tuple[BoltSize, int] | None:
    """The bolt size that begins at place ``i`` and the place after it, or None.

    Inch sizes are read as ASME B1.1 names them (diameter-threads per inch x length), numbered ones at
    0.060 in + 0.013 in a number, metric ones as ISO 965-1 names them (M diameter x pitch x length).
    """
    if line.word(i) == "m" and line.glued(i + 1) and not line.glued(i):
        return _metric(line, i)
    numbered = line.mark(i) == "#"
    j = i + 1 if numbered else i
    diameter_in, pair = 0.0, slash(line, j)
    if pair and pair[1] in DENOMINATORS and 0 < pair[0] < pair[1]:
        diameter_in, j = pair[0] / pair[1], j + 3
    elif (
        (whole := line.whole(j)) is not None
        and whole <= 14
        and not (line.mark(i - 1) == "/" and line.glued(i))
    ):
        diameter_in, j = (0.060 + 0.013 * whole, j + 1) if numbered else (float(whole), j + 1)
        if not numbered and (whole not in (1, 2) or line.word(j + 2) not in _BOLT_WORDS):
            return None
    threads = line.whole(j + 1)
    if not diameter_in or line.mark(j) != "-" or not (line.glued(j) and line.glued(j + 1)):
        return None
    if (
        threads is None
        or not 4 <= threads <= 80
        or line.mark(j + 2) == "/"
        or line.mark(j + 2) == "-"
        and line.glued(j + 2)
    ):
        return None
    j += 2
    while line.word(j) in ("unc", "unf", "unef"):
        j += 1
    length, j = _length(line, j, "in")
    return BoltSize(diameter_in, "in", float(threads), None, length), j


def _metric(line: Line, i: int) -> tuple[BoltSize, int] | None:
    diameter = line.whole(i + 1)
    if diameter not in _METRIC_MM:
        return None
    pitch, j = None, i + 2
    if line.mark(j) == "-" and line.glued(j) and line.at(j + 1).kind == "n":
        pitch, j = float(line.at(j + 1).text.replace(",", ".")), j + 2
    else:
        first, k = _length(line, j, "mm")
        if (
            first is not None and first < 6.5
        ):  # ISO 261 pitches end at 6 mm; a longer figure is the bolt's length
            pitch, j = first, k
    length, j = _length(line, j, "mm")
    return BoltSize(float(diameter or 0), "mm", None, pitch, length), j


def _length(line: Line, j: int, unit: str) -> tuple[float | None, int]:
    number = written(line, j + 1) if line.mark(j) == "*" or line.word(j) in ("x", "by") else None
    if number is None or number.spoken:
        return None, j
    k = number.next
    own = ("in", "inch", "inches") if unit == "in" else ("mm",)
    return number.value, k + 1 if line.word(k) in own or unit == "in" and line.mark(k) == '"' else k


def bolt_size(text: str) -> BoltSize | None:
    """The first bolt size in a text, or None.

    >>> bolt_size("1/2-13 x 2")
    BoltSize(diameter=0.5, unit='in', threads_per_inch=13.0, pitch_mm=None, length=2.0)
    """
    line = tokens(text)
    for i in range(len(line)):
        if bolt := bolt_at(line, i):
            return bolt[0]
    return None
