"""The look ahead: how long it takes, what it never asks, and what "don't know" and a missing tool do to it."""

from __future__ import annotations

import time
from typing import Any

import pytest

from bot.corpus.model import Cause, Check, Page
from bot.reason.chances import ELSE, Findings, Model, standing, superseded
from bot.reason.policy import Look, Means, choose
from bot.reason.worth import (
    GIVING_UP_MINUTES,
    VAIN_MINUTES,
    allowed,
    can_be_done,
    is_safe,
    least_chance,
    seen_at_hand,
    worth_trying,
    wrong_cost,
)
from bot.talk.knowledge import Knowledge
from scripts.simulate.draws import stream

STARTS: list[Findings] = [
    {"support": "legs"},
    {"support": "legs", "gear": "one_motor"},
    {"support": "hitched", "gear": "two_motor", "legs_moving": "left"},
    {"support": "legs", "gear": "one_motor", "button_response": "clicks", "volts_motor_loaded": 8.0},
]


def _cpu_ms(model: Model, findings: Findings) -> float:
    """The least of several runs, in processor time: what else the machine does is not counted."""
    now, taken = standing(model, findings), []
    for _ in range(5):
        before = time.process_time()
        choose(model, now, findings, frozenset(), Means())
        taken.append((time.process_time() - before) * 1000)
    return min(taken)


@pytest.mark.parametrize("findings", STARTS, ids=lambda f: "+".join(f))
def test_next_question_of_the_shipped_pages_is_chosen_in_fifteen_milliseconds(
    findings: Findings, knowledge: Knowledge
) -> None:
    assert _cpu_ms(knowledge.model, findings) <= 15.0


def test_next_question_at_sixty_causes_and_a_hundred_and_twenty_checks_in_a_tenth_of_a_second() -> None:
    draw = stream(1, 0, "large model")

    def page(name: str) -> Page:
        return Page(name, "causes", name, name, {}, {}, ())

    causes = tuple(
        Cause(page(f"c{i}"), f"c{i}", ("manual",), 1.0, "none", "", draw.uniform(20, 150), "cheap part", ())
        for i in range(60)
    )
    names = (*(c.name for c in causes), ELSE)
    checks, rows = {}, {}
    for k in range(120):
        name = f"t{k}"
        checks[name] = Check(page(name), name, "yes_no", ("yes", "no"), "", 0, 0, ("manual",), "none", 4.0, (), 1, "",
                             "outside", (), False, (), "", "", "")  # fmt: skip
        yes = tuple(draw.choice((0.04, 0.1, 0.35, 0.75, 0.95)) for _ in names)
        rows[name] = {"yes": yes, "no": tuple(1 - p for p in yes)}
    model = Model(causes, names, (1.0,) * 61, checks, rows, (((0.0,) * 9,),), (0,) * 61,
                  {n: i for i, n in enumerate(names)})  # fmt: skip
    assert choose(model, standing(model, {}), {}, frozenset(), Means()).ask is not None
    assert _cpu_ms(model, {}) <= 100.0


def test_dont_know_changes_no_chance_and_is_not_asked_again(knowledge: Knowledge) -> None:
    model, findings = knowledge.model, STARTS[1]
    now = standing(model, findings)
    first = choose(model, now, findings, frozenset(), Means())
    assert first.ask is not None
    again = choose(model, now, findings, frozenset({first.ask.finding}), Means())
    assert again.ask is not None
    assert again.ask.finding != first.ask.finding
    assert standing(model, findings).chances == now.chances


def test_who_could_not_answer_is_asked_less(knowledge: Knowledge) -> None:
    model, findings = knowledge.model, STARTS[1]
    now = standing(model, findings)
    usual = Look(model, now, findings, frozenset(), Means())
    unknown = frozenset({"legs_moving", "motor_slow", "squeals", "leg_visibly_bent"})
    after = Look(model, now, findings, unknown, Means())
    able = {t.finding: t.able for t in usual.tests}
    assert all(t.able < able[t.finding] for t in after.tests)


def test_answer_given_with_a_meter_shows_that_there_is_one(knowledge: Knowledge) -> None:
    checks = knowledge.model.checks
    means = seen_at_hand(checks, {"volts_motor_loaded": 8.0}, Means())
    assert means.tools["meter"]
    assert means.helper
    assert seen_at_hand(checks, {"volts_motor_loaded": 8.0}, Means({"meter": False}, False)).helper is False
    assert can_be_done(checks["volts_ground_drop"], means) > can_be_done(checks["volts_ground_drop"], Means())


def test_leg_is_never_freed_of_weight_with_no_truck(knowledge: Knowledge) -> None:
    for check in knowledge.model.checks.values():
        if check.needs_weight_off:
            assert not is_safe(check, "legs")
            assert not allowed(check, None, Means(truck=False), "legs")
            assert allowed(check, None, Means(truck=False), "hitched")


@pytest.mark.parametrize("findings", STARTS, ids=lambda f: "+".join(f))
def test_whole_conversation_asks_nothing_unsafe_while_a_safe_question_has_worth(
    findings: Findings, knowledge: Knowledge
) -> None:
    model, known = knowledge.model, dict(findings)
    for _ in range(30):
        choice = choose(model, standing(model, known), known, frozenset(), Means())
        if choice.ask is None:
            break
        check = model.checks[choice.ask.finding]
        if not is_safe(check, str(known["support"])):
            assert not [c for c in choice.candidates if c.safe and c.gain > 0.0]
        known[check.finding] = 12.0 if check.kind == "quantity" else check.choices[-1]


def test_repair_that_costs_more_to_be_wrong_needs_the_higher_chance(knowledge: Knowledge) -> None:
    bought = sorted((c for c in knowledge.model.causes if c.part != "no part"), key=wrong_cost)
    least = [least_chance(c) for c in bought]
    assert least == sorted(least)
    assert 0.5 < least[0] < least[-1] < 0.95
    assert all(least_chance(c) < least[0] for c in knowledge.model.causes if c.part == "no part")


def test_repair_is_worth_trying_where_giving_up_is_dearer(knowledge: Knowledge) -> None:
    motor = next(c for c in knowledge.model.causes if c.name == "motor_failed")
    minutes = wrong_cost(motor) - VAIN_MINUTES
    even = minutes / (minutes + GIVING_UP_MINUTES)  # where both cost the same
    assert worth_trying(motor, even + 0.01)
    assert not worth_trying(motor, even - 0.01)


def test_repair_tried_in_vain_is_not_offered_again(knowledge: Knowledge) -> None:
    model = knowledge.model
    known: dict[str, str | float] = {"support": "hitched", "gear": "one_motor", "fuse_ok": "no", "button_response": "silent"}  # fmt: skip
    tried: tuple[str, ...] = ()
    for _ in range(6):
        asked = frozenset(model.checks)  # every question was put, so it has to act or to call
        choice = choose(model, standing(model, known, tried), known, asked, Means(), tried)
        if choice.act is None:
            break
        assert choice.act not in tried
        tried = (*tried, choice.act)
    assert tried
    assert tried[0] == "fuse_or_breaker_open"


def test_finding_that_says_less_is_not_counted_beside_the_one_that_says_more(knowledge: Knowledge) -> None:
    model = knowledge.model
    measured: dict[str, str | float] = {"gear": "one_motor", "leg_length_difference_in": 0.2}
    both = {**measured, "legs_uneven": "no"}
    assert superseded(model, "legs_uneven", both)
    assert standing(model, both).chances == standing(model, measured).chances
    assert (
        standing(model, {"gear": "one_motor", "legs_uneven": "no"}).chances
        != standing(model, {"gear": "one_motor"}).chances
    )


def test_what_hangs_on_a_turning_motor_says_nothing_while_it_stands(knowledge: Knowledge) -> None:
    """With one motor that makes no sound, legs that stay put are no news: every fault shows that."""
    model = knowledge.model
    silent: dict[str, str | float] = {"gear": "one_motor", "button_response": "silent"}
    alone, told = (
        standing(model, silent),
        standing(model, {**silent, "legs_moving": "neither", "cross_shaft_turns": "no"}),
    )
    assert max(abs(a - b) for a, b in zip(alone.chances, told.chances, strict=True)) < 0.03
    runs: dict[str, str | float] = {"gear": "one_motor", "button_response": "motor_runs"}
    shaft = model.index["motor_shaft_sheared"]
    lost = standing(model, {**runs, "legs_moving": "neither"}).chances[shaft]
    assert lost > 4 * standing(model, runs).chances[shaft]


def test_turning_and_standing_weights_add_up_to_the_chances(knowledge: Knowledge) -> None:
    now = standing(knowledge.model, STARTS[3])
    pairs: list[Any] = list(zip(now.split[::2], now.split[1::2], strict=True))
    assert [a + b for a, b in pairs] == pytest.approx(now.chances, abs=1e-12)
    assert sum(now.split) == pytest.approx(1.0, abs=1e-12)


def test_choice_names_two_or_three_causes_that_its_answers_move(knowledge: Knowledge) -> None:
    model = knowledge.model
    for findings in STARTS:
        choice = choose(model, standing(model, findings), findings, frozenset(), Means())
        assert choice.ask is not None
        assert 2 <= len(choice.ask.separates) <= 3
        assert set(choice.ask.separates) <= set(model.names)
