"""Symptom groups: where conversations start once it is known what gear it is and what a press or the crank does."""

from __future__ import annotations

from bot.frozen import dataclass
from bot.reason.chances import Findings
from bot.reason.model import RUNS, TURNING, Model

_MOVES = "legs_moving"


@dataclass(frozen=True)
class Group:
    """One group: a name of plain words, and the findings that make it."""

    name: str
    findings: Findings


def groups(model: Model) -> tuple[Group, ...]:
    """Every symptom group of a corpus: each gear with what its motor says, and where it runs or is cranked, with what the
    legs do. The right leg is the left one seen from the other side, so one of them stands for both.
    """
    turning, moves = model.checks.get(TURNING), model.checks.get(_MOVES)
    if moves is None:
        return ()
    found = []
    for gear in moves.fits:
        start: dict[str, str | float] = {"support": "hitched", "gear": gear}
        words = gear.replace("_", "-")
        if turning is not None and gear in turning.fits:
            for answer in turning.choices:
                if answer != RUNS:
                    found.append(Group(f"{words}-{answer.replace('_', '-')}", {**start, TURNING: answer}))
            start[TURNING] = RUNS
            words += "-motor-runs"
        for answer in moves.choices:
            if answer != "right":
                name = "one-leg" if answer == "left" else answer
                found.append(Group(f"{words}-{name}", {**start, _MOVES: answer}))
    return tuple(found)
