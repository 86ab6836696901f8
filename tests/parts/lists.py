"""What parts are in these tests, apart from the shipped pages: an invented scenario with figures of its own."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from bot.parts.listed import Expected

EXPECTED = Expected(
    {"leg": ("landing leg", "jack"), "motor": (), "fuse": ("breaker",), "drop-leg pin": ("pull pin",)},
    {"outer tube": (1, 6), "inner tube": (1, 6), "stroke": (4, 30)},
    {"leg": "lb", "motor": "A", "fuse": "A"},
)
HEADER = "part,kind,outer tube,inner tube,stroke,rating,mounting,shaft,notes"


def raw(*rows: str, header: str = HEADER) -> bytes:
    """A list's bytes from its lines."""
    return "\n".join((header, *rows, "")).encode()


def written(rows: Sequence[Sequence[str]], delimiter: str = ",", end: str = "\r\n") -> str:
    """Rows as Python's own csv module writes them: the outside reference."""
    sink = io.StringIO(newline="")
    csv.writer(sink, delimiter=delimiter, lineterminator=end).writerows(rows)
    return sink.getvalue()
