"""Cases on a PostgreSQL server, for a help line with many seats. The one door to psycopg, which is imported here alone.

psycopg 3 and not a layer over it: a dozen statements in the SQL that both databases share need no mapper.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from typing import Any

from bot.shells.store.points import reached
from bot.shells.store.rows import Cursor, StoreProblem, T
from bot.shells.store.schema import SCHEMA, SERVER_MIGRATIONS

_LOCKS = 0x1E61  # the class of our advisory locks, one a case; number 0 is for making tables
_WAIT = 5  # seconds for a connection, and for a lock another seat holds


class _Work:
    """The statements of one transaction."""

    def __init__(self, connection: Any) -> None:
        self._cursor = connection.cursor()
        self.rowcount = -1

    def run(self, question: str, values: Sequence[Any] = ()) -> Cursor:
        self._cursor.execute(question.replace("?", "%s"), tuple(values))
        self.rowcount = self._cursor.rowcount
        return self

    def many(self, question: str, values: Iterable[Sequence[Any]]) -> None:
        self._cursor.executemany(question.replace("?", "%s"), list(values))

    def rows(self) -> list[tuple[Any, ...]]:
        return list(self._cursor.fetchall())

    def insert(self, question: str, values: Sequence[Any]) -> int:
        self._cursor.execute(question.replace("?", "%s") + " RETURNING number", tuple(values))
        return int(self._cursor.fetchone()[0])


class CaseServer:
    """The database of a URL. Its tables lie in the schema `legline`."""

    def __init__(self, url: str, seat: str = "") -> None:
        self.url, self.seat = url, seat
        self.where = _without_password(url)
        self.notes: list[str] = []
        self._connection: Any = None
        self._claimed: set[int] = set()
        try:
            import psycopg
        except ImportError as fault:
            raise StoreProblem(
                f"The settings name a server for the cases ({self.where}), which needs one package more: pip install 'legline[seats]'."
            ) from fault
        import logging

        logging.getLogger("psycopg").setLevel(logging.CRITICAL)  # a broken line is told in our own words
        self._faults: type[Exception] = psycopg.Error
        self._lost: tuple[type[Exception], ...] = (psycopg.OperationalError, psycopg.InterfaceError)
        self._connect: Callable[..., Any] = psycopg.connect

    def _open(self) -> Any:
        if self._connection is not None and not self._connection.closed:
            return self._connection
        self._connection = None
        try:
            connection = self._connect(
                self.url, autocommit=True, connect_timeout=_WAIT, application_name=f"legline {self.seat}"[:60]
            )
            try:
                connection.execute(f"SET lock_timeout = '{_WAIT}s'")
                connection.execute("SET statement_timeout = '30s'")
                self._make(connection)
                for number in sorted(self._claimed):
                    connection.execute("SELECT pg_try_advisory_lock(%s, %s)", (_LOCKS, number))
            except BaseException:
                connection.close()
                raise
        except self._faults as fault:
            raise self._problem(fault, "cannot be reached") from fault
        self._connection = connection
        reached("opened")
        return connection

    def _make(self, connection: Any) -> None:
        """Sets the search path, and makes or migrates the tables; one seat does it, others wait."""
        connection.execute("SET search_path = legline")
        found = connection.execute("SELECT to_regclass('legline.legline_schema')").fetchone()[0]
        version = connection.execute("SELECT version FROM legline_schema").fetchone()[0] if found else 0
        if version > SCHEMA:
            raise StoreProblem(f"The cases on {self.where} were written by a newer Legline. Use that one.")
        if version == SCHEMA:
            return
        with connection.transaction():
            connection.execute("SELECT pg_advisory_xact_lock(%s, 0)", (_LOCKS,))
            connection.execute("CREATE SCHEMA IF NOT EXISTS legline")
            connection.execute("CREATE TABLE IF NOT EXISTS legline_schema (version INTEGER NOT NULL)")
            row = connection.execute("SELECT version FROM legline_schema").fetchone()
            for step in range((row[0] if row else 0) + 1, SCHEMA + 1):
                for statement in SERVER_MIGRATIONS.get(step, ()):
                    connection.execute(statement)
            connection.execute("DELETE FROM legline_schema")
            connection.execute("INSERT INTO legline_schema VALUES (%s)", (SCHEMA,))

    def write(self, work: Callable[[Cursor], T]) -> T:
        """Runs the work in one transaction, once again where the line to the server broke."""
        for attempt in (1, 2):
            connection = self._open()
            try:
                with connection.transaction():
                    reached("begun")
                    value = work(_Work(connection))
                    reached("before commit")
                reached("after commit")
                return value
            except self._lost as fault:
                # The line broke, perhaps after the commit: the work is made so that doing it again changes nothing.
                self._drop()
                if attempt == 2:
                    raise self._problem(fault, "cannot be written") from fault
                time.sleep(0.2)
            except self._faults as fault:
                raise self._problem(fault, "cannot be written") from fault
        raise AssertionError("the loop returns or raises")

    def read(self, question: str, values: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """The rows of a question."""
        for attempt in (1, 2):
            connection = self._open()
            try:
                return list(connection.execute(question.replace("?", "%s"), tuple(values)).fetchall())
            except self._lost as fault:
                self._drop()
                if attempt == 2:
                    raise self._problem(fault, "cannot be read") from fault
            except self._faults as fault:
                raise self._problem(fault, "cannot be read") from fault
        raise AssertionError("the loop returns or raises")

    def claim(self, number: int) -> bool:
        """Takes an advisory lock of the session: the server lets go of it when the seat is gone."""
        if number in self._claimed:
            return True
        got = self.read("SELECT pg_try_advisory_lock(?, ?)", (_LOCKS, number))[0][0]
        if got:
            self._claimed.add(number)
        return bool(got)

    def let_go(self, number: int) -> None:
        """Drops that lock."""
        if number in self._claimed:
            self._claimed.discard(number)
            with suppress(StoreProblem):
                self.read("SELECT pg_advisory_unlock(?, ?)", (_LOCKS, number))

    def scrub(self, number: int) -> list[str]:
        """The server overwrites its pages and logs in its own time."""
        with suppress(StoreProblem):
            self.read("SELECT 1")
        return [
            "It is gone from the tables. The server's own files, logs and backups may hold words of it until it overwrites them; its keeper can see to that."
        ]

    def check(self) -> None:
        """The server looks after its own pages."""
        self.read("SELECT count(*) FROM cases")

    def renumber(self) -> None:
        """Moves the sequence of numbers up to the greatest one there is."""
        self.read(
            "SELECT setval(pg_get_serial_sequence('cases', 'number'), (SELECT GREATEST(MAX(number), 1) FROM cases))"
        )

    def _drop(self) -> None:
        if self._connection is not None:
            with suppress(Exception):
                self._connection.close()
            self._connection = None

    def close(self) -> None:
        """Closes the connection; the server drops its locks."""
        self._drop()
        self._claimed.clear()

    def _problem(self, fault: Exception, what: str) -> StoreProblem:
        if isinstance(fault, StoreProblem):
            return fault
        first = (str(fault).strip().splitlines() or [type(fault).__name__])[0]
        said = first if "password" not in first.lower() else "the name or the password is not right"
        return StoreProblem(
            f"The cases on {self.where} {what}: {said[:200]}. Is the server up, and the line to it?"
        )


def _without_password(url: str) -> str:
    """The URL as it may be shown."""
    import re

    return re.sub(r"(://[^:/@]*):[^@/]*@", r"\1:***@", url).partition("?")[0]
