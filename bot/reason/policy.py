"""Which question next, and when to stop asking: by expected minutes.

Asking costs its minutes; a repair tried in vain costs its own and the part. The best repair order of what is
known is worth V minutes; a question is worth what it takes off V, weighed over its answers. It stops when no
question is worth its minutes and the leading cause is sure enough for what it costs to be wrong.
(Methods: value of information one step ahead, information per minute to pick, cost to stop.)
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from bot.corpus.model import Cause, Check
from bot.frozen import dataclass, field
from bot.reason.chances import ELSE, Findings, Model, Standing, predicted

# Minutes that a part bought in vain is worth, and what calling somebody out is worth: the team's judgement.
PART_MINUTES = {"no part": 0.0, "cheap part": 30.0, "dear part": 150.0}
CALL_OUT_MINUTES = 300.0
LEAST_CHANCE = {"no part": 0.62, "cheap part": 0.7, "dear part": 0.8}
# A question that needs getting at dangerous places or tools is charged beyond its minutes.
REACH_MINUTES = {"outside": 0.0, "beside": 1.0, "under": 8.0, "opened": 8.0}
# What one question costs in talk alone, whatever the check: reading, going there, typing the answer.
TALK_MINUTES = 6.0
# How likely somebody has a tool at hand before they said so: judgement. What is rarely there is asked for last.
AT_HAND = {
    "meter": 0.6,
    "clamp meter": 0.2,
    "scale": 0.15,
    "crank handle": 0.85,
    "jack": 0.5,
    "torque wrench": 0.3,
}
HELPER_AT_HAND = 0.75
NOT_ASKED = {"hitched", "kingpin_locked", "support", "gear"}


@dataclass(frozen=True)
class Means:
    """What the person has and can do; None where it is not known yet."""

    tools: Mapping[str, bool] = field(default_factory=dict)
    helper: bool | None = None


@dataclass(frozen=True)
class Candidate:
    """A question that could be asked, with what it is worth."""

    finding: str
    cost: float
    gain: float  # minutes it takes off the expected repair, before its own cost
    bits: float  # information about the cause
    separates: tuple[str, ...]


@dataclass(frozen=True)
class Choice:
    """What to do next: ask a finding, or act on a cause."""

    ask: Candidate | None
    act: str | None
    sure_enough: bool
    candidates: tuple[Candidate, ...] = ()


def wrong_cost(cause: Cause) -> float:
    """Minutes that trying this repair in vain costs, the part included."""
    return cause.minutes_if_wrong + PART_MINUTES[cause.part]


def repair_value(model: Model, costs: tuple[float, ...], weights: list[float] | tuple[float, ...]) -> float:
    """Expected minutes of the best repair order, times the total of the weights (no division needed).

    Order of falling p/c, which is optimal for one fault (Kadane and Simon 1977); what no repair covers is called out.
    """
    order = sorted(((w / c, w, c) for w, c in zip(weights, costs, strict=False) if w > 0), reverse=True)
    rest = sum(weights)
    total = 0.0
    for ratio, weight, cost in order:
        if rest <= 0 or ratio < rest / CALL_OUT_MINUTES:
            break
        total += cost * rest
        rest -= weight
    return total + max(0.0, rest) * CALL_OUT_MINUTES


def allowed(check: Check, gear: str | None, means: Means) -> bool:
    """Whether the person can do this check with what they have."""
    if gear is not None and gear not in check.fits:
        return False
    if any(means.tools.get(tool) is False for tool in check.tools):
        return False
    return not (check.people > 1 and means.helper is False)


def check_cost(check: Check) -> float:
    """Minutes a check is charged with: its own, and more for where it is done."""
    return check.minutes + REACH_MINUTES[check.reach]


def can_be_done(check: Check, means: Means) -> float:
    """The chance that the person can do this check at all: tools and helper that were not spoken of yet."""
    chance = 1.0
    for tool in check.tools:
        if means.tools.get(tool) is None:
            chance *= AT_HAND.get(tool, 1.0)
    return chance * (HELPER_AT_HAND if check.people > 1 and means.helper is None else 1.0)


def _entropy(chances: list[float] | tuple[float, ...]) -> float:
    return -sum(p * math.log2(p) for p in chances if p > 0)


def candidates(
    model: Model,
    now: Standing,
    findings: Findings,
    asked: frozenset[str],
    means: Means,
    costs: tuple[float, ...],
) -> list[Candidate]:
    """Every question left, with its worth, best information per minute first."""
    gear = findings.get("gear")
    found = []
    base = repair_value(model, costs, now.chances)
    entropy = _entropy(now.chances)
    for finding, check in model.checks.items():
        if (
            check.page.head.get("asked") == "no"
            or check.page.head.get("follows from")
            or finding in findings
            or finding in asked
            or finding in NOT_ASKED
            or not allowed(check, str(gear) if gear else None, means)
        ):
            continue
        if (
            check.kind == "quantity"
            and finding not in model.rows
            and not finding.startswith(("volts", "amps"))
        ):
            continue
        rows = predicted(model, now, finding, str(gear) if gear else None)
        after, left = 0.0, 0.0
        best: dict[int, float] = {}
        for row in rows.values():
            weights = [c * r for c, r in zip(now.chances, row, strict=True)]
            total = sum(weights)
            if total <= 1e-9:
                continue
            after += repair_value(model, costs, weights)
            left += total * _entropy([w / total for w in weights])
            for i, weight in enumerate(weights):
                change = abs(weight / total - now.chances[i]) * total
                best[i] = best.get(i, 0.0) + change
        bits = entropy - left
        if bits < 0.004:
            continue
        top = sorted(best, key=lambda i: -best[i])[:3]
        able = can_be_done(check, means)
        found.append(
            Candidate(
                finding,
                check_cost(check),
                able * (base - after),
                able * bits,
                tuple(model.names[i] for i in top),
            )
        )
    return sorted(found, key=lambda c: -(c.bits / (c.cost + TALK_MINUTES)))


def choose(
    model: Model,
    now: Standing,
    findings: Findings,
    asked: frozenset[str],
    means: Means,
) -> Choice:
    """Ask or act. Nothing under the nose or opened up is asked while a safe question still has worth."""
    costs = tuple(wrong_cost(c) for c in model.causes)
    ranked = sorted(range(len(model.causes)), key=lambda i: -now.chances[i])
    leader = model.causes[ranked[0]]
    chance = now.chances[ranked[0]]
    left = candidates(model, now, findings, asked, means, costs)
    safe = [c for c in left if model.checks[c.finding].reach in ("outside", "beside")]
    worth = [c for c in safe if c.gain > c.cost] or [c for c in left if c.gain > c.cost]
    least = LEAST_CHANCE[leader.part]
    sure = chance >= least
    if worth and not (sure and chance > 0.93):
        return Choice(worth[0], None, sure, tuple(left))
    if not sure:
        # Acting now would be a guess with a price: ask on while any question still tells something.
        telling = [c for c in safe if c.bits > 0.08] or [c for c in left if c.bits > 0.08]
        if telling:
            return Choice(telling[0], None, sure, tuple(left))
    return Choice(None, leader.name, sure, tuple(left))


__all__ = ["ELSE", "Candidate", "Choice", "Means", "candidates", "choose", "repair_value", "wrong_cost"]
