"""The search box: pages at every key, by kind and by what fits the gear at hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless
from bot.shells.tui.reader import PageScreen

if TYPE_CHECKING:
    from bot.corpus.model import Page
    from bot.find.search import Search
    from bot.shells.tui.talk import Talk
    from bot.talk.knowledge import Knowledge

_MOST = 12
_WIDEST = 200  # hits looked through where a filter leaves some out
KINDS = ("all", "causes", "checks", "procedures", "guides", "parts")


class SearchScreen(ModalScreen[None]):
    """Words in, pages out, anew at every key. Without words, the pages of the kind in order."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", "back"),
        Binding("ctrl+q", "app.quit", "leave", priority=True),
        Binding("down", "move(1)", "down", priority=True),
        Binding("up", "move(-1)", "up", priority=True),
        Binding("tab", "kind(1)", "kind", priority=True),
        Binding("shift+tab", "kind(-1)", "kind", priority=True),
        Binding("f2", "fits", "fits the gear", priority=True),
    ]

    def __init__(self, search: Search, knowledge: Knowledge, talk: Talk | None = None) -> None:
        super().__init__()
        self.search, self.knowledge, self.talk = search, knowledge, talk
        self.kind = 0
        self.only_fitting = False

    def compose(self) -> ComposeResult:
        """The box, the hits, the keys."""
        with Vertical(id="search"):
            yield Static("", id="search-head", markup=False)
            yield Input(id="search-words", compact=True)
            yield OptionList(id="hits", markup=False)
        yield Static("Up Down choose  Enter opens  Tab kind  F2 gear  Esc back", classes="keys", markup=False)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one(Input).focus()
        self._show()

    def on_input_changed(self) -> None:
        """New words: new hits."""
        self._show()

    @property
    def gear(self) -> str:
        """The gear of the case, where it was told."""
        session = self.talk.session if self.talk is not None else None
        value = session.state.value("gear") if session is not None else None
        return str(value) if value is not None else ""

    def _fits(self, page: Page) -> bool:
        fits = page.head.get("fits", "")
        return not (self.only_fitting and self.gear and fits) or self.gear in fits

    def _wanted(self, page: Page) -> bool:
        return self.kind in (0, KINDS.index(page.kind)) and self._fits(page)

    def _show(self) -> None:
        words = harmless(self.query_one(Input).value).strip()
        hits = self.query_one(OptionList)
        hits.clear_options()
        filtered = bool(self.kind or self.only_fitting)
        found = self.search.hits(words, _WIDEST if filtered else _MOST) if words else []
        for hit in [h for h in found if self._wanted(self.knowledge.pages[h.id])][:_MOST]:
            shown = Content.assemble((harmless(hit.title), "bold"), f"  {hit.kind.rstrip('s')}")
            if hit.sentence != hit.title:
                shown += Content.styled("\n  " + harmless(hit.sentence), "$text-muted")
            hits.add_option(Option(shown, id=hit.id))
        if not words and filtered:
            for page in sorted(self.knowledge.pages.values(), key=lambda p: p.title.lower()):
                if self._wanted(page):
                    hits.add_option(
                        Option(Content(f"{harmless(page.title)}  {page.kind.rstrip('s')}"), id=page.id)
                    )
        if hits.option_count:
            hits.highlighted = 0
        elif words:
            hits.add_option(Option(Content("No page holds any of these words."), disabled=True))
        self._head()

    def _head(self) -> None:
        kind = KINDS[self.kind]
        gear = f", for {self.gear.replace('_', ' ')}" if self.only_fitting and self.gear else ""
        said = "Search the pages: a part, a word, what it does" if kind == "all" else f"Search the {kind}"
        self.query_one("#search-head", Static).update(said + gear)

    def action_kind(self, by: int) -> None:
        """Another kind of page."""
        self.kind = (self.kind + by) % len(KINDS)
        self._show()

    def action_fits(self) -> None:
        """Only pages for the gear at hand, or all again."""
        self.only_fitting = not self.only_fitting
        self._show()
        if self.only_fitting and not self.gear:
            self.query_one("#search-head", Static).update(
                "The gear was not told yet, so pages for every gear show"
            )

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
        self.app.push_screen(PageScreen(id_, self.knowledge, self.talk))


__all__ = ["KINDS", "PageScreen", "SearchScreen"]
