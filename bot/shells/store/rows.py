"""What the store hands out and what it says when it cannot: rows, marks of events, problems in words."""

from __future__ import annotations

import json
import zlib
from collections.abc import Callable, Iterable, Sequence
from typing import Any, Protocol, TypeVar

from bot.frozen import dataclass
from bot.problems import LeglineError
from bot.talk.events import Event, event_from_plain, event_to_plain
from bot.talk.used import Used

T = TypeVar("T")


class StoreProblem(LeglineError):
    """The store cannot be read or written; the text says where and what to do."""


class TakenOver(StoreProblem):
    """The case is another seat's now, or was deleted there: the line was not put into it."""


@dataclass(frozen=True)
class CaseRow:
    """One case as the list shows it."""

    number: int
    opened: str
    touched: str
    standing: str  # open, aside, closed
    about: str
    waiting: str


@dataclass(frozen=True)
class Whole:
    """A case with everything of it, as backup and mending carry it. `kept` is how many events it should have."""

    row: CaseRow
    corpus: str
    program: str
    kept: int
    events: tuple[str, ...]  # JSON, in order
    pages: tuple[Used, ...] = ()  # the pages it leaned on

    @property
    def missing(self) -> int:
        """How many events are lost."""
        return max(0, self.kept - len(self.events))


class Cursor(Protocol):
    """What a unit of work may do in its transaction. Values stand as ? in the question."""

    rowcount: int

    def run(self, question: str, values: Sequence[Any] = ()) -> Cursor:
        """Runs one statement."""

    def many(self, question: str, values: Iterable[Sequence[Any]]) -> None:
        """Runs one statement for each of the values."""

    def rows(self) -> list[tuple[Any, ...]]:
        """The rows of the last statement."""

    def insert(self, question: str, values: Sequence[Any]) -> int:
        """Inserts a case and returns its number."""


class Keeper(Protocol):
    """Where cases lie. Every method does the whole of its work or raises StoreProblem."""

    where: str
    notes: list[str]

    def write(self, work: Callable[[Cursor], T]) -> T:
        """Runs the work in one transaction; it may be run again, so it has to end the same either way."""

    def read(self, question: str, values: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """The rows of a question."""

    def claim(self, number: int) -> bool:
        """Marks a case as open here for as long as this process lives; False where another has it open."""

    def let_go(self, number: int) -> None:
        """The case is not open here any more."""

    def scrub(self, number: int) -> list[str]:
        """After a delete: takes the bytes themselves away. What is left, in words."""

    def check(self) -> None:
        """Goes over all that lies there and mends what can be mended; what it found is in `notes`."""

    def renumber(self) -> None:
        """Sees that the next new case gets a number above all there are."""

    def close(self) -> None:
        """Lets go of everything."""


def text_of(event: Event) -> str:
    """The event as one line of JSON that every database takes."""
    plain = event_to_plain(event)
    text = json.dumps(plain, ensure_ascii=False)
    try:
        text.encode()
    except UnicodeEncodeError:  # half a surrogate pair from a broken terminal: written as its escape
        text = json.dumps(plain)
    return text


def mark_of(number: int, place: int, text: str) -> int:
    """A checksum (CRC-32 of ISO 3309, by zlib) of an event at its place: a flipped bit does not pass for words."""
    return zlib.crc32(f"{number} {place} {text}".encode("utf-8", "replace"))


def event_of(text: str) -> Event:
    """The event of a line of JSON. Raises ValueError where it is none."""
    try:
        event = event_from_plain(json.loads(text))
    except (KeyError, TypeError, ValueError, AttributeError, RecursionError) as fault:
        raise ValueError(f"no event: {type(fault).__name__}") from fault
    if not all(isinstance(v, str | bool) for v in vars(event).values()):
        raise ValueError("no event: a field of it is no text")
    return event


def put_pages(do: Cursor, number: int, used: Iterable[Used]) -> None:
    """Which pages a case has leaned on, as they were read; one noted before stays as it is."""
    do.many(
        "INSERT INTO pages (number, role, page, digest, corpus) VALUES (?,?,?,?,?) ON CONFLICT DO NOTHING",
        [(number, *one) for one in used],
    )


def plain_text(text: str) -> str:
    """Text that every database takes: no NUL, no half surrogate pairs."""
    return text.replace("\x00", "").encode("utf-8", "replace").decode()


__all__ = [
    "CaseRow",
    "Cursor",
    "Keeper",
    "StoreProblem",
    "TakenOver",
    "Whole",
    "event_of",
    "mark_of",
    "plain_text",
    "put_pages",
    "text_of",
]
