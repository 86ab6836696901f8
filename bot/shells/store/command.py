"""What is done with the store as a whole on the command line: check, backup, restore."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from bot.shells.store.parcel import backup, restore

if TYPE_CHECKING:
    from bot.shells.records import Store


def run_whole(what: str, words: list[str], store: Store) -> list[str]:
    """Does it and returns what to print; `words` is the file, but for check. Raises StoreProblem."""
    if what == "check":
        return [f"{store.check()} cases read."]
    if what == "backup":
        return [f"{backup(store, Path(words[0]))} cases are in {words[0]}."]
    return restore(store, Path(words[0]))
