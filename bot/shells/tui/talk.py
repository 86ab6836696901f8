"""One case on the screen, as it is drawn: top line, power path, conversation with its side column, place to type."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Static

from bot.shells.tui.choices import strip_of
from bot.shells.tui.composer import Composer, HoldCard, HoldField
from bot.shells.tui.conversation import LOW, Conversation
from bot.shells.tui.harmless import harmless, shortened
from bot.shells.tui.path import path_content
from bot.shells.tui.side import causes_content, readings_content, ticks_content
from bot.shells.tui.speaking import Speaking
from bot.shells.tui.waits import left, seconds_of

if TYPE_CHECKING:
    from bot.shells.demo import Guide
    from bot.shells.records import Store

_WIDE, _SIDE = 100, 36


class Talk(Speaking):
    """One case, drawn for the room it has. The keys are its own while it has the class -active."""

    def __init__(self, store: Store | None, guide: Guide | None, wording: str, units: str) -> None:
        super().__init__(store, guide, wording, units)
        self._kept = 0
        self._first = (0, 0)  # the size for which the first paint, without a case, was made
        self._side: Static | None = None
        self._wait_until = 0.0
        self._ticking: Timer | None = None

    def compose(self) -> ComposeResult:
        """The parts from top to bottom, as the first paint shows them: without a case."""
        self._first = (self.app.size.width, self.app.size.height)
        self._fit(*self._first)
        yield Static(self._top(self._first[0]), id="top", markup=False)
        yield Static("", id="path", markup=False)
        with Horizontal(id="middle"):
            yield Conversation()
        yield Static(self._said(), id="notice", markup=False)
        with Horizontal(id="typing"):
            yield Static("> ", id="prompt", markup=False)
            yield Composer("composer")

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
        if self.session is None:
            if self._first == (width, height):
                return
            self._first = (width, height)
        self._fit(width, height)
        self.query_one("#top", Static).update(self._top(width))
        self._show_case(width, height)
        self._show_typing()
        self.show_notice()

    def _fit(self, width: int, height: int) -> None:
        self.set_class(width >= _WIDE, "-wide")
        self.set_class(height < LOW, "-low")

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
        rows = 1 if height < LOW or width < 60 else 3 if height < 30 else 6
        self.query_one("#path", Static).update(path_content(power_path(state, knowledge), width, rows))
        if width >= _WIDE and (state.found or state.walk):
            room = _SIDE - 4
            parts = [
                ticks_content(state, knowledge, room),
                causes_content(state, self.earlier, knowledge, room),
                readings_content(state, knowledge, room),
            ]
            shown = Content("\n\n").join(part for part in parts if part.plain)
            if self._side is None:
                # Made when there is something to say in it: most of what is slow at the start is making widgets.
                self._side = Static(shown, id="side-text", markup=False)
                self.query_one("#middle").mount(VerticalScroll(self._side, id="side", can_focus=False))
            else:
                self._side.update(shown)

    def _show_typing(self) -> None:
        """The place to type, or the stop in its place."""
        from bot.talk.state import Stage

        session = self.session
        held = session is not None and session.state.stage is Stage.HELD
        self.set_class(held, "-held")
        if held and session is not None:
            from bot.talk.repair import stop_opens
            from bot.talk.turn import ask_again

            lines = ask_again(session.state, session.knowledge)
            asking = session.state.asking
            if asking is not None and asking.kind != "hold":
                # What the sum of this stop still wants stands in the card; the stop itself is asked after it.
                texts = [line.text for line in lines if line.role in ("note", "ask", "choices")]
                prompt = f"in {asking.unit}: " if asking.unit else "answer: "
            else:
                opens = stop_opens(session.state, session.knowledge)
                wanted = ("hold", "sum") if opens else ("hold", "sum", "ask")
                texts = [line.text for line in lines if line.role in wanted]
                prompt = "yes or no: " if opens else "stays shut: "
            shown = "\n".join([prompt, *texts]) + str(self.width)
            if shown != self._held_on:
                self._held_on = shown
                # Draft text from before the stop must not come back as its answer.
                self.query_one("#composer", Composer).empty()
                self._show_stop(texts, prompt)
        else:
            self._held_on = ""
        self._show_choices(self.choices if self.app.size.height >= LOW else ())
        self.take_keys()

    def _show_choices(self, choices: tuple[str, ...]) -> None:
        """The answers on offer above the place to type; the row is made when the first ones are."""
        strip = next(iter(self.query("#choices").results(Static)), None)
        if strip is None:
            if choices:
                self.mount(
                    Static(strip_of(choices, self.width), id="choices", markup=False), before="#typing"
                )
            return
        strip.display = bool(choices)
        strip.update(strip_of(choices, self.width))

    def _show_stop(self, texts: list[str], prompt: str) -> None:
        """The card of the stop; made when the first one is shown, since most of a case goes by without."""
        card = next(iter(self.query(HoldCard)), None)
        if card is None:
            self.mount(HoldCard(texts, self.width, prompt))
        else:
            card.show(texts, self.width, prompt)

    def take_keys(self) -> None:
        """Puts the keys where one types here, unless another case beside this one or a view has them."""
        if self.screen.is_current and not self.screen.has_class("-small") and self.has_class("-active"):
            # Until the card of a stop stands, no place takes keys.
            wanted = next(
                iter(self.query(HoldField) if self._held_on else self.query("#composer").results(Composer)),
                None,
            )
            if self.screen.focused is not wanted:
                self.screen.set_focus(wanted)

    def on_hold_card_stands(self, message: HoldCard.Stands) -> None:
        """The card of a stop is there and takes the keys."""
        message.stop()
        self.take_keys()
        self.show_notice()

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

    def _said(self) -> str:
        if self._kept:
            return f"{self._kept} pasted lines are kept here, not sent. Enter sends them as one answer, Esc clears them."
        if self._word:
            return self._word
        if self.session is None:
            kept = " Kept: " + harmless("; ".join(text for text, _ in self._queue)) if self._queue else ""
            return "Reading the pages. Type already: it is taken as soon as they are read." + kept
        if self._held_on and any(card.overflows for card in self.query(HoldCard)):
            return "Up, Down: the rest of the stop."
        if self.guide is not None:
            return self.guide.notice(bool(self._held_on))
        return "▼ more below: PgDn" if self.query_one(Conversation).more_below else ""

    def show_notice(self) -> None:
        """One line of what the person should know of the screen itself."""
        said, notice = self._said(), self.query_one("#notice", Static)
        notice.update(said)
        notice.display = bool(said)
