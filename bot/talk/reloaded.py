"""A case that goes on over pages that have changed since: nothing that was seen under the old ones counts."""

from __future__ import annotations

from bot.frozen import replace
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.repair import shut_all
from bot.talk.state import Stage, State


def over_these_pages(state: State, knowledge: Knowledge) -> tuple[State, tuple[Line, ...]]:
    """The state as these pages can go on with it, and what to say where something had to be dropped.

    A procedure whose page reads otherwise than when its walk began starts again at its first step, every stop shut;
    one that is gone is left. Parts that may be off the trailer stay remembered. What was found by a check that is
    gone stays in the record's lines, and is not reckoned with.
    """
    lines: list[Line] = []
    walk, verdict = state.walk, state.verdict
    if walk is not None and walk.document not in knowledge.procedures:
        state = _left(replace(state, off=state.off | walk.off))
        lines.append(Line("note", f"The page {walk.document} is gone from this corpus, so its walk is left."))
    elif walk is not None and walk.digest != knowledge.procedures[walk.document].page.digest:
        digest = knowledge.procedures[walk.document].page.digest
        state = shut_all(replace(state, walk=replace(walk, step=1, digest=digest)))
        if state.stage is Stage.PROVING:
            state = replace(state, stage=Stage.REPAIRING)
        lines.append(
            Line("note", f"The page {walk.document} was changed since: it begins again, with every stop.")
        )
    elif verdict is not None and (
        verdict.cause not in knowledge.causes or verdict.document not in knowledge.pages
    ):
        state = _left(state)
    gone = [f.name for f in state.found if f.name not in knowledge.checks]
    if gone:
        state = replace(state, found=tuple(f for f in state.found if f.name in knowledge.checks))
        lines.append(Line("note", "No page of this corpus asks for " + ", ".join(gone) + ": left out."))
    return state, tuple(lines)


def _left(state: State) -> State:
    """The state without its repair; a danger that stands, or a case that is closed, stays what it is."""
    state = replace(state, walk=None, verdict=None)
    if state.stage in (Stage.DANGER, Stage.CLOSED):
        return state
    return replace(state, stage=Stage.ASKING, asking=None)
