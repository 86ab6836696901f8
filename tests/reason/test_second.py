"""A second cause after a repair that helped: what the first explained is asked for again, the rest stays."""

from bot.reason.chances import Findings, standing
from bot.reason.second import explained
from bot.shells.session import Session
from bot.talk.knowledge import Knowledge
from bot.talk.view import as_json

COMPLAINT = (
    "the motor is slow, both legs move, one motor, truck is hitched. 4 volts lost on the ground side with the "
    "button held. battery 12.6 at rest"
)


def test_what_a_mended_ground_explains_is_stale_and_the_rest_is_not(knowledge: Knowledge) -> None:
    findings: Findings = {
        "gear": "one_motor",
        "support": "hitched",
        "motor_slow": "yes",
        "ground_clean": "no",
        "volts_ground_drop": 4.0,
        "volts_battery_resting": 12.0,
        "stood_unused_long": "yes",
        "crank_turns_freely": "no",
    }
    stale = explained(knowledge.model, findings, "bad_ground")
    assert {"motor_slow", "ground_clean", "volts_ground_drop"} <= stale
    # A stiff crank is no work of a poor ground, the battery at rest is not changed by it, the nose stands as it stood.
    assert not stale & {"gear", "support", "crank_turns_freely", "volts_battery_resting"}


def test_the_battery_at_rest_is_stale_after_the_battery_alone(knowledge: Knowledge) -> None:
    findings: Findings = {"gear": "one_motor", "volts_battery_resting": 11.2}
    assert "volts_battery_resting" in explained(knowledge.model, findings, "battery_discharged")
    assert "volts_battery_resting" not in explained(knowledge.model, findings, "leg_bent")


def test_a_cause_unknown_explains_nothing(knowledge: Knowledge) -> None:
    assert explained(knowledge.model, {"motor_slow": "yes"}, "no_such_cause") == frozenset()


def _until_verdict(session: Session, knowledge: Knowledge) -> dict[str, object]:
    said: dict[str, object] = {}
    for line in (COMPLAINT, "no", *["don't know"] * 12):  # "no": the ground is not clean
        if session.state.verdict is not None:
            break
        done = session.hear(line)
        said = as_json(session.state, done.replies, knowledge)
    return said


def test_helped_but_not_fixed_looks_for_another_cause(knowledge: Knowledge) -> None:
    session = Session(knowledge, None)
    said = _until_verdict(session, knowledge)
    verdict = said["verdict"]
    assert isinstance(verdict, dict)
    assert verdict["cause"] == "bad_ground"
    session.hear("that helped but it is not fixed")
    left = session.state.findings()
    assert session.state.tried == ("bad_ground",)
    assert not {"volts_ground_drop", "ground_clean", "motor_slow"} & set(left)
    assert left["gear"] == "one_motor"
    assert left["support"] == "hitched"
    # What is told now is weighed as in a conversation in which the old readings never were.
    session.hear("still slow, and now 0.1 volts lost on the ground side")
    session.hear("leg squeals")
    now = session.state.findings()
    assert now["volts_ground_drop"] == 0.1
    chances = standing(knowledge.model, now, session.state.tried).chances
    assert chances[knowledge.model.index["bad_ground"]] < 0.05
    assert chances[knowledge.model.index["leg_binding"]] > 0.3


def test_not_fixed_at_all_keeps_every_finding(knowledge: Knowledge) -> None:
    session = Session(knowledge, None)
    _until_verdict(session, knowledge)
    before = session.state.findings()
    session.hear("that did not fix it")
    assert session.state.findings() == before
    assert session.state.tried == ("bad_ground",)
