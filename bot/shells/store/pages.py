"""Rows read straight off the pages of a damaged SQLite file, without its indexes, roots or free lists.

The layout of pages, cells, records, overflow chains, and of the journal's frames is the published file format of
SQLite 3 (sqlite.org/fileformat2.html). Freed pages are zeros in our files (secure_delete), so nothing deleted comes back.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

_FRAME, _JOURNAL_HEAD = 24, 32
_TABLE_LEAF, _INDEX_LEAF, _INDEX_INSIDE = 0x0D, 0x0A, 0x02
_MOST_PAYLOAD = 64 * 1024 * 1024


def _frames(journal: Path) -> Iterator[tuple[int, int, int]]:
    """(page, size after commit or 0, offset of the page) of each frame of the journal's present round."""
    with journal.open("rb") as file:
        head = file.read(_JOURNAL_HEAD)
        size, salts = _page_size(head[8:12]), head[16:24]
        if len(head) < _JOURNAL_HEAD or not size:
            return
        offset = _JOURNAL_HEAD
        while len(frame := file.read(_FRAME)) == _FRAME:
            if frame[8:16] == salts:
                page, committed = struct.unpack(">II", frame[:8])
                yield page, committed, offset + _FRAME
            offset += _FRAME + size
            file.seek(offset)


def _page_size(raw: bytes) -> int:
    """A size of pages as a journal or a file writes it, or 0 where it can be none."""
    size = int.from_bytes(raw, "big")
    size = 65536 if size == 1 else size
    return size if 512 <= size <= 65536 and not size & (size - 1) else 0


def committed_frames(file: Path) -> int:
    """How many frames of the journal beside the file belong to commits, by their heads; 0 where there is none."""
    last = 0
    with suppress(OSError):
        for count, (_, committed, _) in enumerate(_frames(Path(f"{file}-wal")), 1):
            if committed:
                last = count
    return last


def with_journal(file: Path) -> bytes:
    """The file's bytes with every committed frame of its journal laid over them, whatever its checksum. Raises OSError."""
    data = bytearray(file.read_bytes())
    journal = Path(f"{file}-wal")
    with suppress(OSError):
        raw = journal.read_bytes()
        size, last = _page_size(raw[8:12]), committed_frames(file)
        for count, (page, _, offset) in enumerate(_frames(journal), 1):
            part = raw[offset : offset + size]
            if count <= last and len(part) == size and 0 < page < 16_000_000:
                end = page * size
                if len(data) < end:
                    data.extend(bytes(end - len(data)))
                data[end - size : end] = part
    return bytes(data)


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = 0
    for i in range(9):
        byte = data[at + i]
        if i == 8:
            return value << 8 | byte, at + 9
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + i + 1
    raise IndexError


def _record(payload: bytes) -> list[Any]:
    """The values of a record. Raises IndexError or ValueError where it is none."""
    end, at = _varint(payload, 0)
    kinds = []
    while at < end:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    values: list[Any] = []
    at = end
    for kind in kinds:
        size = (0, 1, 2, 3, 4, 6, 8, 8, 0, 0, 0, 0)[kind] if kind < 12 else (kind - 12) // 2
        raw = payload[at : at + size]
        if len(raw) != size:
            raise ValueError("cut short")
        at += size
        if kind == 0:
            values.append(None)
        elif kind in (8, 9):
            values.append(kind - 8)
        elif kind < 7:
            values.append(int.from_bytes(raw, "big", signed=True))
        elif kind >= 13 and kind % 2:
            values.append(raw.decode("utf-8", "replace"))
        else:
            values.append(raw)
    return values


def rows_of(data: bytes) -> Iterator[tuple[int | None, list[Any]]]:
    """(row number or None, values) of every record on every page that can be read, in no order."""
    size = _page_size(data[16:18]) or 4096
    for start in range(0, len(data), size):
        page = data[start : start + size]
        head = 100 if start == 0 else 0
        if len(page) < head + 8 or page[head] not in (_TABLE_LEAF, _INDEX_LEAF, _INDEX_INSIDE):
            continue
        kind = page[head]
        pointers = head + (12 if kind == _INDEX_INSIDE else 8)
        for i in range(struct.unpack(">H", page[head + 3 : head + 5])[0]):
            with suppress(IndexError, ValueError, struct.error):
                at = struct.unpack(">H", page[pointers + 2 * i : pointers + 2 * i + 2])[0]
                yield _cell(data, page, at, kind, size)


def _cell(data: bytes, page: bytes, at: int, kind: int, size: int) -> tuple[int | None, list[Any]]:
    if kind == _INDEX_INSIDE:
        at += 4
    length, at = _varint(page, at)
    number = None
    if kind == _TABLE_LEAF:
        number, at = _varint(page, at)
    if length > _MOST_PAYLOAD:
        raise ValueError("no length")
    most = size - 35 if kind == _TABLE_LEAF else (size - 12) * 64 // 255 - 23
    if length <= most:
        return number, _record(page[at : at + length])
    least = (size - 12) * 32 // 255 - 23
    here = least + (length - least) % (size - 4)
    here = here if here <= most else least
    payload = bytearray(page[at : at + here])
    following = struct.unpack(">I", page[at + here : at + here + 4])[0]
    while len(payload) < length and 0 < following <= len(data) // size:
        part = data[(following - 1) * size : following * size]
        following = struct.unpack(">I", part[:4])[0]
        payload += part[4 : 4 + length - len(payload)]
    return number, _record(bytes(payload))


__all__ = ["committed_frames", "rows_of", "with_journal"]
