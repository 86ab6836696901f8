"""The hazards of a procedure written twice: at its steps, and as a table at its top.

A label that falls out of a step is silent: the step then looks harmless and no stop is derived. Written twice, as a
bookkeeper does, one slip shows: the two no longer agree, and `corpus check` names the hazard and the steps. The
table also tells a reader at a glance what is dangerous where. Common practice of double entry, no source.
"""

from __future__ import annotations

from itertools import repeat

from bot.corpus.model import Procedure
from bot.corpus.vocabulary import HAZARDS
from bot.problems import Problem

SECTION = "What is dangerous where"
_FIX = (
    'Look at the steps: mend the label that is wrong, or the line under "## What is dangerous where". '
    "scripts/hazard_table.py prints the table of a page as its labels stand."
)


def _steps(numbers: list[int]) -> str:
    """`[5, 6, 7, 9]` as "5 to 7, 9"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(r[0]) if len(r) == 1 else f"{r[0]} to {r[-1]}" for r in runs)


def ledger(procedure: Procedure) -> tuple[str, ...]:
    """The table as the labels of the steps give it, a line for each hazard, in the order of the closed list.

    A line reads `hazard: at 5 to 13, 15; safe from 4; ends at 14`, parts that are empty left out.
    """
    lines = []
    for hazard in HAZARDS:
        parts = (
            ("at", [s.number for s in procedure.steps if hazard in s.hazards]),
            ("safe from", [s.number for s in procedure.steps if hazard in s.makes_safe]),
            ("ends at", [s.number for s in procedure.steps if hazard in s.undoes]),
        )
        said = "; ".join(f"{word} {_steps(numbers)}" for word, numbers in parts if numbers)
        if said:
            lines.append(f"{hazard}: {said}")
    return tuple(lines)


def disagreements(procedure: Procedure) -> list[Problem]:
    """Where the table and the labels of the steps differ, a problem for each line and each hazard without one."""
    section = procedure.page.section(SECTION)
    stands = {text.partition(":")[0]: text for text in ledger(procedure)}
    found: list[Problem] = []
    named: list[str] = []

    def note(line: int, what: str, fix: str = _FIX) -> None:
        found.append(Problem(procedure.page.file, line, what, fix))

    # A page out of the prepared copy has no lines for its bullets.
    lines = (section.bullet_lines or repeat(section.line)) if section else ()
    for have, line in zip(procedure.page.bullets(SECTION), lines, strict=False):
        hazard = have.partition(":")[0].strip()
        named.append(hazard)
        want = stands.get(hazard)
        if want is None:
            note(line, f'the table says "{have}", but no step has such a label.')
        elif have != want:
            note(line, f'the table says "{have}", the labels of the steps say "{want}".')
    for hazard, want in stands.items():
        if hazard not in named:
            line = section.line if section else procedure.steps[0].line
            note(line, f'the table lacks "{want}", which the labels of the steps say.')
    if section and len(set(named)) != len(named):
        note(section.line, "the table names a hazard twice.", "Write one line for each hazard.")
    return found
