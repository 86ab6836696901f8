"""What is at stake, in minutes: what a repair in vain costs, what is left of the best repair order, what a check costs.

The true cause has to be mended whatever is asked, so its own repair is no loss; what counts is what is done in vain
before it, and the call-out where no repair helps.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bot.corpus.model import Cause, Check
from bot.frozen import dataclass, field

# Minutes that a part bought in vain is worth, and what calling somebody out is worth: the team's judgement.
PART_MINUTES = {"no part": 0.0, "cheap part": 30.0, "dear part": 150.0}
CALL_OUT_MINUTES = 400.0
# What giving up is worth where it comes to the last repair left: the trailer stays where it stands for most of a day.
GIVING_UP_MINUTES = 900.0
# What any repair in vain costs beside its own minutes: setting up, the proof, the talk, and trust.
VAIN_MINUTES = 65.0
# A repair has to be likelier than this: what it costs in vain over that and these minutes together, the chance at which
# the minutes lost if wrong equal these minutes of further checks saved if right. Where no part is bought it is low, and
# the comparison of costs decides nearly alone. Judgement.
LEAST_AGAINST_MINUTES = {"no part": 200.0, "cheap part": 55.0, "dear part": 55.0}
# A question that needs getting at dangerous places or tools is charged beyond its minutes.
REACH_MINUTES = {"outside": 0.0, "beside": 1.0, "under": 8.0, "opened": 8.0}
# Truck under it, hitched and pulled up, where a check wants a leg free of weight and the nose stands on it.
HITCH_MINUTES = 12.0
# What one question costs in talk alone, whatever the check: reading, going there, typing the answer.
# Each question put or answered before makes the next one dearer by PATIENCE_MINUTES.
TALK_MINUTES = 2.0
PATIENCE_MINUTES = 0.4
# How likely somebody has a tool at hand before they said so: judgement. What is rarely there is asked for last.
AT_HAND = {
    "meter": 0.6,
    "clamp meter": 0.2,
    "scale": 0.15,
    "crank handle": 0.85,
    "jack": 0.5,
    "torque wrench": 0.3,
    "jumper lead": 0.5,
}
HELPER_AT_HAND = 0.75
TRUCK_AT_HAND = 0.75


@dataclass(frozen=True)
class Means:
    """What the person has and can do; None where it is not known yet."""

    tools: Mapping[str, bool] = field(default_factory=dict)
    helper: bool | None = None
    truck: bool | None = None


def seen_at_hand(checks: Mapping[str, Check], findings: Mapping[str, object], means: Means) -> Means:
    """The means with what the readings told so far show: who read a meter has one, and who held the button had help."""
    tools, helper = dict(means.tools), means.helper
    for name in findings:
        check = checks.get(name)
        if check is not None and check.kind == "quantity":
            for tool in check.tools:
                tools.setdefault(tool, True)
            if check.people > 1 and check.tools and helper is None:
                helper = True
    return Means(tools, helper, means.truck)


def wrong_cost(cause: Cause) -> float:
    """Minutes that trying this repair in vain costs, the part and what comes with any vain repair included."""
    return cause.minutes_if_wrong + PART_MINUTES[cause.part] + VAIN_MINUTES


def least_chance(cause: Cause) -> float:
    """The chance from which this repair may be offered as the thing to do, set by what it costs to be wrong."""
    cost = wrong_cost(cause)
    return cost / (cost + LEAST_AGAINST_MINUTES[cause.part])


def worth_trying(cause: Cause, chance: float) -> bool:
    """Whether a repair is worth its minutes and its part beside giving up: c (1 - p) < C p."""
    return (wrong_cost(cause) - VAIN_MINUTES) * (1.0 - chance) < GIVING_UP_MINUTES * chance


def repair_value(
    costs: Sequence[float],
    weights: Sequence[float],
    beside: float = 0.0,
    call_out: float = CALL_OUT_MINUTES,
    right_costs: bool = False,
) -> float:
    """Expected minutes in vain of the best repair order, times the total of the weights (no division needed).

    Falling p/c is optimal for one fault (Kadane and Simon 1977), also where the right repair is no loss. A repair is left
    out where calling somebody costs less than trying it. `beside` is weight that no repair covers; `right_costs` counts
    the right repair too, as the textbooks do.

    >>> round(repair_value((60.0, 20.0), (0.5, 0.5), call_out=1e9), 3)
    10.0
    """
    ratios = [w / c for w, c in zip(weights, costs, strict=True)]
    rest = sum(weights) + beside
    total = 0.0
    for i in sorted(range(len(ratios)), key=ratios.__getitem__, reverse=True):
        weight = weights[i]
        paid = rest if right_costs else rest - weight
        if costs[i] * paid >= call_out * weight:
            break
        rest -= weight
        total += costs[i] * paid
    return total + rest * call_out if rest > 0 else total


def weight_off_now(support: str | None) -> bool:
    """Whether a leg may be free of weight as the nose stands: only the truck carries it then."""
    return support == "hitched"


def is_safe(check: Check, support: str | None) -> bool:
    """Whether a check keeps people from under the nose, out of opened parts, and the legs loaded as they are."""
    if check.reach not in ("outside", "beside") or "person under the nose" in check.hazards:
        return False
    return not check.needs_weight_off or weight_off_now(support)


def allowed(check: Check, gear: str | None, means: Means, support: str | None = None) -> bool:
    """Whether the person can do this check with what they have."""
    if gear is not None and gear not in check.fits:
        return False
    if any(means.tools.get(tool) is False for tool in check.tools):
        return False
    if check.people > 1 and means.helper is False:
        return False
    return not (check.needs_weight_off and not weight_off_now(support) and means.truck is False)


def check_cost(check: Check, support: str | None = None) -> float:
    """Minutes a check is charged with: its own, more for where it is done, and the truck where a leg must hang free."""
    hitch = HITCH_MINUTES if check.needs_weight_off and not weight_off_now(support) else 0.0
    return check.minutes + REACH_MINUTES[check.reach] + hitch


def can_be_done(check: Check, means: Means, support: str | None = None) -> float:
    """The chance that the person can do this check at all: tools, helper and truck that were not spoken of yet."""
    chance = 1.0
    for tool in check.tools:
        if means.tools.get(tool) is None:
            chance *= AT_HAND.get(tool, 1.0)
    if check.people > 1 and means.helper is None:
        chance *= HELPER_AT_HAND
    if check.needs_weight_off and not weight_off_now(support) and means.truck is None:
        chance *= TRUCK_AT_HAND
    return chance
