"""What a case's events led to, one after the other: when each line was said, holds answered, steps done, proof told."""

from __future__ import annotations

from dataclasses import dataclass

from bot.safety.holds import Hold, shut_before
from bot.talk.events import Event, Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import OpenSum, Stage, State
from bot.talk.turn import turn


def clock(at: str) -> str:
    """A time as a record shows it: date and minute, UTC.

    >>> clock("2026-03-04T05:06:07Z"), clock("")
    ('2026-03-04 05:06', '')
    """
    return at[:16].replace("T", " ")


@dataclass(frozen=True)
class Answer:
    """One hold and what was typed to it."""

    at: str
    hold: str
    question: str
    text: str
    step: str


@dataclass(frozen=True)
class Done:
    """One step that was said to be done."""

    at: str
    number: int
    text: str
    done_when: str
    document: str


@dataclass(frozen=True)
class History:
    """The last state and the way to it. `proofs` are (time, procedure, words) of answers to a proof."""

    state: State
    said: tuple[tuple[str, str], ...]
    holds: tuple[Answer, ...]
    steps: tuple[Done, ...]
    proofs: tuple[tuple[str, str, str], ...]
    sums: tuple[OpenSum, ...]  # told in the conversation, each by name with its last figures

    def time(self, turn_number: int) -> str:
        """When the line of that turn was said, in short; empty where no time was kept."""
        return self.short(self.said[turn_number - 1][0]) if 0 < turn_number <= len(self.said) else ""

    def line(self, turn_number: int) -> str:
        """The line of that turn, cut where it is long."""
        text = self.said[turn_number - 1][1] if 0 < turn_number <= len(self.said) else ""
        text = " ".join(text.split())
        return text if len(text) <= 90 else text[:89].rstrip() + "…"

    def short(self, at: str) -> str:
        """A time with its date only where that is not the day the case began."""
        return at[11:16] if self.said and at[:10] == self.said[0][0][:10] else clock(at)


def history(events: tuple[Event, ...], knowledge: Knowledge) -> History:
    """Replays the events and notes what a record needs of each."""
    state = State()
    said: list[tuple[str, str]] = []
    holds: list[Answer] = []
    steps: list[Done] = []
    proofs: list[tuple[str, str, str]] = []
    sums: dict[str, OpenSum] = {}
    for event in events:
        before = state
        state = turn(state, event, knowledge).state
        if state.last_sum is not None and state.last_sum != before.last_sum:
            sums[state.last_sum.name] = state.last_sum
        if not isinstance(event, Said):
            continue
        said.append((event.at, event.text))
        walk, plain = before.walk, event.text.strip().lower().rstrip(".!")
        if walk is None:
            continue
        procedure = knowledge.procedures[walk.document]
        if before.stage is Stage.HELD and (plain == "no" or (plain == "yes" and not event.pasted)):
            hold: Hold = shut_before(procedure, walk.step, walk.opened)[0]
            step = f"{walk.step} of {len(procedure.steps)}"
            holds.append(Answer(event.at, hold.name, hold.question, event.text.strip(), step))
        if before.stage is Stage.PROVING and (state.stage is not Stage.PROVING or state.walk is None):
            proofs.append((event.at, walk.document, event.text.strip()))
        if state.walk and state.walk.document == walk.document and state.walk.step > walk.step:
            done = procedure.steps[walk.step - 1]
            steps.append(Done(event.at, done.number, done.text, done.done_when, walk.document))
    return History(state, tuple(said), tuple(holds), tuple(steps), tuple(proofs), tuple(sums.values()))
