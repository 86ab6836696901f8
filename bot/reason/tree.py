"""The likely ways a conversation goes from where a symptom group starts, as a tree to be proof-read."""

from __future__ import annotations

from collections.abc import Iterator

from bot.frozen import dataclass
from bot.reason.chances import Findings, Model, Value, part_range, predicted, standing
from bot.reason.circuit import READINGS
from bot.reason.model import threshold
from bot.reason.policy import Choice, Means, choose

LEAST_PATH = 0.001
MOST_DEEP = 30
# A person with everything: what cannot be done is left out of a conversation, never added to it.
EQUIPPED = Means(
    {"meter": True, "clamp meter": True, "crank handle": True, "jack": True, "jumper lead": True, "scale": False}, True, True
)  # fmt: skip


@dataclass(frozen=True)
class Node:
    """One line of the tree: how deep, how likely the way here, the answer that led here, and what comes next."""

    depth: int
    path: float
    answer: str  # "" at the root; a part of a reading by its number
    asked: str  # the finding the answer belongs to
    choice: Choice
    chance: float  # of the cause that is acted on


def tree(
    model: Model, findings: Findings, least: float = LEAST_PATH, means: Means = EQUIPPED
) -> Iterator[Node]:
    """Every way whose chance is above `least`, depth first; each ends in a repair or with a call for help."""
    yield from _below(model, dict(findings), 1.0, 0, "", "", least, means)


def _below(
    model: Model, findings: dict[str, Value], path: float, depth: int, answer: str, asked: str, least: float,
    means: Means,
) -> Iterator[Node]:  # fmt: skip
    now = standing(model, findings)
    choice = choose(model, now, findings, frozenset(), means)
    chance = now.chances[model.index[choice.act]] if choice.act is not None else 0.0
    yield Node(depth, path, answer, asked, choice, chance)
    if choice.ask is None or depth >= MOST_DEEP:
        return
    finding, gear = choice.ask.finding, findings.get("gear")
    rows = predicted(model, now, finding, str(gear) if gear is not None else None)
    likely = {a: sum(c * r for c, r in zip(now.chances, row, strict=True)) for a, row in rows.items()}
    for said, share in sorted(likely.items(), key=lambda pair: -pair[1]):
        if path * share > least:
            told = {**findings, finding: _value(model, finding, said)}
            yield from _below(model, told, path * share, depth + 1, said, finding, least, means)


def _value(model: Model, finding: str, answer: str) -> Value:
    """What a person would say who gives that answer; the middle of a part of a reading."""
    if finding in READINGS:
        low, high = part_range(finding, answer)
        return (low + high) / 2
    check = model.checks[finding]
    limit = threshold(check, model.causes) if check.kind == "quantity" else None
    if limit is None:
        return answer
    return limit * 1.2 if answer == "over" else limit * 0.8
