"""Drawings in plain letters: a load on its rating, volts along the path, the side view with its loads."""

from collections.abc import Sequence
from textwrap import wrap

from bot.sums.convert import both
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
    head = f"{row.label}: {both(row.value, row.unit, first)} of {both(row.of, row.unit, first)}"
    return (*fold(head, width), "  " + bar(row.value, row.low, row.high, row.of, min(width, 72) - 5))


def steps(points: Sequence[Row], width: int = 80) -> tuple[str, ...]:
    """The volts along the path, one line a place, longest bar at the highest reading.

    >>> for line in steps([Row("step", "battery", 12.1, 12.1, 12.1, 0, "V"),
    ...                    Row("step", "motor", 6.8, 6.8, 6.8, 0, "V")], 40):
    ...     print(line)
    battery   12.1 V  |####################|
    motor      6.8 V  |###########|
    """
    if not points:
        return ()
    wide = max(9, *(len(one.label) for one in points))
    room = max(10, min(width, 90) - wide - 11)
    top = max(max(abs(one.value) for one in points), 1e-9)
    lines = []
    for one in points:
        length = round(room * max(one.value, 0) / top)
        lines.append(f"{one.label:<{wide}} {one.value:>4.1f} {one.unit}  |{'#' * length}|")
    return tuple(lines)


def side_view(places: Sequence[Row], width: int = 80, first: str = "us") -> tuple[str, ...]:
    """The trailer from its left side, nose at the left, with the load under each place.

    ``of`` of a row is its distance behind the pin in feet, ``value`` the load there.
    """
    if not places:
        return ()
    room = max(20, min(width, 100) - 2)
    longest = max(max(one.of for one in places), 1e-9)
    back = room - 4

    def column(distance_ft: float) -> int:
        return round(back * distance_ft / longest)

    deck = "=" * (room - 1)
    posts = [" "] * room
    for one in places:
        posts[column(one.of)] = "|" if one.value > 0 else ":"
    lines = [deck, "".join(posts).rstrip()]
    for one in places:
        text = f"{one.label} {both(one.value, one.unit, first)}" if one.value else one.label
        at = column(one.of)
        lines.append(" " * max(0, min(at, room - len(text))) + text)
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
    for row in result.rows:
        if row.kind == "bar":
            lines.extend(bar_line(row, width, first))
    lines.extend(steps([row for row in result.rows if row.kind == "step"], width))
    lines.extend(side_view([row for row in result.rows if row.kind == "place"], width, first))
    return tuple(lines)


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
