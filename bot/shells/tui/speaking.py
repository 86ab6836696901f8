"""One case on the screen, its words: lines in, replies out. How it is drawn is in talk.py."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.containers import Vertical
from textual.message import Message

from bot.shells.tui.composer import Composer
from bot.shells.tui.conversation import Conversation
from bot.shells.tui.keys import KEY_HELP, TYPED

if TYPE_CHECKING:
    from bot.find.search import Search
    from bot.shells.demo import Guide
    from bot.shells.records import CaseRow, Store
    from bot.shells.session import Session
    from bot.sums.result import Result
    from bot.talk.knowledge import Knowledge
    from bot.talk.phrasing import Line
    from bot.talk.state import State


class Speaking(Vertical):
    """A session, and every way in which words reach it."""

    class Wants(Message):
        """A typed word that is for the screen: search, look, pair and the like."""

        def __init__(self, talk: Speaking, what: str) -> None:
            super().__init__()
            self.talk, self.what = talk, what

    class Leaves(Message):
        """The person leaves."""

    class Settled(Message):
        """Wording and units as they stand now."""

        def __init__(self, wording: str, units: str) -> None:
            super().__init__()
            self.wording, self.units = wording, units

    def __init__(self, store: Store | None, guide: Guide | None, wording: str, units: str) -> None:
        super().__init__()
        self.store, self.guide = store, guide
        self.wording, self.units = wording, units
        self.session: Session | None = None
        self.find: Search | None = None
        self.earlier: State | None = None
        self.offered: CaseRow | None = None
        self.left: int | None = None  # the case that was put aside for the one at hand
        self.faults: list[Exception] = []
        self._queue: deque[tuple[str, bool]] = deque()
        self._word = ""
        self._held_on = ""

    @property
    def said(self) -> list[tuple[str, str]]:
        """(role, text) of everything shown, oldest first."""
        return self.query_one(Conversation).said

    def show_state(self) -> None:
        """Draws all that depends on the state."""
        raise NotImplementedError

    def show_notice(self) -> None:
        """Draws the line of what the person should know of the screen itself."""
        raise NotImplementedError

    def tell(self, text: str) -> None:
        """One line of the screen itself."""
        self._word = text
        self.show_notice()

    def start_wait(self, text: str) -> bool:
        """Starts a timer; whether the words held a span of time."""
        raise NotImplementedError

    def _stand_ready(self) -> None:
        """Puts the next line of the demo where one types."""
        raise NotImplementedError

    def begin(self, knowledge: Knowledge, search: Search, offer: bool = True) -> None:
        """Begins the conversation, then takes what was typed meanwhile. `offer` asks about a case left open."""
        from bot.problems import LeglineError
        from bot.shells.session import Session
        from bot.talk.phrasing import Line

        self.find = search
        self.session = Session(knowledge, self.store, self.wording, self.units)
        first: list[Line] = []
        if self.guide is not None:
            from bot.shells.demo import INTRO

            first += [Line("note", text) for text in INTRO]
        try:
            rows = self.store.cases() if self.store is not None and offer else []
            self.offered = next((row for row in rows if row.standing == "open"), None)
        except LeglineError as fault:
            first.append(Line("note", str(fault)))
        if self.offered is not None:
            first += self._offer(self.offered)
        else:
            first += self.session.greet()
            first += self._hint()
        self._reply(first)
        while self._queue:
            text, pasted = self._queue.popleft()
            self._answer(text, pasted)
            if self._held_on and self._queue:
                left_over = "; ".join(text for text, _ in self._queue)
                self._queue.clear()
                self._reply([Line("note", f"Typed before this stop was shown, so not taken: {left_over}")])

    def _hint(self) -> tuple[Line, ...]:
        from bot.problems import LeglineError
        from bot.shells.hint import first_hint

        try:
            return first_hint(self.store)
        except LeglineError:
            return ()  # told already

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
        elif not pasted and self._for_the_screen(text):
            return
        else:
            self._answer(text, pasted)

    def _for_the_screen(self, text: str) -> bool:
        """Whether the line was a word for the screen; a stop or a danger takes every line itself."""
        word = " ".join(text.lower().split()).rstrip(".")
        if self.stopped or self.offered is not None:
            return False
        if word.startswith("timer") and self.start_wait(word):
            return True
        if word in TYPED:
            self.post_message(self.Wants(self, TYPED[word]))
            self._stand_ready()
            return True
        return False

    @property
    def stopped(self) -> bool:
        """Whether a stop or a danger stands open, which comes before everything else."""
        from bot.talk.state import Stage

        return self.session is not None and self.session.state.stage in (Stage.HELD, Stage.DANGER)

    def _answer(self, text: str, pasted: bool) -> None:
        from bot.problems import LeglineError
        from bot.shells.plain import served as served
        from bot.talk.phrasing import Line

        assert self.session is not None
        assert self.find is not None
        before, number = self.session.state, self.session.number
        leave = False
        self.query_one(Conversation).add_said(text)
        try:
            if self.offered is not None:
                lines, leave = self._offer_answered(self.offered, text, pasted)
            else:
                lines, leave = served(self.session, self.find, text, pasted)
        except LeglineError as fault:
            lines = [Line("note", str(fault))]
        except Exception as fault:  # noqa: BLE001 -- the state before the line is still good: go on
            self.faults.append(fault)
            lines = [
                Line("note", "That is our mistake, not yours: the line was not taken. Say it in other words.")
            ]
        if self.guide is not None:
            self.guide.heard(text)
        self._compare_with(before, number)
        self._reply(lines, self._new_sums(before, number))
        if text.strip().lower() == "help":
            self.tell(KEY_HELP)
        if leave:
            self.post_message(self.Leaves())

    def _compare_with(self, before: State, number: int | None) -> None:
        """Remembers the state the likely causes are compared with; none where another case was taken up."""
        assert self.session is not None
        if number not in (None, self.session.number):
            self.earlier = None
        elif self.session.state.found != before.found:
            self.earlier = before

    def _offer_answered(self, row: CaseRow, text: str, pasted: bool) -> tuple[list[Line], bool]:
        """Yes takes the case up, no begins a fresh one, and anything else is the first line of a fresh one."""
        from bot.shells.plain import served as served
        from bot.talk.phrasing import Line

        assert self.session is not None
        assert self.find is not None
        self.offered = None
        plain = text.strip().lower().rstrip(".")
        if plain == "yes":
            return list(self.session.take_up(row.number)), False
        kept = Line("note", f"Case {row.number} stays kept; say case {row.number} to take it up.")
        if plain == "no":
            return [kept, *self.session.greet()], False
        lines, leave = served(self.session, self.find, text, pasted)
        # What is said of a danger stays first.
        return [*lines, kept], leave

    def take_up(self, number: int) -> None:
        """Puts the case at hand aside, where one is open, and takes up another by its number."""
        from bot.problems import LeglineError
        from bot.talk.phrasing import Line
        from bot.talk.state import Stage

        assert self.session is not None
        lines: list[Line] = []
        self.offered = self.earlier = None
        try:
            if self.session.number == number:
                return
            self.left = self.session.number
            if self.session.number is not None and self.session.state.stage is not Stage.CLOSED:
                lines.append(Line("say", self.session.put_aside()))
            lines += self.session.take_up(number)
        except LeglineError as fault:
            lines.append(Line("note", str(fault)))
        self._reply(lines)

    def set(self, name: str, value: str) -> None:
        """Another wording or another family of units, from here on; the open question is put anew in it."""
        from bot.talk.phrasing import Line
        from bot.talk.turn import ask_again

        if self.session is None:
            return
        replies = self.session.set(name, value).replies
        said = {"us": "inches, feet, pounds", "metric": "millimetres, metres, kilograms"}.get(value, value)
        lines = [Line("note", f"{name[0].upper() + name[1:]}: {said}."), *replies]
        if not self.stopped and self.offered is None:
            lines += ask_again(self.session.state, self.session.knowledge)
        self._reply(lines)

    def _new_sums(self, before: State, number: int | None) -> list[Result]:
        """The sum that the last line set off or asked for, to be drawn; none where nothing is to be drawn."""
        from bot.talk.sum_told import work_out

        assert self.session is not None
        now = self.session.state
        told = now.last_sum
        if number not in (None, self.session.number) or told is None or told == before.last_sum:
            return []
        result = work_out(told.name, told.given)
        return [] if now.drawings != "on" or isinstance(result, str) else [result]

    def _reply(self, lines: list[Line], results: Sequence[Result] = ()) -> None:
        if self.session is not None and self.guide is None:
            self.post_message(self.Settled(self.session.state.wording, self.session.state.units))
        units = self.session.state.units if self.session is not None else "us"
        self.query_one(Conversation).add_replies(lines, results, units)
        self.show_state()
        self._stand_ready()
