"""Plays a recorded complaint to the real turn as a caller would: answers what the case knows, else "don't know"."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from bot.shells.session import Session
from bot.talk.knowledge import Knowledge
from bot.talk.view import as_json


@dataclass
class Played:
    """What came of one call."""

    alert: str | None = None
    asked: list[str] = field(default_factory=list)
    repeated: int = 0
    verdicts: list[str] = field(default_factory=list)
    first: dict[str, Any] = field(default_factory=dict)


def _moves(known: dict[str, Any]) -> str:
    sides = (known.get("left_leg_moves"), known.get("right_leg_moves"))
    moves: dict[Any, str] = {
        (True, True): "both",
        (True, False): "left",
        (False, True): "right",
        (False, False): "neither",
    }
    return moves.get(sides, "don't know")


def _sounds(known: dict[str, Any]) -> str:
    for key, word in (
        ("motor_spins", "motor_runs"),
        ("motor_hums", "hums"),
        ("clicks_when_button_pressed", "clicks"),
    ):
        if known.get(key) is True:
            return word
    return "silent" if known.get("clicks_when_button_pressed") is False else "don't know"


def reply(case: dict[str, Any], asking: dict[str, Any]) -> str:
    """What this caller says to a question."""
    known = {**case.get("given", {}), **case.get("answers", {})}
    name = asking["finding"]
    if asking["kind"] == "hold":
        return "yes"
    if name == "gear":
        return "don't know" if case["gear"] == "unknown" else str(case["gear"])
    if name == "legs_moving":
        return _moves(known)
    if name == "button_response":
        return _sounds(known)
    if name == "direction_that_works":
        return str(
            known.get("works_direction")
            or {"neither": "neither", "both": "both"}.get(_moves(known), "don't know")
        )
    if name == "support":
        return "legs" if known.get("hitched") is False else "hitched"
    if name not in known:
        return "yes" if name in ("hitched", "kingpin_locked") else "don't know"
    value = known[name]
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value} {asking.get('unit') or ''}".strip()


def play(case: dict[str, Any], knowledge: Knowledge, most: int = 30) -> Played:
    """The whole call: up to three verdicts, each wrong one tried in vain."""
    session, out = Session(knowledge, None), Played()
    truth = {case["cause"], case.get("cause2")}

    def say(text: str) -> dict[str, Any]:
        turned = session.hear(text)
        assert turned.replies, text
        return as_json(session.state, turned.replies, knowledge)

    said = out.first = say(case["complaint"])
    out.alert = said["alert"]
    while not (said["closed"] or said["alert"] or len(out.asked) >= most or not said["asking"]):
        if said["verdict"]:
            out.verdicts.append(said["verdict"]["cause"])
            if out.verdicts[-1] in truth or len(out.verdicts) == 3:
                break
            said = say("that did not fix it")
            continue
        name = said["asking"]["finding"]
        out.repeated += name in out.asked
        out.asked.append(name)
        said = say(reply(case, said["asking"]))
        out.alert = out.alert or said["alert"]
    return out
