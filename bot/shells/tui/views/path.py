"""The power path link by link: what was found of it, its checks and its pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless
from bot.shells.tui.path import MARKS
from bot.shells.tui.views.base import View

if TYPE_CHECKING:
    from bot.talk.view import Link


def link_of(name: str) -> str:
    """The word the pages use for a link of the drawing: both legs are "leg"."""
    return "leg" if name in ("left leg", "right leg") else name


class PathView(View):
    """Links at the left, what belongs to the marked one at the right."""

    KEYS = "Up Down link  Enter its findings, checks, pages"

    def compose(self) -> ComposeResult:
        """The two lists."""
        with Horizontal():
            yield OptionList(id="links", markup=False)
            yield OptionList(id="of-link", markup=False)

    def draw(self) -> None:
        """Every link with its state."""
        from bot.talk.view import power_path

        links = self.query_one("#links", OptionList)
        at = links.highlighted or 0
        self.path = power_path(self.state, self.knowledge)
        links.clear_options()
        for link in self.path:
            mark = Content.assemble(
                (f"{MARKS[link.state]} ", "bold"),
                f"{link.name:<12}",
                (link.state, "bold" if link.state == "suspect" else ""),
            )
            links.add_option(Option(mark, id=link.name))
        suspects = [i for i, link in enumerate(self.path) if link.state == "suspect"]
        links.highlighted = at or (suspects[0] if suspects else 0)

    def take_keys(self) -> None:
        """The links."""
        self.query_one("#links", OptionList).focus()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Another link: what belongs to it."""
        if event.option_list.id == "links":
            self._show(next(link for link in self.path if link.name == event.option.id))

    def _show(self, link: Link) -> None:
        from bot.talk.phrasing import percent, plain_title

        word, beside = link_of(link.name), self.query_one("#of-link", OptionList)
        beside.clear_options()

        def head(text: str) -> None:
            beside.add_option(Option(Content.styled(text, "bold"), disabled=True))

        chance = f", {percent(link.chance)} in 100" if link.chance >= 0.005 and self.state.found else ""
        head(f"{link.name}: {link.state}{chance}")
        head("findings" if link.findings else "no finding yet")
        for text in link.findings:
            beside.add_option(Option(Content(f" {harmless(text)}"), disabled=True))
        gear = self.state.value("gear")
        head("checks")
        for check in self.knowledge.checks.values():
            if check.link == word and (gear is None or str(gear) in check.fits):
                known = "[x]" if self.state.value(check.finding) is not None else "[ ]"
                beside.add_option(
                    Option(Content(f" {known} {harmless(plain_title(check.page.title))}"), id=check.id)
                )
        head("pages")
        for cause in self.knowledge.corpus.causes:
            if cause.link == word and (gear is None or str(gear) in cause.fits):
                beside.add_option(Option(Content(f" {harmless(cause.page.title)}"), id=cause.page.id))
        for procedure in self.knowledge.corpus.procedures:
            if procedure.link == word and (gear is None or str(gear) in procedure.fits):
                beside.add_option(Option(Content(f" {harmless(procedure.page.title)}"), id=procedure.id))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A link: the keys go to what belongs to it. A check or a page: it opens."""
        if event.option_list.id == "links":
            beside = self.query_one("#of-link", OptionList)
            beside.focus()
            beside.action_first()
        elif event.option.id:
            self.open_page(event.option.id)

    def back(self) -> bool:
        """Back from what belongs to a link to the links; False where that is where the keys are."""
        if self.query_one("#of-link", OptionList).has_focus:
            self.take_keys()
            return True
        return False
