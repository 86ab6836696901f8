"""Repair order and next question against worked cases of decision-theoretic troubleshooting.

p/c rule: Kadane and Simon 1977; both figures can be brute-forced by hand: four repairs have 24 orders (test below).
"""

from itertools import permutations
from typing import Any

import pytest

from bot.reason import policy
from bot.reason.chances import standing
from bot.reason.worth import repair_value


def _value(chances: list[float], costs: list[float], call_out: float) -> float:
    return repair_value(costs, chances, call_out=call_out, right_costs=True)


def test_best_repair_order_costs_ten_point_three() -> None:
    assert _value([0.4, 0.3, 0.2, 0.1], [5, 15, 1, 2], 1e9) == pytest.approx(10.3, abs=1e-9)


def test_calling_out_replaces_the_repair_that_is_dearer_than_it() -> None:
    assert _value([0.4, 0.3, 0.2, 0.1], [5, 15, 1, 2], 12.0) == pytest.approx(9.4, abs=1e-9)


def test_no_question_that_needs_a_missing_tool(knowledge: Any) -> None:
    model = knowledge.model
    findings = {"gear": "one_motor", "button_response": "clicks"}
    means = policy.Means({"meter": False, "clamp meter": False}, False)
    left = policy.candidates(model, standing(model, findings), findings, frozenset(), means)
    assert left
    for candidate in left:
        check = model.checks[candidate.finding]
        assert not set(check.tools) & {"meter", "clamp meter"}
        assert check.people == 1


def test_nothing_under_the_nose_is_asked_while_a_safe_question_tells(knowledge: Any) -> None:
    model = knowledge.model
    findings: dict[str, str | float] = {"gear": "one_motor", "legs_moving": "left"}
    choice = policy.choose(model, standing(model, findings), findings, frozenset(), policy.Means())
    assert choice.ask is not None
    assert model.checks[choice.ask.finding].reach in ("outside", "beside")


def test_no_question_is_chosen_twice(knowledge: Any) -> None:
    model = knowledge.model
    findings: dict[str, str | float] = {"gear": "one_motor"}
    asked: frozenset[str] = frozenset()
    for _ in range(40):
        choice = policy.choose(model, standing(model, findings), findings, asked, policy.Means())
        if choice.ask is None:
            break
        assert choice.ask.finding not in asked
        asked = asked | {choice.ask.finding}
    assert choice.ask is None, "it never comes to an end"


def test_every_question_separates_two_causes_or_more(knowledge: Any) -> None:
    model = knowledge.model
    findings: dict[str, str | float] = {"gear": "two_motor", "button_response": "silent"}
    choice = policy.choose(model, standing(model, findings), findings, frozenset(), policy.Means())
    assert choice.ask is not None
    assert len(choice.ask.separates) >= 2


def test_no_order_of_four_repairs_is_cheaper_than_the_one_it_counts() -> None:
    chances, costs = [0.4, 0.3, 0.2, 0.1], [5.0, 15.0, 1.0, 2.0]
    every = []
    for order in permutations(range(4)):
        rest, total = 1.0, 0.0
        for i in order:
            total += costs[i] * rest
            rest -= chances[i]
        every.append(total)
    assert _value(chances, costs, 1e9) == pytest.approx(min(every), abs=1e-9)
    assert max(every) == pytest.approx(19.6, abs=1e-9)


@pytest.mark.parametrize("call_out", [12.0, 40.0, 1e6])
def test_what_is_done_in_vain_is_least_in_the_order_it_counts(call_out: float) -> None:
    chances, costs = [0.4, 0.3, 0.2, 0.1], [5.0, 15.0, 1.0, 2.0]
    every = []
    for n in range(5):
        for order in permutations(range(4), n):
            rest, total = 1.0, 0.0
            for i in order:
                rest -= chances[i]
                total += costs[i] * rest
            every.append(total + rest * call_out)
    assert repair_value(costs, chances, call_out=call_out) == pytest.approx(min(every), abs=1e-9)
