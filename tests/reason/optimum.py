"""The exact optimum of a small troubleshooting problem by dynamic programming, and what a policy costs on it exactly.

Nothing here comes from `bot.reason.policy`: states are (answers so far, causes whose repair was in vain), values are kept
times their weight, so no division is needed. One fault, perfect repair, a check after every repair.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Problem:
    """Causes with prior and cost of a vain repair; checks with minutes and one likelihood row an answer."""

    priors: tuple[float, ...]
    vain: tuple[float, ...]
    minutes: tuple[float, ...]
    rows: tuple[tuple[tuple[float, ...], ...], ...]
    call_out: float
    patience: float = 0.0  # minutes that each check done before adds to one
    least: tuple[
        float, ...
    ] = ()  # a repair is open from that chance on, or once no check is left; none: always


def optimum(p: Problem) -> float:
    """The least expected minutes any way of asking and repairing can reach."""
    radix = [len(rows) + 1 for rows in p.rows]
    strides = np.cumprod([1, *radix[:-1]])
    states = int(np.prod(radix))
    digits = np.array([(np.arange(states) // s) % r for s, r in zip(strides, radix, strict=True)])
    n = len(p.priors)
    weights = np.tile(np.array(p.priors), (states, 1))
    for digit, rows in zip(digits, p.rows, strict=True):
        table = np.vstack([np.ones(n), np.array(rows)])
        weights *= table[digit]
    # live[e] marks the causes not yet repaired in vain, for each of the 2^n sets of them
    sets = np.arange(2**n)
    live = ((sets[:, None] >> np.arange(n)) & 1) == 0
    value = np.zeros((states, 2**n))
    asked = (digits > 0).sum(0)
    for level in range(len(p.rows), -1, -1):
        here = np.nonzero(asked == level)[0]
        mass = weights[here] @ live.T.astype(float)
        best = mass * p.call_out
        for c, stride in enumerate(strides):
            open_ = digits[c][here] == 0
            if not open_.any():
                continue
            at = here[open_]
            total = mass[open_] * (p.minutes[c] + p.patience * level)
            for answer in range(1, radix[c]):
                total = total + value[at + answer * stride]
            best[open_] = np.minimum(best[open_], total)
        # repairs, from the largest set of vain ones down: each leads to a larger set
        for e in sorted(range(2**n), key=lambda e: -int(e).bit_count()):
            for i in range(n):
                if live[e, i]:
                    then = e | (1 << i)
                    cost = (mass[:, e] - weights[here, i]) * p.vain[i] + best[:, then]
                    if p.least and level < len(p.rows):
                        cost = np.where(weights[here, i] >= p.least[i] * mass[:, e], cost, np.inf)
                    best[:, e] = np.minimum(best[:, e], cost)
        value[here] = best
    return float(value[0, 0])


Decide = Callable[[tuple[int, ...], frozenset[int]], tuple[str, int]]


def cost_of(p: Problem, decide: Decide) -> float:
    """The exact expected minutes of a policy.

    `decide(answers, vain)` gets one number a check (-1: not asked) and the causes repaired in vain, and says
    ("ask", check), ("repair", cause) or ("call", 0).
    """

    def at(answers: tuple[int, ...], vain: frozenset[int], weights: tuple[float, ...]) -> float:
        mass = sum(weights)
        if mass < 1e-12:
            return 0.0
        what, which = decide(answers, vain)
        if what == "call":
            return mass * p.call_out
        if what == "repair":
            assert which not in vain
            left = tuple(0.0 if i == which else w for i, w in enumerate(weights))
            return sum(left) * p.vain[which] + at(answers, vain | {which}, left)
        assert answers[which] < 0
        total = mass * (p.minutes[which] + p.patience * sum(a >= 0 for a in answers))
        for answer, row in enumerate(p.rows[which]):
            then = (*answers[:which], answer, *answers[which + 1 :])
            total += at(then, vain, tuple(w * r for w, r in zip(weights, row, strict=True)))
        return total

    return at((-1,) * len(p.rows), frozenset(), p.priors)
