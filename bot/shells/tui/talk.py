"""One case on the screen, as it is drawn: top line, power path, conversation with its side column, place to type."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Static

from bot.shells.tui.composer import Composer, HoldCard, HoldField
from bot.shells.tui.conversation import Conversation
from bot.shells.tui.harmless import harmless, shortened
from bot.shells.tui.path import path_content
from bot.shells.tui.side import causes_content, readings_content, ticks_content
from bot.shells.tui.speaking import Speaking
from bot.shells.tui.waits import left, seconds_of

if TYPE_CHECKING:
    from bot.shells.demo import Guide
    from bot.shells.records import Store

_WIDE, _SIDE = 100, 36
_LOW = 16  # rows; below it the path is one line and the keys too


class Talk(Speaking):
    """One case, drawn for the room it has. The keys are its own while it has the class -active."""

    def __init__(self, store: Store | None, guide: Guide | None, wording: str, units: str) -> None:
        super().__init__(store, guide, wording, units)
        self._kept = 0
        self._wait_until = 0.0
        self._ticking: Timer | None = None

    def compose(self) -> ComposeResult:
        """The parts from top to bottom."""
        yield Static("", id="top", markup=False)
        yield Static("", id="path", markup=False)
        with Horizontal(id="middle"):
            yield Conversation()
            with VerticalScroll(id="side", can_focus=False):
                yield Static("", id="ticks", markup=False)
                yield Static("", id="causes", markup=False)
                yield Static("", id="readings", markup=False)
        yield Static("", id="notice", markup=False)
        with Horizontal(id="typing"):
            yield Static("> ", id="prompt", markup=False)
            yield Composer("composer")
        yield HoldCard(id="hold")

    def start_wait(self, text: str) -> bool:
        """Starts a timer for the span of time in the words; "timer off" ends it. Whether the words held one."""
        if text.strip() in ("timer off", "timer stop"):
            self._wait_until = 0.0
            self.show_state()
            return True
        seconds = seconds_of(text)
        if seconds is None:
            return False
        self._wait_until = time.monotonic() + seconds
        if self._ticking is None:
            self._ticking = self.set_interval(1.0, self._tick)
        self.tell(f"The wait runs: {left(seconds)}. timer off ends it.")
        self.show_state()
        return True

    def _tick(self) -> None:
        if self._wait_until and time.monotonic() >= self._wait_until:
            self._wait_until = 0.0
            self.app.bell()
            self.tell("The wait is over.")
        self.query_one("#top", Static).update(self._top(self.width))

    def _stand_ready(self) -> None:
        """Puts the next line of the demo where one types; never where a stop is answered."""
        beat = self.guide.beat if self.guide is not None else None
        composer = self.query_one("#composer", Composer)
        if beat is not None and not self._held_on and not composer.text:
            composer.insert(beat.line)

    def on_resize(self) -> None:
        """Everything is drawn for the size there is."""
        self.show_state()

    @property
    def width(self) -> int:
        """Columns there are for this case."""
        return self.size.width or self.app.size.width

    def show_state(self) -> None:
        """Draws all that depends on the state."""
        width, height = self.width, self.app.size.height
        self.set_class(width >= _WIDE, "-wide")
        self.set_class(height < _LOW, "-low")
        self.query_one("#top", Static).update(self._top(width))
        self._show_case(width, height)
        self._show_typing()
        self.show_notice()

    def _top(self, width: int) -> str:
        if self.session is None:
            return "Legline"
        state = self.session.state
        case = f"Case {self.session.number}" if self.session.number else "New case"
        if self.guide is not None:
            case = "Demo, invented"
        units = state.units.upper() if len(state.units) < 3 else state.units
        left_side = f"{case} · {state.wording} wording · {units} units"
        right = f"nose: {harmless(state.support).replace('_', ' ')}"
        if self._wait_until:
            right = f"wait {left(self._wait_until - time.monotonic())} · {right}"
        if len(left_side) + len(right) + 2 > width:
            left_side = left_side.replace(" wording", "").replace(" units", "")
        return shortened(left_side, width - len(right) - 1).ljust(width - len(right)) + right

    def _show_case(self, width: int, height: int) -> None:
        if self.session is None:
            return
        from bot.talk.view import power_path

        state, knowledge = self.session.state, self.session.knowledge
        rows = 1 if height < _LOW or width < 60 else 3 if height < 30 else 6
        self.query_one("#path", Static).update(path_content(power_path(state, knowledge), width, rows))
        if width >= _WIDE:
            spoken, room, none = bool(state.found), _SIDE - 4, Content("")
            ticks = ticks_content(state, knowledge, room)
            self.query_one("#ticks", Static).update(ticks)
            self.query_one("#ticks").display = bool(ticks.plain)
            self.query_one("#causes", Static).update(
                causes_content(state, self.earlier, knowledge, room) if spoken else none
            )
            self.query_one("#readings", Static).update(
                readings_content(state, knowledge, room) if spoken else none
            )

    def _show_typing(self) -> None:
        """The place to type, or the stop in its place."""
        from bot.talk.state import Stage

        session = self.session
        held = session is not None and session.state.stage is Stage.HELD
        self.set_class(held, "-held")
        if held and session is not None:
            from bot.talk.turn import ask_again

            lines = ask_again(session.state, session.knowledge)
            asking = session.state.asking
            if asking is not None and asking.kind != "hold":
                # What the sum of this stop still wants stands in the card; the stop itself is asked after it.
                texts = [line.text for line in lines if line.role in ("note", "ask", "choices")]
                prompt = f"in {asking.unit}: " if asking.unit else "answer: "
            else:
                opens = any(line.text == "Type yes or no." for line in lines)
                wanted = ("hold", "sum") if opens else ("hold", "sum", "ask")
                texts = [line.text for line in lines if line.role in wanted]
                prompt = "yes or no: " if opens else "stays shut: "
            shown = "\n".join([prompt, *texts]) + str(self.width)
            if shown != self._held_on:
                self._held_on = shown
                # Draft text from before the stop must not come back as its answer.
                self.query_one("#composer", Composer).empty()
                self.query_one(HoldCard).show(texts, time.monotonic(), self.width, prompt)
        else:
            self._held_on = ""
        self.take_keys()

    def take_keys(self) -> None:
        """Puts the keys where one types here, unless another case beside this one or a view has them."""
        if self.screen.is_current and not self.screen.has_class("-small") and self.has_class("-active"):
            wanted: Composer = (
                self.query_one(HoldField) if self._held_on else self.query_one("#composer", Composer)
            )
            if self.screen.focused is not wanted:
                self.screen.set_focus(wanted)

    def on_composer_kept(self, message: Composer.Kept) -> None:
        """Pasted lines wait, or none do any more."""
        message.stop()
        self._kept = message.lines
        self.show_notice()

    def on_hold_field_refused(self, message: HoldField.Refused) -> None:
        """Says why the stop did not take it."""
        message.stop()
        self.tell(message.why)

    def on_conversation_moved(self, message: Conversation.Moved) -> None:
        """There may be more below now."""
        message.stop()
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
        elif self.guide is not None:
            said = self.guide.notice(bool(self._held_on))
        elif self.query_one(Conversation).more_below:
            said = "▼ more below: PgDn"
        else:
            said = ""
        notice = self.query_one("#notice", Static)
        notice.update(said)
        notice.display = bool(said)
