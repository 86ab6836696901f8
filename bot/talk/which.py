"""Two answers that do not go together: the question that names both, and what its answer does.

It is asked once for a pair. The answer that is taken back is left out as if it had not been given; nothing else changes.
"""

from __future__ import annotations

import re

from bot.frozen import replace
from bot.reason.chances import Standing
from bot.reason.conflict import contradiction
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, found_words
from bot.talk.state import Asking, Stage, State

WHICH = "which_holds"
_MOST = 1  # such questions in one conversation
_CHOICES = ("first", "second", "both", "neither")
_SAID = {
    "first": re.compile(r"\b(first|former|1|one|1st)\b", re.I),
    "second": re.compile(r"\b(second|latter|2|two|2nd|last)\b", re.I),
    "both": re.compile(r"\bboth\b", re.I),
    "neither": re.compile(r"\b(neither|none)\b", re.I),
}


def in_doubt(state: State, now: Standing, knowledge: Knowledge) -> State | None:
    """The state with the question of two answers that no cause explains together; None where there is none."""
    if len(state.settled) >= _MOST:
        return None
    pair = contradiction(knowledge.model, now, state.findings(), frozenset(state.settled))
    if pair is None:
        return None
    asking = Asking(WHICH, "choice", "", _CHOICES)
    return replace(state, stage=Stage.ASKING, asking=asking, reason=(), settled=(*state.settled, pair))


def which_lines(state: State, knowledge: Knowledge) -> tuple[Line, ...]:
    """The question, with both answers as they were told."""
    told = []
    for name in state.settled[-1]:
        found = next((f for f in state.found if f.name == name), None)
        if found is not None:
            said = f' (you said "{found.words.strip()[:60]}")' if found.words.strip() else ""
            told.append(found_words(found, state, knowledge).rstrip(".") + said)
    return (
        Line("ask", f"Two answers do not go together. First: {told[0]}. Second: {told[1]}. Which of them holds now?"),
        Line("choices", "Say: first, second, both, neither, or don't know. Or say the right one anew."),
    )  # fmt: skip


def why_which() -> Line:
    """Why it asks."""
    return Line(
        "say",
        "Because under no fault I know do both show together, so one of them was misread, mistyped or has changed. "
        "I would rather ask than reckon with both.",
    )


def answered_which(state: State, text: str) -> tuple[State, Line] | None:
    """The state after the answer, and what was taken down; None where the line is no answer to it."""
    said = [name for name, pattern in _SAID.items() if pattern.search(text)]
    if len(said) != 1 or len(text.split()) > 6 or not state.settled:
        return None
    first, second = state.settled[-1]
    dropped = {"first": (second,), "second": (first,), "both": (), "neither": (first, second)}[said[0]]
    state = replace(
        state, asking=None, missed=0, found=tuple(f for f in state.found if f.name not in dropped),
        unknown=tuple(dict.fromkeys((*state.unknown, *dropped))),
    )  # fmt: skip
    words = {0: "both hold", 1: f"the {said[0]} holds; the other is left out", 2: "both are left out"}
    return state, Line("taken", f"Taken down: {words[len(dropped)]}.")
