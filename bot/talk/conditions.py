"""Where and when the work is done: dark, rain, slope, soft ground, traffic, no stands.

The words, and what can still be done, lie in corpus/words (``condition: dark`` with ``can``, ``cannot`` and
``call``; ``ends`` where words end a condition). A condition adds stops to the steps of a walk, see
`bot.safety.rules.Rule.where`; it takes none away.
"""

from __future__ import annotations

from bot.frozen import replace
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.repair import shut_all
from bot.talk.state import State
from bot.talk.understand import Meaning

PAGE = "bad-conditions"
_SHOWN = (
    2  # what can be done is said in full for so many at once; for the rest there are their names and the page
)


def said(meaning: Meaning, knowledge: Knowledge) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The conditions that a line says hold, and those it says are over."""
    begun: list[str] = []
    over: list[str] = []
    for heard in meaning.heard:
        if heard.kind != "condition":
            continue
        ends = knowledge.reader.lexicon.notes("condition: " + heard.value).get("ends")
        if ends is not None and not heard.negated:
            over += [one.strip() for one in ends.split(",")]
        elif ends is None:
            (over if heard.negated else begun).append(heard.value)
    return tuple(dict.fromkeys(b for b in begun if b not in over)), tuple(dict.fromkeys(over))


def hear(state: State, meaning: Meaning, knowledge: Knowledge) -> tuple[State, tuple[Line, ...]]:
    """The state with the conditions of a line, and what to say of those that are new or over.

    A change shuts every stop of a walk: what was seen was seen under other conditions. In a line that tells other
    things as well a condition is only taken down; what goes and what does not comes when it is asked for, before
    a repair, and at its stop.
    """
    begun, over = said(meaning, knowledge)
    new = tuple(c for c in begun if c not in state.conditions)
    gone = tuple(c for c in state.conditions if c in over)
    if not new and not gone:
        return state, ()
    kept = (*(c for c in state.conditions if c not in gone), *new)
    state = shut_all(replace(state, conditions=kept))
    lines = [Line("taken", "Changed: " + ", ".join(gone) + " is over.")] if gone else []
    if new:
        lines.append(Line("taken", "Taken down: " + ", ".join(new) + "."))
    if new and alone(meaning):
        lines += what_goes(new, knowledge)
    elif new:
        lines.append(Line("note", "For what still goes in that, say: what can I do here."))
    return state, tuple(lines)


def alone(meaning: Meaning) -> bool:
    """Whether a line says nothing else that wants an answer."""
    return not (meaning.facts or meaning.answer or set(meaning.intents) - {"small talk"})


def what_goes(names: tuple[str, ...], knowledge: Knowledge) -> list[Line]:
    """What goes in those conditions and what does not; past the second the page says it."""
    lines: list[Line] = []
    for name in names[:_SHOWN]:
        lines += told(name, knowledge)
    if len(names) > _SHOWN and PAGE in knowledge.pages:
        lines.append(Line("note", f"For {', '.join(names[_SHOWN:])}: read {PAGE}."))
    return lines


def before_work(state: State, knowledge: Knowledge) -> list[Line]:
    """What does not go in the conditions that hold, a line each, before a repair begins."""
    found = []
    for name in state.conditions:
        cannot = knowledge.reader.lexicon.notes("condition: " + name).get("cannot")
        if cannot:
            found.append(Line("note", f"{name.capitalize()}, so leave out: {cannot}"))
    return found


def told(name: str, knowledge: Knowledge) -> list[Line]:
    """What can still be done in that condition, what cannot, and whom to call: three short lines."""
    notes = knowledge.reader.lexicon.notes("condition: " + name)
    heads = {"can": f"Still goes ({name})", "cannot": "Does not", "call": "Call"}
    return [Line("note", f"{head}: {notes[label]}") for label, head in heads.items() if label in notes]
