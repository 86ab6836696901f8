"""Readings as a table that is edited in place: what is typed is said to the case, and does what saying it does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from bot.shells.tui.harmless import harmless, shortened, wrapped
from bot.shells.tui.views.base import View

if TYPE_CHECKING:
    from bot.corpus.model import Check
    from bot.talk.state import Found, State

# How a reading is said where the title of its page would be heard as another.
_SAID_AS = {
    "fuse_rating_a": "the fuse is {}",
    "pin_weight_lb": "the weight on the pin is {}",
    "wire_length_ft": "the wire is {} long one way",
    "stand_rating_lb": "the stand is rated {}",
}


def sentence(check: Check, value: str) -> str:
    """The line that says a reading: its place and the value as typed, with the unit where none was typed."""
    from bot.talk.phrasing import plain_title

    value = value.strip()
    if value and not any(c.isalpha() or c in "\"'#%" for c in value):
        value = f"{value} {check.unit}"
    said = _SAID_AS.get(check.finding)
    return said.format(value) if said else f"{plain_title(check.page.title)}: {value}"


def source_line(found: Found, state: State) -> str:
    """The line a finding came from, as it was typed."""
    from bot.talk.events import Said

    said = [e for e in state.log if isinstance(e, Said)]
    return said[found.turn - 1].text if 0 < found.turn <= len(said) else found.words


class ReadingsView(View):
    """Value, place, state and source line of each reading; those not taken yet below."""

    KEYS = "Up Down reading  Enter edits it  Esc leaves it"

    def compose(self) -> ComposeResult:
        """The table, the place to type, what came of it."""
        yield OptionList(id="readings-list", markup=False)
        yield Static("", id="readings-said", markup=False)
        yield Input(id="reading-value", compact=True)

    def on_mount(self) -> None:
        """No place to type until one is edited."""
        self.query_one(Input).display = False
        self.editing: Check | None = None
        self.before = ""

    def draw(self) -> None:
        """The table anew."""
        from bot.talk.phrasing import plain_title, value_words

        rows = self.query_one(OptionList)
        at = rows.highlighted or 0
        rows.clear_options()
        width, gear = self.app.size.width, self.state.value("gear")
        by_name = {f.name: f for f in self.state.found}
        checks = [c for c in self.knowledge.checks.values() if c.kind == "quantity"]
        taken = [c for c in checks if c.finding in by_name]
        rest = [c for c in checks if c.finding not in by_name and (gear is None or str(gear) in c.fits)]
        for check in taken:
            found = by_name[check.finding]
            value = value_words(check, found.value, self.state.units)
            spread = found.low is not None and found.high is not None and found.high > found.low
            state = "about" if spread else "as told"
            words = shortened(harmless(source_line(found, self.state)), max(12, width - 20))
            told = self._row(value, f"{harmless(plain_title(check.page.title))}  ({state})", width)
            source = ("\n" + " " * min(12, width // 5) + f"“{words}”", "$text-muted")
            rows.add_option(Option(Content.assemble(*told, source), id=check.finding))
        for check in rest:
            told = self._row("-", f"{harmless(plain_title(check.page.title))}  (not taken)", width)
            rows.add_option(Option(Content.assemble(*told), id=check.finding))
        if rows.option_count:
            rows.highlighted = min(at, rows.option_count - 1)

    @staticmethod
    def _row(value: str, words: str, width: int) -> list[tuple[str, str]]:
        """A value and what it is, the rest of long words set in under their beginning."""
        lead = min(12, width // 5)
        first, *more = wrapped(words, max(16, width - lead - 7))
        return [
            (f"{value:>{lead - 2}}  ", "bold"),
            (first, ""),
            *(("\n" + " " * lead + line, "") for line in more),
        ]

    def take_keys(self) -> None:
        """The table."""
        self.query_one(OptionList).focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Opens the place to type for one reading."""
        from bot.talk.phrasing import plain_title, value_words

        check = self.knowledge.checks[event.option.id or ""]
        self.editing = check
        value = self.state.value(check.finding)
        box = self.query_one(Input)
        self.before = value_words(check, value, self.state.units) if value is not None else ""
        box.value = self.before
        box.placeholder = f"{plain_title(check.page.title)}, in {check.unit}"
        box.display = True
        box.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Says the reading to the case."""
        text = harmless(event.value).strip()
        check, self.editing = self.editing, None
        self.query_one(Input).display = False
        if check is None or not text or text == self.before:
            self.take_keys()
            return
        said = sentence(check, text)
        before = len(self.talk.said)
        self.talk.hear(said)
        replies = [
            words for role, words in self.talk.said[before:] if role in ("taken", "note", "ask", "danger")
        ]
        self.query_one("#readings-said", Static).update(harmless(f"Said: {said}\n" + "\n".join(replies[:1])))
        self.draw()
        self.take_keys()

    def back(self) -> bool:
        """Leaves the reading as it was; False where none is edited."""
        if self.editing is None:
            return False
        self.editing = None
        self.query_one(Input).display = False
        self.take_keys()
        return True
