"""Rules of thumb that are wrong, put right once in a conversation. Words and texts live in corpus/words/sums.md."""

from __future__ import annotations

from bot.frozen import replace
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import State
from bot.talk.understand import Meaning
from bot.units import scan

_OWN = "own case"  # words that say the line tells of this trailer, not of trailers at large


def folk_lines(state: State, meaning: Meaning, knowledge: Knowledge) -> tuple[State, list[Line], bool]:
    """The state, the correction of a wrong rule the line leans on, and whether it was said of trailers at large.

    What is said at large ("a longer wire blows fuses") is no finding of this trailer.
    """
    heard = [h for h in meaning.heard if h.kind == "folk" and h.value != _OWN and not h.negated]
    for h in heard:
        notes = knowledge.reader.lexicon.notes("folk: " + h.value)
        if "needs" in notes and not _leans(meaning):
            continue
        at_large = not any(o.kind == "folk" and o.value == _OWN for o in meaning.heard)
        if h.value in state.corrected:
            return state, [], at_large
        lines = [Line("say", notes["says"]), Line("note", f"What to do: {notes['do']}")]
        return replace(state, corrected=(*state.corrected, h.value)), lines, at_large
    return state, [], False


def _leans(meaning: Meaning) -> bool:
    """Whether a line names its rating: the same amps twice, or the word itself."""
    amps = [q.value for q in scan(meaning.spelt) if q.unit == "A"]
    return len(amps) != len(set(amps)) or any(t.text in ("rating", "rated") for t in meaning.line)
