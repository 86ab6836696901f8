"""What a record is made of, whatever it is set in: parts with headings, and in them text, lists, tables, drawings."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Text:
    """A paragraph. `quoted` marks the words of a person."""

    text: str
    quoted: bool = False


@dataclass(frozen=True)
class Items:
    """A list. `boxes` are empty squares to tick by hand."""

    items: tuple[str, ...]
    boxes: bool = False


FILLED_IN = "value"  # an empty cell under this head is drawn as a place to write in


@dataclass(frozen=True)
class Table:
    """Rows under column heads."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Drawing:
    """Lines in letters of one width: working, bars, the path."""

    lines: tuple[str, ...]


Block = Text | Items | Table | Drawing


@dataclass(frozen=True)
class Part:
    """One heading with what stands under it. `aside` parts go last and small."""

    title: str
    blocks: tuple[Block, ...]
    aside: bool = False


@dataclass(frozen=True)
class Paper:
    """One record: its title, what it is about in a line or two of figures, its parts, its last line."""

    title: str
    about: str
    facts: tuple[tuple[str, str], ...]
    parts: tuple[Part, ...]
    foot: str
    units: str = "us"
    outcome: str = field(default="")

    def part(self, title: str) -> Part | None:
        """The part under that heading, or None."""
        return next((p for p in self.parts if p.title == title), None)


def paper_plain(paper: Paper) -> dict[str, Any]:
    """The record as lists and text, ready for JSON."""
    return {
        "title": paper.title,
        "facts": dict(paper.facts),
        "outcome": paper.outcome,
        "parts": [{"title": p.title, "blocks": [_block(b) for b in p.blocks]} for p in paper.parts],
    }


def _block(block: Block) -> dict[str, Any]:
    if isinstance(block, Text):
        return {"text": block.text}
    if isinstance(block, Items):
        return {"items": list(block.items)}
    if isinstance(block, Table):
        return {"head": list(block.head), "rows": [list(row) for row in block.rows]}
    return {"lines": list(block.lines)}
