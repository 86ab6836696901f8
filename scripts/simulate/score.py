"""Figures of a run: the table, calibration, wrong cells, and which thresholds were missed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from scripts.simulate.fixed import Outcome
from scripts.simulate.play import Played

LEAST_IN_BIN = 50


@dataclass(frozen=True)
class Bin:
    """Verdicts whose chance was said to be in one tenth: how many, mean chance said, share right."""

    low: float
    count: int
    said: float
    right: float


def bins(played: list[Played]) -> list[Bin]:
    """First verdicts by the chance said, in ten bins; calls pointed elsewhere are left out, they say no chance."""
    kept: dict[int, list[tuple[float, bool]]] = {}
    for p in played:
        if p.verdicts and p.ended != "pointed elsewhere":
            chance = p.verdicts[0][1]
            kept.setdefault(min(9, int(chance * 10)), []).append((chance, p.first_right))
    return [
        Bin(i / 10, len(v), sum(c for c, _ in v) / len(v), sum(r for _, r in v) / len(v))
        for i, v in sorted(kept.items())
    ]


def calibration(found: list[Bin]) -> tuple[float, float]:
    """Expected calibration error, and the largest gap of a bin with at least 50 cases."""
    total = sum(b.count for b in found)
    error = sum(b.count * abs(b.said - b.right) for b in found) / total if total else 0.0
    return error, max((abs(b.said - b.right) for b in found if b.count >= LEAST_IN_BIN), default=0.0)


def mean(values: list[float]) -> float:
    """The mean; 0 for none."""
    return sum(values) / len(values) if values else 0.0


def share_right(outcomes: list[tuple[Outcome, tuple[str, ...]]], first: int) -> float:
    """Share of outcomes with a planted cause among the first verdicts."""
    return mean([float(any(v in causes for v in o.verdicts[:first])) for o, causes in outcomes])


def confusion(played: list[Played]) -> Counter[tuple[str, str]]:
    """Planted cause against first verdict, wrong cells alone."""
    return Counter(
        (p.causes[0], p.verdicts[0][0] if p.verdicts else f"none ({p.ended})")
        for p in played
        if not p.first_right
    )


@dataclass(frozen=True)
class Threshold:
    """One figure with its limit."""

    name: str
    value: float
    limit: float
    at_least: bool

    @property
    def met(self) -> bool:
        """Whether the figure is on the right side of its limit."""
        return self.value >= self.limit if self.at_least else self.value <= self.limit


def thresholds(
    played: list[Played], printed: list[Outcome], best: list[Outcome], dont_know: float, two_faults: bool
) -> list[Threshold]:
    """The limits of this run. Two faults at once have no limit of their own."""
    if two_faults:
        return []
    n = len(played)
    cost = mean([p.cost for p in played])
    _, gap = calibration(bins(played))
    ratio = 0.70 if dont_know >= 0.2 else 0.60
    return [
        Threshold("first verdict right", sum(p.first_right for p in played) / n, 0.92, True),
        Threshold("right within two", sum(p.within_two for p in played) / n, 0.98, True),
        Threshold("largest calibration gap", gap, 0.05, False),
        Threshold("cost over the printed order's", cost / mean([o.cost for o in printed]), ratio, False),
        Threshold("cost over the best fixed order's", cost / mean([o.cost for o in best]), ratio, False),
    ]
