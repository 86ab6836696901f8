"""Standard output and error that write nothing a terminal obeys, whoever wrote the text: lines, files, case files."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, TextIO, cast

from bot.shells.tidy import harmless


class _Harmless:
    """A stream that writes only what is harmless; all else is the stream's own."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        self._stream.write(harmless(text))
        return len(text)

    def writelines(self, lines: list[str]) -> None:
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


@contextmanager
def harmless_streams() -> Iterator[None]:
    """Standard output and error write only what is harmless while this lasts."""
    before = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = (cast("TextIO", _Harmless(s)) for s in before)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before
