"""Findings of a line into the state: new ones, changed ones, answers, what the person has at hand."""

from __future__ import annotations

import re

from bot.frozen import dataclass, replace
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, title_of, value_words
from bot.talk.state import Asking, Found, State
from bot.talk.understand import Meaning
from bot.units import US, scan


@dataclass(frozen=True)
class Facts:
    """What taking a line's facts led to."""

    state: State
    new: tuple[Found, ...] = ()
    changed: tuple[Found, ...] = ()
    lines: tuple[Line, ...] = ()
    answered: bool = False  # the open question got an answer, "don't know" included
    support_changed: bool = False


def take_facts(state: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Facts:
    """The state with everything the line said, and what of it is new, changed, or cannot be."""
    lines: list[Line] = []
    wanted: list[Found] = []
    for name, (value, words) in meaning.findings.items():
        weighed = name in meaning.by_weight
        if weighed and any(f.name == name and not f.weighed for f in state.found):
            continue
        if name in knowledge.checks:
            wanted.append(Found(name, value, words, state.turn, weighed=weighed))
    for reading in meaning.readings:
        check = knowledge.checks[reading.finding]
        known = state.value(reading.finding)
        if (
            reading.assumed
            and reading.finding.startswith("volts_battery")
            and isinstance(known, float)
            and abs(known - reading.value) > 0.05
            and not _corrects(text)
        ):
            shown = value_words(check, reading.value, state.units)
            lines.append(
                Line(
                    "ask",
                    f"{shown} at the battery: at rest, or with the button held? I have {value_words(check, known, state.units)} at rest.",
                )
            )
            continue
        if (
            reading.assumed
            and reading.finding == "gross_weight_lb"
            and isinstance(known, float)
            and abs(known - reading.value) > 0.1 * known
            and not _corrects(text)
        ):
            shown, have = (
                value_words(check, reading.value, state.units),
                value_words(check, known, state.units),
            )
            lines.append(
                Line(
                    "ask",
                    f"{shown} of what? I have {have} for the whole trailer. Say it with its name: trailer {shown}, "
                    f"pin {shown}, or stand {shown}.",
                )
            )
            continue
        if check.low <= reading.value <= check.high:
            wanted.append(
                Found(reading.finding, reading.value, reading.words, state.turn, reading.low, reading.high)
            )
        else:
            lines.append(
                Line("note", _cannot_be(reading.finding, reading.value, reading.words, state, knowledge))
            )
    lines += [
        Line("ask", _which(name, values, state, knowledge))
        for name, values in meaning.clashes.items()
        if state.value(name) is None
    ]
    wanted = _implied(wanted, state)
    if state.units == "us" and _measures_metric(wanted, state, knowledge):
        state = replace(state, units="metric")
        lines.append(Line("note", "You measure in metric, so metric comes first from here. Say us units for the others."))  # fmt: skip
    before = {f.name: f for f in state.found}
    new = tuple(f for f in wanted if f.name not in before)
    changed = tuple(f for f in wanted if f.name in before and before[f.name].value != f.value)
    names = {f.name for f in (*new, *changed)}
    found = (*(f for f in state.found if f.name not in names), *new, *changed)
    support_before = state.support
    said = {f.name for f in wanted}
    state = replace(state, found=found, unknown=tuple(u for u in state.unknown if u not in said))
    answered = state.asking is not None and state.asking.finding in said
    return Facts(
        state,
        new,
        changed,
        tuple(lines),
        answered,
        support_before != state.support and support_before != "unsure",
    )


def _corrects(text: str) -> bool:
    """Whether a line announces that it puts something right."""
    return bool(
        re.match(
            r"\s*(no\b|nope|wait|actually|sorry|correction|i meant|scratch that|oops|make that)", text, re.I
        )
    )


def _measures_metric(wanted: list[Found], state: State, knowledge: Knowledge) -> bool:
    """Whether the first weight or length of a case was told in metric: that person thinks in it."""

    def measured(found: Found) -> bool:
        check = knowledge.checks.get(found.name)
        return check is not None and check.unit in ("lb", "in", "ft")

    if any(measured(f) for f in state.found):
        return False
    units = [q.unit for f in wanted if measured(f) for q in scan(f.words) if q.kind in ("weight", "length")]
    return bool(units) and units[0] is not None and units[0] not in US


def _implied(wanted: list[Found], state: State) -> list[Found]:
    """Support and hitch say the same thing twice; the later one wins and the other follows."""
    by_name = {f.name: f for f in wanted}
    hitched, support = by_name.get("hitched"), by_name.get("support")
    if hitched and hitched.value == "no" and (support is None or support.value == "hitched"):
        wanted = [f for f in wanted if f.name != "support"]
        if state.support == "hitched" or state.value("support") is None:
            wanted.append(
                Found(
                    "support", "legs" if state.support != "stands" else "stands", hitched.words, hitched.turn
                )
            )
    elif hitched and hitched.value == "yes" and support is None:
        wanted.append(Found("support", "hitched", hitched.words, hitched.turn))
    elif support and support.value != "hitched" and state.value("hitched") == "yes":
        wanted.append(Found("hitched", "no", support.words, support.turn))
    return wanted


def _cannot_be(finding: str, value: float, words: str, state: State, knowledge: Knowledge) -> str:
    check = knowledge.checks[finding]
    family = "metric" if state.units == "metric" else "us"
    low, high = value_words(check, check.low, family), value_words(check, check.high, family)
    slip = ""
    if check.unit == "V" and check.low <= value / 1000 <= check.high and value > 100:
        slip = f" If the meter showed millivolts, type {value:g} mV."
    return f'I read "{words.strip()}" as {value_words(check, value, family)} for {title_of(finding, knowledge)}; that is outside {low} to {high}. Type it again with its unit.{slip}'


def _which(name: str, values: tuple[str, ...], state: State, knowledge: Knowledge) -> str:
    check = knowledge.checks[name]
    said = [value_words(check, v, state.units).rstrip(".") for v in values]
    return f"I heard two things about {title_of(name, knowledge)}: {' and '.join(said)}. Which holds now?"


def not_known(state: State, asking: Asking) -> State:
    """The question marked as not to be known; nothing else changes."""
    return replace(state, unknown=tuple(dict.fromkeys((*state.unknown, asking.finding))), missed=0)
