"""How the screen gets its pages: read beside the first paint, told by a message."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from bot.find.search import Search
    from bot.talk.knowledge import Knowledge

Load = Callable[[], "tuple[Knowledge, Search]"]


class Loaded(Message):
    """The pages are read."""

    def __init__(self, knowledge: Knowledge, search: Search) -> None:
        super().__init__()
        self.knowledge, self.search = knowledge, search


class NotLoaded(Message):
    """The pages could not be read."""

    def __init__(self, fault: Exception) -> None:
        super().__init__()
        self.fault = fault
