"""The state as others read it: one JSON object a turn, the power path, readings, likely causes."""

from __future__ import annotations

from typing import Any

from bot.frozen import dataclass
from bot.reason.chances import ELSE, discrete, row_of, standing
from bot.safety.holds import holds_before
from bot.talk.asked import sum_asking
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, value_words
from bot.talk.state import Found, Stage, State

_PATH = (
    "battery",
    "fuse",
    "switch",
    "relay",
    "motor",
    "gearbox",
    "cross shaft",
    "left leg",
    "right leg",
    "foot",
    "ground",
)
_SAYS_LITTLE = {
    "legs_moving",
    "direction_that_works",
    "button_response",
    "gear",
    "support",
}  # no test of one link
_NOT_FITTED = {
    "manual": {"battery", "fuse", "switch", "relay", "motor", "ground"},
    "two_motor": {"cross shaft"},
}


def chances_of(state: State, knowledge: Knowledge) -> list[tuple[str, float]]:
    """(cause, chance), best first, "something else" last of its weight; empty before anything was said."""
    now = standing(knowledge.model, state.findings(), state.tried)
    pairs = zip(knowledge.model.names, now.chances, strict=True)
    return sorted(pairs, key=lambda pair: -pair[1])


def documents_of(state: State, knowledge: Knowledge) -> list[str]:
    """Page ids worth opening now, best first: the verdict's, the leading causes' procedures, what the search found."""
    ids: list[str] = [state.walk.document] if state.walk else []
    if state.verdict:
        ids.append(state.verdict.document)
    if state.stage is Stage.OUTSIDE or not state.found:
        ids += state.documents
    else:
        gear = state.value("gear")
        for name, chance in chances_of(state, knowledge)[:3]:
            if name != ELSE and chance > 0.1:
                procedure = knowledge.procedure_for(name, str(gear) if gear else None)
                ids += [procedure.id] if procedure else []
                ids.append(knowledge.causes[name].page.id)
        ids += state.documents
    return [i for i in dict.fromkeys(ids) if i in knowledge.pages][:8]


def as_json(state: State, replies: tuple[Line, ...], knowledge: Knowledge) -> dict[str, Any]:
    """The object of one turn, as other programs read it."""
    asking = state.asking if state.sum is None else sum_asking(state)
    holds: list[dict[str, Any]] = []
    step = None
    if state.walk is not None and state.stage in (Stage.HELD, Stage.REPAIRING):
        procedure = knowledge.procedures[state.walk.document]
        if state.walk.step <= len(procedure.steps):
            step = {"document": procedure.id, "number": state.walk.step}
            holds = [
                {"hold": h.name, "open": h.key in state.walk.opened}
                for h in holds_before(procedure, state.walk.step, state.conditions)
            ]
    spoken = state.turn > 0
    return {
        "turn": state.turn,
        "say": [line.text for line in replies],
        "roles": [line.role for line in replies],
        "asking": None
        if asking is None
        else {
            "finding": asking.finding,
            "kind": asking.kind,
            "unit": asking.unit or None,
            "choices": list(asking.choices) if asking.kind == "choice" else [],
        },
        "alert": state.alert or None,
        "findings": {f.name: _value(f.value) for f in state.found},
        "causes": [
            {"cause": name, "chance": round(chance, 4)}
            for name, chance in chances_of(state, knowledge)
            if name != ELSE and chance > 0
        ]
        if spoken
        else [],
        "documents": [{"id": i, "title": knowledge.pages[i].title} for i in documents_of(state, knowledge)]
        if spoken
        else [],
        "verdict": None
        if state.verdict is None
        else {
            "cause": state.verdict.cause,
            "chance": round(state.verdict.chance, 4),
            "document": state.verdict.document,
        },
        "holds": holds,
        "step": step,
        "stage": state.stage.value,
        "support": state.support,
        "closed": state.stage is Stage.CLOSED,
    }


def _value(value: str | float) -> Any:
    if isinstance(value, float):
        return round(value, 6)
    return {"yes": True, "no": False}.get(value, value)


@dataclass(frozen=True)
class Link:
    """One link of the power path and how it stands: sound, suspect, untested, not fitted."""

    name: str
    state: str
    chance: float
    findings: tuple[str, ...]


def _speaks_against(found: Found, gear: str | None, knowledge: Knowledge) -> bool:
    """Whether a finding at a link is at least twice as likely under a cause of that link as under the others.

    A link with such a finding is never shown as sound, however little its causes weigh beside others.
    """
    check, model = knowledge.checks.get(found.name), knowledge.model
    answer = discrete(model, found.name, found.value) if check is not None else None
    if check is None or answer is None:
        return False
    row = row_of(model, found.name, answer, gear)
    here = [row[i] for i, c in enumerate(model.causes) if c.link == check.link]
    elsewhere = [row[i] for i, c in enumerate(model.causes) if c.link != check.link]
    return bool(here) and max(here) >= 2 * sum(elsewhere) / max(1, len(elsewhere))


def power_path(state: State, knowledge: Knowledge) -> tuple[Link, ...]:
    """The path from battery to foot as fitted to the gear, each link with the findings behind it."""
    gear = state.value("gear")
    missing = _NOT_FITTED.get(str(gear), set())
    by_link: dict[str, float] = {}
    for name, chance in chances_of(state, knowledge):
        if name != ELSE:
            link = knowledge.causes[name].link
            by_link[link] = by_link.get(link, 0.0) + chance
    spoken: dict[str, list[str]] = {}
    tested: set[str] = set()
    for found in state.found:
        check = knowledge.checks.get(found.name)
        if check is not None:
            if found.name not in _SAYS_LITTLE:
                tested.add(check.link)
            spoken.setdefault(check.link, []).append(
                f"{check.page.title}: {value_words(check, found.value, state.units)}"
            )
    moving = state.value("legs_moving")
    doubted = {
        knowledge.checks[f.name].link
        for f in state.found
        if f.name not in _SAYS_LITTLE and _speaks_against(f, str(gear) if gear else None, knowledge)
    }
    links = []
    for name in _PATH:
        link = "leg" if name in ("left leg", "right leg") else name
        chance = by_link.get(link, 0.0) + (by_link.get("supply wire", 0.0) if name == "fuse" else 0.0)
        heard = tuple(spoken.get(link, ()))
        side = name.split(" ")[0]
        if name in missing:
            standing_now = "not fitted"
        elif link == "leg" and moving in ("both", side):
            standing_now = "sound" if chance < 0.3 or moving == side else "suspect"
        elif (chance >= 0.2 and state.found) or link in doubted:
            standing_now = "suspect"
        elif (
            name == "motor"
            and state.value("button_response") == "motor_runs"
            and chance < 0.15
            or link in tested
            and chance < 0.08
        ):
            standing_now = "sound"
        else:
            standing_now = "untested"
        links.append(Link(name, standing_now, chance, heard))
    return tuple(links)


def path_line(state: State, knowledge: Knowledge) -> str:
    """The power path as one line of text."""
    marks = {"sound": "+", "suspect": "!", "untested": "?", "not fitted": "-"}
    parts = [
        f"{link.name} {marks[link.state]}{link.state}"
        for link in power_path(state, knowledge)
        if link.state != "not fitted"
    ]
    return "Power path: " + " > ".join(parts)
