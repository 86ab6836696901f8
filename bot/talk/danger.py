"""Emergencies: what to do this minute, in a few short lines, and staying there until it is answered."""

from __future__ import annotations

from bot.frozen import dataclass, replace
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Asking, Stage, State
from bot.talk.understand import Meaning

# At most four short lines each, in the order a frightened person can follow. Common practice, no source, but
# "nobody under a load held by a jack alone" is WAC 296-307-22509(3).
_ACTIONS: dict[str, tuple[str, ...]] = {
    "person hurt": (
        "Call your local emergency number now: somebody is caught or hurt, and where you are.",
        "Press no button, turn no crank. Do not lift it with what failed; drag nobody.",
        "Keep everybody else out from under it. Stay beside them; press on what bleeds.",
        "Tell me when help has come, or everybody is out and safe.",
    ),
    "nose dropped": (
        "Everybody away from the nose, and out of the trailer by the far door. Nobody under it.",
        "Press nothing. Do not raise it with the jack or leg that failed.",
        "Hurt, shut in, or still moving: your local emergency number. Else a recovery service.",
        "Tell me when all are clear and the truck or solid blocks hold the nose.",
    ),
    "smoke or runaway": (
        "Let go and step back. Flames or thick smoke: all out, local emergency number, stay out.",
        "Else take the lead off the battery's minus post, or the fuse, if no wire there is hot.",
        "Do not press the button again. Legs still moving: nobody near the nose.",
        "Tell me when it is dead and cooling, or that you cannot get to the battery.",
    ),
    "jaws not locked": (
        "Do not pull away, do not raise the legs. Nobody under the nose or behind the truck.",
        "Legs up: lower them to firm ground now. Chock the trailer's wheels.",
        "Dropped or hanging: touch nothing, call a recovery service.",
        "Else couple afresh, weight on the legs. Tell me when the jaws are closed, seen and tugged.",
    ),
    "support taken away": (
        "Stop there: no bolt, pin or block comes out, no leg goes up, no truck pulls out.",
        "Everybody out from under the nose. A jack, a machine or people must not hold it.",
        "First the truck goes under: jaws closed, seen and tugged. No truck: call an RV technician.",
        "Tell me when the truck is hitched, or that there is none and all is left as it was.",
    ),
    "person under it": (
        "Out from under it now. Hands off the button, the crank and the truck.",
        "Take the fuse out or the crank off. Keep children and animals away.",
        "Somebody caught: do not lift with what failed; call your local emergency number.",
        "Tell me when everybody is out.",
    ),
}
_ORDER = tuple(_ACTIONS)
_STILL = {
    "person hurt": "Stay with that first: emergency number called, nobody moves the trailer. Has help come, or is everybody out and safe?",
    "nose dropped": "Stay with that first: everybody clear, nothing pressed. Is everybody clear, and is the nose held by the truck or on solid blocks?",
    "smoke or runaway": "Stay with that first: button let go, battery minus off if you can reach it. Is it dead and cooling?",
    "jaws not locked": "Stay with that first: legs down, nobody under it. Are the jaws closed, seen and tugged?",
    "support taken away": "Stay with that first: nothing comes off. Is the truck hitched, jaws closed, or is all left as it was?",
    "person under it": "Stay with that first: get everybody out from under it. Is everybody out?",
}


@dataclass(frozen=True)
class Answer:
    """What a line led to while danger was open."""

    state: State
    lines: tuple[Line, ...]
    over: bool = False


def raise_danger(state: State, meaning: Meaning) -> Answer | None:
    """The emergency of a line, or None. While one is open the same kind is not raised again."""
    kinds = [k for k in _ORDER if k in meaning.dangers]
    if not kinds:
        return None
    kind = kinds[0]
    if state.stage is Stage.DANGER and kind == state.danger:
        return None
    return enter(state, kind)


def enter(state: State, kind: str) -> Answer:
    """The state in danger of that kind, with what to do this minute. Every opened hold shuts."""
    walk = replace(state.walk, opened=frozenset()) if state.walk else None
    state = replace(state, stage=Stage.DANGER, danger=kind, alert="emergency", walk=walk, missed=0, doubt=None,
                    asking=Asking("danger over", "yes_no", "", ("yes", "no")))  # fmt: skip
    return Answer(state, tuple(Line("danger", text) for text in _ACTIONS[kind]))


def danger_answer(state: State, meaning: Meaning, knowledge: Knowledge) -> Answer:
    """Whether the danger is over: only when it is said to be; anything else stays with it."""
    del knowledge
    kind = state.danger or "nose dropped"
    said_yes = meaning.answer == "yes" or meaning.wants("danger over")
    denied = meaning.wants("unsafe") or meaning.answer == "no" or meaning.dangers
    if said_yes and not denied:
        found = state.found
        if kind in ("nose dropped", "jaws not locked", "support taken away", "person under it"):
            found = tuple(f for f in found if f.name not in ("support", "hitched", "kingpin_locked"))
        stage = Stage.ASKING
        state = replace(state, stage=stage, danger="", alert="", asking=None, found=found, walk=None, verdict=None,
                        unknown=tuple(u for u in state.unknown if u != "support"))  # fmt: skip
        return Answer(
            state,
            (
                Line(
                    "say",
                    "Good. The case is kept; we go on only with what is safe, and what holds the nose is asked again.",
                ),
            ),
            over=True,
        )
    missed = state.missed + 1
    state = replace(state, alert="emergency", missed=missed)
    if meaning.wants("why", "how", "help"):
        return Answer(state, tuple(Line("danger", text) for text in _ACTIONS[kind]))
    line = _STILL[kind] if missed % 2 else _ACTIONS[kind][1]
    return Answer(state, (Line("danger", line),))
