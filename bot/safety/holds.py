"""Holds: derived from what steps say of their hazards; no author writes one, no author can leave one out.

A step may be shown only when every hold it needs is open. A hold for a hazard is needed at every step that
lists the hazard; once opened it stays open until a step undoes it or something breaks the run (see `Open`).
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.corpus.model import Procedure, Step
from bot.frozen import dataclass
from bot.safety.rules import RULES


@dataclass(frozen=True)
class Hold:
    """One stop before a step: its name, the hazard behind it, what is asked, and whether it asks about undoing."""

    name: str
    hazard: str
    question: str
    step: int
    undoing: bool = False
    proof: str = ""
    sum: str = ""  # the sum that must pass, see `bot.safety.proofs`

    @property
    def key(self) -> str:
        """What an opened hold is remembered by: the hazard, or the step for one that undoes."""
        return f"undo {self.step} {self.hazard}" if self.undoing else self.hazard


def proof_before(procedure: Procedure, number: int, hazard: str) -> Step | None:
    """The latest earlier step that makes the hazard safe and is not undone in between."""
    found: Step | None = None
    for step in procedure.steps[: number - 1]:
        if hazard in step.makes_safe:
            found = step
        if hazard in step.undoes:
            found = None
    return found


def hazards_at(procedure: Procedure, number: int, conditions: Sequence[str] = ()) -> tuple[str, ...]:
    """The hazards of a step: those it lists, those that a rule asks beside them without a label, and those that
    the conditions bring (dark, rain, slope ...), wherever the step has a hazard at all.
    """
    step = procedure.steps[number - 1]
    found = set(step.hazards)
    covered: set[str] = set()
    for earlier in procedure.steps[: number - 1]:
        covered = (covered | {*earlier.hazards, *earlier.makes_safe}) - set(earlier.undoes)
    covered |= {*step.hazards, *step.makes_safe}
    found |= {
        rule.hazard
        for rule in RULES.values()
        if rule.implied_by & set(step.hazards) and rule.covered_by not in covered
    }
    if step.hazards:
        found |= {
            rule.hazard
            for rule in RULES.values()
            if rule.where & set(conditions) and (not rule.beside or rule.beside & set(step.hazards))
        }
    order = list(RULES)
    return tuple(sorted(found, key=order.index))


def holds_before(procedure: Procedure, number: int, conditions: Sequence[str] = ()) -> tuple[Hold, ...]:
    """Every hold that must be open before that step is shown, most important first."""
    step = procedure.steps[number - 1]
    order = list(RULES)
    found = []
    for hazard in hazards_at(procedure, number, conditions):
        if hazard in step.makes_safe:
            continue  # the step itself is how it becomes safe
        rule = RULES[hazard]
        proof = proof_before(procedure, number, hazard)
        found.append(
            Hold(
                rule.hold, hazard, rule.question, number, proof=proof.done_when if proof else "", sum=rule.sum
            )
        )
    for hazard in sorted(set(step.undoes), key=order.index):
        rule = RULES[hazard]
        found.append(Hold(f"before {rule.hold} ends", hazard, rule.undo_question, number, undoing=True))
    return tuple(found)


def shut_before(
    procedure: Procedure, number: int, opened: frozenset[str], conditions: Sequence[str] = ()
) -> tuple[Hold, ...]:
    """The holds of that step that are not open."""
    return tuple(h for h in holds_before(procedure, number, conditions) if h.key not in opened)


def carried(done: Step, following: Step | None, opened: frozenset[str]) -> frozenset[str]:
    """What stays open from one step to the next.

    A control that was seen in place (truck hitched, fuse out) stays so until a step undoes it or makes it anew; a
    hazard without a control of its own (stored energy, heavy part) is asked again at each new run of steps that
    list it, but for those whose rule says that once is enough (pinch, traffic).
    """
    if following is None:
        return frozenset()
    return frozenset(
        k
        for k in opened
        if k in RULES
        and k not in done.undoes
        and k not in done.makes_safe
        and (RULES[k].needs_control or RULES[k].asked_once or k in following.hazards)
    )
