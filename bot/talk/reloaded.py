"""A case that goes on over pages that have changed since: nothing that was seen under the old ones counts."""

from __future__ import annotations

from bot.frozen import replace
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Stage, State, Walk


def over_these_pages(state: State, knowledge: Knowledge) -> tuple[State, tuple[Line, ...]]:
    """The state as these pages can go on with it, and what to say where something had to be dropped.

    A procedure whose page reads otherwise than when its walk began starts again at its first step, every stop shut;
    one that is gone is left. Parts that may be off the trailer stay remembered. What was found by a check that is
    gone stays in the record's lines, and is not reckoned with.
    """
    lines: list[Line] = []
    walk = state.walk
    if walk is not None and walk.document not in knowledge.procedures:
        state = replace(
            state, walk=None, verdict=None, stage=Stage.ASKING, asking=None, off=state.off | walk.off
        )
        lines.append(Line("note", f"The page {walk.document} is gone from this corpus, so its walk is left."))
    elif walk is not None and walk.digest != knowledge.procedures[walk.document].page.digest:
        fresh = Walk(walk.document, 1, off=walk.off, digest=knowledge.procedures[walk.document].page.digest)
        stage = Stage.REPAIRING if state.stage in (Stage.HELD, Stage.PROVING) else state.stage
        state = replace(state, walk=fresh, stage=stage)
        lines.append(
            Line("note", f"The page {walk.document} was changed since: it begins again, with every stop.")
        )
    verdict = state.verdict
    if verdict is not None and (
        verdict.cause not in knowledge.causes or verdict.document not in knowledge.pages
    ):
        state = replace(state, verdict=None, walk=None, stage=Stage.ASKING, asking=None)
    gone = [f.name for f in state.found if f.name not in knowledge.checks]
    if gone:
        state = replace(state, found=tuple(f for f in state.found if f.name in knowledge.checks))
        lines.append(Line("note", "No page of this corpus asks for " + ", ".join(gone) + ": left out."))
    return state, tuple(lines)
