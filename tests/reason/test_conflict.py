"""Answers that cannot both be so are asked about, naming both; a rare fault that explains two answers is no contradiction.

The pairs are physics: a silent press moves nothing, a motor with no volts does not run, a bar does not turn from a motor
that stands. The score's published value stands in test_exact.py.
"""

from __future__ import annotations

import pytest

from bot.reason.chances import standing
from bot.reason.conflict import contradiction, unexplained
from bot.shells.session import Session
from bot.talk.knowledge import Knowledge
from bot.talk.which import WHICH

Pair = tuple[str, str | float, str, str | float]
IMPOSSIBLE: list[Pair] = [
    ("button_response", "motor_runs", "volts_motor_loaded", 0.1),
    ("button_response", "motor_runs", "volts_motor_loaded", 0.6),
    ("button_response", "motor_runs", "amps", 0.0),
    ("button_response", "silent", "legs_moving", "both"),
    ("button_response", "clicks", "legs_moving", "both"),
    ("button_response", "hums", "legs_moving", "both"),
    ("button_response", "hums", "direction_that_works", "both"),
    ("button_response", "silent", "cross_shaft_turns", "yes"),
    ("button_response", "clicks", "cross_shaft_turns", "yes"),
    ("legs_moving", "both", "volts_motor_loaded", 0.1),
    ("legs_moving", "both", "amps", 0.0),
    ("legs_moving", "both", "direction_that_works", "neither"),
    ("legs_moving", "neither", "direction_that_works", "both"),
    ("legs_moving", "neither", "cross_shaft_turns", "yes"),
    ("legs_moving", "neither", "far_leg_input_shaft_turns", "yes"),
]
# A fault explains these, however rare it is: a sheared shaft, a dead motor on good volts, a parted bar, a bad ground.
EXPLAINED: list[Pair] = [
    ("button_response", "motor_runs", "legs_moving", "neither"),
    ("button_response", "silent", "volts_motor_loaded", 12.4),
    ("button_response", "motor_runs", "far_leg_input_shaft_turns", "no"),
    ("button_response", "clicks", "volts_ground_drop", 11.0),
    ("legs_moving", "left", "cross_shaft_turns", "yes"),
    ("volts_battery_resting", 12.6, "volts_motor_loaded", 2.0),
    ("button_response", "silent", "fuse_ok", "no"),
]


@pytest.mark.parametrize("pair", IMPOSSIBLE, ids=[f"{a}={b} {c}={d}" for a, b, c, d in IMPOSSIBLE])
def test_two_answers_that_cannot_both_be_so_are_named(pair: Pair, knowledge: Knowledge) -> None:
    one, first, other, second = pair
    findings = {"gear": "one_motor", one: first, other: second}
    now = standing(knowledge.model, findings)
    assert contradiction(knowledge.model, now, findings) == (one, other)


@pytest.mark.parametrize("pair", EXPLAINED, ids=[f"{a}={b} {c}={d}" for a, b, c, d in EXPLAINED])
def test_two_answers_that_a_fault_explains_are_not_asked_about(pair: Pair, knowledge: Knowledge) -> None:
    one, first, other, second = pair
    findings = {"gear": "one_motor", one: first, other: second}
    assert unexplained(knowledge.model, findings, one, other) < 0.05
    assert contradiction(knowledge.model, standing(knowledge.model, findings), findings) is None


def _heard(knowledge: Knowledge, *lines: str) -> tuple[Session, str]:
    session, said = Session(knowledge, None), ""
    for line in lines:
        said = " ".join(r.text for r in session.hear(line).replies)
    return session, said


START = ("hitched, jaws locked", "one motor with a bar between the legs")
DOUBT = ("total silence when I push the button", *START, "both legs are moving fine")


def test_question_names_both_answers_in_the_words_they_were_told(knowledge: Knowledge) -> None:
    session, said = _heard(knowledge, *DOUBT)
    assert session.state.asking is not None
    assert session.state.asking.finding == WHICH
    assert "do not go together" in said
    assert "both legs move" in said.lower()
    assert "nothing" in said.lower()


def test_answer_taken_back_leaves_what_a_fresh_conversation_has(knowledge: Knowledge) -> None:
    session, _ = _heard(knowledge, *DOUBT, "second")
    fresh, _ = _heard(knowledge, "both legs are moving fine", *START)
    assert session.state.value("button_response") is None
    mine = standing(knowledge.model, session.state.findings()).chances
    assert mine == pytest.approx(standing(knowledge.model, fresh.state.findings()).chances, abs=1e-12)


@pytest.mark.parametrize("line", ["both", "don't know", "skip"])
def test_pair_is_asked_about_once_whatever_was_answered(line: str, knowledge: Knowledge) -> None:
    session, said = _heard(knowledge, *DOUBT, line)
    assert session.state.asking is not None
    assert session.state.asking.finding != WHICH
    assert "do not go together" not in said
    assert session.state.value("legs_moving") == "both"


def test_right_answer_said_anew_settles_it(knowledge: Knowledge) -> None:
    session, said = _heard(knowledge, *DOUBT, "no, the motor runs")
    assert session.state.value("button_response") == "motor_runs"
    assert "do not go together" not in said
