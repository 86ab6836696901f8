"""CSV bytes -> records of cells, with the row of everything; what is no text or no table is said in words."""

from __future__ import annotations

import re
import unicodedata

from bot.frozen import dataclass

MOST_BYTES = 4_000_000
MOST_ROWS = 20_000
MOST_CELLS = 500  # of one row
MOST_CELL = 2_000  # characters; a longer cell is told with its row and column, and its row is left out
_DELIMITERS = (",", ";", "\t", "|")
_BIDI = {chr(c) for c in (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C)}


@dataclass(frozen=True)
class Fault:
    """One thing wrong with a list: the row and column as a spreadsheet counts and names them, what, and the mend.

    Row 0 is the file as a whole; column "" the whole row.
    """

    row: int
    column: str
    what: str
    fix: str

    def __str__(self) -> str:
        place = f"row {self.row}" + (f', column "{self.column}"' if self.column else "") + ": "
        return f"{place if self.row else ''}{self.what} {self.fix}".rstrip()


@dataclass(frozen=True)
class Record:
    """One row that is not empty."""

    row: int
    cells: tuple[str, ...]


def harmless(text: str, most: int = 200) -> str:
    r"""A cell on one line without control characters, escapes or direction marks, cut to `most` characters.

    >>> harmless("a\x1b[31mb\n c")
    'a[31mb c'
    """
    kept = (c if c not in "\t\r\n" else " " for c in text[: most * 4])
    text = "".join(c for c in kept if unicodedata.category(c)[0] != "C" and c not in _BIDI)
    text = " ".join(text.split())
    return text if len(text) <= most else text[: most - 1] + "…"


def text_of(raw: bytes) -> str | Fault:
    r"""The text of a file's bytes, or why it is none. A byte order mark says which Unicode; else UTF-8, else the
    code page 1252 that spreadsheets on Windows write.

    >>> text_of(b"\xef\xbb\xbfpart"), text_of("Ø".encode("cp1252"))
    ('part', 'Ø')
    """
    if len(raw) > MOST_BYTES:
        return Fault(
            0, "", f"the file is {len(raw):,} bytes long; a list takes up to {MOST_BYTES:,}.", "Split it."
        )
    if raw[:4] == b"PK\x03\x04":
        return Fault(
            0, "", "this is a packed spreadsheet, not CSV.", "Save the sheet as CSV and give that file."
        )
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        codes: tuple[str, ...] = ("utf-16",)
    else:
        codes = ("utf-8-sig", "cp1252")
    for code in codes:
        try:
            text = raw.decode(code)
        except UnicodeDecodeError:
            continue
        if "\0" in text:
            break
        return text
    return Fault(0, "", "this is no text.", "Save the sheet as CSV, UTF-8, and give that file.")


_ABOVE = re.compile(r'[ \t]*"?#([^\r\n]*)(?:\r\n|\r|\n|$)|sep=[,;\t|](?:\r\n|\r|\n)|[ \t]*(?:\r\n|\r|\n)')


def remarks_of(text: str) -> tuple[list[str], str, int]:
    """Lines that begin with # above the header, the rest of the text, and how many lines were taken off.

    A first line `sep=;`, as spreadsheets write it, counts as one of them.
    """
    remarks: list[str] = []
    at = taken = 0
    while at < len(text) and (match := _ABOVE.match(text, at)):
        if match.group(1) is not None and len(remarks) < 20:
            remarks.append(harmless(match.group(1).strip('", ;\t')))
        at = match.end()
        taken += 1
    return remarks, text[at:], taken


def delimiter_of(text: str) -> str:
    """The sign that parts the cells of the first row: the one that stands in it most often outside quotes.

    >>> delimiter_of("part;kind;outer, round"), delimiter_of("part")
    (';', ',')
    """
    first = re.sub(r'"[^"]*"', "", text[:20_000])
    first = re.split(r"[\r\n]", first, maxsplit=1)[0]
    return max(_DELIMITERS, key=lambda sign: (first.count(sign), -_DELIMITERS.index(sign)))


def records_of(text: str, delimiter: str, first_row: int = 1) -> tuple[list[Record], list[Fault]]:
    r"""Every row that is not empty, quotes taken off, and what could not be read.

    A quote opens a quoted cell only at its beginning, so that `2 1/2"` is an inch mark. Two quotes inside a quoted
    cell stand for one. Rows are counted as a spreadsheet does: a line break inside quotes begins no new one.

    >>> records_of('a,"b, ""c"" d"\n\n2 1/2",d', ",")[0]
    [Record(row=1, cells=('a', 'b, "c" d')), Record(row=3, cells=('2 1/2"', 'd'))]
    """
    end = re.compile(rf"{re.escape(delimiter)}|\r\n|\r|\n")
    blank = re.compile(r' *"')
    found: list[Record] = []
    faults: list[Fault] = []
    row, at, cells = first_row, 0, list[str]()
    while at < len(text):
        cell = ""
        opens = blank.match(text, at)
        if opens:
            at = opens.end() - 1
            cell, at, closed = _quoted(text, at)
            if not closed:
                faults.append(
                    Fault(row, _letter(len(cells)), "a quote opens here and nothing closes it.",
                          'Close it, or write an inch mark inside quotes twice: "2 1/2"" wide".')
                )  # fmt: skip
                return found, faults
        match = end.search(text, at)
        stop = match.start() if match else len(text)
        cells.append((cell + text[at:stop]).strip())
        if len(cells) > MOST_CELLS:
            faults.append(
                Fault(
                    row, "", f"the row has more than {MOST_CELLS} cells.", "Is this the list? Save it as CSV."
                )
            )
            return found, faults
        at = match.end() if match else len(text)
        if match is None or match.group() != delimiter:
            if any(cells):
                found.append(Record(row, tuple(cells)))
            if len(found) > MOST_ROWS or row > 10 * MOST_ROWS:
                faults.append(Fault(row, "", f"the list has more than {MOST_ROWS:,} rows.", "Split it."))
                return found[:MOST_ROWS], faults
            row, cells = row + 1, []
        elif match is not None and at >= len(text):
            cells.append("")
    if any(cells):
        found.append(Record(row, tuple(cells)))
    return found, faults


def _quoted(text: str, at: int) -> tuple[str, int, bool]:
    """The quoted cell that opens at `at`, where it ends, and whether it was closed."""
    parts: list[str] = []
    start = at + 1
    while True:
        stop = text.find('"', start)
        if stop < 0:
            return "".join(parts), len(text), False
        parts.append(text[start:stop])
        if text[stop + 1 : stop + 2] != '"':
            return "".join(parts), stop + 1, True
        parts.append('"')
        start = stop + 2


def _letter(index: int) -> str:
    """The letters of a column as a spreadsheet shows them.

    >>> _letter(0), _letter(27)
    ('A', 'AB')
    """
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
