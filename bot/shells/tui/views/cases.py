"""The kept cases: standing, age, next question; words filter at every key, Tab by standing, Enter takes one up."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless, shortened
from bot.shells.tui.views.base import View

if TYPE_CHECKING:
    from bot.shells.records import CaseRow

STANDINGS = ("all", "open", "aside", "closed")


def age(touched: str, now: str) -> str:
    """How long ago a case was touched, in its largest whole unit.

    >>> age("2031-01-01T10:00:00Z", "2031-01-01T10:00:40Z"), age("2031-01-01T10:00:00Z", "2031-01-03T09:00:00Z")
    ('now', '47 h')
    """
    try:
        then, at = (datetime.datetime.strptime(t, "%Y-%m-%dT%H:%M:%SZ") for t in (touched, now))
    except ValueError:
        return "-"
    minutes = int((at - then).total_seconds() // 60)
    if minutes < 1:
        return "now"
    if minutes < 60:
        return f"{minutes} min"
    return f"{minutes // 60} h" if minutes < 72 * 60 else f"{minutes // 1440} d"


def matching(rows: list[CaseRow], words: str, standing: str) -> list[CaseRow]:
    """The cases of that standing that hold every word, in their order."""
    wanted = words.lower().split()

    def holds(row: CaseRow) -> bool:
        text = f"{row.number} {row.about} {row.waiting} {row.standing}".lower()
        return standing in ("all", row.standing) and all(w in text for w in wanted)

    return [row for row in rows if holds(row)]


class CasesView(View):
    """The list under the words that filter it."""

    KEYS = "type to filter  Tab standing  Enter takes it up"

    def compose(self) -> ComposeResult:
        """The words, the list."""
        yield Static("", id="cases-head", markup=False)
        yield Input(
            id="cases-words", compact=True, placeholder="words of the complaint, the question, a number"
        )
        yield OptionList(id="cases-list", markup=False)

    def on_mount(self) -> None:
        """Every standing at first."""
        self.standing = 0

    def draw(self) -> None:
        """The list anew."""
        from bot.problems import LeglineError
        from bot.shells.session import now

        rows: list[CaseRow] = []
        said = f"cases: {STANDINGS[self.standing]}"
        try:
            rows = self.talk.store.cases() if self.talk.store is not None else []
        except LeglineError as fault:
            said = str(fault)
        if self.talk.store is None:
            said = "No cases are kept here."
        self.query_one("#cases-head", Static).update(said)
        shown = self.query_one(OptionList)
        shown.clear_options()
        width, at = self.app.size.width, now()
        session = self.talk.session
        for row in matching(rows, self.query_one(Input).value, STANDINGS[self.standing]):
            here = "> " if session is not None and session.number == row.number else "  "
            head = f"{here}{row.number:>4}  {row.standing:<6} {age(row.touched, at):>6}  "
            about = shortened(harmless(row.about), max(10, width - len(head) - 4))
            waits = shortened(f"{'':8}waits for: {harmless(row.waiting) or '-'}", max(10, width - 4))
            shown.add_option(
                Option(
                    Content.assemble((head, "bold"), about, ("\n" + waits, "$text-muted")), id=str(row.number)
                )
            )
        if shown.option_count:
            shown.highlighted = 0

    def take_keys(self) -> None:
        """The words; the arrows move the list."""
        self.query_one(Input).focus()

    def on_input_changed(self) -> None:
        """Other words, other cases."""
        self.draw()

    def next_standing(self) -> None:
        """The next standing."""
        self.standing = (self.standing + 1) % len(STANDINGS)
        self.draw()

    def move(self, by: int) -> None:
        """Another case, with the words kept."""
        rows = self.query_one(OptionList)
        if by > 0:
            rows.action_cursor_down()
        else:
            rows.action_cursor_up()

    def chosen(self) -> int | None:
        """The number of the marked case."""
        option = self.query_one(OptionList).highlighted_option
        return int(option.id) if option is not None and option.id else None
