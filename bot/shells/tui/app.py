"""The screen's program: opens the store, shows the one screen, and gives back an exit status."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

from textual.app import App
from textual.screen import Screen

from bot.shells.kept import read_kept
from bot.shells.records import Store
from bot.shells.tui.colours import DARK, LIGHT, colours_of, theme_of
from bot.shells.tui.loading import Load
from bot.shells.tui.screen import TalkScreen

if TYPE_CHECKING:
    from bot.corpus.place import Wanted
    from bot.find.search import Search
    from bot.shells.demo import Guide
    from bot.talk.knowledge import Knowledge


class LeglineApp(App[None]):
    """The conversation on the screen. `store` None keeps nothing on disk."""

    CSS_PATH = "legline.tcss"
    ENABLE_COMMAND_PALETTE = False
    TITLE = "Legline"

    def __init__(
        self,
        load: Load,
        store: Store | None,
        guide: Guide | None = None,
        wording: str = "",
        units: str = "",
    ) -> None:
        super().__init__()
        self.animation_level = "none"
        self.register_theme(DARK)
        self.register_theme(LIGHT)
        kept = read_kept(store.folder if store is not None else None)
        self.theme = theme_of(kept.colours or colours_of(os.environ), os.environ)
        self.talk = TalkScreen(load, store, guide, wording, units)

    def get_default_screen(self) -> Screen[None]:
        """The conversation."""
        return self.talk

    async def action_quit(self) -> None:
        """Ctrl+Q, from anywhere."""
        self.talk.leave()

    def _print_error_renderables(self) -> None:
        # A fault of ours is told by the command line in one sentence, with the trace in a file.
        self._exit_renderables.clear()


def run(corpus: Wanted | None) -> int:
    """The conversation on the screen until it is left. Returns the exit status.

    Raises what stopped it: CorpusNotFound where there is no corpus, or a fault of ours.
    """
    return _run(LeglineApp(_loader(corpus), Store()))


def run_demo(corpus: Wanted | None, wording: str, units: str) -> int:
    """The invented case on the screen; nothing of it is kept. Returns the exit status."""
    from bot.shells.demo import Guide

    return _run(LeglineApp(_loader(corpus), None, Guide(), wording, units))


def _loader(corpus: Wanted | None) -> Load:
    def load() -> tuple[Knowledge, Search]:
        from bot.assemble import assemble

        return assemble(corpus)

    return load


def _run(app: LeglineApp) -> int:
    app.run()
    fault = app._exception or next(iter(app.talk.faults), None)
    if app.talk.farewell:
        sys.stdout.write(app.talk.farewell + "\n")
        sys.stdout.flush()
    if fault is not None:
        raise fault
    return app.return_code or 0


__all__ = ["LeglineApp", "run", "run_demo"]
