"""A kept state, so that a long case is taken up without replaying every line of it.

The events stay the record: a shortcut is used only for the very events, pages and program it was made by, and a case
without one is replayed.
"""

from __future__ import annotations

import hashlib
import importlib
import json
import zlib
from dataclasses import is_dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

from bot.frozen import replace
from bot.talk.events import Event
from bot.talk.state import State

_MOST = 16_000_000  # bytes of a state unpacked; a small body could claim any size
_MODULES = ("bot.talk.", "bot.sums.", "bot.units.", "bot.safety.", "bot.corpus.")
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

    `first` are events that stand in the store before the state's own log. What many states share is written once.
    Raises TypeError where a state holds what no record is made of.
    """
    table: list[list[Any]] = []
    links = []
    seen: dict[int, int] = {}
    kept: list[Any] = []  # so that no id is given twice
    at: State | None = state
    while at is not None:
        names = [n for n in _fields(at) if n not in ("log", "before")]
        links.append([{n: _put(getattr(at, n), table, seen, kept) for n in names}, len(first) + len(at.log)])
        at = at.before
    return zlib.compress(json.dumps([table, links]).encode(), 1)


def _fields(value: Any) -> tuple[str, ...]:
    names: tuple[str, ...] = type(value)._all_fields
    return names


def _put(value: Any, table: list[list[Any]], seen: dict[int, int], kept: list[Any]) -> Any:
    """A plain value as it is, any other as [its place in the table], where its parts stand before it."""
    if value is None or type(value) in (str, int, float, bool):
        return value
    if id(value) not in seen:
        name = f"{type(value).__module__}:{type(value).__qualname__}"
        if isinstance(value, Enum):
            row = ["enum", name, value.value]
        elif isinstance(value, dict):
            row = ["dict", "", *(_put(v, table, seen, kept) for pair in value.items() for v in pair)]
        elif isinstance(value, frozenset):
            row = ["set", "", *(_put(v, table, seen, kept) for v in sorted(value, key=repr))]
        elif isinstance(value, tuple):
            kind = "named" if hasattr(value, "_fields") else "tuple"
            row = [kind, name if kind == "named" else "", *(_put(v, table, seen, kept) for v in value)]
        elif is_dataclass(value):
            row = ["made", name, *(_put(getattr(value, n), table, seen, kept) for n in _fields(value))]
        else:
            raise TypeError(f"a state holds a {name}")
        table.append(row)
        kept.append(value)
        seen[id(value)] = len(table) - 1
    return [seen[id(value)]]


def unpack(body: bytes, events: tuple[Event, ...]) -> State:
    """The state of those events. Raises ValueError where the body is none.

    Only records, named tuples and named values of the program's own modules are made, and only of plain parts: a
    spoilt body leads to nothing else, nor to more than it holds.
    """
    try:
        rows, links = json.loads(zlib.decompressobj().decompress(body, _MOST))
        table: list[Any] = []
        for row in rows:
            table.append(_made(row[0], row[1], [_got(v, table) for v in row[2:]]))
        state: State | None = None
        for plain, count in reversed(links):
            found = {n: _got(v, table) for n, v in plain.items()}
            state = replace(State(), **found, log=events[:count], before=state)
    except Exception as fault:  # noqa: BLE001 -- whatever is wrong with it, the events are replayed instead
        raise ValueError("no shortcut") from fault
    if state is None or len(state.log) != len(events):
        raise ValueError("no shortcut for these events")
    return state


def _got(value: Any, table: list[Any]) -> Any:
    return table[value[0]] if type(value) is list else value


def _made(kind: str, name: str, parts: list[Any]) -> Any:
    if kind == "tuple":
        return tuple(parts)
    if kind == "set":
        return frozenset(parts)
    if kind == "dict":
        return dict(zip(parts[::2], parts[1::2], strict=True))
    found = _type(name)
    if kind == "enum" and issubclass(found, Enum):
        return found(parts[0])
    if kind == "named" and issubclass(found, tuple) and hasattr(found, "_fields"):
        return found(*parts)
    if kind == "made" and is_dataclass(found):
        return found(*parts)
    raise ValueError(f"{kind} {name} has no place in a state")


@cache
def _type(name: str) -> type[Any]:
    module, _, called = name.partition(":")
    if not module.startswith(_MODULES):
        raise ValueError(f"{name} has no place in a state")
    found = vars(importlib.import_module(module))[called]
    if not isinstance(found, type) or found.__module__ != module:
        raise ValueError(f"{name} has no place in a state")
    return found


__all__ = ["EVERY", "pack", "stamp_of", "unpack"]
