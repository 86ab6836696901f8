"""Cases in one SQLite file in the person's data folder. Needs nothing but Python."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from bot.shells.store import mend
from bot.shells.store.locks import Held
from bot.shells.store.points import reached
from bot.shells.store.rows import Cursor, StoreProblem, T
from bot.shells.store.schema import migrate

_BUSY = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
_DAMAGED = {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}


class _Work:
    """The statements of one transaction."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._cursor = connection.cursor()
        self.rowcount = -1

    def run(self, question: str, values: Sequence[Any] = ()) -> Cursor:
        self._cursor.execute(question, tuple(values))
        self.rowcount = self._cursor.rowcount
        return self

    def many(self, question: str, values: Iterable[Sequence[Any]]) -> None:
        self._cursor.executemany(question, values)

    def rows(self) -> list[tuple[Any, ...]]:
        return self._cursor.fetchall()

    def insert(self, question: str, values: Sequence[Any]) -> int:
        self._cursor.execute(question, tuple(values))
        return int(self._cursor.lastrowid or 0)


class CaseFile:
    """The file `cases.sqlite3` of a folder. `patience` is how many seconds it waits for another program's lock."""

    def __init__(self, folder: Path, patience: float = 20.0) -> None:
        self.folder, self.patience = folder, patience
        self.file = mend.current(folder)
        self.where = str(folder)
        self.notes: list[str] = []
        self._connection: sqlite3.Connection | None = None
        self._next: Path | None = None
        self._writing = Held(folder / "cases.mending")
        self._users = Held(folder / "cases.users")
        self._process = os.getpid()
        self._copy: tempfile.TemporaryDirectory[str] | None = None
        self._open_here: dict[int, Held] = {}

    # --- opening

    def _open(self) -> sqlite3.Connection:
        if self._connection is not None and self._process == os.getpid():
            return self._connection
        if self._connection is not None:  # a fork: SQLite's connections and locks stay with the parent
            self._connection, self._open_here, self._process = None, {}, os.getpid()
            self._users, self._writing = Held(self._users.file), Held(self._writing.file)
        try:
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            self.file = mend.current(self.folder)
            if not self.file.exists():
                self._begin()
            elif self.file.stat().st_size < 512:  # SQLite would take it for a new one
                raise sqlite3.DatabaseError("malformed")
            self._connection = self._connected()
        except (sqlite3.Error, OSError) as fault:
            if _is_damage(fault):
                self._mend()
                self._connection = self._connected()
            elif (copy := self._read_only_copy()) is not None:
                return copy
            else:
                raise self._problem(fault, "cannot be opened") from fault
        reached("opened")
        return self._connection

    def _connected(self) -> sqlite3.Connection:
        """An open connection, brought to today's schema, with no committed line left unread in the journal."""
        # Only the first to open the file after a crash reads the journal back; under others it is changing all the time.
        self._users.drop()
        first = self._users.take()
        if not first:
            self._users.take(wait=True, shared=True)
        journalled = mend.committed_frames(self.file) if first else 0
        self._next = mend.following(self.file)
        connection = sqlite3.connect(self.file, timeout=self.patience, isolation_level=None)
        try:
            if self.file.stat().st_mode & 0o077:
                self.file.chmod(0o600)
            if connection.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
                connection.execute("PRAGMA journal_mode=WAL")
            connection.execute("PRAGMA synchronous=FULL")
            connection.execute("PRAGMA foreign_keys=ON")
            connection.execute("PRAGMA secure_delete=ON")
            connection.execute("PRAGMA temp_store=MEMORY")
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
            if journalled:
                _, frames, _ = connection.execute("PRAGMA wal_checkpoint(PASSIVE)").fetchone()
                if 0 <= frames < journalled:
                    raise sqlite3.DatabaseError("the journal beside the file is malformed")
            migrate(connection)
            self._users.share()
        except BaseException:
            # Closing could tidy away a damaged journal before it was put aside; mending closes by itself.
            self._connection = connection
            self._users.drop()
            raise
        return connection

    def _begin(self) -> None:
        """A new empty file, made under another name and linked into place whole, readable by its owner alone."""
        handle, name = tempfile.mkstemp(prefix="cases-new-", suffix=".sqlite3", dir=self.folder)
        os.close(handle)  # mkstemp makes it 0600
        new = Path(name)
        try:
            reached("file begun")
            mend.make_empty(new)
            mend.publish(new, self.file)
            reached("file linked")
        finally:
            for rest in (new, Path(name + "-wal"), Path(name + "-shm")):
                with suppress(OSError):
                    rest.unlink()

    def _read_only_copy(self) -> sqlite3.Connection | None:
        """Where the folder cannot be written: a copy elsewhere, for reading what is there."""
        if not self.file.exists() or os.access(self.folder, os.W_OK) and os.access(self.file, os.W_OK):
            return None
        try:
            self._copy = tempfile.TemporaryDirectory(prefix="legline-read-")
            copy = Path(self._copy.name) / "cases.sqlite3"
            for end in ("", "-wal"):
                if Path(f"{self.file}{end}").exists():
                    shutil.copyfile(f"{self.file}{end}", f"{copy}{end}")
            connection = sqlite3.connect(copy, isolation_level=None)
            migrate(connection)
            connection.execute("PRAGMA query_only=ON")
            connection.execute("SELECT count(*) FROM cases").fetchone()
        except (sqlite3.Error, OSError):
            return None
        self._connection = connection
        self.notes.append(f"{self.folder} cannot be written, so cases are shown but nothing new is kept.")
        return connection

    # --- working

    def write(self, work: Callable[[Cursor], T]) -> T:
        """Runs the work in one transaction, again where the file was mended under it."""
        for attempt in (1, 2, 3):
            connection = self._open()
            self._writing.take(
                wait=True, shared=True
            )  # nobody mends between our writing and our looking for a mended file
            try:
                if not self._replaced():
                    connection.execute("BEGIN IMMEDIATE")
                    reached("begun")
                    value = work(_Work(connection))
                    reached("before commit")
                    connection.execute("COMMIT")
                    reached("after commit")
                    return value
            except (sqlite3.Error, OSError) as fault:
                with suppress(sqlite3.Error):
                    connection.execute("ROLLBACK")
                if not _is_damage(fault) or attempt > 1:
                    raise self._problem(fault, "cannot be written") from fault
                self._writing.drop()
                self._mend()
            except BaseException:
                with suppress(sqlite3.Error):
                    connection.execute("ROLLBACK")
                raise
            finally:
                self._writing.drop()
            self._close_connection()  # mended by us or by another seat: done again in the new file
        raise StoreProblem(f"{self.file} changes under our hands. Nothing was written.")

    def read(self, question: str, values: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """The rows of a question."""
        for attempt in (1, 2):
            try:
                if self._connection is not None and self._process == os.getpid() and self._replaced():
                    self._close_connection()
                return list(self._open().execute(question, tuple(values)).fetchall())
            except sqlite3.Error as fault:
                if _is_damage(fault) and attempt == 1:
                    self._mend()
                    continue
                raise self._problem(fault, "cannot be read") from fault
        return []

    def _replaced(self) -> bool:
        """Whether the file was mended meanwhile, so that another is the one to use."""
        return self._copy is None and self._next is not None and self._next.exists()

    def _mend(self) -> None:
        """Puts a copy aside and builds a new file from what is sound. One seat mends, others wait and use the new file.

        The new file has a name of its own: a connection that is still open on the old one cannot reach it, nor its journal.
        """
        self._writing.drop()
        lock = Held(self.folder / "cases.mending")
        lock.take(wait=True)
        try:
            if mend.current(self.folder) == self.file:
                self.notes += mend.mend(self.file, self._close_connection)
            self._close_connection()
            self.file = mend.current(self.folder)
        except (sqlite3.Error, OSError) as fault:
            raise self._problem(fault, "are damaged and cannot be mended where they lie") from fault
        finally:
            lock.drop()

    def _problem(self, fault: Exception, what: str) -> StoreProblem:
        return StoreProblem(f"The cases in {self.file} {what}: {_words(fault, self.patience)}")

    # --- which cases are open here

    def claim(self, number: int) -> bool:
        """Locks the case's own lock file for as long as this process lives."""
        held = self._open_here.setdefault(number, Held(self.folder / f"case-{number}.open"))
        return held.take()

    def let_go(self, number: int) -> None:
        """Drops that lock."""
        held = self._open_here.pop(number, None)
        if held is not None:
            held.drop(remove=True)

    def scrub(self, number: int) -> list[str]:
        """Freed pages are overwritten with zeros already; here the rest is rewritten and the journal emptied."""
        left = []
        connection = self._open()
        try:
            connection.execute("VACUUM")
            busy = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
        except sqlite3.Error as fault:
            if _is_damage(fault):
                self._mend()
            busy = 1
        if busy:
            left.append(
                "Another seat is reading, so words of it may stand in the journal until the last seat closes; deleting any case again also empties it."
            )
        self._tidy()
        for copy in mend.copies(self.folder):
            if copy.name.startswith(f"case-{number}."):
                copy.unlink(missing_ok=True)
            else:
                left.append(
                    f"A copy put aside after damage may hold it: {copy}. Delete that file when it is done with."
                )
        return left

    def check(self) -> None:
        """Goes over every page, and mends the file where one is damaged."""
        try:
            sound = self._open().execute("PRAGMA integrity_check(1)").fetchone()[0] == "ok"
        except sqlite3.Error as fault:
            if not _is_damage(fault):
                raise self._problem(fault, "cannot be read") from fault
            sound = False
        if not sound:
            self._mend()

    def renumber(self) -> None:
        """SQLite's AUTOINCREMENT sees to it by itself."""

    def _tidy(self) -> None:
        """Takes away what a process left that was ended while it made or mended a file; not what one makes now."""
        lock = Held(self.folder / "cases.mending")
        if lock.take():
            for left in mend.leftovers(self.folder):
                with suppress(OSError):
                    if time.time() - left.stat().st_mtime > 60:
                        left.unlink()
            lock.drop()

    def _close_connection(self) -> None:
        if self._connection is not None:
            if self._process == os.getpid():
                with suppress(sqlite3.Error):
                    self._connection.close()
            self._connection = None
            self._users.drop()
        if self._copy is not None:
            self._copy.cleanup()
            self._copy = None

    def close(self) -> None:
        """Closes the file and drops every lock."""
        self._close_connection()
        for number in list(self._open_here):
            self.let_go(number)


def _is_damage(fault: Exception) -> bool:
    code = getattr(fault, "sqlite_errorcode", None)
    return (code is not None and code & 0xFF in _DAMAGED) or "malformed" in str(fault)


def _words(fault: Exception, patience: float) -> str:
    code = getattr(fault, "sqlite_errorcode", None)
    kind = code & 0xFF if code is not None else None
    if kind in _BUSY:
        return f"another program has held them for {patience:.0f} s. Close it, or wait."
    if kind == sqlite3.SQLITE_FULL or getattr(fault, "errno", 0) in (27, 28, 122):  # EFBIG, ENOSPC, EDQUOT
        return "the disk is full. Make room; what was said is written with the next line then."
    if kind == sqlite3.SQLITE_IOERR:
        return "the disk does not take it: it is full, or failing. Make room, or look after the disk."
    if kind == sqlite3.SQLITE_READONLY or isinstance(fault, PermissionError):
        return "the file or its folder is read-only here. Give yourself the right to write there, or set LEGLINE_DATA to another folder."
    if isinstance(fault, sqlite3.NotSupportedError):
        return "they were written by a newer Legline. Use that one, or set LEGLINE_DATA to another folder."
    return f"{fault}. Check that the folder is there, writable and not full."
