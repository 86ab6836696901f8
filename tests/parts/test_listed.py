"""Columns named leniently, figures in any spelling, faults with row and column."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.corpus.place import corpus_folder
from bot.parts.known import expected_of
from bot.parts.listed import read_list
from bot.talk.knowledge import Knowledge
from tests.parts.lists import EXPECTED, raw

# 1 in = 25.4 mm exactly and 1 lb = 0.45359237 kg exactly (NIST SP 811, appendix B.8); worked by hand.
SIZES = [
    ("2 1/2 in", 2.5),
    ("2.5", 2.5),
    ('2 1/2"', 2.5),
    ("2-1/2 in", 2.5),
    ("63.5 mm", 2.5),
    ("63,5 mm", 2.5),
    ("6.35 cm", 2.5),
    ("two and a half inches", 2.5),
]


@pytest.mark.parametrize(("text", "inches"), SIZES)
def test_size_is_read_in_any_spelling(text: str, inches: float) -> None:
    found = read_list(raw(f'A,leg,"{text.replace(chr(34), chr(34) * 2)}",,,,,,'), EXPECTED)
    assert found.faults == ()
    assert found.parts[0].figures["outer tube"].value == pytest.approx(inches, rel=1e-6)


def test_semicolons_with_decimal_commas_and_a_mark_in_front_are_read() -> None:
    text = "\ufeffPart;Kind;Outer tube;Rating\r\nA;leg;63,5 mm;1.400 kg\r\nB;leg;2,5 in;1400 kg\r\n"
    found = read_list(text.encode(), EXPECTED)
    assert found.parts[-1].figures["outer tube"].value == pytest.approx(2.5)
    assert found.parts[-1].figures["rating"].value == pytest.approx(1400 / 0.45359237)
    assert [(f.row, f.column) for f in found.faults] == [(2, "rating")]  # 1.400 kg: 1.4 or 1400
    assert "1400" in found.faults[0].what


def test_header_names_are_matched_leniently_and_its_unit_counts() -> None:
    header = "PART NAME, Type ,Outside-Tube (mm),inner_tube [in],Stroke in cm,Rated Load kg,Mouting,Input Shaft,Comments,Price"
    found = read_list(raw("A,landing-legs,57,2,36,1400 each,bolted,hex,fine,9", header=header), EXPECTED)
    assert found.faults == ()
    figures = found.parts[0].figures
    assert figures["outer tube"].value == pytest.approx(57 / 25.4)
    assert figures["inner tube"].value == 2
    assert figures["stroke"].value == pytest.approx(36 / 2.54)
    assert figures["rating"].value == pytest.approx(1400 / 0.45359237)
    assert figures["rating"].each == "one"
    assert found.parts[0].kind == "leg"
    assert found.parts[0].texts == {"mounting": "bolted", "shaft": "hex", "notes": "fine"}
    assert any('"Mouting" is read as mounting' in n for n in found.notes)
    assert any('"Price" is not used' in n for n in found.notes)


FAULTS = [
    ("A,leg,wide,,,,,,", 2, "outer tube", "I find no figure"),
    ("A,leg,2 lb,,,,,,", 2, "outer tube", "pounds"),
    ("A,leg,57,,,,,,", 2, "outer tube", "outside 1 in to 6 in"),
    ("A,leg,,0,,,,,", 2, "inner tube", "no size of a part"),
    ("A,leg,,,,30 A,,,", 2, "rating", "amps"),
    ("A,leg,,,1 or 2,,,,", 2, "stroke", ""),
    ("A,hat,,,,,,,", 2, "kind", '"hat" is no kind of part'),
    ("A,,,,,,,,", 2, "kind", "not given"),
    (",leg,,,,,,,", 2, "part", "no name"),
]


@pytest.mark.parametrize(("line", "row", "column", "says"), FAULTS, ids=[f[0] for f in FAULTS])
def test_fault_names_its_row_and_column(line: str, row: int, column: str, says: str) -> None:
    found = read_list(raw(line, "B,leg,2,,,,,,"), EXPECTED)
    assert [p.name for p in found.parts] == ["B"]
    assert [(f.row, f.column) for f in found.faults] == [(row, column)]
    assert says in str(found.faults[0])
    assert f'row {row}, column "{column}"' in str(found.faults[0])


def test_rows_are_counted_as_a_spreadsheet_counts_them() -> None:
    lines = ["# Invented", "part,kind,stroke,notes", "", 'A,leg,14,"two', 'lines"', "", "B,leg,no,"]
    found = read_list("\r\n".join(lines).encode(), EXPECTED)
    assert [(p.name, p.row) for p in found.parts] == [("A", 4)]
    assert [f.row for f in found.faults] == [6]
    assert found.remarks == ("Invented",)


@pytest.mark.parametrize("empty", ["", "-", "n/a", "?", "Unknown", "TBD", "  "])
def test_cell_that_says_nothing_is_unknown_and_no_fault(empty: str) -> None:
    found = read_list(raw(f"A,leg,{empty},,,{empty},{empty},,"), EXPECTED)
    assert found.faults == ()
    assert found.parts[0].figures == {}
    assert found.parts[0].texts == {}


@pytest.mark.parametrize(
    ("blob", "says"),
    [
        (b"", "the list is empty"),
        (b"\n\n , ,\n", "the list is empty"),
        (b"# only a remark\n", "the list is empty"),
        (b"kind,stroke\nleg,14\n", "no column names the part"),
        (b"part,kind\n", "no part stands below the header"),
        (b"part,Part Name,kind\nA,B,leg\n", "part has a column already"),
    ],
)
def test_list_that_is_none_is_said(blob: bytes, says: str) -> None:
    assert any(says in f.what and f.fix for f in read_list(blob, EXPECTED).faults)


def test_markup_and_formulas_stay_text() -> None:
    found = read_list(raw('"[/red][b]x","leg",,,,,"=1+1","<b>|`*","[link](x)"'), EXPECTED)
    assert found.parts[0].name == "[/red][b]x"
    assert found.parts[0].texts == {"mounting": "=1+1", "shaft": "<b>|`*", "notes": "[link](x)"}


@pytest.mark.parametrize(
    ("text", "each", "pounds"),
    [
        ("6000 lb pair", "pair", 6000),
        ("3000 lb per leg", "one", 3000),
        ("3000 lb", "", 3000),
        ("3 kip each", "one", 3000),
    ],
)
def test_rating_says_whether_it_is_for_one_leg_or_the_pair(text: str, each: str, pounds: float) -> None:
    figure = read_list(raw(f"A,leg,,,,{text},,,"), EXPECTED).parts[0].figures["rating"]
    assert figure.each == each
    assert figure.value == pytest.approx(pounds)


def test_demo_list_is_whole_and_says_that_it_is_invented(knowledge: Knowledge) -> None:
    file: Path = corpus_folder() / "parts" / "demo-list.csv"
    assert file.read_text(encoding="utf-8").splitlines()[0].startswith("# Invented")
    found = read_list(file.read_bytes(), expected_of(knowledge.corpus))
    assert found.faults == ()
    assert len(found.parts) == 15
    assert {p.kind for p in found.parts} == {s.part for s in knowledge.corpus.sheets}
    assert found.remarks[0].startswith("Invented")
