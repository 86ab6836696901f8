"""One page to read: its sections at the side, words found in it, and from it into its sums and checks."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless, wrapped

if TYPE_CHECKING:
    from bot.shells.tui.talk import Talk
    from bot.talk.knowledge import Knowledge

_BESIDE = 80  # columns; below it the sections take the place of the page while they are asked for
_SUM = re.compile(r"legline sum ([a-z][a-z-]*)")


def leads_of(id_: str, text: str, knowledge: Knowledge) -> list[tuple[str, str]]:
    """Where a page leads: ("sum NAME" or "page ID", words), each once, in the order the page names them."""
    from bot.sums.catalogue import CATALOGUE
    from bot.talk.phrasing import plain_title

    leads: dict[str, str] = {}
    for name in _SUM.findall(text):
        if name in CATALOGUE:
            leads[f"sum {name}"] = f"sum: {name}"
    page = knowledge.pages[id_]
    for section in page.sections:
        for word in re.findall(r"[a-z]+(?:_[a-z]+)+", section.text):
            check = knowledge.checks.get(word)
            if check is not None and check.id != id_:
                leads[f"page {check.id}"] = f"check: {plain_title(check.page.title)}"
    cause = next((c for c in knowledge.corpus.causes if c.page.id == id_), None)
    if cause is not None and cause.mends in knowledge.pages:
        leads[f"page {cause.mends}"] = f"repair: {knowledge.pages[cause.mends].title}"
    return list(leads.items())


class PageScreen(ModalScreen[None]):
    """One page as text, with the stops that the program derives."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "back"),
        Binding("slash,ctrl+f", "find", "find"),
        Binding("n", "next(1)", "next"),
        Binding("p", "next(-1)", "previous"),
        Binding("o,tab", "outline", "sections"),
        Binding("ctrl+q", "app.quit", "leave", priority=True),
    ]

    def __init__(self, id_: str, knowledge: Knowledge, talk: Talk | None = None) -> None:
        super().__init__()
        from bot.shells.pages import page_text

        self.id_, self.knowledge, self.talk = id_, knowledge, talk
        self.text = harmless(page_text(id_, knowledge))
        page = knowledge.pages[id_]
        shown = set(self.text.split("\n"))
        self.heads = [s.title.upper() for s in page.sections if s.title.upper() in shown]
        self.leads = leads_of(id_, self.text, knowledge)
        self.found: list[int] = []  # rows that hold the words looked for
        self.at = 0
        self._rows: list[str] = []

    def compose(self) -> ComposeResult:
        """The sections beside the page, the words to find below, the keys."""
        with Horizontal(id="reading"):
            yield OptionList(id="outline", markup=False)
            with VerticalScroll(id="page"):
                yield Static("", id="page-text", markup=False)
        yield Static("", id="known", markup=False)
        yield Input(id="find", compact=True, placeholder="find in this page")
        yield Static(
            "/ find  n p next, previous  o sections  Up Down move  Esc back", classes="keys", markup=False
        )

    def on_mount(self) -> None:
        """The keys move the page at once."""
        outline = self.query_one("#outline", OptionList)
        for head in self.heads:
            outline.add_option(Option(Content(head.capitalize()), id=f"head {head}"))
        for where, words in self.leads:
            outline.add_option(Option(Content.assemble(("> ", "bold"), harmless(words)), id=where))
        self.query_one("#find", Input).display = False
        self._known()
        self._lay_out()
        self.query_one("#page", VerticalScroll).focus()

    def _known(self) -> None:
        """What the case at hand knows of a check's finding stands under its page."""
        from bot.talk.phrasing import found_words

        known = self.query_one("#known", Static)
        known.display = False
        session = self.talk.session if self.talk is not None else None
        if session is None:
            return
        for found in session.state.found:
            check = self.knowledge.checks.get(found.name)
            if check is not None and check.id == self.id_:
                known.update("This case: " + harmless(found_words(found, session.state, self.knowledge)))
                known.display = True

    def on_resize(self) -> None:
        """Laid out anew for the width there is."""
        self._lay_out()

    def _lay_out(self) -> None:
        width = self.app.size.width
        self.set_class(width >= _BESIDE, "-beside")
        room = width - (30 if width >= _BESIDE else 0) - 4
        self._rows = [row for line in self.text.split("\n") for row in wrapped(line, max(20, room), 3)]
        self._draw()

    def _draw(self) -> None:
        words = self.query_one("#find", Input).value.strip().lower()
        parts: list[tuple[str, str]] = []
        self.found = []
        for place, row in enumerate(self._rows):
            style = "bold" if row in self.heads or place == 0 else ""
            if words and words in row.lower():
                self.found.append(place)
                begin = row.lower().index(words)
                end = begin + len(words)
                parts += [(row[:begin], style), (row[begin:end], "reverse bold"), (row[end:] + "\n", style)]
            else:
                parts.append((row + "\n", style))
        self.query_one("#page-text", Static).update(Content.assemble(*parts).rstrip())

    def _go(self, row: int) -> None:
        self.query_one("#page", VerticalScroll).scroll_to(y=max(0, row - 1), animate=False)

    def action_find(self) -> None:
        """Opens the place for the words to find."""
        box = self.query_one("#find", Input)
        box.display = True
        box.focus()

    def on_input_changed(self) -> None:
        """New words: the first place that holds them."""
        self._draw()
        self.at = 0
        self._show_found()

    def on_input_submitted(self) -> None:
        """The keys go back to the page."""
        self.query_one("#page", VerticalScroll).focus()

    def _show_found(self) -> None:
        words = self.query_one("#find", Input).value.strip()
        known = self.query_one("#known", Static)
        known.display = bool(words)
        if not words:
            self._known()
        elif self.found:
            self._go(self.found[self.at])
            known.update(f"{self.at + 1} of {len(self.found)} rows with “{harmless(words)}”")
        else:
            known.update(f"This page does not hold “{harmless(words)}”.")

    def action_next(self, by: int) -> None:
        """The next place that holds the words, or the one before."""
        if self.found:
            self.at = (self.at + by) % len(self.found)
            self._show_found()

    def action_outline(self) -> None:
        """The keys go to the sections, or back to the page."""
        outline = self.query_one("#outline", OptionList)
        to_outline = self.focused is not outline
        self.set_class(to_outline, "-outline")
        (outline if to_outline else self.query_one("#page", VerticalScroll)).focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A section: its place in the page. A lead: the sum or the page it leads to."""
        kind, _, name = (event.option.id or "").partition(" ")
        if kind == "head":
            self.set_class(False, "-outline")
            self.query_one("#page", VerticalScroll).focus()
            self._go(self._rows.index(name) + 1 if name in self._rows else 0)
        elif kind == "page":
            self.app.push_screen(PageScreen(name, self.knowledge, self.talk))
        elif kind == "sum":
            from bot.shells.tui.sumform import SumScreen

            state = self.talk.session.state if self.talk is not None and self.talk.session else None
            self.app.push_screen(SumScreen(name, state))

    def action_back(self) -> None:
        """Out of the words to find, out of the sections, then out of the page."""
        box = self.query_one("#find", Input)
        if self.focused is box or box.value:
            box.value = ""
            box.display = False
            self.query_one("#page", VerticalScroll).focus()
        elif self.has_class("-outline"):
            self.action_outline()
        else:
            self.dismiss()
