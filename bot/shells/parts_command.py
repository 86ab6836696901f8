"""`legline parts FILE` and `legline case order N`: the shell around parts lists and order sheets."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from bot.corpus.model import Sheet
from bot.parts.cells import MOST_BYTES, harmless
from bot.parts.known import expected_of, sheet_for
from bot.parts.listed import Part, PartsList, kind_named, read_list
from bot.parts.match import match, ranked
from bot.problems import LeglineError
from bot.talk.knowledge import Knowledge
from bot.talk.order import case_of, cause_of, ordered
from bot.talk.state import State
from bot.units import show_both

DONE, REFUSED = 0, 1
_SHOWN = ("outer tube", "inner tube", "stroke", "rating", "mounting", "shaft", "notes")


class ListNotRead(LeglineError):
    """A parts list cannot be opened; the text says why and what to do."""


def bytes_of(name: str) -> bytes:
    """The bytes of a list's file. Raises ListNotRead where it is missing, no file, too long or unreadable."""
    file = Path(name)
    try:
        if file.is_dir():
            raise ListNotRead(f"{name} is a folder. parts takes a CSV file.")
        if not file.is_file():
            raise ListNotRead(
                f"There is no file {name}. parts takes a CSV file, like: legline parts mine.csv"
            )
        if file.stat().st_size > MOST_BYTES:
            raise ListNotRead(
                f"{name} is {file.stat().st_size:,} bytes long; a list takes up to {MOST_BYTES:,}."
            )
        return file.read_bytes()
    except OSError as fault:
        raise ListNotRead(f"{name} cannot be read: {fault.strerror}. See who may read it.") from fault


def _cells(part: Part, units: str) -> str:
    shown = []
    for column in _SHOWN:
        figure = part.figures.get(column)
        if figure is not None:
            value = show_both(figure.value, figure.unit, units)
            each = {"one": " for one", "pair": " for the pair"}.get(figure.each, "")
            shown.append(f"{column} {value}{each}")
        elif column in part.texts:
            shown.append(f"{column} {harmless(part.texts[column], 60)}")
    return ", ".join(shown) or "nothing else"


def _list_lines(name: str, found: PartsList, units: str) -> list[str]:
    out = [f"{name}: {len(found.parts)} parts."]
    out += [f"  {remark}" for remark in found.remarks if remark]
    out += [f"  {note}" for note in found.notes]
    out += [f"  row {p.row}  {p.kind}  {p.name}: {_cells(p, units)}" for p in found.parts]
    return out


def _list_plain(name: str, found: PartsList) -> dict[str, Any]:
    return {
        "list": name,
        "remarks": list(found.remarks),
        "notes": list(found.notes),
        "parts": [
            {
                "row": p.row,
                "part": p.name,
                "kind": p.kind,
                "figures": {
                    c: {"value": f.value, "low": _finite(f.low), "high": _finite(f.high), "unit": f.unit,
                        "text": f.text}
                    for c, f in p.figures.items()
                },
                "texts": dict(p.texts),
            }
            for p in found.parts
        ],
        "faults": [
            {"row": f.row, "column": f.column, "what": f.what, "fix": f.fix} for f in found.faults
        ],
    }  # fmt: skip


def _finite(value: float) -> float | None:
    return value if abs(value) < float("inf") else None


def part_wanted(named: str | None, state: State | None, knowledge: Knowledge) -> Sheet | str:
    """The order sheet of the part to match: the one named, else the verdict's; or why there is none."""
    kinds = expected_of(knowledge.corpus).kinds
    if named is not None:
        kind = kind_named(named, kinds)
        if not kind:
            return f'"{harmless(named, 40)}" is no part. Parts: {", ".join(kinds)}.'
        return next(s for s in knowledge.corpus.sheets if s.part == kind)
    cause = knowledge.causes.get(cause_of(state)) if state is not None else None
    sheet = sheet_for(cause, knowledge.corpus) if cause else None
    if sheet is None:
        said = f"{cause.page.title} orders no part of these" if cause else "the case has no verdict yet"
        return f"{said}; name the part with --part: {', '.join(kinds)}."
    return sheet


def parts(
    name: str,
    knowledge: Knowledge,
    case: tuple[int, State] | None = None,
    part: str | None = None,
    as_json: bool = False,
    units: str = "us",
) -> int:
    """Lists and checks a parts list, and with a case holds it against what the case measured. Returns the status."""
    found = read_list(bytes_of(name), expected_of(knowledge.corpus))
    plain = _list_plain(name, found)
    lines = _list_lines(name, found, units) if case is None else []
    status = REFUSED if found.faults else DONE
    if case is not None:
        number, state = case
        sheet = part_wanted(part, state, knowledge)
        if isinstance(sheet, str):
            print(f"legline: {sheet}", file=sys.stderr)
            return REFUSED
        of_kind = [p for p in found.parts if p.kind == sheet.part]
        held = ranked([match(p, sheet, case_of(state, knowledge), knowledge.checks, units) for p in of_kind])
        plain = {"case": number, "kind": sheet.part, **plain, "matched": [m.plain() for m in held]}
        lines = [
            f"Case {number}, {sheet.part}: {len(of_kind)} of {len(found.parts)} parts in {name} are one."
        ]
        lines += [f"  {remark}" for remark in found.remarks if remark]
        lines.append("  Lengths by the sum leg-fit (a tape is right to 1/16 in), loads by the sum leg-load.")
        for matched in held:
            lines.append(matched.head())
            lines += [f"   {point.line()}" for point in matched.points]
        lines += [f"Before you order: {text}" for text in sheet.page.bullets("Before you order")]
        if not of_kind:
            status = REFUSED
    if as_json:
        print(json.dumps(plain, ensure_ascii=False, indent=1))
    else:
        print("\n".join([*lines, *(str(f) for f in found.faults)]))
    if found.faults:
        print(f"legline: {len(found.faults)} to mend in {name}.", file=sys.stderr)
    return status


def case_order(
    number: int, state: State, knowledge: Knowledge, part: str | None = None, as_json: bool = False
) -> int:
    """The order sheet of a case. Returns the status: 1 where the case has no verdict and no part was named."""
    sheet = part_wanted(part, None, knowledge) if part is not None else None
    if isinstance(sheet, str):
        print(f"legline: {sheet}", file=sys.stderr)
        return REFUSED
    filled = ordered(state, knowledge, sheet)
    if filled is None:
        kinds = ", ".join(s.part for s in knowledge.corpus.sheets)
        print(
            f"legline: case {number} has no verdict yet; name the part with --part: {kinds}.", file=sys.stderr
        )
        return REFUSED
    if as_json:
        print(json.dumps({"case": number, **filled.plain()}, ensure_ascii=False, indent=1))
    else:
        print(f"Case {number}. " + "\n".join(filled.lines()))
    return DONE
