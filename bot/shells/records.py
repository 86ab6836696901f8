"""The store of cases: the only writer. SQLite in the person's data folder; one row an event, written before its
reply is shown. A case is its events; everything else is worked out from them again.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from bot.problems import LeglineError
from bot.talk.events import Event, event_from_plain, event_to_plain
from bot.talk.used import Used

SCHEMA = 1


class StoreProblem(LeglineError):
    """The store cannot be read or written; the text says where and what to do."""


@dataclass(frozen=True)
class CaseRow:
    """One case as the list shows it."""

    number: int
    opened: str
    touched: str
    standing: str  # open, aside, closed
    about: str
    waiting: str


def data_folder() -> Path:
    """Where cases are kept; LEGLINE_DATA in the environment moves it."""
    named = os.environ.get("LEGLINE_DATA")
    if named:
        return Path(named)
    if os.name == "posix" and os.uname().sysname != "Darwin":
        base = os.environ.get("XDG_DATA_HOME")
        return (Path(base) if base else Path.home() / ".local" / "share") / "legline"
    import platformdirs

    return Path(platformdirs.user_data_dir("legline", False))


class Store:
    """Cases on disk. Every method either does the whole of its work or raises StoreProblem."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or data_folder()
        self.file = self.folder / "cases.sqlite3"
        self._connection: sqlite3.Connection | None = None

    def _open(self) -> sqlite3.Connection:
        if self._connection is None:
            try:
                self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
                fresh = not self.file.exists()
                connection = sqlite3.connect(self.file, timeout=20.0, isolation_level=None)
                if fresh:
                    self.file.chmod(0o600)
                connection.execute("PRAGMA journal_mode=WAL")
                connection.execute("PRAGMA synchronous=FULL")
                connection.execute("PRAGMA foreign_keys=ON")
                connection.execute("PRAGMA secure_delete=ON")
                self._make(connection)
                self._connection = connection
            except (sqlite3.Error, OSError) as fault:
                raise StoreProblem(
                    f"The cases in {self.file} cannot be opened: {fault}. Check that the folder is there, writable and not full."
                ) from fault
        return self._connection

    @staticmethod
    def _make(connection: sqlite3.Connection) -> None:
        version = connection.execute("PRAGMA user_version").fetchone()[0]
        if version > SCHEMA:
            raise sqlite3.DatabaseError("written by a newer Legline")
        Store._make_pages(connection)
        if version < 1:
            connection.execute("BEGIN IMMEDIATE")
            connection.execute(
                "CREATE TABLE IF NOT EXISTS cases (number INTEGER PRIMARY KEY AUTOINCREMENT, opened TEXT NOT NULL,"
                " touched TEXT NOT NULL, standing TEXT NOT NULL, about TEXT NOT NULL, waiting TEXT NOT NULL,"
                " corpus TEXT NOT NULL, program TEXT NOT NULL)"
            )
            connection.execute(
                "CREATE TABLE IF NOT EXISTS events (number INTEGER NOT NULL REFERENCES cases(number) ON DELETE CASCADE,"
                " place INTEGER NOT NULL, event TEXT NOT NULL, PRIMARY KEY (number, place)) WITHOUT ROWID"
            )
            connection.execute("PRAGMA user_version=1")
            connection.execute("COMMIT")

    @staticmethod
    def _make_pages(connection: sqlite3.Connection) -> None:
        """A table beside the others, so that stores made before it need no step of their own."""
        connection.execute(
            "CREATE TABLE IF NOT EXISTS pages (number INTEGER NOT NULL REFERENCES cases(number) ON DELETE CASCADE,"
            " role TEXT NOT NULL, page TEXT NOT NULL, digest TEXT NOT NULL, corpus TEXT NOT NULL,"
            " PRIMARY KEY (number, page, digest, role)) WITHOUT ROWID"
        )

    def note_pages(self, number: int, used: Iterable[Used]) -> None:
        """Which pages the case has leaned on, as they were read; one noted before stays as it is."""
        with self._writing() as connection:
            connection.executemany(
                "INSERT OR IGNORE INTO pages (number, role, page, digest, corpus) VALUES (?,?,?,?,?)",
                [(number, *one) for one in used],
            )

    def pages(self, number: int) -> tuple[Used, ...]:
        """Every page the case has leaned on, by name."""
        rows = self._read(
            "SELECT role, page, digest, corpus FROM pages WHERE number=? ORDER BY page, role, digest",
            (number,),
        )
        return tuple(Used(*(str(v) for v in row)) for row in rows)

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        connection = self._open()
        try:
            connection.execute("BEGIN IMMEDIATE")
            yield connection
            connection.execute("COMMIT")
        except (sqlite3.Error, OSError) as fault:
            with suppress(sqlite3.Error):
                connection.execute("ROLLBACK")
            raise StoreProblem(
                f"Nothing was written to {self.file}: {fault}. The conversation goes on in memory."
            ) from fault

    def open_case(self, at: str, about: str, corpus: str, program: str) -> int:
        """A new case's number."""
        with self._writing() as connection:
            row = connection.execute(
                "INSERT INTO cases (opened, touched, standing, about, waiting, corpus, program) VALUES (?,?,?,?,?,?,?)",
                (at, at, "open", about[:200], "", corpus, program),
            )
            return int(row.lastrowid or 0)

    def append(self, number: int, place: int, event: Event, at: str, standing: str, waiting: str) -> None:
        """One event at its place in the case, with how the case stands after it."""
        with self._writing() as connection:
            connection.execute(
                "INSERT INTO events VALUES (?,?,?)",
                (number, place, json.dumps(event_to_plain(event), ensure_ascii=False)),
            )
            connection.execute(
                "UPDATE cases SET touched=?, standing=?, waiting=? WHERE number=?",
                (at, standing, waiting, number),
            )

    def stand(self, number: int, standing: str, at: str) -> None:
        """Marks a case open, aside or closed."""
        with self._writing() as connection:
            connection.execute(
                "UPDATE cases SET standing=?, touched=? WHERE number=?", (standing, at, number)
            )

    def _read(self, question: str, values: tuple[object, ...] = ()) -> list[tuple[object, ...]]:
        try:
            return list(self._open().execute(question, values).fetchall())
        except sqlite3.Error as fault:
            raise StoreProblem(f"The cases in {self.file} cannot be read: {fault}.") from fault

    def events(self, number: int) -> tuple[Event, ...]:
        """The events of a case in order; empty where there is no such case."""
        rows = self._read("SELECT event FROM events WHERE number=? ORDER BY place", (number,))
        return tuple(event_from_plain(json.loads(str(r[0]))) for r in rows)

    def row(self, number: int) -> CaseRow | None:
        """One case, or None."""
        rows = self.cases(number)
        return rows[0] if rows else None

    def cases(self, number: int | None = None, most: int = 200) -> list[CaseRow]:
        """Cases, last touched first."""
        where, values = ("WHERE number=? ", (number,)) if number is not None else ("", ())
        rows = self._read(
            f"SELECT number, opened, touched, standing, about, waiting FROM cases {where}ORDER BY touched DESC, number DESC LIMIT ?",
            (*values, most),
        )
        return [CaseRow(int(str(r[0])), *(str(v) for v in r[1:])) for r in rows]

    def corpus_of(self, number: int) -> str:
        """The fingerprint of the corpus a case was begun with."""
        rows = self._read("SELECT corpus FROM cases WHERE number=?", (number,))
        return str(rows[0][0]) if rows else ""

    def delete(self, number: int) -> bool:
        """Deletes a case and its events for good; whether there was one."""
        with self._writing() as connection:
            done = connection.execute("DELETE FROM cases WHERE number=?", (number,)).rowcount > 0
        self._open().execute("PRAGMA wal_checkpoint(TRUNCATE)")
        return done

    def close(self) -> None:
        """Closes the file."""
        if self._connection is not None:
            self._connection.close()
            self._connection = None
