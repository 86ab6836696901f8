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
        "Call your local emergency number now. Say: person caught or hurt by a trailer, and where you are.",
        "Do not raise or move the trailer with the jack or leg that failed; do not drag anybody. Keep everybody else out from under it.",
        "Let go of the button, take the key or the fuse. Block what can still move with solid timber from the side, no hand under it.",
        "Stay with them, keep them warm, press on what bleeds. Tell me when help has come or everybody is out and safe.",
    ),
    "nose dropped": (
        "Everybody away from the nose now, and out of the trailer by the door farthest from it. Nobody under it, nobody between truck and trailer.",
        "Chock the wheels if you can do it from the side. Do not raise it with the jack or leg that failed, and do not press the button.",
        "If anybody is hurt or shut in, or it leans or creeps on: call your local emergency number. Else a recovery service that lifts trailers.",
        "Tell me when everybody is clear and the nose is held by the truck or on solid blocks.",
    ),
    "smoke or runaway": (
        "Let go and step back. Pull the lead off the battery's minus post, or the fuse near the battery, if you reach it without touching hot wire.",
        "Flames or thick smoke: everybody out, call your local emergency number, do not go back in.",
        "Do not press the button again. If the legs go on moving, keep everybody out from under the nose.",
        "Tell me when it is dead and cooling, or that you cannot get to the battery.",
    ),
    "jaws not locked": (
        "Do not pull away and do not raise the legs. If the legs are up, lower them to firm ground now.",
        "Keep everybody out from under the nose and from between truck and trailer. Chock the trailer's wheels.",
        "With the weight on the legs, back the truck off a little, look, and couple afresh until the jaws close round the kingpin and stay closed at a gentle tug.",
        "If it has dropped or hangs: touch nothing and call a recovery service. Tell me when the jaws are closed, seen and tugged.",
    ),
    "support taken away": (
        "Leave it as it is: no bolt, pin or block comes out, no leg goes up, no truck pulls out while that part holds the nose.",
        "A jack, bucket or machine alone must not hold it. Keep everybody out from under the nose; chock the wheels.",
        "First the truck goes under: jaws closed round the kingpin, seen by eye, held at a gentle tug. No truck here: leave it and call a certified RV technician.",
        "Tell me when the truck is hitched, or that there is none.",
    ),
    "person under it": (
        "Get them out from under it now, hands off the button. Nobody is under the nose or between truck and trailer while it stands on its legs or a jack.",
        "Take the fuse out or the crank handle off, so that nobody can start it. Keep children and animals away.",
        "If somebody is caught: do not lift it with what failed; call your local emergency number.",
        "Tell me when everybody is out.",
    ),
}  # fmt: skip
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
    state = replace(state, stage=Stage.DANGER, danger=kind, alert="emergency", walk=walk, missed=0,
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
