"""Sums that a stop leans on: what must be known first, and whether the sum lets the stop be opened.

A stand counts only where the load on it was worked out and its rating lies above: that stop does not open on a
yes alone. Pads and lifting have no measured part to hold a sum against before the work; there the sum gives what
the yes has to answer for.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from bot.frozen import dataclass
from bot.problems import LeglineError
from bot.sums.carry import carry
from bot.sums.convert import figure
from bot.sums.foot import foot
from bot.sums.legs import leg_load
from bot.sums.spans import Span, exact
from bot.sums.stand import stand
from bot.units import convert, show

Findings = Mapping[str, str | float]
PROPS = {"stands": None, "crib_4x4": 4, "crib_6x6": 6}
#: Every finding that decides over a stop: what a changed one shuts, and what a search has to tell apart.
INPUTS = ("gross_weight_lb", "pin_weight_lb", "prop_kind", "stand_rating_lb")
_PEOPLE = 2.0  # two people lift at most twice what one may; the equation itself does not cover two


@dataclass(frozen=True)
class Proof:
    """What a sum says before a stop: the finding still wanted, whether a yes may open it, and the words."""

    wants: str = ""  # a finding to ask for first, "" where nothing is wanted
    passes: bool = True
    lines: tuple[str, ...] = ()


def _number(findings: Findings, name: str) -> float | None:
    value = findings.get(name)
    return float(value) if isinstance(value, int | float) else None


def load_on_legs(findings: Findings) -> Span | None:
    """Load that the nose puts on what holds it [lb], with its range; None where no weight was told.

    Raises OutOfRange, or Contradiction where the weights told cannot both be right.
    """
    gross, pin = _number(findings, "gross_weight_lb"), _number(findings, "pin_weight_lb")
    if gross is None and pin is None:
        return None
    first = leg_load(gross_lb=gross, pin_lb=pin).values[0]
    return Span(first.low, first.value, first.high)


def _pounds(value: float, units: str) -> str:
    return show(value, "lb", "metric" if units == "metric" else "us")


def _at_least(value_lb: float, units: str) -> str:
    """The next whole pound or kilogram that is no less: rounded down it would name a stand that does not pass."""
    unit = "kg" if units == "metric" else "lb"
    return f"{math.ceil(convert(value_lb, 'lb', unit))} {unit}"


def proof(name: str, findings: Findings, unknown: frozenset[str], units: str = "us") -> Proof:
    """What the sum of that name says with these findings.

    Parameters
    ----------
    name : "stand", "foot", "carry", or "" for none
    findings : by name, plain numbers in the units of the names
    unknown : findings that were asked for and are not known
    units : "us" or "metric", for the words

    Returns a Proof. Never raises: a value outside the limits of a sum does not pass.
    """
    try:
        if name == "stand":
            return _stand(findings, unknown, units)
        if name == "foot":
            return _foot(findings, units)
    except LeglineError as problem:
        return Proof("", False, (str(problem),))
    return _carry(units) if name == "carry" else Proof()


def _stand(findings: Findings, unknown: frozenset[str], units: str) -> Proof:
    load = load_on_legs(findings)
    if load is None:
        for finding in ("gross_weight_lb", "pin_weight_lb"):
            if finding not in unknown:
                return Proof(finding, False)
        return Proof("", False, ("The load cannot be worked out without a weight of the trailer or its pin, so no stand counts.",))  # fmt: skip
    kind = findings.get("prop_kind")
    if kind not in PROPS:
        if "prop_kind" not in unknown:
            return Proof("prop_kind", False)
        return Proof("", False, ("Without knowing what stands under it, it does not count.",))
    rating = _number(findings, "stand_rating_lb")
    timber = PROPS[str(kind)]
    if timber is None and rating is None:
        if "stand_rating_lb" not in unknown:
            return Proof("stand_rating_lb", False)
        return Proof("", False, ("A stand whose rating cannot be read does not count.",))
    result = stand(load, 2, rating, crib_timber=timber)
    each = result.found("load on each")
    words = (
        f"Sum (stand): the nose puts {_pounds(load.value, units)} on both, from {_pounds(load.low, units)} to "
        f"{_pounds(load.high, units)}; each of two carries up to {_pounds(each.high, units)}"
    )
    if timber is not None or rating is None:
        may = _pounds(result.value("crib may carry"), units)
        words += f"; a crib of {timber}x{timber}, two timbers a layer, may carry {may}, half of what its wood stands."
        better = "Build the crib of thicker timber."
    else:
        words += f", against {_pounds(rating, units)} marked ({_pounds(rating / 2, units)} if that is for the pair)."
        better = f"Use two that are marked {_at_least(2 * each.high, units)} or more each, or a crib."
    if result.verdict == "clear":
        return Proof(
            lines=(words, "That is clear, on two of them, upright and square under the frame rails.")
        )
    return Proof("", False, (words, f"That is {result.verdict}: this stop does not open. {better}"))


def _foot(findings: Findings, units: str) -> Proof:
    load = load_on_legs(findings)
    if load is None:
        return Proof(lines=("Sum (pad): tell the trailer's gross weight and the pad is worked out here.",))
    most = load.high / 2
    side = foot(exact(most)).values[0]
    wanted = show(math.ceil(2 * side.value) / 2, "in", "metric" if units == "metric" else "us")
    return Proof(
        lines=(
            f"Sum (pad): up to {_pounds(most, units)} on one foot asks for a pad {wanted} square or more "
            "(assumed: 1500 lb a square foot, clay or silt; mud and fresh fill carry nothing).",
        )
    )


def _carry(units: str) -> Proof:
    one = carry(20.0).value("one person may lift")
    return Proof(
        lines=(
            f"Sum (carry): low and at arm's length one person may lift {_pounds(float(figure(one)), units)}, two "
            f"{_pounds(_PEOPLE * float(figure(one)), units)}; above that a jack takes it (hands 20 in out, 6 in up).",
        )
    )
