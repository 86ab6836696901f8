"""The CSV reader against Python's csv module as the outside reference, and against any bytes at all."""

from __future__ import annotations

import codecs

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.parts.cells import (
    MOST_BYTES,
    MOST_CELLS,
    MOST_ROWS,
    Fault,
    delimiter_of,
    harmless,
    records_of,
    remarks_of,
    text_of,
)
from bot.parts.listed import COLUMNS, PartsList, read_list
from tests.parts.lists import EXPECTED, HEADER, raw, written

CELL = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0\r"), max_size=12)
ROWS = st.lists(st.lists(CELL, min_size=1, max_size=6), min_size=1, max_size=6)


@given(ROWS, st.sampled_from([",", ";", "\t", "|"]), st.sampled_from(["\n", "\r\n"]))
def test_what_the_csv_module_writes_is_read_back(rows: list[list[str]], sign: str, end: str) -> None:
    records, faults = records_of(written(rows, sign, end), sign)
    assert faults == []
    wanted = [[c.strip() for c in row] for row in rows]
    assert [list(r.cells) for r in records] == [row for row in wanted if any(row)]
    assert [r.row for r in records] == [n for n, row in enumerate(wanted, 1) if any(row)]


@given(st.binary(max_size=400))
def test_any_bytes_give_a_list_or_faults_and_never_an_exception(blob: bytes) -> None:
    _is_told(read_list(blob, EXPECTED))


@settings(max_examples=200, deadline=None)  # the first call pays the imports, which a busy machine stretches
@given(st.lists(st.binary(max_size=30), max_size=8), st.sampled_from([b",", b";", b"\n", b'"', b'",']))
def test_any_bytes_below_a_good_header_give_a_list_or_faults(pieces: list[bytes], glue: bytes) -> None:
    found = read_list(HEADER.encode() + b"\n" + glue.join(pieces), EXPECTED)
    _is_told(found)


@settings(max_examples=200, deadline=None)
@given(st.lists(st.lists(CELL, min_size=9, max_size=9), min_size=1, max_size=4))
def test_any_cells_give_a_part_or_a_fault_with_its_row(rows: list[list[str]]) -> None:
    found = read_list(written([COLUMNS, *rows]).encode(), EXPECTED)
    _is_told(found)
    told = {p.row for p in found.parts} | {f.row for f in found.faults}
    for n, row in enumerate(rows, 2):
        if any(c.strip() for c in row):
            assert n in told
        else:
            assert n not in {p.row for p in found.parts}


def _is_told(found: PartsList) -> None:
    assert found.parts or found.faults
    assert all(f.what for f in found.faults)
    shown = [p.name for p in found.parts] + [t for p in found.parts for t in p.texts.values()]
    for text in (*shown, *(str(f) for f in found.faults), *found.remarks, *found.notes):
        assert not any(ord(c) < 32 or 0x7F <= ord(c) < 0xA0 for c in text), repr(text)
    assert not {p.row for p in found.parts} & {f.row for f in found.faults if f.row}


@pytest.mark.parametrize(
    ("blob", "wanted"),
    [
        (codecs.BOM_UTF8 + "Ø 57".encode(), "Ø 57"),
        (codecs.BOM_UTF16_LE + "Ø 57".encode("utf-16-le"), "Ø 57"),
        (codecs.BOM_UTF16_BE + "Ø 57".encode("utf-16-be"), "Ø 57"),
        ("Ø 57".encode("cp1252"), "Ø 57"),
        ("Ø 57".encode(), "Ø 57"),
    ],
)
def test_text_is_read_in_every_way_a_spreadsheet_writes_it(blob: bytes, wanted: str) -> None:
    assert text_of(blob) == wanted


@pytest.mark.parametrize(
    ("blob", "says"),
    [
        (b"PK\x03\x04rest", "packed spreadsheet"),
        (b"part\0kind", "no text"),
        (b"\x81\x8d\x8f\x90", "no text"),
        (codecs.BOM_UTF16_LE + b"\x00", "no text"),
        (b"x" * (MOST_BYTES + 1), "bytes long"),
    ],
)
def test_what_is_no_text_is_said(blob: bytes, says: str) -> None:
    told = text_of(blob)
    assert isinstance(told, Fault)
    assert says in told.what
    assert told.fix


def test_sign_between_cells_is_seen_in_the_header() -> None:
    assert [delimiter_of(t) for t in ("a,b", "a;b,c;d", "a\tb", "a|b", '"a;b;c",d')] == [
        ",",
        ";",
        "\t",
        "|",
        ",",
    ]


def test_remarks_above_the_header_are_kept_apart() -> None:
    text = '# Invented: one.\n"# two, with a comma",,\n\nsep=;\npart;kind\n'
    assert remarks_of(text) == (["Invented: one.", "two, with a comma"], "part;kind\n", 4)


def test_open_quote_is_told_with_its_row_and_column() -> None:
    records, faults = records_of('part,kind\nA,"leg\nB,leg\n', ",")
    assert [r.cells for r in records] == [("part", "kind")]
    assert [(f.row, f.column) for f in faults] == [(2, "B")]
    assert "nothing closes it" in faults[0].what


def test_inch_mark_needs_no_quoting_and_a_blank_before_a_quote_does_no_harm() -> None:
    records, faults = records_of('A,2 1/2",3" wide, "x, y"\n', ",")
    assert (records[0].cells, faults) == (("A", '2 1/2"', '3" wide', "x, y"), [])


def test_too_many_cells_or_rows_are_told_and_not_read_on() -> None:
    assert "cells" in records_of("," * (MOST_CELLS + 5), ",")[1][0].what
    records, faults = records_of("a\n" * (MOST_ROWS + 5), ",")
    assert len(records) == MOST_ROWS
    assert "rows" in faults[0].what


def test_control_characters_and_direction_marks_are_taken_out() -> None:
    assert harmless("a\x1b[31m\u202eb\x00\x9bc\r\nd") == "a[31mbc d"
    assert len(harmless("y" * 5000)) == 200


def test_megabyte_cell_is_told_with_its_row_and_column_and_the_rest_is_read() -> None:
    found = read_list(raw("A,leg,2,2,14,3000," + "x" * 1_000_000 + ",hex,", "B,leg,2,2,14,3000,,,"), EXPECTED)
    assert [p.name for p in found.parts] == ["B"]
    assert [(f.row, f.column) for f in found.faults] == [(2, "mounting")]
    assert "1,000,000 characters" in found.faults[0].what
