"""The sums of the case, drawn; and every other sum, ready with what the case knows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless
from bot.shells.tui.views.base import View

if TYPE_CHECKING:
    from bot.sums.result import Result


def drawn(result: Result, width: int, units: str) -> str:
    """A result whole, as lines of that width."""
    from bot.sums.draw import page

    return harmless("\n".join(page(result, width, "metric" if units == "metric" else "us")))


class SumsView(View):
    """The list above, the marked one drawn below."""

    KEYS = "Up Down sum  Enter opens it  PgUp PgDn move the drawing"

    def compose(self) -> ComposeResult:
        """The list and the drawing."""
        yield OptionList(id="sums-list", markup=False)
        with VerticalScroll(id="sum-drawn", can_focus=False):
            yield Static("", id="sum-drawing", markup=False)

    def draw(self) -> None:
        """The list anew."""
        from bot.sums.catalogue import CATALOGUE
        from bot.talk.sum_told import work_out
        from bot.talk.sums import all_results

        rows = self.query_one(OptionList)
        at = rows.highlighted or 0
        self.results = all_results(self.state, self.knowledge)
        last = self.state.last_sum
        result = work_out(last.name, last.given) if last is not None else ""
        if last is not None and not isinstance(result, str):
            self.results[last.name] = result
        rows.clear_options()
        for name, result in self.results.items():
            rows.add_option(
                Option(
                    Content.assemble(
                        (f"{name}  ", "bold"), harmless(result.values[0].text(self.state.units))
                    ),
                    id=name,
                )
            )
        for name, one in CATALOGUE.items():
            if name not in self.results:
                rows.add_option(
                    Option(Content.assemble(f"{name}  ", (harmless(one.help), "$text-muted")), id=name)
                )
        rows.highlighted = min(at, rows.option_count - 1)

    def take_keys(self) -> None:
        """The list."""
        self.query_one(OptionList).focus()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Draws a sum of the case, or says what another one wants."""
        from bot.sums.catalogue import CATALOGUE

        name = event.option.id or ""
        if name in self.results:
            text = drawn(self.results[name], max(30, self.app.size.width - 4), self.state.units)
        else:
            text = "Not worked out in this case. Enter opens it with what the case knows.\n\n" + "\n".join(
                f"{w.prompt}{f' [{w.unit}]' if w.unit else ''}" for w in CATALOGUE[name].inputs
            )
        self.query_one("#sum-drawing", Static).update(text)
        self.query_one("#sum-drawn", VerticalScroll).scroll_home(animate=False)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Opens the sum to be typed into."""
        from bot.shells.tui.sumform import SumScreen

        self.app.push_screen(SumScreen(event.option.id or "", self.state))

    def scroll_drawing(self, by: int) -> None:
        """Moves the drawing by a few rows."""
        self.query_one("#sum-drawn", VerticalScroll).scroll_relative(y=4 * by, animate=False)
