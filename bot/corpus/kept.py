"""Values kept on disk between runs: one file of sections, each read when it is first asked for.

The form is Python's own `marshal`: of all forms in the standard library it is read fastest, and it makes numbers,
text and containers alone, never code that runs. It belongs to one version of Python, which is why the name of the
file's folder counts the version in, and a checksum (CRC-32 of ISO 3309, by zlib) stands before anything is read.

A frozen value becomes a list that begins with the number of its type. Fields named in a type's `late` lie as bytes
inside and are read when somebody looks at them: of two hundred pages a conversation shows three.
"""

from __future__ import annotations

import marshal
import struct
import zlib
from collections.abc import Mapping
from typing import Any

from bot.corpus.model import TYPES

_MAGIC = b"legline kept 1\n"
_TUPLE, _DICT = -1, -2
_NUMBER = {t: i for i, t in enumerate(TYPES)}


class Spoilt(ValueError):
    """The file is none of ours, of another form, or not as it was written."""


def to_plain(value: Any) -> Any:
    """Lists, tuples, dicts, text and numbers that stand for the value; what `from_plain` reads back.

    What holds no frozen value stays as it is; a list stands only where one has to be made.
    """
    number = _NUMBER.get(type(value))
    if number is not None:
        late = value.late
        names = type(value)._all_fields
        return [
            number,
            *(
                marshal.dumps(to_plain(getattr(value, n))) if n in late else to_plain(getattr(value, n))
                for n in names
            ),
        ]
    if isinstance(value, tuple | list):
        items = [to_plain(v) for v in value]
        return [_TUPLE, *items] if any(type(i) is list for i in items) else tuple(items)
    if isinstance(value, Mapping):
        made = {k: to_plain(v) for k, v in value.items()}
        return [_DICT, made] if any(type(v) is list for v in made.values()) else made
    return value


def from_plain(value: Any) -> Any:
    """The value that `to_plain` turned into plain ones."""
    if type(value) is not list:
        return value
    number = value[0]
    if number >= 0:
        made: Any = object.__new__(TYPES[number])
        into = made.__dict__
        late = made.late
        for name, part in zip(made._all_fields, value[1:], strict=True):
            if name in late:
                into["~" + name] = part
            else:
                into[name] = from_plain(part) if type(part) is list else part
        return made
    if number == _TUPLE:
        return tuple([from_plain(v) for v in value[1:]])
    return {k: from_plain(v) for k, v in value[1].items()}


def written(sections: Mapping[str, Any]) -> bytes:
    """A file of those sections."""
    bodies = {name: marshal.dumps(value) for name, value in sections.items()}
    places, at = {}, 0
    for name, body in bodies.items():
        places[name] = (at, len(body))
        at += len(body)
    head = marshal.dumps(places)
    rest = struct.pack("<I", len(head)) + head + b"".join(bodies.values())
    return _MAGIC + struct.pack("<I", zlib.crc32(rest)) + rest


class Kept:
    """The sections of a file's bytes. Raises Spoilt where they are not what was written."""

    def __init__(self, raw: bytes) -> None:
        start = len(_MAGIC) + 4
        if raw[: len(_MAGIC)] != _MAGIC or len(raw) < start + 4:
            raise Spoilt("no kept file")
        body = memoryview(raw)[start:]
        if zlib.crc32(body) != struct.unpack("<I", raw[len(_MAGIC) : start])[0]:
            raise Spoilt("not as it was written")
        length = struct.unpack("<I", body[:4])[0]
        self._places: dict[str, tuple[int, int]] = marshal.loads(body[4 : 4 + length])
        self._bodies = body[4 + length :]

    def __getitem__(self, name: str) -> Any:
        """A section, read anew each time it is asked for."""
        at, length = self._places[name]
        return marshal.loads(self._bodies[at : at + length])


__all__ = ["Kept", "Spoilt", "from_plain", "to_plain", "written"]
