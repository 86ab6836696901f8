"""Cases carried as a file: backup, restore, and the rows of a damaged case put aside."""

from __future__ import annotations

import datetime
import json
import os
import sqlite3
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bot.shells.store import mend
from bot.shells.store.rows import Cursor, StoreProblem, Whole, mark_of, put_pages
from bot.shells.store.schema import SCHEMA

if TYPE_CHECKING:
    from bot.shells.records import Store


def rows_aside(folder: Path, number: int, rows: Sequence[Sequence[Any]]) -> Path:
    """Writes the rows of a case, one line of JSON each, into a new file of the folder. Raises OSError."""
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    stamp = datetime.datetime.now(datetime.UTC).strftime("%Y%m%d-%H%M%S")
    for again in range(1000):
        file = folder / f"case-{number}.damaged-{stamp}{f'-{again}' if again else ''}.jsonl"
        if not file.exists():
            break
    with os.fdopen(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as out:
        for row in rows:
            out.write(json.dumps([v if isinstance(v, str | int) else repr(v) for v in row]) + "\n")
        out.flush()
        os.fsync(out.fileno())
    return file


def backup(store: Store, file: Path) -> int:
    """Writes every case into a new file, whole or not at all, and reads it back; how many. Raises StoreProblem."""
    if file.exists():
        raise StoreProblem(f"{file} is there already and is not written over. Name another file.")
    name = ""
    try:
        handle, name = tempfile.mkstemp(prefix=".legline-backup-", dir=file.absolute().parent)
        os.close(handle)
        new = Path(name)
        mend.make_empty(new)
        wholes = [w for n in store.numbers() if (w := store.whole(n)) is not None]
        mend.fill(new, wholes)
        connection = sqlite3.connect(new, isolation_level=None)
        try:
            connection.execute("PRAGMA journal_mode=DELETE")
            sound = connection.execute("PRAGMA integrity_check").fetchone()[0]
            count = connection.execute("SELECT count(*) FROM cases").fetchone()[0]
        finally:
            connection.close()
        if sound != "ok" or count != len(wholes):
            raise StoreProblem(f"{file} did not come out as it should ({sound}); nothing was kept there.")
        new.replace(file)
    except (sqlite3.Error, OSError) as fault:
        raise StoreProblem(
            f"{file} could not be written: {fault}. The cases themselves are as they were."
        ) from fault
    finally:
        if name:
            for end in ("", "-wal", "-shm", "-journal"):
                with suppress(OSError):
                    Path(name + end).unlink()
    return len(wholes)


def restore(store: Store, file: Path) -> list[str]:
    """Puts every case of a backup into the store, none over another. What happened, in words. Raises StoreProblem."""
    try:
        with file.open("rb") as opened:
            head = opened.read(100)
        if head[:16] != b"SQLite format 3\x00":
            raise StoreProblem(f"{file} is no backup of cases.")
        if int.from_bytes(head[60:64], "big") > SCHEMA:  # where the file format keeps user_version
            raise StoreProblem(f"{file} was written by a newer Legline. Use that one to restore it.")
        wholes = mend.salvage(file)
    except OSError as fault:
        raise StoreProblem(f"{file} cannot be read: {fault.strerror or fault}.") from fault
    if not wholes:
        raise StoreProblem(f"{file} holds no cases, or is too damaged to read any.")
    there = same = taken = 0
    said: list[str] = []
    for w in wholes:
        number = w.row.number
        if w.missing:
            said.append(
                f"Case {number} of the backup is damaged: {len(w.events)} entries of {w.kept} could be read."
            )
        present = store.whole(number)
        if present is None:
            _put(store, w, number)
            taken += 1
        elif present.events[: len(w.events)] == w.events:
            same += 1
        elif w.events[: len(present.events)] == present.events and present.row.opened == w.row.opened:
            _put(store, w, None)
            there += 1
            said.append(
                f"Case {number} has more entries in the backup than here; the fuller one came in under a new number."
            )
        else:
            _put(store, w, None)
            there += 1
            said.append(
                f"Case {number} here is another than case {number} of the backup, which came in under a new number."
            )
    return [f"{taken} cases restored, {there} under a new number, {same} were here already.", *said]


def _put(store: Store, w: Whole, number: int | None) -> int:
    r = w.row

    def work(do: Cursor) -> int:
        fields = "opened, touched, standing, about, waiting, corpus, program, kept, change"
        values: tuple[Any, ...] = (
            r.opened,
            r.touched,
            r.standing,
            r.about,
            r.waiting,
            w.corpus,
            w.program,
            len(w.events),
        )
        change = "(SELECT COALESCE(MAX(change), 0) + 1 FROM cases)"
        if number is None:
            into = do.insert(f"INSERT INTO cases ({fields}) VALUES (?,?,?,?,?,?,?,?,{change})", values)
        else:
            into = number
            do.run(
                f"INSERT INTO cases (number, {fields}) VALUES (?,?,?,?,?,?,?,?,?,{change})", (number, *values)
            )
        do.many(
            "INSERT INTO events (number, place, event, mark) VALUES (?,?,?,?)",
            [(into, i, text, mark_of(into, i, text)) for i, text in enumerate(w.events)],
        )
        put_pages(do, into, w.pages)
        return into

    return store.put(work)
