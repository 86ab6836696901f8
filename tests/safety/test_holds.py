"""The stops before a step: which, in which order, with which proof, and what opens them.

29 CFR 1910.147(d), (e) (the latter from memory): a control is put on and tried before the work, and what takes it off is a step of its
own with people clear. Steps are made up here; the stops expected follow from the labels by that rule.
"""

from __future__ import annotations

import pytest

from bot.safety.holds import Hold, hazards_at, holds_before, proof_before, shut_before
from bot.safety.rules import RULES
from tests.safety.pages import controls, page, step

CHOCKED = step(makes_safe=("rolling",), done_when="the chocks sit tight")
AGAIN = step(makes_safe=("rolling",), done_when="the brake is set too")
ROLLS = step(hazards=("rolling", "person under the nose"))


def test_the_proof_is_the_latest_step_that_made_it_safe() -> None:
    made = page(CHOCKED, AGAIN, ROLLS)
    assert proof_before(made, 3, "rolling") is made.steps[1]
    assert proof_before(made, 2, "rolling") is made.steps[0]


def test_a_step_is_no_proof_of_itself() -> None:
    made = page(CHOCKED, ROLLS)
    assert proof_before(made, 1, "rolling") is None
    assert proof_before(made, 2, "rolling") is made.steps[0]


def test_a_control_of_another_hazard_is_no_proof() -> None:
    assert proof_before(page(CHOCKED, ROLLS), 2, "motor start") is None


def test_what_was_undone_is_proved_no_more_until_it_is_made_safe_anew() -> None:
    made = page(CHOCKED, step(undoes=("rolling",)), ROLLS, AGAIN, ROLLS)
    assert proof_before(made, 2, "rolling") is made.steps[0]
    assert proof_before(made, 3, "rolling") is None
    assert proof_before(made, 4, "rolling") is None
    assert proof_before(made, 5, "rolling") is made.steps[3]


def test_undoing_another_control_leaves_this_one() -> None:
    made = page(CHOCKED, step(makes_safe=("motor start",)), step(undoes=("motor start",)), ROLLS)
    assert proof_before(made, 4, "rolling") is made.steps[0]


def test_the_hazards_are_those_of_the_step_itself() -> None:
    made = page(step(hazards=("hot part",)), step(hazards=("live circuit",)), step(hazards=("traffic",)))
    assert [hazards_at(made, number) for number in (1, 2, 3)] == [
        ("hot part",),
        ("live circuit",),
        ("traffic",),
    ]


def test_the_stops_come_in_the_order_of_the_rules_not_as_written_nor_by_the_alphabet() -> None:
    made = page(step(hazards=("heavy part", "hot part", "live circuit", "ground giving way")))
    assert [hold.hazard for hold in holds_before(made, 1)] == [
        *("live circuit", "hot part", "ground giving way", "heavy part")
    ]


def test_a_stop_asks_the_question_of_its_rule_shows_the_proof_and_names_its_sum() -> None:
    made = page(
        step(makes_safe=("ground giving way",), done_when="no pad rocks"),
        step(hazards=("ground giving way",)),
    )
    rule = RULES["ground giving way"]
    assert holds_before(made, 2) == (
        Hold("ground carries it", "ground giving way", rule.question, 2, False, "no pad rocks", "foot"),
    )


def test_a_stop_without_a_step_that_proves_it_shows_no_proof() -> None:
    (hold,) = holds_before(page(step(hazards=("heavy part",))), 1)
    assert (hold.proof, hold.sum, hold.undoing, hold.step) == ("", "carry", False, 1)


def test_the_step_that_makes_a_hazard_safe_is_not_stopped_by_it_and_the_other_stops_stay() -> None:
    made = page(step(hazards=("raised nose", "rolling", "motor start"), makes_safe=("rolling",)))
    assert [hold.hazard for hold in holds_before(made, 1)][:2] == ["raised nose", "motor start"]
    assert "rolling" not in [hold.hazard for hold in holds_before(made, 1)]


def test_a_step_without_labels_has_no_stop() -> None:
    assert holds_before(page(step(no_hazard_because="it is only looked at")), 1, ("dark", "slope")) == ()


def test_taking_a_control_away_is_asked_about_last_in_the_order_of_the_rules() -> None:
    """Before re-energizing, people are clear: 29 CFR 1910.147(e), from memory."""
    made = page(
        *controls("raised nose", "motor start", "live circuit"),
        step(hazards=("traffic",), undoes=("live circuit", "motor start", "raised nose")),
    )
    holds = holds_before(made, 4)
    assert [(hold.hazard, hold.undoing) for hold in holds] == [
        ("traffic", False),
        ("raised nose", True),
        ("motor start", True),
        ("live circuit", True),
    ]
    assert [hold.question for hold in holds[1:]] == [RULES[hold.hazard].undo_question for hold in holds[1:]]
    assert holds[2].name == "before motor circuit open ends"


def test_an_answer_that_a_control_is_there_is_none_that_it_may_go() -> None:
    made = page(*controls("motor start"), step(hazards=("motor start",), undoes=("motor start",)))
    there, goes = (hold for hold in holds_before(made, 2) if hold.hazard == "motor start")
    assert there.key == "motor start"
    assert goes.key == "undo 2 motor start"
    assert Hold("x", "rolling", "?", 7).key == "rolling"


@pytest.mark.parametrize(
    ("opened", "left"),
    [
        (set(), ["live circuit", "hot part"]),
        ({"live circuit"}, ["hot part"]),
        ({"hot part"}, ["live circuit"]),
        ({"live circuit", "hot part"}, []),
        ({"rolling", "undo 1 hot part"}, ["live circuit", "hot part"]),  # other answers open nothing here
    ],
)
def test_a_stop_stays_shut_until_its_own_answer(opened: set[str], left: list[str]) -> None:
    made = page(step(hazards=("hot part", "live circuit")))
    assert [hold.hazard for hold in shut_before(made, 1, frozenset(opened))] == left


def test_where_one_stands_adds_its_stop_and_it_is_shut_like_any_other() -> None:
    made = page(step(hazards=("hot part",)))
    assert [hold.hazard for hold in shut_before(made, 1, frozenset(), ("dark",))] == ["hot part", "bad light"]
    assert [hold.hazard for hold in shut_before(made, 1, frozenset({"hot part"}), ("dark",))] == ["bad light"]
    assert shut_before(made, 1, frozenset({"hot part"})) == ()
