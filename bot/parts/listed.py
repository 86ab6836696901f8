"""A parts list: which column is which, and each row as a part with its figures in our units."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping
from functools import lru_cache

from bot.frozen import dataclass, field
from bot.parts.cells import (
    MOST_CELL,
    Fault,
    Record,
    delimiter_of,
    harmless,
    records_of,
    remarks_of,
    text_of,
)
from bot.units import Unread, canonical, convert, kind_of, read, show

COLUMNS = ("part", "kind", "outer tube", "inner tube", "stroke", "rating", "mounting", "shaft", "notes")
_FIGURES = {"outer tube": "in", "inner tube": "in", "stroke": "in"}
_OTHER_NAMES = {
    "part": ("name", "part name", "item", "description", "part no", "part number"),
    "kind": ("type", "kind of part", "category"),
    "outer tube": ("outer", "outside tube", "outer tube width", "outer width", "od", "tube od"),
    "inner tube": ("inner", "inside tube", "inner tube width", "inner width", "sliding tube"),
    "stroke": ("travel", "screw travel", "foot travel"),
    "rating": ("rated load", "load rating", "rated", "capacity", "amps", "rated amps"),
    "mounting": ("mount", "bolt pattern", "bracket", "mounting holes"),
    "shaft": ("input shaft", "shaft size", "shaft end"),
    "notes": ("note", "remarks", "remark", "comment", "comments"),
}
_EMPTY = {"", "-", "--", "?", "n/a", "na", "none", "unknown", "not known", "tbd", "x"}
MOST_FAULTS = 200


@dataclass(frozen=True)
class Figure:
    """A figure of the list in the unit named: what stood there, and its range."""

    text: str
    value: float
    low: float
    high: float
    unit: str
    each: str = ""  # of a rating: "one", "pair", or "" where the list does not say


@dataclass(frozen=True)
class Part:
    """One row: its name, its kind as the corpus names it, figures by column, and the other cells as text."""

    row: int
    name: str
    kind: str
    figures: Mapping[str, Figure] = field(default_factory=dict)
    texts: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class PartsList:
    """A list as read: parts, what is wrong with it, remarks above its header, and what was taken for granted."""

    parts: tuple[Part, ...]
    faults: tuple[Fault, ...]
    remarks: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Expected:
    """What a list may hold: kind of part -> its spellings; column -> least and most [in]; kind -> unit of rating."""

    kinds: Mapping[str, tuple[str, ...]]
    limits: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    ratings: Mapping[str, str] = field(default_factory=dict)


def read_list(raw: bytes, expected: Expected) -> PartsList:
    """The parts of a file's bytes. Any bytes lead to a list, to faults with row and column, or to both."""
    text = text_of(raw)
    if isinstance(text, Fault):
        return PartsList((), (text,))
    remarks, text, taken = remarks_of(text)
    records, faults = records_of(text, delimiter_of(text), taken + 1)
    if not records:
        wanted = "Its first row names the columns: " + ", ".join(COLUMNS) + "."
        return PartsList((), (*faults, Fault(0, "", "the list is empty.", wanted)), tuple(remarks))
    columns, units, notes, head_faults = _header(records[0])
    if "part" not in columns.values():
        return PartsList((), (*faults, *head_faults), tuple(remarks), tuple(notes))
    parts: list[Part] = []
    faults = [*faults, *head_faults]
    for record in records[1:]:
        part, wrong = _part(record, columns, units, expected)
        faults += wrong
        if part is not None and not wrong:
            parts.append(part)
        if len(faults) > MOST_FAULTS:
            faults = [
                *faults[:MOST_FAULTS],
                Fault(record.row, "", "and more; reading ends here.", "Mend these first."),
            ]
            break
    if len(records) == 1:
        faults.append(Fault(records[0].row, "", "no part stands below the header.", "Add a row."))
    return PartsList(tuple(parts), tuple(faults), tuple(remarks), tuple(notes))


def _plain(header: str) -> tuple[str, str]:
    """A header without case, signs and unit, and the unit it names, if it names one we know.

    >>> _plain("Outer_Tube (mm)"), _plain("STROKE, in."), _plain("Rating lbs")
    (('outer tube', 'mm'), ('stroke', 'in'), ('rating', 'lb'))
    """
    words = re.findall(r"[a-z0-9]+|[\"″”]", header.lower())
    unit = ""
    if len(words) > 1 and (found := canonical("in" if words[-1] in '"″”' else words[-1])):
        words, unit = words[:-1], found
        if len(words) > 1 and words[-1] == "in":  # stroke in cm
            words = words[:-1]
    return " ".join(words), unit


def _header(record: Record) -> tuple[dict[int, str], dict[str, str], list[str], list[Fault]]:
    """Which place holds which column, the units the header names, notes, and faults."""
    names = {n: c for c, others in _OTHER_NAMES.items() for n in (c, c + "s", *others)}
    columns: dict[int, str] = {}
    units: dict[str, str] = {}
    notes: list[str] = []
    faults: list[Fault] = []
    for place, cell in enumerate(record.cells):
        plain, unit = _plain(cell[:200])
        shown = harmless(cell, 40)
        whole = " ".join(re.findall(r"[a-z0-9]+", cell[:200].lower()))
        column = names.get(whole) or names.get(plain, "")
        unit = "" if names.get(whole) else unit
        if not column and plain:
            near = difflib.get_close_matches(plain, names, n=1, cutoff=0.82)
            if near:
                column = names[near[0]]
                notes.append(f'"{shown}" is read as {column}.')
        if not column:
            if cell:
                notes.append(f'The column "{shown}" is not used.')
            continue
        if column in columns.values():
            faults.append(
                Fault(record.row, shown, f"{column} has a column already.", "Keep one, or rename this one.")
            )
            continue
        columns[place] = column
        if unit and column in ("rating", *_FIGURES):
            units[column] = unit
    if "part" not in columns.values():
        faults.append(
            Fault(record.row, "", "no column names the part.", "The header is: " + ", ".join(COLUMNS) + ".")
        )
    missing = [c for c in COLUMNS if c not in columns.values() and c not in ("part", "notes")]
    if missing and "part" in columns.values():
        notes.append("No column for " + ", ".join(missing) + ": unknown for every part.")
    return columns, units, notes, faults


def _part(
    record: Record, columns: Mapping[int, str], units: Mapping[str, str], expected: Expected
) -> tuple[Part | None, list[Fault]]:
    """One row as a part, and what is wrong with it."""
    faults: list[Fault] = []
    cells: dict[str, str] = {}
    for place, cell in enumerate(record.cells):
        column = columns.get(place, "")
        if len(cell) > MOST_CELL:
            faults.append(
                Fault(record.row, column or f"number {place + 1}",
                      f"the cell is {len(cell):,} characters long; a cell takes up to {MOST_CELL:,}.", "Shorten it.")
            )  # fmt: skip
        elif column:
            cells[column] = cell
        elif cell and place >= max(columns, default=0) + 1 and place not in columns:
            continue
    if faults:
        return None, faults
    name = harmless(cells.get("part", ""))
    if not name:
        return None, [Fault(record.row, "part", "the part has no name.", "Name it.")]
    kind = kind_named(cells.get("kind", ""), expected.kinds)
    if not kind:
        said = harmless(cells.get("kind", ""), 40)
        what = f'"{said}" is no kind of part.' if said else "the kind of part is not given."
        faults.append(Fault(record.row, "kind", what, "Kinds: " + ", ".join(expected.kinds) + "."))
    figures: dict[str, Figure] = {}
    for column, unit in (*_FIGURES.items(), ("rating", expected.ratings.get(kind, ""))):
        text = cells.get(column, "")
        if not unit or text.lower() in _EMPTY:
            continue
        got = _figure(text, unit, units.get(column, ""), expected.limits.get(column), column == "rating")
        if isinstance(got, str):
            faults.append(Fault(record.row, column, harmless(got, 400), ""))
        else:
            figures[column] = got
    texts = {c: harmless(cells[c]) for c in cells if c not in figures and c not in ("part", "kind")}
    return Part(
        record.row, name, kind, figures, {c: t for c, t in texts.items() if t.lower() not in _EMPTY}
    ), faults


def kind_named(text: str, kinds: Mapping[str, tuple[str, ...]]) -> str:
    """The kind of part that a word or two name, leniently; "" where none does.

    >>> kind_named("Landing-Legs", {"leg": ("landing leg",), "fuse": ()}), kind_named("hat", {"leg": ()})
    ('leg', '')
    """
    plain = " ".join(re.findall(r"[a-z]+", text[:200].lower()))
    names = {" ".join(re.findall(r"[a-z]+", n)): k for k, others in kinds.items() for n in (k, *others)}
    for spelt in (plain, plain.removesuffix("s"), plain.removesuffix("es")):
        if spelt in names:
            return names[spelt]
    near = difflib.get_close_matches(plain, names, n=1, cutoff=0.85)
    return names[near[0]] if near else ""


@lru_cache(maxsize=4096)  # a long list says the same few sizes again and again
def _figure(
    text: str, unit: str, header_unit: str, limit: tuple[float, float] | None, is_rating: bool
) -> Figure | str:
    """A cell as a figure in `unit`, or what to do about it. A bare number takes the header's unit."""
    shown = harmless(text, 60)
    each = ""
    if is_rating:
        pair = re.search(r"\b(pair|both|set|two legs)\b", text, re.I)
        one = re.search(r"\b(each|one leg|per leg|a leg|single|per side)\b", text, re.I)
        each = "pair" if pair and not one else "one" if one and not pair else ""
        text = re.sub(
            r"\b(a leg|pair|both|set|each|per|one|two|single|legs?|side|rated|for|of|the)\b",
            " ",
            text,
            flags=re.I,
        )
    asked = header_unit if header_unit and _same_kind(header_unit, unit) else unit
    if header_unit and asked != header_unit:
        return f"the header says {header_unit}; this figure is one in {unit}. Mend the header."
    got = read(text, asked)
    if isinstance(got, Unread):
        return got.reply
    ends = [_in(x, asked, unit) for x in (got.value, got.low, got.high)]
    value, low, high = ends
    if not 0 < value < 1e7 or low < 0:
        return f'"{shown}" is no size of a part. Give a figure above 0 with its unit.'
    if limit and not limit[0] <= value <= limit[1]:
        least, most = show(limit[0], unit), show(limit[1], unit)
        return (
            f'"{shown}" is read as {show(value, unit)}; that is outside {least} to {most}.'
            " Write the unit beside the figure, like 57 mm."
        )
    return Figure(shown, value, low, high, unit, each)


def _same_kind(one: str, other: str) -> bool:
    kinds = {kind_of(one), kind_of(other)}
    return len(kinds) == 1 or kinds == {"weight", "force"}


def _in(value: float, given: str, wanted: str) -> float:
    """A value in the unit wanted; an open end stays open."""
    return value if given == wanted or math.isinf(value) else convert(value, given, wanted)
