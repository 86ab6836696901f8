"""A sum as it is told in the conversation: result, range, working, what was assumed, what would narrow it."""

from __future__ import annotations

import re
from collections.abc import Mapping

from bot.frozen import replace
from bot.problems import Contradiction, LeglineError, NotEnough, OutOfRange
from bot.sums.answers import by_name
from bot.sums.catalogue import CATALOGUE
from bot.sums.convert import both, both_ranged
from bot.sums.draw import Drawn
from bot.sums.result import Result, Value
from bot.talk.phrasing import Line
from bot.talk.state import Given, State

_SILENT = ("no rating given", "no side load given", "pad side told", "nothing to compare with")


def family(state: State) -> str:
    """The unit family that comes first."""
    return "metric" if state.units == "metric" else "us"


def work_out(name: str, given: tuple[Given, ...]) -> Result | str:
    """The result, or in one sentence why there is none."""
    one = CATALOGUE[name]
    values: dict[str, object] = {}
    for g in given:
        wanted = next((i for i in one.inputs if i.name == g.name), None)
        if wanted is None:
            values[g.name] = g.value
        elif wanted.kind == "numbers" and isinstance(g.value, tuple):
            values[g.name] = list(g.value)
        else:
            values.update(by_name(wanted, g.value))
    try:
        return one.run(values)
    except NotEnough as wanting:
        needs = re.sub(r"\s*\(--[\w-]+\)", "", wanting.needs).rstrip(".")
        return f"That sum can say nothing yet. It wants {needs}."
    except OutOfRange as beyond:
        unit = beyond.unit
        called = next((i.prompt for i in one.inputs if i.name == beyond.name), beyond.name.replace("_", " "))
        return (
            f"That sum does not go so far: {called} is {both(beyond.value, unit)}, and it holds from"
            f" {both(beyond.low, unit)} to {both(beyond.high, unit)}."
        )
    except Contradiction as clash:
        return f"That cannot be: {clash.what}"
    except LeglineError as refusal:
        return str(refusal)


def key_of(name: str, given: tuple[Given, ...]) -> str:
    """A sum with its inputs as one text, so that none is told twice."""
    return name + " " + " ".join(f"{g.name}={g.value!r}" for g in sorted(given, key=lambda g: g.name))


def _short(value: Value, first: str) -> str:
    """A figure without its range."""
    return value.text(first).split(", from ")[0]


def _judged(result: Result, notes: Mapping[str, str], given: tuple[Given, ...]) -> bool:
    """Whether what the verdict is about was given. Where it was only assumed, no verdict and no figure of it leads:
    who asks which wire to buy wants the gauge, not the loss in a wire nobody has.
    """
    needs = notes.get("verdict needs", "")
    options = {i.name: i.option for i in CATALOGUE[result.name].inputs}
    return not needs or needs in {options.get(g.name) for g in given}


def headline(result: Result, notes: Mapping[str, str], given: tuple[Given, ...], first: str) -> str:
    """The answer in one line: the verdict where there is one, and the figures that lead."""
    wanted = [name.strip() for name in notes.get("leads", "").split(",")]
    leading = [v for name in wanted for v in result.values if v.name == name] or list(result.values[:1])
    judged = _judged(result, notes, given)
    said = "; ".join(_short(v, first) for v in leading[: 3 if judged else 1])
    said = f"{said[0].upper()}{said[1:]}."
    if result.verdict in _SILENT or not judged:
        return said
    return f"{said} Verdict: {result.verdict}."


def told(
    result: Result, given: tuple[Given, ...], notes: Mapping[str, str], state: State, whole: bool
) -> list[Line]:
    """The lines of an answer. ``whole`` tells every assumption, note and source; else what an owner can use."""
    first = family(state)
    lines = [Line("say", headline(result, notes, given, first))]
    case = [g.echo for g in given if g.from_case]
    if case:
        lines.append(Line("note", "From what you told: " + "; ".join(case) + "."))
    ranged = next((v for v in result.values if abs(v.high - v.low) > 0.02 * abs(v.value or 1.0)), None)
    if ranged is not None and abs(ranged.high) < float("inf") and _judged(result, notes, given):
        _, low, high = both_ranged(ranged.value, ranged.low, ranged.high, ranged.unit, first)
        lines.append(Line("note", f"{ranged.name[0].upper()}{ranged.name[1:]}: from {low} to {high}."))
    lines += [Line("sum", text) for text in (result.working if whole else result.working[:4])]
    missing = [a for a in result.assumptions if "was not" in a]
    assumed = missing + [a for a in result.assumptions if a not in missing]
    if assumed:
        shown = assumed if whole else assumed[: max(3, len(missing))]
        lines.append(Line("note", "Assumed: " + "; ".join(shown) + "."))
    lines += [Line("note", text) for text in _notes(result, state, whole)]
    if result.narrow and (whole or missing):
        lines.append(Line("note", f"What would narrow it most: {result.narrow}."))
    if whole and result.sources:
        lines.append(Line("note", "Source: " + "; ".join(result.sources) + "."))
    if state.wording == "tech":
        lines += drawn(result, state)
    return lines


def _notes(result: Result, state: State, whole: bool) -> tuple[str, ...]:
    """The notes of a sum that were not told before in this conversation: two at most, one to an owner."""
    return tuple(text for text in result.notes[: 2 if whole else 1] if text not in state.noted)


def after(result: Result, state: State, whole: bool) -> State:
    """The state that remembers which notes were told."""
    return replace(state, noted=(*state.noted, *_notes(result, state, whole)))


def drawn(result: Result, state: State) -> list[Line]:
    """The drawing of a result as one line; nothing where it draws nothing or a screen reader listens."""
    if state.drawings != "on" or not result.rows:
        return []
    return [Line("drawing", Drawn.of(result, family(state)))]
