"""Three lines for somebody who opens the program for the first time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bot.talk.phrasing import Line

if TYPE_CHECKING:
    from bot.shells.records import Store

HINT = (
    "First time here: say it as it comes, several facts in one line are fine, and so is changing one.",
    "Every question also takes: don't know, why, how, back. help lists the rest, quit leaves; all is kept.",
    "To see how it goes before you begin: leave, and type legline demo.",
)


def first_hint(store: Store | None) -> tuple[Line, ...]:
    """The hint while no case was ever kept here; nothing afterwards, or where nothing is kept."""
    if store is None or store.cases(most=1):
        return ()
    return tuple(Line("note", text) for text in HINT)
