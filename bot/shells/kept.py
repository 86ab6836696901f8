"""What a person set on the screen and wants to find again: wording and units, in one small file of the data folder."""

from __future__ import annotations

import json
from pathlib import Path

from bot.shells.commands import UNITS, WORDINGS

_MOST = 4096  # bytes


def _file(folder: Path) -> Path:
    return folder / "wording-and-units.json"


def read_kept(folder: Path | None) -> tuple[str, str]:
    """(wording, units) as they were last set; ("owner", "us") where nothing was, or the file is spoilt."""
    wording, units = "owner", "us"
    if folder is None:
        return wording, units
    try:
        with _file(folder).open("rb") as file:
            found = json.loads(file.read(_MOST))
    except (OSError, ValueError, RecursionError):
        return wording, units
    if isinstance(found, dict):
        wording = found["wording"] if found.get("wording") in WORDINGS else wording
        units = found["units"] if found.get("units") in UNITS else units
    return wording, units


def keep(folder: Path | None, wording: str, units: str) -> None:
    """Notes both for the next time. Where it cannot be written the screen goes on without."""
    if folder is None or read_kept(folder) == (wording, units):
        return
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        _file(folder).write_text(json.dumps({"wording": wording, "units": units}), encoding="utf-8")
    except OSError:
        return
