"""Two answers that do not go together: which pair it is, so that it can be asked instead of trusted.

The conflict score of answers is ln(product of their single chances / their joint chance); above 0 they pull apart. A rare
cause may explain why, and then there is nothing to ask: a pair counts only where it is less likely than by chance under
every cause (Jensen's rule for telling a conflict from a rare case; the score and the rule are from memory).
"""

from __future__ import annotations

import math
from itertools import combinations

from bot.reason.chances import Findings, Model, Standing, discrete, standing
from bot.reason.circuit import READINGS

_SCORE = 0.6  # nats of all answers together, below which no pair is looked for
# Nats by which a pair is less likely under its best cause than by chance. More for a reading: its likelihood leans on the
# simulated trailers, and a real one may lie outside of them.
_PAIR, _WITH_READING = 0.05, 0.45


def unexplained(model: Model, findings: Findings, one: str, other: str) -> float:
    """Nats by which two answers are less likely together under the best cause than they are by chance; below 0 a cause
    explains them.
    """
    gear = {"gear": findings["gear"]} if "gear" in findings else {}
    now = standing(model, {**gear, one: findings[one], other: findings[other]})
    joint = max(
        (w / s for w, s in zip(now.weights[:-1], now.start[:-1], strict=True) if s > 0.0), default=1.0
    )
    together = sum(now.weights)
    return now.conflict + math.log(together) - math.log(max(joint, 1e-300))


def contradiction(
    model: Model, now: Standing, findings: Findings, settled: frozenset[tuple[str, str]] = frozenset()
) -> tuple[str, str] | None:
    """The two answers that go together least, in the order they were told; None where every pair has its explanation.

    `settled` holds pairs that were asked about already.
    """
    if now.conflict < _SCORE:
        return None
    told = [
        n for n, v in findings.items() if n != "gear" and (n in READINGS or discrete(model, n, v) is not None)
    ]
    worst, found = 0.0, None
    for pair in combinations(told, 2):
        if pair not in settled:
            least = _WITH_READING if any(n in READINGS for n in pair) else _PAIR
            score = unexplained(model, findings, *pair) - least
            if score > worst:
                worst, found = score, pair
    return found
