"""One seat's conversation: turns made, events written before their replies are shown, cases put aside and taken up."""

from __future__ import annotations

import datetime
from contextlib import suppress

from bot import __version__
from bot.frozen import replace
from bot.shells.records import Store, StoreProblem, TakenOver
from bot.shells.store.points import reached
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


class Session:
    """The open case of one seat. `store` None keeps nothing on disk."""

    def __init__(
        self, knowledge: Knowledge, store: Store | None, wording: str = "owner", units: str = "us",
        drawings: str = "on",
    ) -> None:  # fmt: skip
        self.knowledge, self.store = knowledge, store
        self.wording, self.units, self.drawings = wording, units, drawings
        self._begin()

    def _begin(self) -> None:
        self.state = State(wording=self.wording, units=self.units, drawings=self.drawings)
        self.number: int | None = None
        self.trouble = ""
        self._first: tuple[Event, ...] = (Set("wording", self.wording), Set("units", self.units))
        if self.drawings != "on":
            self._first += (Set("drawings", self.drawings),)
        self._written = 0  # of the case's events, how many are on disk
        self._noted: frozenset[Used] = frozenset()  # pages that are on disk as leaned on
        self._warned = False
        self._opened = ""

    def fresh(self) -> None:
        """A case of its own for what comes next."""
        if self.store is not None and self.number is not None:
            self.store.let_go(self.number)
        self._begin()

    def prime(self) -> None:
        """Reads the patterns that most complaints need before the first line comes, so that it is answered at once."""
        understand(_COMMON_WORDS, None, self.knowledge.reader)

    def greet(self) -> tuple[Line, ...]:
        """The first words of a fresh case."""
        return greeting(self.state)

    def hear(self, text: str, pasted: bool = False) -> Turn:
        """One typed line: the turn it led to, already on disk."""
        before = self.state
        done = turn(before, Said(text, now(), pasted), self.knowledge)
        reached("line heard")
        return self._keep(done, before)

    def set(self, name: str, value: str) -> Turn:
        """A setting changed from outside the conversation."""
        return self._keep(turn(self.state, Set(name, value, now()), self.knowledge), self.state)

    def _keep(self, done: Turn, before: State) -> Turn:
        """The turn once it is on disk; with words about it where it is not, and undone where the case is another's."""
        self.state = done.state
        if self.store is None or (self.number is None and self.state.turn == 0):
            return done
        try:
            self._write(self.store)
        except TakenOver as fault:
            self.state = before
            kept = "" if "deleted" in str(fault) else f" Say case {self.number} to see it as it stands there."
            said = f"{fault} That line was not put into it.{kept} Say new case for a case of its own."
            return Turn(before, (Line("note", said),))
        except StoreProblem as fault:
            if self.trouble == str(fault):
                return done
            self.trouble = str(fault)
            noted = turn(self.state, NotSaved(str(fault), now()), self.knowledge)
            self.state = replace(noted.state, log=done.state.log)
            return Turn(self.state, (*done.replies, *noted.replies, *self._told()), done.wants)
        told = self._told()
        if self.trouble:
            self.trouble = ""
            told = (*told, Line("note", f"Everything said so far is on disk again, in case {self.number}."))
        reached("reply ready")
        return Turn(self.state, (*done.replies, *told), done.wants) if told else done

    def _told(self) -> tuple[Line, ...]:
        return tuple(Line("note", text) for text in self.store.told()) if self.store is not None else ()

    def _write(self, store: Store) -> None:
        """Writes whatever of the case is not on disk yet, in one piece. Raises StoreProblem."""
        events = (*self._first, *self.state.log)
        standing = "closed" if self.state.stage is Stage.CLOSED else "open"
        pages = self._fresh_pages()
        if self.number is None:
            about = clean(next((e.text for e in self.state.log if isinstance(e, Said)), ""))
            corpus = self.knowledge.corpus.fingerprint
            again, self._opened = bool(self._opened), self._opened or now()
            self.number = store.begin(
                self._opened, about, corpus, __version__, events, standing, self.waiting(), again, pages
            )
            self._written = len(events)
        if self._written < len(events):
            new = events[self._written :]
            store.write(
                self.number,
                self._written,
                new,
                now(),
                standing,
                self.waiting(),
                self._shortcut(len(events)),
                pages,
            )
            self._written = len(events)
        self._noted |= frozenset(pages)

    def _shortcut(self, count: int) -> tuple[str, bytes] | None:
        """Every few events the state itself, so that a long case is taken up at once."""
        from bot.shells.store.shortcut import EVERY, pack, stamp_of

        if count // EVERY == self._written // EVERY:
            return None
        return stamp_of(self.knowledge.corpus.fingerprint), pack(self.state, self._first)

    def flush(self) -> str:
        """Writes what is not on disk yet. "" when all is there, else why not."""
        if self.store is None or (self.number is None and self.state.turn == 0):
            return ""
        try:
            self._write(self.store)
        except StoreProblem as fault:
            return str(fault)
        self.trouble = ""
        return ""

    def farewell(self) -> str:
        """The last words as a person leaves: what is kept and how to take it up, or what could not be."""
        trouble = self.flush()
        if trouble:
            lost = len(self._first) + len(self.state.log) - self._written
            return f"The last {lost} entries could not be kept: {trouble}"
        number = self.number
        if number is None:
            return "Nothing was kept."
        if self.store is not None:
            self.store.let_go(number)
        return f"Case {number} is kept. Take it up with: legline case resume {number}"

    def pages(self) -> tuple[Used, ...]:
        """Every page this case has leaned on; of those on disk alone, none where they cannot be read just now."""
        with suppress(StoreProblem):
            if self.store is not None and self.number is not None and self._written:
                there = self.store.pages(self.number)
                return tuple(dict.fromkeys((*there, *self._fresh_pages())))
        return tuple(dict.fromkeys((*sorted(self._noted), *self._fresh_pages())))

    def _fresh_pages(self) -> tuple[Used, ...]:
        """The pages this case has leaned on that are not on disk yet."""
        return tuple(one for one in pages_used(self.state, self.knowledge) if one not in self._noted)

    def waiting(self) -> str:
        """What the case waits for, in a few words."""
        asking = self.state.asking
        if self.state.sum is not None:
            return f"the sum {self.state.sum.name}"
        if asking is None:
            return ""
        check = self.knowledge.checks.get(asking.finding)
        return check.page.title if check else asking.finding

    def _stays(self) -> str:
        """Why the case cannot be left without a loss; said once, the second time it is left all the same."""
        trouble = self.flush()
        if not trouble or self._warned:
            return ""
        self._warned = True
        return f"{trouble} Left now, its last lines would be lost. Say it again to leave it all the same."

    def put_aside(self) -> str:
        """Puts the case aside and opens a fresh one; says how to take it up."""
        number, waiting = self.number, self.waiting()
        stays = self._stays()
        if stays:
            return stays
        if self.store is not None and number is not None:
            try:
                self.store.stand(number, "aside", now())
            except StoreProblem as fault:
                return str(fault)
        self.fresh()
        if number is None:
            return "Nothing to put aside yet."
        return f"Case {number} put aside at {now()[11:16]} UTC, waiting for: {waiting or 'the complaint'}. Say: case {number}, to take it up."

    def take_up(self, number: int, over: bool = False) -> tuple[Line, ...]:
        """Takes a case up by its number; every hold is shut again. `over` takes it from the seat where it is open."""
        if self.store is None:
            return (Line("note", "No cases are kept here."),)
        row = self.store.row(number)
        if row is None:
            return (*self._told(), Line("note", f"There is no case {number}. Say cases for the list."))
        stays = self._stays() if number != self.number else ""
        if stays:
            return (Line("note", stays),)
        elsewhere = self.store.take(number, over)
        if elsewhere:
            return (
                Line(
                    "note",
                    f"Case {number} is open at another seat ({elsewhere}); its last line came at {row.touched}.",
                ),
                Line(
                    "ask", f"Say take over {number} to go on with it here; no more is put into it there then."
                ),
            )
        events = self.store.events(number)
        if self.number not in (None, number):
            self.store.let_go(self.number or 0)
        state = self._restored(number, events)
        self.number, self.state, self.trouble, self._warned = number, state, "", False
        self._first, self._written, self._noted = (), len(events), frozenset()
        done = self._keep(turn(state, Resumed(now()), self.knowledge), state)
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
        return (Line("say", f'Case {number}: "{clean(first)[:80]}".'), *notes, *done.replies)

    def _restored(self, number: int, events: tuple[Event, ...]) -> State:
        """The state of the events: from the kept state where there is one for them, and the lines after it replayed."""
        from bot.shells.store.shortcut import stamp_of, unpack

        kept = self.store.shortcut(number) if self.store is not None else None
        if (
            kept is not None
            and kept[0] <= len(events)
            and kept[1] == stamp_of(self.knowledge.corpus.fingerprint)
        ):
            try:
                return replay(events[kept[0] :], self.knowledge, unpack(kept[2], events[: kept[0]]))
            except ValueError:
                pass
        return replay(events, self.knowledge)
