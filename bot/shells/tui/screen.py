"""The one screen of the conversation: shows the session's state, sends typed lines to it, and decides nothing."""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from bot.shells.tui.composer import Composer, HoldCard, HoldField
from bot.shells.tui.conversation import Conversation
from bot.shells.tui.harmless import harmless, shortened
from bot.shells.tui.keys import KEYS, footer
from bot.shells.tui.pages import SearchScreen
from bot.shells.tui.path import path_content
from bot.shells.tui.side import causes_content, readings_content

if TYPE_CHECKING:
    from bot.find.search import Search
    from bot.shells.records import CaseRow, Store
    from bot.shells.session import Session
    from bot.talk.knowledge import Knowledge
    from bot.talk.phrasing import Line
    from bot.talk.state import State

LEAST_COLUMNS, LEAST_ROWS = 40, 10
_WIDE, _SIDE = 100, 36
_LOW = 16  # rows; below it the path is one line and the keys too

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


class TalkScreen(Screen[None]):
    """Top line, power path, conversation with its side column, place to type, keys."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(k.key, f"say({k.says!r})", k.word, priority=True) for k in KEYS if k.says),
        Binding("f8", "search", "search", priority=True),
        Binding("pageup", "scroll_talk(-1)", "up", priority=True),
        Binding("pagedown", "scroll_talk(1)", "down", priority=True),
    ]

    def __init__(self, load: Load, store: Store | None) -> None:
        super().__init__()
        self.load, self.store = load, store
        self.session: Session | None = None
        self.search: Search | None = None
        self.earlier: State | None = None
        self.offered: CaseRow | None = None
        self.farewell = ""
        self.faults: list[Exception] = []
        self._queue: deque[tuple[str, bool]] = deque()
        self._kept = 0
        self._word = ""
        self._held_on = ""

    def compose(self) -> ComposeResult:
        """The parts from top to bottom."""
        yield Static("", id="top", markup=False)
        yield Static("", id="path", markup=False)
        with Horizontal(id="middle"):
            yield Conversation()
            with VerticalScroll(id="side", can_focus=False):
                yield Static("", id="causes", markup=False)
                yield Static("", id="readings", markup=False)
        yield Static("", id="notice", markup=False)
        with Horizontal(id="typing"):
            yield Static("> ", id="prompt", markup=False)
            yield Composer("composer")
        yield HoldCard(id="hold")
        yield Static("", id="keys", classes="keys", markup=False)
        yield Static("", id="small", markup=False)

    def on_mount(self) -> None:
        """The first paint stands before the pages are read."""
        self.query_one("#composer", Composer).focus()
        self.show_state()
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.run_worker(self._read_pages, thread=True, exit_on_error=False)

    def _read_pages(self) -> None:
        try:
            import bot.shells.plain  # noqa: F401 -- the rest of the core, read here and not before the first paint

            knowledge, search = self.load()
        except Exception as fault:  # noqa: BLE001 -- told by the command line once the screen is gone
            self.post_message(NotLoaded(fault))
        else:
            self.post_message(Loaded(knowledge, search))

    def on_not_loaded(self, message: NotLoaded) -> None:
        """Without pages there is nothing to say: the fault is told by the command line."""
        self.faults.append(message.fault)
        self.app.exit(return_code=1)

    def on_loaded(self, message: Loaded) -> None:
        """Begins the conversation, then takes what was typed meanwhile."""
        from bot.problems import LeglineError
        from bot.shells.session import Session
        from bot.talk.phrasing import Line

        self.search = message.search
        self.session = Session(message.knowledge, self.store)
        first: list[Line] = []
        try:
            rows = self.store.cases() if self.store is not None else []
            self.offered = next((row for row in rows if row.standing == "open"), None)
        except LeglineError as fault:
            first.append(Line("note", str(fault)))
        if self.offered is not None:
            first += self._offer(self.offered)
        else:
            first += self.session.greet()
        self._reply(first)
        while self._queue:
            text, pasted = self._queue.popleft()
            self._answer(text, pasted)
            if self._held_on and self._queue:
                left = "; ".join(text for text, _ in self._queue)
                self._queue.clear()
                self._reply([Line("note", f"Typed before this stop was shown, so not taken: {left}")])

    @staticmethod
    def _offer(row: CaseRow) -> list[Line]:
        from bot.talk.phrasing import Line

        waiting = f" It waits for: {row.waiting}." if row.waiting else ""
        return [
            Line("say", f'Case {row.number} is still open: "{row.about[:80]}".{waiting}'),
            Line("ask", "Go on with it? Type yes or no."),
        ]

    def on_composer_sent(self, message: Composer.Sent) -> None:
        """A typed line, from either place."""
        message.stop()
        self.hear(message.text, message.pasted)

    def hear(self, text: str, pasted: bool = False) -> None:
        """One line: shown, then answered, or kept until the pages are read."""
        self._word = ""
        if self.session is None:
            self._queue.append((text, pasted))
            self.show_notice()
        else:
            self._answer(text, pasted)

    def _answer(self, text: str, pasted: bool) -> None:
        from bot.problems import LeglineError
        from bot.shells.plain import served as served
        from bot.talk.phrasing import Line

        assert self.session is not None
        assert self.search is not None
        before, number = self.session.state, self.session.number
        leave = False
        self.query_one(Conversation).add_said(text)
        try:
            if self.offered is not None:
                lines, leave = self._offer_answered(self.offered, text, pasted)
            else:
                lines, leave = served(self.session, self.search, text, pasted)
        except LeglineError as fault:
            lines = [Line("note", str(fault))]
        except Exception as fault:  # noqa: BLE001 -- the state before the line is still good: go on
            self.faults.append(fault)
            lines = [
                Line("note", "That is our mistake, not yours: the line was not taken. Say it in other words.")
            ]
        if number not in (None, self.session.number):  # another case: nothing to compare with
            self.earlier = None
        elif self.session.state.found != before.found:
            self.earlier = before
        self._reply(lines)
        if leave:
            self.leave()

    def _offer_answered(self, row: CaseRow, text: str, pasted: bool) -> tuple[list[Line], bool]:
        """Yes takes the case up, no begins a fresh one, and anything else is the first line of a fresh one."""
        from bot.shells.plain import served as served
        from bot.talk.phrasing import Line

        assert self.session is not None
        assert self.search is not None
        self.offered = None
        plain = text.strip().lower().rstrip(".")
        if plain == "yes":
            return list(self.session.take_up(row.number)), False
        kept = Line("note", f"Case {row.number} stays kept; say case {row.number} to take it up.")
        if plain == "no":
            return [kept, *self.session.greet()], False
        lines, leave = served(self.session, self.search, text, pasted)
        # What is said of a danger stays first.
        return [*lines, kept], leave

    def _reply(self, lines: list[Line]) -> None:
        self.query_one(Conversation).add_replies(lines)
        self.show_state()

    def leave(self) -> None:
        """Ends the screen; every line is on disk already."""
        self.farewell = self.session.farewell() if self.session is not None else "Nothing was kept."
        self.app.exit()

    def action_say(self, words: str) -> None:
        """A key that stands for typed words."""
        if not self.has_class("-small"):
            self.hear(words)

    def action_search(self) -> None:
        """Opens the search box; not over a stop or a danger, which come first."""
        from bot.talk.state import Stage

        if self.session is None or self.search is None:
            return
        if self.session.state.stage in (Stage.HELD, Stage.DANGER):
            self._word = "First the question above; search opens after it."
            self.show_notice()
            return
        self.app.push_screen(SearchScreen(self.search, self.session.knowledge))

    def action_scroll_talk(self, by: int) -> None:
        """A page of the conversation up or down."""
        talk = self.query_one(Conversation)
        talk.scroll_relative(y=by * max(1, talk.scrollable_content_region.height - 1), animate=False)

    def on_resize(self) -> None:
        """Everything is drawn for the size there is."""
        self.show_state()

    def show_state(self) -> None:
        """Draws all that depends on the state."""
        width, height = self.app.size
        small = width < LEAST_COLUMNS or height < LEAST_ROWS
        self.set_class(small, "-small")
        self.set_class(width >= _WIDE, "-wide")
        self.set_class(height < _LOW, "-low")
        if small:
            said = f"{width} columns and {height} rows are too few. Legline needs {LEAST_COLUMNS} by {LEAST_ROWS}. Make the window larger, or leave (Ctrl+Q) and use: legline talk"
            self.query_one("#small", Static).update(said)
        self.query_one("#keys", Static).update(footer(width, 1 if height < _LOW else 2 if height < 20 else 3))
        self.query_one("#top", Static).update(self._top(width))
        self._show_case(width, height)
        self._show_typing()
        self.show_notice()

    def _top(self, width: int) -> str:
        if self.session is None:
            return "Legline"
        state = self.session.state
        case = f"Case {self.session.number}" if self.session.number else "New case"
        left = f"{case} · {state.wording} wording · {state.units.upper() if len(state.units) < 3 else state.units} units"
        right = f"nose: {harmless(state.support).replace('_', ' ')}"
        if len(left) + len(right) + 2 > width:
            left = left.replace(" wording", "").replace(" units", "")
        return shortened(left, width - len(right) - 1).ljust(width - len(right)) + right

    def _show_case(self, width: int, height: int) -> None:
        if self.session is None:
            return
        from bot.talk.view import power_path

        state, knowledge = self.session.state, self.session.knowledge
        rows = 1 if height < _LOW or width < 60 else 3 if height < 30 else 6
        self.query_one("#path", Static).update(path_content(power_path(state, knowledge), width, rows))
        if width >= _WIDE:
            spoken = bool(state.found)
            self.query_one("#causes", Static).update(
                causes_content(state, self.earlier, knowledge, _SIDE - 4) if spoken else ""
            )
            self.query_one("#readings", Static).update(
                readings_content(state, knowledge, _SIDE - 4) if spoken else ""
            )

    def _show_typing(self) -> None:
        """The place to type, or the stop in its place."""
        from bot.talk.state import Stage

        session = self.session
        held = session is not None and session.state.stage is Stage.HELD
        self.set_class(held, "-held")
        if held and session is not None:
            from bot.talk.turn import ask_again

            texts = [line.text for line in ask_again(session.state, session.knowledge) if line.role == "hold"]
            shown = "\n".join(texts) + str(self.app.size.width)
            if shown != self._held_on:
                self._held_on = shown
                # Draft text from before the stop must not come back as its answer.
                self.query_one("#composer", Composer).empty()
                self.query_one(HoldCard).show(texts, time.monotonic())
        else:
            self._held_on = ""
        if not self.has_class("-small"):
            wanted = self.query_one(HoldField) if held else self.query_one("#composer", Composer)
            if self.focused is not wanted:
                self.set_focus(wanted)

    def on_composer_kept(self, message: Composer.Kept) -> None:
        """Pasted lines wait, or none do any more."""
        self._kept = message.lines
        self.show_notice()

    def on_hold_field_refused(self, message: HoldField.Refused) -> None:
        """Says why the stop did not take it."""
        self._word = message.why
        self.show_notice()

    def on_conversation_moved(self) -> None:
        """There may be more below now."""
        self.show_notice()

    def show_notice(self) -> None:
        """One line of what the person should know of the screen itself."""
        if self._kept:
            said = f"{self._kept} pasted lines are kept here, not sent. Enter sends them as one answer, Esc clears them."
        elif self._word:
            said = self._word
        elif self.session is None:
            said = "Reading the pages. Type already: it is taken as soon as they are read."
            if self._queue:
                said += " Kept: " + harmless("; ".join(text for text, _ in self._queue))
        elif self._held_on and self.query_one(HoldCard).overflows:
            said = "Up, Down: the rest of the stop."
        elif self.query_one(Conversation).more_below:
            said = "▼ more below: PgDn"
        else:
            said = ""
        notice = self.query_one("#notice", Static)
        notice.update(said)
        notice.display = bool(said) and not self.has_class("-small")
