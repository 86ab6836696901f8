"""What the parts of a trailer's true answers share: where they are kept, their draws, and soft limits."""

from __future__ import annotations

import math

from scripts.simulate.condition import Condition
from scripts.simulate.draws import Random, stream
from scripts.simulate.trailer import Trailer

FREE_CRANK_N = 85.0  # about 19 lb at the handle: two hands from there on (common practice, no source)
Value = str | float


def yes(flag: bool) -> str:
    """The flag as an answer."""
    return "yes" if flag else "no"


def soft(rng: Random, x: float, middle: float, width: float) -> bool:
    """True with a chance that rises from 0 to 1 about `middle`: people do not draw sharp lines."""
    if abs(x - middle) > 40 * width:
        return x > middle
    return rng.random() < 1 / (1 + math.exp(-(x - middle) / width))


def opening_seconds(amps: float, rating: float, breaker: bool) -> float:
    """Seconds until the guard opens: blade fuse about 60 s at 135 %, 1 s at 200 %, 0.2 s at 350 % (middle of the bands
    of ISO 8820-3, from memory); a bimetal breaker about ten times that above 135 % (common practice, no source)."""
    over = amps / rating
    if over < 1.1:
        return float("inf")
    points = [(1.1, 3600.0), (1.35, 60.0), (2.0, 1.0), (3.5, 0.2), (9.0, 0.05)]
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if over <= x1:
            share = (over - x0) / (x1 - x0)
            return math.exp(math.log(y0) + share * (math.log(y1) - math.log(y0))) * (10 if breaker else 1)
    return 0.05


class Truth:
    """True answers by finding, for one trailer with these causes in it."""

    def __init__(self, t: Trailer, c: Condition, causes: tuple[str, ...]):
        self.t, self.c, self.causes = t, c, causes
        self.values: dict[str, Value | None] = {}
        self.seconds_of_lift: float | None = None
        self.certain: set[str] = set()  # the main trouble: not mistaken by who lives with it
        self.direction = t.task  # of the press that is talked about
        self.watched = t.near  # side of the motor that is looked at and measured

    def rng(self, what: str) -> Random:
        """Draws for one finding; the same whatever else is asked, and before and after a repair."""
        return stream(self.t.seed, self.t.number, f"fact {what}")

    def _set(self, name: str, value: Value | None) -> None:
        self.values[name] = value

    def _movement(self, moves: dict[str, bool]) -> None:
        key = (moves["left"], moves["right"])
        word = {(True, True): "both", (True, False): "left", (False, True): "right"}.get(key, "neither")
        self._set("legs_moving", word)
