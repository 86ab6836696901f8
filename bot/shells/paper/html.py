"""A record as one HTML file: no script, nothing fetched, every word of a person escaped, good on screen and paper."""

from __future__ import annotations

from html import escape

from bot.shells.paper.model import FILLED_IN, Block, Drawing, Items, Paper, Part, Table, Text
from bot.shells.tidy import harmless

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
STYLE = """
:root { color-scheme: light dark; --ink: #1c2126; --soft: #59636d; --line: #c9d0d6; --paper: #fff; --wash: #f2f4f6; --mark: #8a4b08; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #e4e8eb; --soft: #a3adb6; --line: #3d464e; --paper: #14181b; --wash: #1e2428; --mark: #f0b35a; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 60rem; padding: 1.25rem; color: var(--ink); background: var(--paper);
  font: 15px/1.45 system-ui, "Segoe UI", "Liberation Sans", Arial, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; margin: 0; } h2 { font-size: 1.05rem; margin: 1.4rem 0 .4rem; padding-bottom: .2rem;
  border-bottom: 2px solid var(--line); }
p { margin: .35rem 0; } ul { margin: .35rem 0; padding-left: 1.2rem; } ul.boxes { list-style: none; padding-left: 0; }
ul.boxes li { padding-left: 1.6rem; position: relative; margin: .25rem 0; }
ul.boxes li::before { content: ""; position: absolute; left: 0; top: .2rem; width: .9rem; height: .9rem;
  border: 1.5px solid var(--soft); }
.about { color: var(--soft); margin: .1rem 0 .8rem; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .15rem .9rem; margin: 0; padding: .7rem .9rem;
  background: var(--wash); border-radius: 4px; } dt { color: var(--soft); } dd { margin: 0; }
blockquote { margin: .3rem 0; padding: .3rem .8rem; border-left: 3px solid var(--mark); font-size: 1.08rem; }
table { border-collapse: collapse; width: 100%; margin: .4rem 0; font-size: .93em; }
th { text-align: left; font-weight: 600; color: var(--soft); padding: .2rem .6rem .2rem 0; }
td { padding: .25rem .6rem .25rem 0; border-top: 1px solid var(--line); vertical-align: top; }
td.nowrap, th.nowrap { white-space: nowrap; overflow-wrap: normal; font-variant-numeric: tabular-nums; }
td.blank { border-bottom: 1px solid var(--soft); min-width: 12rem; height: 1.6rem; }
pre { margin: .4rem 0; padding: .5rem .7rem; background: var(--wash); overflow-x: auto; border-radius: 4px;
  font: 13px/1.35 ui-monospace, "DejaVu Sans Mono", "Liberation Mono", Menlo, Consolas, monospace; }
details { margin-top: 1.4rem; } summary { font-weight: 600; cursor: pointer; }
.Verdict > p:first-of-type { font-size: 1.15rem; font-weight: 600; }
footer { margin-top: 1.6rem; padding-top: .5rem; border-top: 1px solid var(--line); color: var(--soft); font-size: .87rem; }
@media (max-width: 34rem) { td, th { padding-right: .35rem; } dl { grid-template-columns: 1fr; gap: 0; } dd { margin-bottom: .3rem; } }
@media print {
  :root { color-scheme: light; --ink: #000; --soft: #444; --line: #bbb; --paper: #fff; --wash: #fff; --mark: #000; }
  @page { margin: 14mm; }
  body { max-width: none; padding: 0; font-size: 10pt; } h2 { break-after: avoid; margin-top: .8rem; }
  tr, pre, li, blockquote { break-inside: avoid; } pre { font-size: 8pt; padding: .2rem 0; } thead { display: table-header-group; }
  dl { padding: .3rem 0; border-top: 1px solid var(--line); }
}
"""
_SHORT = {"time", "step", "value", "in 100", "answer"}


def as_html(paper: Paper) -> str:
    """The whole record as one page."""
    body = [f"<h1>{_safe(paper.title)}</h1>", f'<p class="about">{_safe(paper.about)}</p>', "<dl>"]
    body += [f"<dt>{_safe(name)}</dt><dd>{_safe(value)}</dd>" for name, value in paper.facts]
    body.append("</dl>")
    body += [_part(part) for part in paper.parts]
    body.append(f"<footer>{_safe(paper.foot)}</footer>")
    head = (
        '<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}"><meta name="referrer" content="no-referrer">'
        f"<title>{_safe(paper.title)}</title><style>{STYLE}</style>"
    )
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head>{head}</head>\n<body>\n'
        + "\n".join(body)
        + "\n</body></html>\n"
    )


def _safe(text: str) -> str:
    return escape(harmless(text), quote=True)


def _part(part: Part) -> str:
    inner = "\n".join(_block(block) for block in part.blocks)
    if part.aside:
        return f"<details><summary>{_safe(part.title)}</summary>\n{inner}\n</details>"
    name = _safe(part.title.split(" ")[0])
    return f'<section class="{name}"><h2>{_safe(part.title)}</h2>\n{inner}\n</section>'


def _block(block: Block) -> str:
    if isinstance(block, Text):
        safe = _safe(block.text).replace("\n", "<br>")
        return f"<blockquote>{safe}</blockquote>" if block.quoted else f"<p>{safe}</p>"
    if isinstance(block, Items):
        kind = ' class="boxes"' if block.boxes else ""
        return f"<ul{kind}>" + "".join(f"<li>{_safe(item)}</li>" for item in block.items) + "</ul>"
    if isinstance(block, Drawing):
        return "<pre>" + _safe("\n".join(block.lines)) + "</pre>"
    return _table(block)


def _table(table: Table) -> str:
    kinds = [' class="nowrap"' if name in _SHORT else "" for name in table.head]
    head = "".join(f"<th{k}>{_safe(name)}</th>" for k, name in zip(kinds, table.head, strict=True))
    rows = []
    for row in table.rows:
        cells = [
            '<td class="blank"></td>' if name == FILLED_IN and not cell else f"<td{k}>{_safe(cell)}</td>"
            for name, k, cell in zip(table.head, kinds, row, strict=True)
        ]
        rows.append("<tr>" + "".join(cells) + "</tr>")
    return f"<table><thead><tr>{head}</tr></thead><tbody>" + "".join(rows) + "</tbody></table>"
