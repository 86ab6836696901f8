"""Likely causes with their chances as bars, and how far the last answer moved each."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless
from bot.shells.tui.side import bar, change, points_then
from bot.shells.tui.views.base import View


class CausesView(View):
    """Every cause that has a chance, best first."""

    KEYS = "Up Down cause  Enter its page"

    def compose(self) -> ComposeResult:
        """What the figures are, the list."""
        yield Static("", id="causes-head", markup=False)
        yield OptionList(id="causes-list", markup=False)

    def draw(self) -> None:
        """The list anew."""
        from bot.talk.explain import cause_title
        from bot.talk.phrasing import percent
        from bot.talk.view import chances_of

        rows = self.query_one(OptionList)
        rows.clear_options()
        said = (
            "Chances in 100, by the team's own weights; + and - since the last answer that changed a finding."
        )
        self.query_one("#causes-head", Static).update(said if self.state.found else "Nothing was told yet.")
        width = self.app.size.width
        cells = 8 if width < 60 else 20
        before = points_then(self.talk.earlier, self.knowledge)
        for name, chance in chances_of(self.state, self.knowledge) if self.state.found else []:
            if chance < 0.005:
                continue
            moved = change(int(percent(chance)), before.get(name))
            line = Content.assemble(
                (f"{bar(chance, cells)} ", "$warning"),
                (f"{percent(chance):>2} {moved:>4}  ", "bold"),
                harmless(cause_title(name, self.knowledge)),
            )
            page = self.knowledge.causes[name].page.id if name in self.knowledge.causes else None
            rows.add_option(Option(line, id=page, disabled=page is None))

    def take_keys(self) -> None:
        """The list."""
        self.query_one(OptionList).focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """The page of a cause."""
        if event.option.id:
            self.open_page(event.option.id)
