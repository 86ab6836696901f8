"""What a procedure page must say so that its holds can be derived: rules that no author gets round."""

from __future__ import annotations

import re

from bot.corpus.model import Procedure
from bot.corpus.vocabulary import TRIGGER_WORDS
from bot.problems import Problem
from bot.safety.expected import expected_labels
from bot.safety.holds import proof_before
from bot.safety.ledger import disagreements
from bot.safety.rules import RULES

_HITCH = re.compile(r"\bjaws?\b.*\bkingpin\b|\bkingpin\b.*\bjaws?\b", re.I | re.S)


def problems_of(procedure: Procedure) -> list[Problem]:
    """Every place where a hazard of the procedure is left without its control, in order of line."""
    found: list[Problem] = []
    file = procedure.page.file

    def note(line: int, what: str, fix: str) -> None:
        found.append(Problem(file, line, what, fix))

    taken_off = [s for s in procedure.steps if s.removes]
    for step in procedure.steps:
        at = step.label_lines.get("hazard", step.line)
        for hazard in step.hazards:
            rule = RULES[hazard]
            if (
                rule.needs_control
                and hazard not in step.makes_safe
                and not proof_before(procedure, step.number, hazard)
            ):
                note(at, f'step {step.number} has the hazard "{hazard}", but no earlier step makes it safe.',
                     f'Add a step before it with "makes safe: {hazard}" and "done when".')  # fmt: skip
        for hazard in step.makes_safe:
            if not step.done_when:
                note(step.line, f'step {step.number} makes "{hazard}" safe, but has no "done when".',
                     'Say in "done when" what a person sees that proves it.')  # fmt: skip
            if hazard == "raised nose" and not _HITCH.search(step.text + " " + step.done_when):
                note(step.line, f"step {step.number} makes the raised nose safe without the jaws closed round the kingpin.",
                     "Only a hitched truck makes it safe: name jaws and kingpin in the step or its done when.")  # fmt: skip
        for hazard in step.undoes:
            if not any(hazard in s.makes_safe for s in procedure.steps[: step.number - 1]):
                note(step.label_lines.get("undoes", step.line), f'step {step.number} undoes "{hazard}", which nothing made safe.',
                     "Take the label out, or add the step that makes it safe.")  # fmt: skip
        if any(p in ("leg", "motor", "gearbox", "shaft") for p in step.removes):
            for hazard in ("raised nose", "motor start"):
                if hazard not in step.hazards:
                    note(step.label_lines["removes"], f'step {step.number} takes off the {", ".join(step.removes)} without the hazard "{hazard}".',
                         f'Add "{hazard}" to its hazards.')  # fmt: skip
        if step.opens_gears and "motor start" not in step.hazards:
            note(step.label_lines["opens gears"], f'step {step.number} opens gears without the hazard "motor start".',
                 'Add "motor start" to its hazards.')  # fmt: skip
        labelled = step.hazards or step.makes_safe or step.undoes or step.no_hazard_because
        trigger = next((w for w in TRIGGER_WORDS if re.search(rf"\b{w}\b", step.text, re.I)), None)
        if trigger and not labelled:
            note(step.line, f'step {step.number} says "{trigger}" and carries no hazard, makes safe or undoes.',
                 "Label it, or write hazard: none, because …")  # fmt: skip
    if taken_off and not procedure.needs_truck:
        note(
            procedure.page.head_lines["needs truck"],
            "a part comes off, but the head says needs truck: no.",
            "Write needs truck: yes.",
        )
    if procedure.needs_leg_off and not any("leg" in s.removes for s in taken_off):
        note(
            procedure.page.head_lines["needs leg off"],
            "the head says a leg comes off, but no step removes it.",
            "Label the step: removes: leg",
        )
    found += forgotten_undos(procedure)
    found += expected_labels(procedure)
    found += disagreements(procedure)
    return sorted(found, key=lambda p: p.line)


# "Put the fuses back", "turn the power on"; "put back the fuse", "reconnect the lead".
_POWER_BACK = re.compile(
    r"\b(put|plug|push|fit|connect|turn|switch)\b.{0,40}\b(fuses?|minus lead|battery lead|power|breaker|circuit)\b.{0,20}\b(back|in|on|again)\b"
    r"|\b((put|plug|push|turn|switch) (back|in|on)|refit|reconnect)\b.{0,40}\b(fuses?|lead|power|breaker|circuit)\b",
    re.I,
)


def forgotten_undos(procedure: Procedure) -> list[Problem]:
    """Steps that bring power back without saying that they undo its control."""
    found = []
    safe: set[str] = set()
    for step in procedure.steps:
        if (
            _POWER_BACK.search(step.text)
            and safe & {"motor start", "live circuit"}
            and not set(step.undoes) & {"motor start", "live circuit"}
        ):
            found.append(
                Problem(
                    procedure.page.file,
                    step.line,
                    f"step {step.number} brings power back without undoes.",
                    'Add "undoes: motor start" or "undoes: live circuit".',
                )
            )
        safe |= set(step.makes_safe)
        safe -= set(step.undoes)
    return found
