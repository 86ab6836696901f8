"""The shipped policy against the exact optimum, on every symptom group cut to at most 8 causes and 10 checks.

Dynamic programming is in optimum.py and knows nothing of the policy; it is held against a brute force here.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

import pytest

from bot.corpus.model import Check
from bot.reason import chances
from bot.reason.chances import ELSE, Model, predicted, standing
from bot.reason.groups import Group, groups
from bot.reason.policy import Look, Means, choose
from bot.reason.worth import (
    CALL_OUT_MINUTES,
    PATIENCE_MINUTES,
    TALK_MINUTES,
    check_cost,
    least_chance,
    wrong_cost,
)
from bot.talk.knowledge import Knowledge
from tests.reason.optimum import Problem, cost_of, optimum

MOST_CAUSES, MOST_CHECKS, MOST_STATES = 8, 10, 9_000
EVERYTHING = Means(dict.fromkeys(("meter", "clamp meter", "scale", "crank handle", "jack", "torque wrench", "jumper lead"), True), True, True)  # fmt: skip
AIM, LIMIT = 1.05, 1.10


def cut(model: Model, group: Group) -> tuple[Model, Problem]:
    """The group as a small model of plain rows, and the same as a problem for the dynamic programming."""
    now = standing(model, group.findings)
    ranked = sorted(range(len(model.causes)), key=lambda i: -now.chances[i])[:MOST_CAUSES]
    kept = [i for i in ranked if now.chances[i] > 0.001]
    total = sum(now.chances[i] for i in kept)
    gear = str(group.findings["gear"])
    look = Look(model, now, group.findings, frozenset(), EVERYTHING)
    order = [s.test.finding for s in sorted(look.one_step(), key=lambda s: -s.bits / s.test.minutes)]
    checks: dict[str, Check] = {}
    rows: dict[str, dict[str, tuple[float, ...]]] = {}
    states = 1
    for name in order:
        answers = predicted(model, now, name, gear)
        if len(checks) == MOST_CHECKS or states * (len(answers) + 1) > MOST_STATES:
            continue
        states *= len(answers) + 1
        new = f"{name} seen"  # a name of its own, so that a reading cut into parts is a plain choice
        checks[new] = replace(model.checks[name], finding=new, kind="choice", choices=tuple(answers))
        rows[new] = {a: (*(row[i] for i in kept), 1.0 / len(answers)) for a, row in answers.items()}
    causes = tuple(model.causes[i] for i in kept)
    names = (*(c.name for c in causes), ELSE)
    priors = tuple(now.chances[i] / total for i in kept)
    small = Model(causes, names, (*priors, 0.0), checks, rows, (((0.0,) * 9,),), (0,) * len(names),
                  {n: i for i, n in enumerate(names)})  # fmt: skip
    problem = Problem(
        priors, tuple(wrong_cost(c) for c in causes),
        tuple(check_cost(c, "hitched") + TALK_MINUTES for c in checks.values()),
        tuple(tuple(row[:-1] for row in answers.values()) for answers in rows.values()), CALL_OUT_MINUTES,
        PATIENCE_MINUTES, tuple(least_chance(c) for c in causes),
    )  # fmt: skip
    return small, problem


@dataclass(frozen=True)
class Compared:
    """What the shipped policy costs on a group, and the best possible: under its own rule of stopping, and under none."""

    policy: float
    by_the_rule: float
    free: float


def compare(model: Model, group: Group) -> Compared:
    """The exact costs of a group cut small."""
    small, problem = cut(model, group)
    names = list(small.checks)

    def decide(answers: tuple[int, ...], vain: frozenset[int]) -> tuple[str, int]:
        findings: dict[str, str | float] = {"support": "hitched"}
        findings |= {n: list(small.rows[n])[a] for n, a in zip(names, answers, strict=True) if a >= 0}
        tried = tuple(small.names[i] for i in vain)
        choice = choose(small, standing(small, findings, tried), findings, frozenset(), EVERYTHING, tried)
        if choice.ask is not None:
            return "ask", names.index(choice.ask.finding)
        if choice.act is None:
            return "call", 0
        return "repair", small.index[choice.act]

    return Compared(cost_of(problem, decide), optimum(problem), optimum(replace(problem, least=())))


@pytest.fixture(scope="module")
def compared(knowledge: Knowledge) -> Iterator[dict[str, Compared]]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chances, "_RETRIED", 0.0)  # the problem's repairs are perfect
        yield {g.name: compare(knowledge.model, g) for g in groups(knowledge.model)}


def test_shipped_policy_is_within_a_tenth_of_the_optimum_in_every_symptom_group(
    compared: dict[str, Compared],
) -> None:
    """The optimum keeps the same rule: a repair that buys a part only from its least chance on, or with no check left."""
    for name, c in compared.items():
        print(
            f"{name:32s} {c.policy / c.by_the_rule:.3f} of the optimum, {c.policy / c.free:.3f} of one with no rule"
        )
    assert len(compared) >= 12
    assert not {
        name: round(c.policy / c.by_the_rule, 3)
        for name, c in compared.items()
        if c.policy > LIMIT * c.by_the_rule
    }


def test_shipped_policy_is_within_a_twentieth_on_average(compared: dict[str, Compared]) -> None:
    assert sum(c.policy / c.by_the_rule for c in compared.values()) <= AIM * len(compared)


def test_nothing_is_cheaper_than_the_optimum(compared: dict[str, Compared]) -> None:
    assert all(c.policy >= c.free * (1 - 1e-9) for c in compared.values())
    assert all(c.by_the_rule >= c.free * (1 - 1e-9) for c in compared.values())


def brute(p: Problem, weights: tuple[float, ...], asked: frozenset[int]) -> float:
    """The optimum of a tiny problem by trying everything, written another way: recursion over what is done next."""
    mass = sum(weights)
    best = mass * p.call_out
    for i, w in enumerate(weights):
        if w > 0:
            left = tuple(0.0 if j == i else x for j, x in enumerate(weights))
            best = min(best, sum(left) * p.vain[i] + (brute(p, left, asked) if sum(left) else 0.0))
    for c in range(len(p.rows)):
        if c not in asked:
            then = sum(
                brute(p, tuple(w * r for w, r in zip(weights, row, strict=True)), asked | {c})
                for row in p.rows[c]
            )
            best = min(best, mass * p.minutes[c] + then)
    return best


@pytest.mark.parametrize("seed", range(6))
def test_dynamic_programming_equals_trying_everything(seed: int) -> None:
    draws = (((seed * 7919 + k * 104729) % 997 + 1) / 998 for k in itertools.count(1))
    prior = [next(draws) for _ in range(3)]
    rows = []
    for answers in (2, 2, 3):
        raw = [[next(draws) for _ in range(3)] for _ in range(answers)]
        rows.append(tuple(tuple(r[i] / sum(x[i] for x in raw) for i in range(3)) for r in raw))
    p = Problem(
        tuple(x / sum(prior) for x in prior), tuple(20 + 200 * next(draws) for _ in range(3)),
        tuple(2 + 10 * next(draws) for _ in range(3)), tuple(rows), 300.0,
    )  # fmt: skip
    assert optimum(p) == pytest.approx(brute(p, p.priors, frozenset()), rel=1e-12)
