"""Questions at the keyboard for what a sum still wants: one at a time, with unit, limits and an example."""

from __future__ import annotations

import sys
from collections.abc import Callable

from bot.sums.answers import Refused, Taken, read_answer, sample
from bot.sums.catalogue import limits_of
from bot.sums.convert import figure
from bot.sums.inputs import Input, Sum

Ask = Callable[[str], str]


class Words(Exception):
    """The words of the call are wrong; the text says what to type."""


def keyboard(question: str) -> str:
    """The line typed after a question, which goes to standard error. Raises Words at the end of the input."""
    sys.stderr.write(question)
    sys.stderr.flush()
    line = sys.stdin.readline()
    if not line:
        raise Words("The answers ended before the sum had what it wants.")
    return line.strip()


def question(one: Sum, wanted: Input) -> str:
    """What is asked for one input: words, unit or choices, limits, an example, what Enter does."""
    parts: list[str] = []
    if wanted.choices:
        parts.append("one of: " + ", ".join(wanted.choices))
    elif wanted.kind == "yes_no":
        parts.append("yes or no")
    else:
        bounds = limits_of(one, wanted)
        if bounds is not None:
            parts.append(f"{figure(bounds[0])} to {figure(bounds[1])} {wanted.unit}".rstrip())
        elif wanted.unit:
            parts.append(wanted.unit)
        parts.append(f"like {sample(wanted, one)}")
    if wanted.required:
        parts.append("wanted")
    else:
        parts.append(f"Enter for {wanted.assumed}" if wanted.assumed else "Enter to leave out")
    return f"{wanted.prompt} ({'; '.join(parts)}): "


def missing_text(one: Sum, missing: list[Input]) -> str:
    """What is missing where nobody can be asked: every option with what it is and how it is typed."""
    each = [f'  --{wanted.option} "{sample(wanted, one)}"   {wanted.prompt}' for wanted in missing]
    return "\n".join([f"{one.name} wants what is missing here:", *each])


def ask_for_missing(one: Sum, taken: dict[str, Taken], ask: Ask | None, everything: bool) -> None:
    """Puts the questions that are left: those that have to be answered, or all where nothing was given.

    Raises Words, with all that is missing, where there is nobody to ask.
    """
    missing = [wanted for wanted in one.inputs if wanted.required and wanted.option not in taken]
    if ask is None:
        if missing:
            raise Words(missing_text(one, missing))
        return
    for wanted in one.inputs:
        if wanted.option in taken or not (wanted.required or everything):
            continue
        while True:
            answer = ask(question(one, wanted))
            if not answer and not wanted.required:
                break
            read = read_answer(one, wanted, answer)
            if isinstance(read, Refused):
                sys.stderr.write(f"{read.reply}\n")
                continue
            bounds = limits_of(one, wanted)
            beyond = _beyond(read.value, bounds) if bounds else ""
            if beyond:
                sys.stderr.write(f"{beyond} Type it again.\n")
                continue
            taken[wanted.option] = read
            break


def _beyond(value: object, bounds: tuple[float, float, str]) -> str:
    """Why a figure lies outside the limits of its formula, or nothing."""
    low, high, unit = bounds
    figures = value if isinstance(value, (tuple, list)) else (value,)
    for one in figures:
        if isinstance(one, (int, float)) and not isinstance(one, bool) and not low <= one <= high:
            return f"{figure(one)} {unit} is outside {figure(low)} to {figure(high)} {unit}."
    return ""
