"""One seat's conversation: turns made, events written before their replies are shown, cases put aside and taken up."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace

from bot import __version__
from bot.shells.records import Store, StoreProblem
from bot.talk.events import Event, NotSaved, Resumed, Said, Set
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Stage, State
from bot.talk.turn import Turn, greeting, turn
from bot.talk.understand import clean, understand
from bot.talk.used import Used, pages_used

# Words of nearly every complaint: reading them once makes ready what the first line needs.
_COMMON_WORDS = (
    "the front legs will not go up or down when i push the button, it just clicks. the motor hums or runs slow, "
    "one leg is stuck and the other moves, battery is good, fuse is not blown. hitched to the truck, cranked by hand"
)


def now() -> str:
    """The time as records keep it: UTC to the second."""
    return datetime.datetime.now(datetime.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def replay(events: tuple[Event, ...], knowledge: Knowledge, start: State | None = None) -> State:
    """The state that a list of events leads to."""
    state = start or State()
    for event in events:
        state = turn(state, event, knowledge).state
    return state


@dataclass
class Session:
    """The open case of one seat. `store` None keeps nothing on disk."""

    knowledge: Knowledge
    store: Store | None
    wording: str = "owner"
    units: str = "us"
    drawings: str = "on"

    def __post_init__(self) -> None:
        self.state = State(wording=self.wording, units=self.units, drawings=self.drawings)
        self.number: int | None = None
        self.trouble = ""
        self.noted: frozenset[Used] = frozenset()

    def fresh(self) -> None:
        """A case of its own for what comes next."""
        self.__post_init__()

    def prime(self) -> None:
        """Reads the patterns that most complaints need before the first line comes, so that it is answered at once."""
        understand(_COMMON_WORDS, None, self.knowledge.reader)

    def greet(self) -> tuple[Line, ...]:
        """The first words of a fresh case."""
        return greeting(self.state)

    def hear(self, text: str, pasted: bool = False) -> Turn:
        """One typed line: the turn it led to, already on disk."""
        done = turn(self.state, Said(text, now(), pasted), self.knowledge)
        return self._keep(done)

    def set(self, name: str, value: str) -> Turn:
        """A setting changed from outside the conversation."""
        return self._keep(turn(self.state, Set(name, value, now()), self.knowledge))

    def _keep(self, done: Turn) -> Turn:
        self.state = done.state
        if self.store is None:
            return done
        event = done.state.log[-1]
        try:
            if self.number is None:
                if self.state.turn == 0:
                    return done
                about = clean(next((e.text for e in done.state.log if isinstance(e, Said)), ""))
                self.number = self.store.open_case(
                    now(), about, self.knowledge.corpus.fingerprint, __version__
                )
                settings = [Set("wording", self.wording), Set("units", self.units)]
                settings += [Set("drawings", self.drawings)] if self.drawings != "on" else []
                for place, earlier in enumerate([*settings, *done.state.log[:-1]]):
                    self.store.append(self.number, place, earlier, now(), "open", "")
            standing = "closed" if self.state.stage is Stage.CLOSED else "open"
            self.store.append(self.number, len(self.state.log) + 1, event, now(), standing, self.waiting())
            self._note_pages(self.store, self.number)
        except StoreProblem as fault:
            if self.trouble == str(fault):
                return done
            self.trouble = str(fault)
            noted = turn(self.state, NotSaved(str(fault), now()), self.knowledge)
            self.state = replace(noted.state, log=done.state.log)
            return Turn(self.state, (*done.replies, *noted.replies), done.wants)
        return done

    def _note_pages(self, store: Store, number: int) -> None:
        """Writes down the pages this case leaned on for the first time."""
        fresh = [one for one in pages_used(self.state, self.knowledge) if one not in self.noted]
        if fresh:
            store.note_pages(number, fresh)
            self.noted |= frozenset(fresh)

    def waiting(self) -> str:
        """What the case waits for, in a few words."""
        asking = self.state.asking
        if self.state.sum is not None:
            return f"the sum {self.state.sum.name}"
        if asking is None:
            return ""
        check = self.knowledge.checks.get(asking.finding)
        return check.page.title if check else asking.finding

    def put_aside(self) -> str:
        """Puts the case aside and opens a fresh one; says how to take it up."""
        number, waiting = self.number, self.waiting()
        if self.store is not None and number is not None:
            try:
                self.store.stand(number, "aside", now())
            except StoreProblem as fault:
                return str(fault)
        self.fresh()
        if number is None:
            return "Nothing to put aside yet."
        return f"Case {number} put aside at {now()[11:16]} UTC, waiting for: {waiting or 'the complaint'}. Say: case {number}, to take it up."

    def take_up(self, number: int) -> tuple[Line, ...]:
        """Takes a case up by its number; every hold is shut again."""
        if self.store is None:
            return (Line("note", "No cases are kept here."),)
        events = self.store.events(number)
        if not events:
            return (Line("note", f"There is no case {number}. Say cases for the list."),)
        state = replay(events, self.knowledge)
        self.number, self.state, self.trouble, self.noted = number, state, "", frozenset()
        done = self._keep(turn(state, Resumed(now()), self.knowledge))
        first = next((e.text for e in events if isinstance(e, Said)), "")
        changed = self.store.corpus_of(number) != self.knowledge.corpus.fingerprint
        notes = (
            (
                Line(
                    "note",
                    "The pages have changed since this case was begun; what was said is weighed by the pages as they are now.",
                ),
            )
            if changed
            else ()
        )
        return (Line("say", f'Case {number}: "{first[:80]}".'), *notes, *done.replies)
