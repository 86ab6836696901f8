"""Text for the screen: no control bytes, wrapped by the cells it takes."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rich.cells import cell_len, chop_cells

from bot.shells.tidy import harmless


def wrapped(text: str, width: int, hang: int = 0) -> list[str]:
    """The lines of a text at that width in cells.

    A line's own indent is kept, and its continuation is set in by `hang` more. Words longer than a line are cut.
    """
    out: list[str] = []
    for line in text.split("\n"):
        body = line.lstrip(" ")
        lead = min(len(line) - len(body), width // 3)
        out += list(_one(body, width, lead, min(lead + hang, width // 2)))
    return out


def _one(body: str, width: int, lead: int, later: int) -> Iterator[str]:
    row, room = " " * lead, max(1, width - lead)
    used = 0
    for piece in re.findall(r"\S+\s*", body):
        word = piece.rstrip()
        if used and used + cell_len(word) > room:
            yield row.rstrip()
            row, room, used = " " * later, max(1, width - later), 0
        if cell_len(word) > room:
            *full, word = chop_cells(word, room)
            for part in full:
                yield row + part
                row, room = " " * later, max(1, width - later)
            piece = word + piece[len(piece.rstrip()) :]
        row += piece
        used += cell_len(piece)
    yield row.rstrip()


def shortened(text: str, width: int) -> str:
    """The text in at most that many cells; a cut is marked."""
    if cell_len(text) <= width:
        return text
    parts = chop_cells(text, max(1, width - 1))
    return (parts[0] if parts else "").rstrip() + "…"


__all__ = ["harmless", "shortened", "wrapped"]
