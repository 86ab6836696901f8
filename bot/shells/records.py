"""The store of cases: the only writer. One row an event, written before its reply is shown. A case is its events;
everything else is worked out from them again.

Cases lie in a file of SQLite in the person's data folder, or on the PostgreSQL server that the settings name.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

from bot.shells.store.points import reached
from bot.shells.store.rows import (
    CaseRow,
    Cursor,
    Keeper,
    StoreProblem,
    T,
    TakenOver,
    Whole,
    event_of,
    mark_of,
    plain_text,
    put_pages,
    text_of,
)
from bot.talk.events import Event
from bot.talk.used import Used

SCHEMA = 3  # kept in step with bot/shells/store/schema.py, which loads sqlite3 and so comes late
_ROW = "number, opened, touched, standing, about, waiting"
_EVENTS = (
    "SELECT c.kept, e.place, e.event, e.mark FROM cases c LEFT JOIN events e ON e.number = c.number"
    " WHERE c.number=? ORDER BY e.place"
)
_NEXT_CHANGE = "(SELECT COALESCE(MAX(change), 0) + 1 FROM cases)"


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
    """Cases as one seat sees them. Every method either does the whole of its work or raises StoreProblem.

    `folder` and `url` stand in tests; without them the settings and the data folder decide.
    """

    def __init__(self, folder: Path | None = None, url: str | None = None, patience: float = 20.0) -> None:
        self.folder = folder or data_folder()
        self._asked_for, self._patience = (url if url is not None or folder is None else ""), patience
        self._kept_by: Keeper | None = None
        self.seat = ""
        self._told: list[str] = []
        self._newest = 0  # the last case begun here

    @property
    def file(self) -> Path:
        """The file of the cases on this machine, whether it is there yet or not."""
        from bot.shells.store.mend import current

        return current(self.folder)

    @property
    def _keeper(self) -> Keeper:
        if self._kept_by is None:
            url, name = self._asked_for, ""
            if url is None:
                from bot.shells.settings import read_settings

                settings = read_settings()
                url, name = settings.store, settings.seat
            name = (
                name
                or os.environ.get("LEGLINE_SEAT", "")
                or (os.uname().nodename if hasattr(os, "uname") else "")
            )
            self.seat = f"{plain_text(name)[:60] or 'a seat'}#{os.getpid()}-{time.time_ns():x}-{id(self):x}"
            if url:
                from bot.shells.store.server import CaseServer

                self._kept_by = CaseServer(url, name)
            else:
                from bot.shells.store.file import CaseFile

                self._kept_by = CaseFile(self.folder, self._patience)
        return self._kept_by

    # --- writing

    def begin(self, at: str, about: str, corpus: str, program: str, events: Sequence[Event] = (),
              standing: str = "open", waiting: str = "", again: bool = False,
              pages: Iterable[Used] = ()) -> int:  # fmt: skip
        """A new case with its first events, in one piece; its number. `again` looks first whether it is there already."""
        keeper = self._keeper
        about = plain_text(about[:200])
        looks = [again]

        def work(do: Cursor) -> int:
            # The line to a server may break after the commit: a second try finds what the first one left.
            look, looks[0] = looks[0], True
            same = (
                do.run(
                    "SELECT number, kept FROM cases WHERE seat=? AND number>? AND opened=? AND about=?",
                    (self.seat, self._newest, at, about),
                ).rows()
                if look
                else []
            )
            if same:
                number, kept = int(same[-1][0]), int(same[-1][1])
                do.run(
                    "UPDATE cases SET kept=?, standing=?, waiting=? WHERE number=?",
                    (max(kept, len(events)), standing, plain_text(waiting), number),
                )
                self._put(do, number, kept, events[kept:])
                put_pages(do, number, pages)
                return number
            number = do.insert(
                f"INSERT INTO cases (opened, touched, standing, about, waiting, corpus, program, seat, change, kept) VALUES (?,?,?,?,?,?,?,?,{_NEXT_CHANGE},?)",
                (at, at, standing, about, plain_text(waiting), corpus, program, self.seat, len(events)),
            )
            reached("case written")
            self._put(do, number, 0, events)
            put_pages(do, number, pages)
            return number

        number = self._newest = keeper.write(work)
        keeper.claim(number)
        return number

    @staticmethod
    def _put(do: Cursor, number: int, place: int, events: Sequence[Event]) -> None:
        texts = [(i, text_of(e)) for i, e in enumerate(events, place)]
        do.many(
            "INSERT INTO events (number, place, event, mark) VALUES (?,?,?,?)",
            [(number, i, text, mark_of(number, i, text)) for i, text in texts],
        )
        reached("events written")

    def append(self, number: int, place: int, event: Event, at: str, standing: str, waiting: str) -> None:
        """One event at its place in the case, with how the case stands after it."""
        self.write(number, place, (event,), at, standing, waiting)

    def write(self, number: int, place: int, events: Sequence[Event], at: str, standing: str, waiting: str,
              shortcut: tuple[str, bytes] | None = None, pages: Iterable[Used] = ()) -> None:  # fmt: skip
        """Events from their place on, with how the case stands after them, all or none. Doing it twice is doing it once.

        Raises TakenOver where the case is another seat's by now, or is gone.
        """
        keeper = self._keeper

        def work(do: Cursor) -> None:
            done = do.run(
                f"UPDATE cases SET touched=?, standing=?, waiting=?, change={_NEXT_CHANGE}, kept=? WHERE number=? AND seat=? AND kept=?",
                (at, standing, plain_text(waiting), place + len(events), number, self.seat, place),
            ).rowcount
            if done != 1:
                self._refused(do, number, place, events)
                return
            self._put(do, number, place, events)
            put_pages(do, number, pages)
            if shortcut is not None:
                do.run("DELETE FROM shortcuts WHERE number=?", (number,))
                do.run(
                    "INSERT INTO shortcuts (number, kept, stamp, body) VALUES (?,?,?,?)",
                    (number, place + len(events), *shortcut),
                )
                reached("shortcut written")

        keeper.write(work)

    def _refused(self, do: Cursor, number: int, place: int, events: Sequence[Event]) -> None:
        """Why a write found no row to change: written already (then all is well), taken over, deleted, or out of step."""
        found = do.run("SELECT seat, kept FROM cases WHERE number=?", (number,)).rows()
        if not found:
            raise TakenOver(f"Case {number} was deleted at another seat, so nothing more is put into it.")
        seat, kept = found[0]
        there = do.run(
            "SELECT event FROM events WHERE number=? AND place>=? ORDER BY place", (number, place)
        ).rows()
        if events and [t for (t,) in there][: len(events)] == [text_of(e) for e in events]:
            return
        if seat != self.seat:
            raise TakenOver(f"Case {number} was taken over at another seat ({_name(seat)}).")
        raise StoreProblem(
            f"Case {number} has {kept} entries in the store where {place} were expected. Say case {number} to take it up afresh."
        )

    def stand(self, number: int, standing: str, at: str) -> None:
        """Marks a case open, aside or closed, and as open at no seat."""

        def work(do: Cursor) -> None:
            do.run(
                f"UPDATE cases SET standing=?, touched=?, change={_NEXT_CHANGE}, seat='' WHERE number=? AND seat IN (?, '')",
                (standing, at, number, self.seat),
            )

        self._keeper.write(work)
        self._keeper.let_go(number)

    def take(self, number: int, over: bool = False) -> str:
        """Makes a case this seat's. "" when it is; else the seat where it is open, unless it is taken `over`."""
        keeper = self._keeper
        free = keeper.claim(number)
        if not free and not over:
            found = keeper.read("SELECT seat FROM cases WHERE number=?", (number,))
            return _name(str(found[0][0])) if found else ""

        def work(do: Cursor) -> None:
            do.run("UPDATE cases SET seat=? WHERE number=?", (self.seat, number))

        keeper.write(work)
        return ""

    def let_go(self, number: int) -> None:
        """The case is not open at this seat any more; how it stands is unchanged."""
        if self._kept_by is not None:
            self._kept_by.let_go(number)

    # --- reading

    def told(self) -> list[str]:
        """What the person should know of the store (damage, mending, read-only) and has not been told yet."""
        notes = [*self._told, *(self._kept_by.notes if self._kept_by is not None else ())]
        self._told = []
        if self._kept_by is not None:
            self._kept_by.notes = []
        return notes

    def events(self, number: int) -> tuple[Event, ...]:
        """The events of a case in order, as far as they are as they were written; empty where there is no such case."""
        return tuple(event_of(t) for t in self._texts(number))

    def _texts(self, number: int) -> tuple[str, ...]:
        from bot.shells.store.mend import sound

        kept, rows = _split(self._keeper.read(_EVENTS, (number,)))
        texts = sound(number, rows)
        return texts if len(texts) == len(rows) >= kept else self._cut(number)

    def _cut(self, number: int) -> tuple[str, ...]:
        """Puts the rows of a damaged case into a file beside, keeps its sound beginning, and says so."""
        from bot.shells.store.mend import sound
        from bot.shells.store.parcel import rows_aside

        def look(do: Cursor) -> tuple[str, ...]:
            kept, rows = _split(do.run(_EVENTS, (number,)).rows())
            texts = sound(number, rows)
            good = len(texts)
            if good == len(rows) >= kept:
                return texts
            copy = rows_aside(self.folder, number, rows)
            do.run("DELETE FROM events WHERE number=? AND place>=?", (number, good))
            do.run("DELETE FROM shortcuts WHERE number=?", (number,))
            do.run("UPDATE cases SET kept=? WHERE number=?", (good, number))
            self._told.append(
                f"Case {number} was damaged in the store: its first {good} entries are kept, {max(kept, len(rows)) - good} after them could not be trusted. All that was there was put into {copy}."
            )
            return texts

        try:
            return self._keeper.write(look)
        except OSError as fault:
            raise StoreProblem(
                f"Case {number} is damaged, and no copy could be put aside: {fault}."
            ) from fault

    def shortcut(self, number: int) -> tuple[int, str, bytes] | None:
        """(events it covers, stamp, body) of the kept state of a case, or None."""
        rows = self._keeper.read("SELECT kept, stamp, body FROM shortcuts WHERE number=?", (number,))
        return (int(rows[0][0]), str(rows[0][1]), bytes(rows[0][2])) if rows else None

    def pages(self, number: int) -> tuple[Used, ...]:
        """Every page the case has leaned on, by name."""
        rows = self._keeper.read(
            "SELECT role, page, digest, corpus FROM pages WHERE number=? ORDER BY page, role, digest",
            (number,),
        )
        return tuple(Used(*(str(v) for v in row)) for row in rows)

    def row(self, number: int) -> CaseRow | None:
        """One case, or None."""
        if not 0 < number < 2**62:
            return None
        question = f"SELECT {_ROW} FROM cases WHERE number=?"
        rows = self._keeper.read(question, (number,))
        if not rows and self._keeper.read("SELECT 1 FROM events WHERE number=? LIMIT 1", (number,)):
            self._keeper.check()  # entries without their case: a damage that reading does not stumble over
            rows = self._keeper.read(question, (number,))
        return _row(rows[0]) if rows else None

    def cases(self, most: int = 200, words: str = "") -> list[CaseRow]:
        """Cases, last changed first, with every one of the words in what they are about."""
        wanted = [
            w.replace("!", "!!").replace("%", "!%").replace("_", "!_")
            for w in plain_text(words).lower().split()[:20]
        ]
        where = " AND ".join("lower(about) LIKE ? ESCAPE '!'" for _ in wanted)
        rows = self._keeper.read(
            f"SELECT {_ROW} FROM cases {'WHERE ' + where if where else ''} ORDER BY change DESC, number DESC LIMIT ?",
            (*(f"%{w}%" for w in wanted), most),
        )
        return [_row(r) for r in rows]

    def numbers(self) -> list[int]:
        """The numbers of all cases, smallest first."""
        return [int(r[0]) for r in self._keeper.read("SELECT number FROM cases ORDER BY number")]

    def whole(self, number: int) -> Whole | None:
        """Everything of a case, or None."""
        texts = self._texts(number)
        rows = self._keeper.read(f"SELECT {_ROW}, corpus, program FROM cases WHERE number=?", (number,))
        return (
            Whole(_row(rows[0]), str(rows[0][6]), str(rows[0][7]), len(texts), texts, self.pages(number))
            if rows
            else None
        )

    def check(self) -> int:
        """Reads everything there is and mends what is damaged, which `told` tells; how many cases there are."""
        self._keeper.check()
        return sum(self.whole(n) is not None for n in self.numbers())

    def corpus_of(self, number: int) -> str:
        """The fingerprint of the corpus a case was begun with."""
        rows = self._keeper.read("SELECT corpus FROM cases WHERE number=?", (number,))
        return str(rows[0][0]) if rows else ""

    # --- taking away, closing

    def put(self, work: Callable[[Cursor], T]) -> T:
        """Runs the work of restore in one transaction, and sees that new numbers come after the restored ones."""
        value = self._keeper.write(work)
        self._keeper.renumber()
        return value

    def delete(self, number: int) -> bool:
        """Deletes a case and its events for good; whether there was one. What is left of it somewhere is in `told`."""

        def work(do: Cursor) -> bool:
            for table in ("shortcuts", "pages", "events"):
                do.run(f"DELETE FROM {table} WHERE number=?", (number,))
            return do.run("DELETE FROM cases WHERE number=?", (number,)).rowcount > 0

        self._keeper.let_go(number)
        done = self._keeper.write(work)
        if done:
            self._told += self._keeper.scrub(number)
        return done

    def close(self) -> None:
        """Closes the file or the connection; the next call opens it again."""
        if self._kept_by is not None:
            self._kept_by.close()


def _split(rows: list[tuple[Any, ...]]) -> tuple[int, list[tuple[Any, ...]]]:
    """How many events the case should have, and the rows (place, text, mark) it has: one question, so one moment."""
    return (int(rows[0][0]) if rows else 0), [tuple(r[1:]) for r in rows if r[1] is not None]


def _name(seat: str) -> str:
    return seat.partition("#")[0] or "no name"


def _row(r: Sequence[Any]) -> CaseRow:
    return CaseRow(int(r[0]), str(r[1]), str(r[2]), str(r[3]), str(r[4]), str(r[5]))


__all__ = ["SCHEMA", "CaseRow", "Store", "StoreProblem", "TakenOver", "data_folder"]
