"""Chance for the simulator: every draw hangs on the seed, the trailer's number and what is drawn, never on order."""

from __future__ import annotations

import math
from collections.abc import Mapping
from random import Random  # noqa: TID251  (a simulator draws; the core does not)


def stream(seed: int, number: int, what: str) -> Random:
    """A stream of draws of its own for one thing of one trailer."""
    return Random(f"{seed}/{number}/{what}")


def pick(rng: Random, weights: Mapping[str, float]) -> str:
    """One key, by weight."""
    names = list(weights)
    return rng.choices(names, [weights[n] for n in names])[0]


def log_uniform(rng: Random, low: float, high: float) -> float:
    """A draw between two positive limits, even in the logarithm."""
    return math.exp(rng.uniform(math.log(low), math.log(high)))


__all__ = ["Random", "log_uniform", "pick", "stream"]
