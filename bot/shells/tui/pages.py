"""The search box and the page it opens."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless

if TYPE_CHECKING:
    from bot.find.search import Search
    from bot.talk.knowledge import Knowledge

_MOST = 12


class PageScreen(ModalScreen[None]):
    """One page as text, with the stops that the program derives."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "dismiss", "back"),
        Binding("ctrl+q", "app.quit", "leave", priority=True),
    ]

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = harmless(text)

    def compose(self) -> ComposeResult:
        """The page above, the keys below."""
        with VerticalScroll(id="page"):
            yield Static(self.text, markup=False)
        yield Static("Up Down PgUp PgDn move  Esc back  ^Q leave", classes="keys", markup=False)

    def on_mount(self) -> None:
        """The keys move the page at once."""
        self.query_one("#page", VerticalScroll).focus()


class SearchScreen(ModalScreen[None]):
    """Words in, pages out, anew at every key."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", "back"),
        Binding("ctrl+q", "app.quit", "leave", priority=True),
        Binding("down", "move(1)", "down", priority=True),
        Binding("up", "move(-1)", "up", priority=True),
    ]

    def __init__(self, search: Search, knowledge: Knowledge) -> None:
        super().__init__()
        self.search, self.knowledge = search, knowledge

    def compose(self) -> ComposeResult:
        """The box, the hits, the keys."""
        with Vertical(id="search"):
            yield Static("Search the pages: a part, a word, what it does", id="search-head", markup=False)
            yield Input(id="search-words", compact=True)
            yield OptionList(id="hits", markup=False)
        yield Static("Up Down choose  Enter opens  Esc back  ^Q leave", classes="keys", markup=False)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one(Input).focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """New words: new hits."""
        hits = self.query_one(OptionList)
        hits.clear_options()
        words = harmless(event.value).strip()
        found = self.search.hits(words, _MOST) if words else []
        for hit in found:
            shown = Content.assemble((harmless(hit.title), "bold"), f"  {hit.kind.rstrip('s')}")
            if hit.sentence != hit.title:
                shown += Content.styled("\n  " + harmless(hit.sentence), "$text-muted")
            hits.add_option(Option(shown, id=hit.id))
        if found:
            hits.highlighted = 0
        elif words:
            hits.add_option(Option(Content("No page holds any of these words."), disabled=True))

    def action_move(self, by: int) -> None:
        """Another hit, with the words kept."""
        hits = self.query_one(OptionList)
        if by > 0:
            hits.action_cursor_down()
        else:
            hits.action_cursor_up()

    def on_input_submitted(self) -> None:
        """Opens the hit that is marked."""
        hits = self.query_one(OptionList)
        if hits.highlighted_option is not None and hits.highlighted_option.id:
            self._open(hits.highlighted_option.id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Opens the hit that was clicked."""
        if event.option.id:
            self._open(event.option.id)

    def _open(self, id_: str) -> None:
        from bot.shells.pages import page_text

        self.app.push_screen(PageScreen(page_text(id_, self.knowledge)))
