"""A record as Markdown."""

from __future__ import annotations

import re

from bot.shells.paper.model import FILLED_IN, Block, Drawing, Items, Paper, Table, Text

_MARKDOWN = str.maketrans({c: "\\" + c for c in "\\`*_{}[]<>#|~&"})


def escaped(text: str) -> str:
    """Text of a person made harmless inside Markdown: one line, no mark of it left with a meaning."""
    flat = " ".join(text.split()).translate(_MARKDOWN)
    numbered = re.match(r"(\d{1,9})([.)])(?=\s|$)", flat)
    if numbered:
        return f"{numbered.group(1)}\\{flat[numbered.end(1) :]}"
    return "\\" + flat if flat[:1] in ("-", "+", "=") else flat


def as_markdown(paper: Paper) -> str:
    """The whole record."""
    out = [f"# {paper.title}", "", paper.about + ".", ""]
    out += [f"- {name}: {escaped(value)}" for name, value in paper.facts]
    for part in paper.parts:
        out += ["", f"## {part.title}"]
        for block in part.blocks:
            out += ["", *_lines(block)]
    return "\n".join([*out, "", paper.foot, ""])


def _lines(block: Block) -> list[str]:
    if isinstance(block, Text):
        return [("> " if block.quoted else "") + escaped(block.text)]
    if isinstance(block, Items):
        return [f"- {'[ ] ' if block.boxes else ''}{escaped(item)}" for item in block.items]
    if isinstance(block, Drawing):
        return ["    " + line for line in block.lines]
    assert isinstance(block, Table)
    # A list reads well where Markdown is shown as it is written, and aloud; a table does neither.
    return ["- " + "  ".join(_cells(block.head, row)) for row in block.rows]


def _cells(head: tuple[str, ...], row: tuple[str, ...]) -> list[str]:
    """The cells of one row; the head is said where the cell alone would not tell what it is."""
    named = ("step", "done when", "answer", "from the line")
    out = []
    for name, cell in zip(head, row, strict=True):
        if not cell and name != FILLED_IN:
            continue
        text = escaped(cell) if cell else "\\_" * 8
        out.append(f"({name}: {text})" if name in named else text + " in 100" if name == "in 100" else text)
    return out
