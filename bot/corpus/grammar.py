"""The closed little languages inside pages: expectations, circuit ranges, answers, costs.

Each reader returns its value or raises GrammarError with what was found and what is accepted.
"""

from __future__ import annotations

import re

from bot.corpus import vocabulary as words
from bot.corpus.model import CircuitRange, Expectation, Match
from bot.frozen import dataclass

_SCALE_PATTERN = "|".join(sorted(words.SCALE, key=len, reverse=True))
_ANSWER = re.compile(rf"^((?:over|under) -?[\d.]+|[a-z_]+) ({_SCALE_PATTERN})$")


class GrammarError(ValueError):
    """A line outside its grammar."""

    def __init__(self, what: str, fix: str) -> None:
        self.what, self.fix = what, fix
        super().__init__(f"{what} {fix}")


@dataclass(frozen=True)
class Answer:
    """What kind of answer a check takes."""

    kind: str
    choices: tuple[str, ...] = ()
    unit: str = ""


@dataclass(frozen=True)
class CircuitChange:
    """One line of `## Circuit`."""

    ranges: tuple[CircuitRange, ...] = ()
    breaks: tuple[str, ...] = ()
    motor: tuple[str, float, float] | None = None


def read_answer(text: str) -> Answer:
    """yes_no | quantity UNIT | choice: a, b, c."""
    if text == "yes_no":
        return Answer("yes_no", ("yes", "no"))
    kind, _, rest = text.partition(" ")
    if kind == "quantity" and rest in words.CHECK_UNITS:
        return Answer("quantity", (), rest)
    if kind == "choice:" and len([c for c in rest.split(",") if c.strip()]) > 1:
        return Answer("choice", tuple(c.strip() for c in rest.split(",")))
    raise GrammarError(
        f'"{text}" is no kind of answer.',
        "Write yes_no, or choice: a, b, c, or quantity with one of " + ", ".join(words.CHECK_UNITS) + ".",
    )


def _chances(text: str) -> tuple[tuple[str, float], ...]:
    found = []
    for part in text.split(","):
        match = _ANSWER.match(part.strip())
        if not match:
            raise GrammarError(
                f'"{part.strip()}" is no answer with a word of chance.',
                "Write an answer and one of " + ", ".join(words.SCALE) + ".",
            )
        found.append((match.group(1), words.SCALE[match.group(2)]))
    return tuple(found)


def read_expectation(text: str, line: int) -> Expectation:
    """`finding: answer word, answer word` under `## Expect`."""
    finding, colon, rest = text.partition(":")
    if not colon:
        raise GrammarError(
            f'"{text}" names no finding.', "Write finding: answer word, like ground_clean: no often."
        )
    return Expectation(finding.strip(), _chances(rest), line)


def read_otherwise(text: str, answer: Answer) -> tuple[tuple[str, float], ...]:
    """The chances of answers under causes that say nothing about a finding."""
    found = _chances(text)
    for said, _ in found:
        if answer.choices and said not in answer.choices:
            raise GrammarError(
                f'"{said}" is no answer of this check.', "Answers: " + ", ".join(answer.choices) + "."
            )
    return found


def read_circuit(text: str, line: int) -> CircuitChange:
    """One line of `## Circuit`: a range of an element, a list of breaks, or the motor's state."""
    label, colon, rest = text.partition(":")
    label, rest = label.strip(), rest.strip()
    if colon and label == "open at":
        places = tuple(p.strip() for p in rest.split(","))
        for place in places:
            if place not in words.CIRCUIT_BREAKS:
                raise GrammarError(
                    f'the circuit cannot be open at "{place}".',
                    "Known: " + ", ".join(words.CIRCUIT_BREAKS) + ".",
                )
        return CircuitChange(breaks=places)
    if colon and label == "motor":
        match = re.fullmatch(r"(unloaded|locked|weak)(?: ([\d.]+) to ([\d.]+)(?: times)?)?", rest)
        if match:
            return CircuitChange(
                motor=(match.group(1), float(match.group(2) or 0.6), float(match.group(3) or 0.85))
            )
        raise GrammarError(f'the motor cannot be "{rest}".', "Known: " + ", ".join(words.MOTOR_STATES) + ".")
    unit = words.CIRCUIT_ELEMENTS.get(label)
    if colon and unit:
        match = re.fullmatch(r"([\d.]+) to ([\d.]+) ?(%|mohm|times)?", rest)
        if match and (match.group(3) or unit) == unit and float(match.group(1)) <= float(match.group(2)):
            return CircuitChange((CircuitRange(label, float(match.group(1)), float(match.group(2)), line),))
        raise GrammarError(f'"{rest}" is no range in {unit}.', f"Write LOW to HIGH {unit}.")
    raise GrammarError(
        f'"{label}" is no part of the circuit.',
        "Known: " + ", ".join([*words.CIRCUIT_ELEMENTS, "open at", "motor"]) + ".",
    )


def read_wrong_cost(text: str) -> tuple[float, str]:
    """`20 minutes, no part` -> (20.0, "no part")."""
    match = re.fullmatch(r"(\d+) minutes?, (no part|cheap part|dear part)", text)
    if not match:
        raise GrammarError(f'"{text}" is no cost.', "Write N minutes, then no part, cheap part or dear part.")
    return float(match.group(1)), match.group(2)


_MATCH = re.compile(r"^(same as|at least) ([a-z_]+(?:, [a-z_]+)*)$")


def read_match(text: str, line: int) -> Match:
    """`column: same as finding`, `column: at least finding, finding`, `column: at least the load of one leg` or
    `column: by hand` under `## Match`.

    >>> read_match("rating: at least amps, motor_rating_a", 3).findings
    ('amps', 'motor_rating_a')
    """
    column, _, rest = text.partition(": ")
    if column not in words.PARTS_LIST_MATCHED:
        raise GrammarError(
            f'"{column}" is no column that is matched.',
            "Columns: " + ", ".join(words.PARTS_LIST_MATCHED) + ".",
        )
    if rest == "by hand":
        return Match(column, "by hand", (), line)
    if rest == "at least the load of one leg":
        return Match(column, "leg load", (), line)
    match = _MATCH.match(rest)
    if not match:
        raise GrammarError(
            f'"{rest}" is no way to match.',
            "Write same as FINDING, at least FINDING, at least the load of one leg, or by hand.",
        )
    return Match(column, match.group(1), tuple(match.group(2).split(", ")), line)
