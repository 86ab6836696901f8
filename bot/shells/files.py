"""Writing a file where a person said so, and nowhere else."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from bot.problems import LeglineError


class FileRefused(LeglineError):
    """The file was not written; the text says why and what to do."""


def write_file(place: Path, content: bytes, over: bool = False) -> None:
    """Writes the whole file or nothing. A file that is there is left alone unless `over`.

    Raises FileRefused where it is there, its folder is not, or the disk refuses.
    """
    if place.is_dir():
        raise FileRefused(f"{place} is a folder. Name a file in it, like {place / 'case.html'}.")
    if not place.parent.is_dir():
        raise FileRefused(f"There is no folder {place.parent}. Make it first, or name another.")
    try:
        if over:
            _replace(place, content)
        else:
            with place.open("xb") as file:
                file.write(content)
    except FileExistsError:
        raise FileRefused(
            f"{place} is there already and was left alone. Say --over to write over it."
        ) from None
    except OSError as fault:
        raise FileRefused(f"{place} was not written: {fault.strerror or fault}.") from fault


def _replace(place: Path, content: bytes) -> None:
    """Puts the new file in place of the old one in a single move, so that no half of it is ever there."""
    handle, name = tempfile.mkstemp(prefix=".legline-", dir=place.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        mode = place.stat().st_mode & 0o777 if place.exists() else 0o644
        Path(name).chmod(mode)
        Path(name).replace(place)
    except OSError:
        with suppress(OSError):
            Path(name).unlink()
        raise
