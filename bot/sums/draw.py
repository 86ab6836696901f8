"""Drawings in plain letters: a load on its rating, a fuse's window, volts along the path, the side view."""

from collections.abc import Sequence
from itertools import pairwise
from math import isfinite, log10
from textwrap import wrap

from bot.sums.convert import both, both_ranged, figure, seconds_words
from bot.sums.result import Result, Row


def bar(value: float, low: float, high: float, rating: float, width: int = 40) -> str:
    """A load against its rating: ``#`` up to the lowest, ``~`` over the range, ``|`` at the rating.

    The scale runs to the rating or to the highest load, whichever is more. Width is 10 columns or more.

    >>> bar(50, 40, 60, 100, 20)
    '[########~~~~........|]'
    >>> bar(120, 110, 130, 100, 20)
    '[###############|##~~~]'
    """
    width = max(width, 10)
    top = max(rating, high, value, 0.0)
    if top <= 0:
        return "[" + "." * width + "|]"
    sure = round(width * max(low, 0) / top)
    maybe = round(width * max(high, 0) / top)
    if high > max(low, 0) and maybe == sure:
        maybe = min(sure + 1, width)
    cells = ["#"] * sure + ["~"] * (maybe - sure) + ["."] * (width - maybe)
    cells.insert(min(round(width * max(rating, 0) / top), width), "|")
    return "[" + "".join(cells) + "]"


def bar_line(row: Row, width: int = 80, first: str = "us") -> tuple[str, ...]:
    """One bar under its label and figures, no line wider than ``width``."""
    middle = both_ranged(row.value, row.low, row.high, row.unit, first)[0]
    head = f"{row.label}: {middle} of {both_ranged(row.of, row.of, row.of, row.unit, first)[0]}"
    return (*fold(head, width), "  " + bar(row.value, row.low, row.high, row.of, min(width, 72) - 5))


def steps(points: Sequence[Row], width: int = 80) -> tuple[str, ...]:
    """The volts along the path, one line a place, longest bar at the highest reading.

    What a step says (the volts lost on the way to it) stands behind its bar, or under it on a narrow screen.

    >>> for line in steps([Row("step", "battery", 12.1, 12.1, 12.1, 0, "V"),
    ...                    Row("step", "motor", 6.8, 6.8, 6.8, 0, "V", "lost on the way")], 40):
    ...     print(line)
    battery   12.1 V  |####################|
    motor      6.8 V  |###########|
              5.30 V lost on the way
    """
    if not points:
        return ()
    wide = max(9, *(len(one.label) for one in points))
    tails = [_said(before, one) for before, one in pairwise(points)]
    beside = max(map(len, tails), default=0) + 3
    room = min(width, 90) - wide - 11
    beside = beside if room - beside >= 16 and beside > 3 else 0
    room = max(10, room - beside)
    top = max(max(abs(one.value) for one in points), 1e-9)
    lines = []
    for one, tail in zip(points, ["", *tails], strict=True):
        length = round(room * max(one.value, 0) / top)
        line = f"{one.label:<{wide}} {one.value:>4.1f} {one.unit}  |{'#' * length}|"
        if tail and beside:
            line = f"{line:<{wide + 11 + room}} {tail}"
        lines.append(line)
        if tail and not beside:
            lines += fold(tail, width, " " * min(wide + 1, 14))
    return tuple(lines)


def _said(before: Row, here: Row) -> str:
    """The volts between two steps and what became of them, or nothing where the step says nothing."""
    return f"{abs(before.value - here.value):.2f} {here.unit} {here.says}" if here.says else ""


def side_view(places: Sequence[Row], width: int = 80, first: str = "us") -> tuple[str, ...]:
    """The trailer from its left side, nose at the left, with the load under each place.

    ``of`` of a row is its distance behind the pin in feet, ``value`` the load there. A place that carries
    nothing is a dotted post; wheels stand at the axles.
    """
    if not places:
        return ()
    room = max(20, min(width, 100) - 2)
    longest = max(max(one.of for one in places), 1e-9)
    back = room - 6

    def column(distance_ft: float) -> int:
        return max(1, 1 + round(back * distance_ft / longest))

    posts, feet = [" "] * room, ["-"] * room
    for one in places:
        at = column(one.of)
        if one.label.startswith("axles"):
            posts[at - 1 : at + 2] = "(O)"
        elif one.value > 0:
            posts[at], feet[at] = "|", "^"
        else:
            posts[at] = ":"
    lines = [" " + "_" * (room - 2), "|" + "_" * (room - 2) + "|", "".join(posts).rstrip(), "".join(feet)]
    texts = []
    for one in places:
        text = f"{one.label} {both(one.value, one.unit, first)}" if one.value else one.label
        at = column(one.of)
        texts.append((max(0, min(at, room - len(text))), text))
    row = ""
    for at, text in texts:
        if row and at < len(row) + 2:
            lines.append(row)
            row = ""
        row = row.ljust(at) + text
    return (*lines, row)


#: Ends of the scale of a fuse's window [s]: five decades.
_LEAST_S, _MOST_S = 0.1, 10_000.0


def window(row: Row, width: int = 80) -> tuple[str, ...]:
    """The seconds a fuse stands a current, on a scale that goes up tenfold: ``=`` it holds, ``~`` it may have
    opened, ``#`` it has opened; ``^`` is the end of the lift.

    >>> for line in window(Row("window", "fuse", 40, 2, 200, 0, "s"), 44):
    ...     print(line)
    holds to 2 s, surely open after 3.333 min
      =========~~~~~~~~~~~~~~#############
      |      |      |      |      |      |
      0.1 s  1      10     100    1k     10k
                        ^ the lift ends: 40 s
    """
    room = max(5 * 5 + 1, 5 * (min(width - 9, 72) // 5) + 1)

    def column(seconds: float) -> int:
        held = min(max(seconds, _LEAST_S), _MOST_S)
        return round((room - 1) * log10(held / _LEAST_S) / 5)

    opens, surely = column(row.low), column(row.high) if isfinite(row.high) else room
    cells = "=" * opens + "~" * (surely - opens) + "#" * (room - surely)
    ends = f"surely open after {seconds_words(row.high)}" if isfinite(row.high) else "may never open"
    said = f"holds to {seconds_words(row.low)}, {ends}" if row.low > 0 else f"may open at once, {ends}"
    fifth = (room - 1) // 5
    ticks = (("|" + " " * (fifth - 1)) * 5) + "|"
    least = "0.1 s" if fifth > 5 else "0.1s"  # a blank has to be left before the 1
    names = "".join(name.ljust(fifth) for name in (least, "1", "10", "100", "1k")) + "10k"
    lines = [*fold(said, width), "  " + cells, "  " + ticks, "  " + names]
    if row.value > 0:
        at, text = column(row.value), f"the lift ends: {figure(row.value)} s"
        if 2 + at + 2 + len(text) <= width:
            lines.append("  " + " " * at + "^ " + text)
        elif len(text) + 1 <= at:
            lines.append("  " + (text + " ^").rjust(at + 1))
        else:
            lines += ["  " + " " * at + "^", "  " + text]
    return tuple(lines)


def fold(text: str, width: int, indent: str = "") -> list[str]:
    """The text in lines of at most ``width``, later ones set in by four; long words are left whole.

    >>> fold("one two three", 10, "  ")
    ['  one two', '      three']
    """
    return wrap(
        text,
        width,
        initial_indent=indent,
        subsequent_indent=indent + "    ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def drawing(result: Result, width: int = 80, first: str = "us") -> tuple[str, ...]:
    """Every drawn line of a result, top to bottom."""
    lines: list[str] = []
    bars = [row for row in result.rows if row.kind == "bar"]
    for row in bars:
        lines.extend(bar_line(row, width, first))
    if bars:
        lines.append("  # at least, ~ perhaps, | the limit")
    for row in result.rows:
        if row.kind == "window":
            lines.extend(window(row, width))
    lines.extend(steps([row for row in result.rows if row.kind == "step"], width))
    before = [row for row in result.rows if row.kind == "before"]
    if before:
        lines += ["before the move:", *side_view(before, width, first), "after the move:"]
    lines.extend(side_view([row for row in result.rows if row.kind == "place"], width, first))
    return tuple(lines)


class Drawn(str):
    """A drawing as text of an ordinary width, which can be had again for another: ``at``."""

    result: Result
    first: str

    @classmethod
    def of(cls, result: Result, first: str = "us", width: int = 60) -> "Drawn":
        """The drawing of a result; empty text where it draws nothing."""
        text = cls("\n".join(drawing(result, width, first)))
        text.result, text.first = result, first
        return text

    def at(self, width: int) -> tuple[str, ...]:
        """Its lines, none wider than that."""
        return drawing(self.result, width, self.first)


def page(result: Result, width: int = 80, first: str = "us") -> tuple[str, ...]:
    """The whole result as plain text: values, working, verdict, drawing, assumptions, notes, sources."""
    lines: list[str] = []
    for text in result.lines(first):
        lines += fold(text, width)
    lines.append(f"verdict: {result.verdict}")
    drawn = drawing(result, width, first)
    if drawn:
        lines += ["", *drawn]
    for title, texts in (
        ("working", result.working),
        ("assumed", result.assumptions),
        ("note", result.notes),
        ("narrows it most", (result.narrow,) if result.narrow else ()),
        ("source", result.sources),
    ):
        if texts:
            lines += ["", f"{title}:"]
            for text in texts:
                lines += fold(text, width, "  ")
    return tuple(lines)
