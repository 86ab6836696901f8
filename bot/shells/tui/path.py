"""The power path drawn for the width there is: each link with its state as a word, a mark and a colour."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual.content import Content

from bot.shells.tui.harmless import shortened

if TYPE_CHECKING:
    from bot.talk.view import Link

# The mark carries the meaning where colour does not reach.
MARKS = {"sound": "+", "suspect": "!", "untested": "?", "not fitted": "-"}
_STYLES = {"sound": "$success", "suspect": "bold $warning", "untested": "", "not fitted": "$text-muted"}
_JOIN = " ─ "


def path_content(links: Sequence[Link], width: int, rows: int) -> Content:
    """The path in at most that many rows: two rows a band where they fit, runs of one state, or one line."""
    if rows >= 4 and width >= 100:
        drawn = _bands(links, width)
        if drawn.plain.count("\n") < rows:
            return drawn
    if rows >= 2:
        drawn = _runs(links, width)
        if drawn.plain.count("\n") < rows:
            return drawn
    return _one_line(links, width)


def _word(state: str) -> str:
    return f"{MARKS.get(state, '?')} {state}"


def _bands(links: Sequence[Link], width: int) -> Content:
    """Names joined by a line, the state under each name; as few bands as the width allows, about evenly filled."""
    cells = [max(cell_len(link.name) + 3, cell_len(_word(link.state)) + 2) for link in links]
    widest = max(1, (width - 3) // max(cells))
    bands = 1 if sum(cells) <= width else -(-len(links) // widest)
    each = -(-len(links) // bands)
    out: list[Content] = []
    for start in range(0, len(links), each):
        lead = "── " if start else ""
        names, under = lead, [(" " * len(lead), "")]
        for link, cell in zip(links[start : start + each], cells[start : start + each], strict=True):
            names += f"{link.name} ".ljust(cell - 1, "─") + " "
            under.append((_word(link.state).ljust(cell), _STYLES.get(link.state, "")))
        out += [_names(names, start + each < len(links)), Content.assemble(*under).rstrip()]
    return Content("\n").join(out)


def _names(names: str, goes_on: bool) -> Content:
    return Content(names.rstrip(" ─") + (" ──" if goes_on else ""))


def _runs(links: Sequence[Link], width: int) -> Content:
    """Neighbours in one state share its word: "battery ─ fuse: + sound"."""
    rows: list[list[tuple[str, str]]] = [[]]
    used = 0
    for state, run in groupby(links, key=lambda link: link.state):
        together = [link.name for link in run]
        pieces = [(name + (_JOIN if name is not together[-1] else ""), "") for name in together]
        pieces.append((f" {_word(state)}   ", _STYLES.get(state, "")))
        for i, (text, style) in enumerate(pieces):
            # The state word stays on the row of its last name.
            need = cell_len(text.rstrip()) + (
                cell_len(pieces[i + 1][0].rstrip()) if i == len(pieces) - 2 else 0
            )
            if used and used + need > width:
                rows.append([])
                used = 0
            rows[-1].append((text, style))
            used += cell_len(text)
    return Content("\n").join(Content.assemble(*row).rstrip() for row in rows)


def _one_line(links: Sequence[Link], width: int) -> Content:
    """Suspects by name, the rest counted."""
    by_state: dict[str, list[str]] = {}
    for link in links:
        by_state.setdefault(link.state, []).append(link.name)
    counted = [f"{MARKS[s]} {len(by_state[s])} {s}" for s in ("sound", "untested") if s in by_state]
    rest = "  ".join(counted)
    named = by_state.get("suspect", [])
    if not named:
        return Content(shortened("path: " + rest, width))
    lead = shortened("! suspect: " + ", ".join(named), width)
    rest = "  " + rest if cell_len(lead) + 2 + cell_len(rest) <= width else ""
    return Content.assemble((lead, _STYLES["suspect"]), (rest, ""))
