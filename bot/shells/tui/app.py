"""The screen's program: opens the store, shows the one screen, and gives back an exit status."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from textual.app import App
from textual.screen import Screen

from bot.shells.records import Store
from bot.shells.tui.screen import Load, TalkScreen

if TYPE_CHECKING:
    from bot.corpus.place import Wanted
    from bot.find.search import Search
    from bot.talk.knowledge import Knowledge


class LeglineApp(App[None]):
    """The conversation on the screen. `store` None keeps nothing on disk."""

    CSS_PATH = "legline.tcss"
    ENABLE_COMMAND_PALETTE = False
    TITLE = "Legline"

    def __init__(self, load: Load, store: Store | None) -> None:
        super().__init__()
        self.animation_level = "none"
        self.talk = TalkScreen(load, store)

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

    def load() -> tuple[Knowledge, Search]:
        from bot.assemble import assemble

        return assemble(corpus)

    app = LeglineApp(load, Store())
    app.run()
    fault = app._exception or next(iter(app.talk.faults), None)
    if app.talk.farewell:
        sys.stdout.write(app.talk.farewell + "\n")
        sys.stdout.flush()
    if fault is not None:
        raise fault
    return app.return_code or 0


__all__ = ["LeglineApp", "run"]
