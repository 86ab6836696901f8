"""Damage to the file of cases: a copy is put aside, and what is sound is carried over into a new file.

A case is replayed in order, so only its events up to the first damaged one are kept: a "yes" after a hole would
answer another question than the one it was said to.
"""

from __future__ import annotations

import datetime
import os
import sqlite3
import tempfile
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from bot.frozen import replace
from bot.shells.store.pages import committed_frames, rows_of, with_journal
from bot.shells.store.rows import CaseRow, Whole, event_of, mark_of
from bot.shells.store.schema import migrate
from bot.talk.events import Said
from bot.talk.used import Used

_STANDINGS = ("open", "aside", "closed")


def make_empty(file: Path) -> None:
    """An empty store of today's schema at that path. Raises sqlite3.Error."""
    connection = sqlite3.connect(file, isolation_level=None)
    try:
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA secure_delete=ON")
        migrate(connection)
    finally:
        connection.close()


def salvage(file: Path) -> list[Whole]:
    """Every case that can be read off the pages of a file and its journal, each with its sound events. Raises OSError."""
    rows: dict[int, list[Any]] = {}
    events: dict[int, dict[int, tuple[str, int | None]]] = {}
    pages: dict[int, set[Used]] = {}
    for number, values in rows_of(with_journal(file)):
        if number is not None:
            if len(values) in (8, 11) and all(isinstance(v, str) for v in values[1:8]):
                there = rows.get(number)
                if there is None or _kept(values) >= _kept(there):
                    rows[number] = values
        elif len(values) in (3, 4) and isinstance(values[2], str) and all(_is_count(v) for v in values[:2]):
            case, place, text = values[:3]
            mark = values[3] if len(values) == 4 else None
            if mark is None or mark == mark_of(case, place, text):
                events.setdefault(case, {})[place] = (text, mark)
        elif len(values) == 5 and _is_count(values[0]) and all(isinstance(v, str) for v in values[1:]):
            case, page, digest, role, corpus = values  # a table without row numbers begins with its key
            pages.setdefault(case, set()).add(Used(role, page, digest, corpus))
    return [
        replace(
            _whole(number, rows.get(number), _in_order(number, events.get(number, {}))),
            pages=tuple(sorted(pages.get(number, ()))),
        )
        for number in sorted(set(rows) | set(events))
        if number > 0
    ]


def _is_count(value: object) -> bool:
    return isinstance(value, int) and value >= 0


def _kept(values: list[Any]) -> int:
    return values[10] if len(values) == 11 and _is_count(values[10]) and values[10] < 10_000_000 else 0


def _in_order(number: int, events: dict[int, tuple[str, int | None]]) -> tuple[str, ...]:
    """The sound events of a case; those of the first schema carry no marks, and their places may have gaps."""
    rows = sorted((place, text, mark) for place, (text, mark) in events.items())
    if rows and all(mark is None for _, _, mark in rows):
        rows = [(i, text, mark_of(number, i, text)) for i, (_, text, _) in enumerate(rows)]
    return sound(number, rows)


def sound(number: int, rows: Sequence[Sequence[Any]]) -> tuple[str, ...]:
    """The events (place, text, mark) of a case up to the first that is missing or not as it was written."""
    kept: list[str] = []
    for place, (found, text, mark) in enumerate(rows):
        if found != place or not isinstance(text, str) or mark != mark_of(number, place, text):
            break
        try:
            event_of(text)
        except ValueError:
            break
        kept.append(text)
    return tuple(kept)


def _whole(number: int, row: list[Any] | None, events: tuple[str, ...]) -> Whole:
    opened, touched, standing, about, waiting, corpus, program = (
        row[1:8] if row is not None else ("", "", "", "", "", "", "")
    )
    first = next((e.text for e in map(event_of, events) if isinstance(e, Said)), "")
    kept = _kept(row) if row is not None and len(row) == 11 else len(events)
    case = CaseRow(
        number, opened, touched, standing if standing in _STANDINGS else "open", about or first[:200], waiting
    )
    return Whole(case, corpus, program, kept, events)


def put_aside(file: Path) -> Path:
    """A copy of the file and its journal beside them, readable by its owner alone. Raises OSError."""
    stamp = datetime.datetime.now(datetime.UTC).strftime("%Y%m%d-%H%M%S")
    for again in range(1000):
        copy = file.with_name(f"{file.stem}.damaged-{stamp}{f'-{again}' if again else ''}{file.suffix}")
        if not copy.exists():
            break
    for end in ("", "-wal"):
        source = Path(str(file) + end)
        if source.exists():
            handle = os.open(str(copy) + end, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "wb") as out:
                out.write(source.read_bytes())
                out.flush()
                os.fsync(out.fileno())
    return copy


def leftovers(folder: Path) -> list[Path]:
    """What a process that was ended in the middle of its work may have left beside the file."""
    return [p for pattern in ("cases-new-*", "cases-mended-*") for p in folder.glob(pattern)]


def copies(folder: Path) -> list[Path]:
    """Files that were put aside after damage."""
    return sorted(folder.glob("*.damaged-*"))


def current(folder: Path) -> Path:
    """The file of the cases: cases.sqlite3, or after mending cases-2.sqlite3, cases-3.sqlite3 and so on."""
    files = [p for p in folder.glob("cases-*.sqlite3") if p.stem[6:].isdigit()]
    return max(files, key=_round, default=folder / "cases.sqlite3")


def _round(file: Path) -> int:
    return int(file.stem[6:] or 1)


def following(file: Path) -> Path:
    """The name of the file that takes the place of this one once it is mended."""
    return file.with_name(f"cases-{_round(file) + 1}.sqlite3")


def publish(new: Path, file: Path) -> None:
    """Gives a whole file its name; where another seat was first, that one's stays. Raises OSError."""
    try:
        os.link(new, file)
    except FileExistsError:
        return
    except (OSError, NotImplementedError, AttributeError):  # no links on this disk
        if not file.exists():
            new.replace(file)


def mend(file: Path, close: Callable[[], None]) -> list[str]:
    """Puts a copy aside and makes the next file with all that is sound. Returns what to tell the person.

    Raises OSError or sqlite3.Error where it cannot be done; the damaged file is where it was then.
    """
    empty = file.stat().st_size == 0
    copy = put_aside(file)
    close()
    found = salvage(copy)
    handle, name = tempfile.mkstemp(prefix="cases-mended-", suffix=".sqlite3", dir=file.parent)
    os.close(handle)
    new, place = Path(name), following(file)
    try:
        make_empty(new)
        fill(new, found)
        publish(new, place)
    finally:
        for end in ("", "-wal", "-shm"):
            with suppress(OSError):
                Path(name + end).unlink()
    for end in ("-wal", "-shm", ""):
        with suppress(OSError):
            Path(f"{file}{end}").unlink()
    if empty:
        copy.unlink(missing_ok=True)
        return [
            f"The file of the cases, {file}, was there but empty: whatever it held is gone. It is begun anew as {place}."
        ]
    whole = sum(not w.missing for w in found)
    told = [
        f"The file of the cases was damaged. A copy of it was put aside: {copy}. {whole} cases were kept whole, in {place}."
    ]
    for w in found:
        if w.missing:
            told.append(
                f'Case {w.row.number} ("{w.row.about[:40]}"): its first {len(w.events)} entries are kept; {w.missing} after them could not be read.'
            )
    gone = _gone([w.row.number for w in found])
    if gone:
        told.append(f"No longer to be read, or deleted earlier: case {gone}.")
    return told


def _gone(numbers: list[int]) -> str:
    """The gaps in the numbers, in words; "" for none."""
    gaps, before = [], 0
    for number in numbers:
        if number > before + 1:
            gaps.append(str(before + 1) if number == before + 2 else f"{before + 1} to {number - 1}")
        before = number
    return ", ".join(gaps[:20])


def fill(file: Path, found: list[Whole]) -> None:
    """Writes the cases into an empty file of ours. Raises sqlite3.Error."""
    connection = sqlite3.connect(file, isolation_level=None)
    try:
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("BEGIN IMMEDIATE")
        for change, w in enumerate(sorted(found, key=lambda w: (w.row.touched, w.row.number)), 1):
            r = w.row
            connection.execute(
                "INSERT INTO cases (number, opened, touched, standing, about, waiting, corpus, program, change, kept)"
                " VALUES (?,?,?,?,?,?,?,?,?,?)",
                (r.number, r.opened, r.touched, r.standing, r.about, r.waiting, w.corpus, w.program, change, len(w.events)),
            )  # fmt: skip
            connection.executemany(
                "INSERT INTO events (number, place, event, mark) VALUES (?,?,?,?)",
                [(r.number, i, text, mark_of(r.number, i, text)) for i, text in enumerate(w.events)],
            )
            connection.executemany(
                "INSERT INTO pages (number, role, page, digest, corpus) VALUES (?,?,?,?,?)",
                [(r.number, *one) for one in w.pages],
            )
        connection.execute("COMMIT")
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    finally:
        connection.close()


__all__ = [
    "committed_frames",
    "copies",
    "fill",
    "leftovers",
    "make_empty",
    "mend",
    "put_aside",
    "salvage",
    "sound",
]
