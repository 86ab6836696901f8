"""A kept state, so that a long case is taken up without replaying every line of it.

The events stay the record: a shortcut is used only for the very events, pages and program it was made by, and a case
without one is replayed.
"""

from __future__ import annotations

import hashlib
import io
import pickle
import zlib
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

from bot.frozen import replace
from bot.talk.events import Event
from bot.talk.state import State

_MOST = 32_000_000  # bytes of a state unpacked; a small body could claim any size
EVERY = 10  # events between two shortcuts
_TOP = Path(__file__).resolve().parents[2]


@cache
def _code() -> str:
    """A name for the code that makes a state, as it lies on disk."""
    digest = hashlib.sha256()
    for folder in ("talk", "reason", "safety", "sums", "units", "corpus", "find"):
        for file in sorted((_TOP / folder).glob("*.py")):
            stat = file.stat()
            digest.update(f"{file.name} {stat.st_size} {stat.st_mtime_ns}\n".encode())
    return digest.hexdigest()[:16]


def stamp_of(corpus: str) -> str:
    """What a shortcut has to agree with: the pages and the program."""
    return f"{corpus} {_code()}"


def pack(state: State, first: tuple[Event, ...]) -> bytes:
    """The state and the states behind it ("back" goes there), without the events, which the store has anyway.

    `first` are events that stand in the store before the state's own log.
    """
    links: list[tuple[dict[str, Any], int]] = []
    at: State | None = state
    while at is not None:
        plain = {f.name: getattr(at, f.name) for f in fields(at) if f.name not in ("log", "before")}
        links.append((plain, len(first) + len(at.log)))
        at = at.before
    return zlib.compress(pickle.dumps(links, protocol=5), 1)


def unpack(body: bytes, events: tuple[Event, ...]) -> State:
    """The state of those events. Raises ValueError where the body is none."""
    try:
        plain_body = zlib.decompressobj().decompress(body, _MOST)
        links = _OurStatesOnly(io.BytesIO(plain_body)).load()
        state: State | None = None
        for plain, count in reversed(links):
            state = replace(State(), **plain, log=events[:count], before=state)
    except Exception as fault:  # noqa: BLE001 -- whatever is wrong with it, the events are replayed instead
        raise ValueError("no shortcut") from fault
    if state is None or len(state.log) != len(events):
        raise ValueError("no shortcut for these events")
    return state


class _OurStatesOnly(pickle.Unpickler):
    """Makes frozen records and named values of bot.talk alone: a body that names anything else is refused."""

    def find_class(self, module: str, name: str) -> Any:
        if (module, name) == ("builtins", "frozenset"):
            return frozenset
        if module.startswith("bot.talk."):
            found = super().find_class(module, name)
            if isinstance(found, type) and (is_dataclass(found) or issubclass(found, Enum)):
                return found
        raise pickle.UnpicklingError(f"{module}.{name} has no place in a state")


__all__ = ["EVERY", "pack", "stamp_of", "unpack"]
