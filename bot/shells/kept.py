"""What a person set on the screen and wants to find again: wording, units, colours, in one small file of the data folder."""

from __future__ import annotations

import json
from pathlib import Path
from typing import NamedTuple

from bot.shells.commands import COLOURS, UNITS, WORDINGS

_MOST = 4096  # bytes


def _file(folder: Path) -> Path:
    return folder / "screen.json"


class Kept(NamedTuple):
    """The settings. `colours` is "" until they were set by hand: then the terminal decides."""

    wording: str = "owner"
    units: str = "us"
    colours: str = ""


_TAKEN = {"wording": WORDINGS, "units": UNITS, "colours": COLOURS}


def read_kept(folder: Path | None) -> Kept:
    """The settings as they were last set; those one begins with where nothing was, or the file is spoilt."""
    if folder is None:
        return Kept()
    try:
        with _file(folder).open("rb") as file:
            found = json.loads(file.read(_MOST))
    except (OSError, ValueError, RecursionError):
        return Kept()
    if not isinstance(found, dict):
        return Kept()
    return Kept(**{name: found[name] for name, taken in _TAKEN.items() if found.get(name) in taken})


def keep(folder: Path | None, **settings: str) -> None:
    """Notes settings for the next time. Where they cannot be written the screen goes on without."""
    before = read_kept(folder)
    now = before._replace(**settings)
    if folder is None or now == before:
        return
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        _file(folder).write_text(json.dumps(now._asdict()), encoding="utf-8")
    except OSError:
        return
