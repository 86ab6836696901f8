"""A record as PDF, by fpdf2, which is loaded here and nowhere else. Letter in US units, A4 in metric ones."""

from __future__ import annotations

import datetime
import logging
from typing import TYPE_CHECKING

from bot.shells.paper.model import FILLED_IN, Block, Drawing, Items, Paper, Part, Table, Text
from bot.shells.tidy import harmless

if TYPE_CHECKING:
    from fpdf import FPDF

_MARGIN = 15.0  # mm
_INK, _SOFT, _LINE, _WASH = (28, 33, 38), (89, 99, 109), (190, 198, 205), (242, 244, 246)
_PLAIN = str.maketrans(
    {"‘": "'", "’": "'", "“": '"', "”": '"', "–": "-", "—": "-", "…": "...", "•": "-", "Ω": "ohm",
     "≥": ">=", "≤": "<=", "→": "->", "−": "-", "′": "'", "″": '"', "\u00a0": " ", "\u202f": " ",
     "▇": "#", "█": "#", "─": "-", "│": "|"}
)  # fmt: skip
# Share of the width by the head of a column; what is not named shares the rest.
_WIDTHS = {"time": 14.0, "step": 15.0, "value": 44.0, "in 100": 16.0, "answer": 18.0, "stop": 34.0}


def printable(text: str) -> str:
    """The text in the letters that the built-in fonts of PDF have; any other letter becomes a question mark.

    >>> printable("“2×4” Ω 腿")
    '"2×4" ohm ?'
    """
    plain = harmless(text).translate(_PLAIN)
    return plain.encode("cp1252", "replace").decode("cp1252")


def as_pdf(paper: Paper) -> bytes:
    """The whole record; the same record gives the same bytes."""
    logging.getLogger("fpdf").setLevel(logging.ERROR)
    from fpdf import FPDF

    class Sheet(FPDF):
        def footer(self) -> None:
            self.set_y(-12)
            self.set_font("Helvetica", size=7)
            self.set_text_color(*_SOFT)
            self.cell(0, 4, printable(f"{paper.title}, page {self.page_no()} of {{nb}}"), align="R")

    pdf = Sheet(format="A4" if paper.units == "metric" else "letter")
    pdf.set_title(printable(paper.title))
    pdf.set_creation_date(_last(paper))
    pdf.set_lang("en")
    pdf.set_margins(_MARGIN, 13, _MARGIN)
    pdf.set_auto_page_break(True, 15)
    pdf.core_fonts_encoding = "windows-1252"
    pdf.add_page()
    _head(pdf, paper)
    for part in paper.parts:
        _part(pdf, part)
    pdf.ln(3)
    _paragraph(pdf, paper.foot, 7.5, soft=True)
    if _lost(paper):
        _paragraph(
            pdf, "A letter this form cannot print is shown as ?; the HTML form has it.", 7.5, soft=True
        )
    return bytes(pdf.output())


def _last(paper: Paper) -> datetime.datetime:
    """The time of the last line, so that the file does not change from one export to the next."""
    text = dict(paper.facts).get("last line", "").removesuffix(" UTC")
    try:
        return datetime.datetime.strptime(text, "%Y-%m-%d %H:%M").replace(tzinfo=datetime.UTC)
    except ValueError:
        return datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)


def _lost(paper: Paper) -> bool:
    """Whether a letter of the record could not be printed."""
    from bot.shells.paper.model import paper_plain

    text = harmless(str(paper_plain(paper))).translate(_PLAIN)
    return text.encode("cp1252", "replace").decode("cp1252") != text


def _head(pdf: FPDF, paper: Paper) -> None:
    pdf.set_font("Helvetica", "B", 17)
    pdf.set_text_color(*_INK)
    pdf.cell(0, 8, printable(paper.title), new_x="LMARGIN", new_y="NEXT")
    _paragraph(pdf, paper.about, 9, soft=True)
    pdf.ln(1.5)
    for name, value in paper.facts:
        top = pdf.get_y()
        pdf.set_font("Helvetica", size=8.5)
        pdf.set_text_color(*_SOFT)
        pdf.cell(24, 4.3, printable(name))
        pdf.set_text_color(*_INK)
        pdf.set_xy(_MARGIN + 24, top)
        pdf.multi_cell(0, 4.3, printable(value), align="L", new_x="LMARGIN", new_y="NEXT")


def _paragraph(pdf: FPDF, text: str, size: float = 9, soft: bool = False, style: str = "") -> None:
    pdf.set_font("Helvetica", style, size)
    pdf.set_text_color(*(_SOFT if soft else _INK))
    pdf.multi_cell(0, size * 0.47, printable(text), align="L", new_x="LMARGIN", new_y="NEXT")


def _part(pdf: FPDF, part: Part) -> None:
    if pdf.will_page_break(22):
        pdf.add_page()
    pdf.ln(3)
    pdf.set_font("Helvetica", "B", 10.5)
    pdf.set_text_color(*_INK)
    pdf.cell(0, 5.4, printable(part.title), new_x="LMARGIN", new_y="NEXT")
    pdf.set_draw_color(*_LINE)
    pdf.set_line_width(0.4)
    pdf.line(_MARGIN, pdf.get_y(), pdf.w - _MARGIN, pdf.get_y())
    pdf.ln(1.3)
    for place, block in enumerate(part.blocks):
        _block(pdf, block, 7.5 if part.aside else 9, strong=part.title == "Verdict" and place == 0)


def _block(pdf: FPDF, block: Block, size: float, strong: bool) -> None:
    if isinstance(block, Text):
        if block.quoted:
            pdf.set_x(_MARGIN + 2)
            top = pdf.get_y()
            pdf.set_font("Helvetica", size=size + 1)
            pdf.set_text_color(*_INK)
            pdf.multi_cell(
                0, (size + 1) * 0.47, printable(block.text), align="L", new_x="LMARGIN", new_y="NEXT"
            )
            pdf.set_line_width(0.8)
            pdf.line(_MARGIN + 0.4, top, _MARGIN + 0.4, pdf.get_y())
        else:
            _paragraph(pdf, block.text, size, style="B" if strong else "")
    elif isinstance(block, Items):
        _items(pdf, block, size)
    elif isinstance(block, Drawing):
        _drawing(pdf, block)
    else:
        _table(pdf, block, size)
    pdf.ln(1)


def _items(pdf: FPDF, items: Items, size: float) -> None:
    for item in items.items:
        if pdf.will_page_break(5):
            pdf.add_page()
        top = pdf.get_y()
        if items.boxes:
            pdf.set_draw_color(*_SOFT)
            pdf.set_line_width(0.25)
            pdf.rect(_MARGIN + 0.5, top + 0.7, 2.8, 2.8)
        else:
            pdf.set_fill_color(*_SOFT)
            pdf.circle(_MARGIN + 1.6, top + size * 0.235, 0.45, style="F")
        pdf.set_xy(_MARGIN + 5, top)
        pdf.set_font("Helvetica", size=size)
        pdf.set_text_color(*_INK)
        pdf.multi_cell(0, size * 0.47, printable(item), align="L", new_x="LMARGIN", new_y="NEXT")


def _drawing(pdf: FPDF, block: Drawing) -> None:
    size, row = 7.6, 3.5
    if pdf.will_page_break(min(len(block.lines), 30) * row):
        pdf.add_page()
    pdf.set_font("Courier", size=size)
    pdf.set_text_color(*_INK)
    pdf.set_fill_color(*_WASH)
    for line in block.lines:
        pdf.multi_cell(0, row, printable(line) or " ", align="L", fill=True, new_x="LMARGIN", new_y="NEXT")


def _table(pdf: FPDF, table: Table, size: float) -> None:
    room = pdf.w - 2 * _MARGIN
    named = [_WIDTHS.get(name, 0.0) for name in table.head]
    if any(len(row[0]) > 5 for row in table.rows if table.head[0] == "time"):
        named[0] = 27.0  # some lines were said on another day
    rest = (room - sum(named)) / max(1, named.count(0.0))
    widths = [width or rest for width in named]
    if 0.0 not in named:
        widths = [room * width / sum(widths) for width in widths]
    from fpdf.enums import TableBordersLayout
    from fpdf.fonts import FontFace

    pdf.set_font("Helvetica", size=size - 0.5)
    pdf.set_text_color(*_INK)
    pdf.set_draw_color(*_LINE)
    pdf.set_line_width(0.2)
    pdf.set_fill_color(255, 255, 255)
    with pdf.table(
        col_widths=tuple(widths),
        borders_layout=TableBordersLayout.HORIZONTAL_LINES,
        headings_style=FontFace(emphasis="", color=_SOFT, size_pt=size - 1),
        line_height=(size - 0.5) * 0.47,
        padding=(0.6, 1.5, 0.6, 0),
        text_align="LEFT",
        width=room,
    ) as grid:
        for cells in (table.head, *table.rows):
            row = grid.row()
            for name, cell in zip(table.head, cells, strict=True):
                row.cell(printable(cell) if cell or name != FILLED_IN else "." * 34)
