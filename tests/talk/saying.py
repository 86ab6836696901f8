"""Lines said to the real turn one after another, and what came back as text."""

from __future__ import annotations

from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import State
from bot.talk.turn import Turn, turn


def said(lines: list[str], knowledge: Knowledge, state: State | None = None) -> Turn:
    """The turn of the last line, all of them said in order."""
    done = Turn(state or State(), ())
    for line in lines:
        done = turn(done.state, Said(line), knowledge)
    return done


def text_of(done: Turn) -> str:
    """The replies of a turn, a line each."""
    return "\n".join(line.text for line in done.replies)
