"""What every view has: the case it shows, a way to draw itself anew, and its own keys in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Vertical

if TYPE_CHECKING:
    from bot.shells.tui.talk import Talk
    from bot.talk.knowledge import Knowledge
    from bot.talk.state import State


class View(Vertical):
    """One view. It reads the case and says lines to it; it changes nothing by itself."""

    KEYS = ""

    def __init__(self, talk: Talk, id: str) -> None:
        super().__init__(id=id)
        self.talk = talk

    @property
    def state(self) -> State:
        """The state of the case."""
        assert self.talk.session is not None
        return self.talk.session.state

    @property
    def knowledge(self) -> Knowledge:
        """The pages."""
        assert self.talk.session is not None
        return self.talk.session.knowledge

    def draw(self) -> None:
        """Shows the case as it stands."""
        raise NotImplementedError

    def take_keys(self) -> None:
        """Puts the keys where they do something first."""
        raise NotImplementedError

    def open_page(self, id_: str) -> None:
        """Opens one page over the view."""
        from bot.shells.tui.reader import PageScreen

        self.app.push_screen(PageScreen(id_, self.knowledge, self.talk))
