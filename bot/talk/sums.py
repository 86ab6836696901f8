"""Sums that findings set off by themselves: what a reading means, once everything it takes is known."""

from __future__ import annotations

from bot.frozen import dataclass, replace
from bot.sums.catalogue import CATALOGUE
from bot.sums.result import Result
from bot.talk.asked import keep, notes_of
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Found, Given, OpenSum, State
from bot.talk.sum_inputs import asks_of, fill
from bot.talk.sum_known import FINDING, known
from bot.talk.sum_told import after, family, headline, key_of, told, work_out
from bot.talk.understand import Meaning


@dataclass(frozen=True)
class _Rule:
    """A sum with the inputs that must be known, any of each group, and what of them sets it off."""

    name: str
    needs: tuple[tuple[str, ...], ...]
    by: tuple[str, ...]  # inputs that set it off when they are new
    owner: bool = True  # told to an owner too, or to help-line and tech alone


# In the order of what tells most: one sum a turn.
_RULES = (
    _Rule(
        "path", (("volts_battery",), ("volts_motor",)),
        ("volts_battery", "volts_motor", "volts_ground_side", "amps"),
    ),
    _Rule(
        "motor-point", (("points_flat",), ("volts_rest",), ("amps",)),
        ("points_flat", "volts_rest", "amps", "gauge_awg", "one_way_ft"), False,
    ),
    _Rule("fuse-time", (("amps",), ("rating_a",)), ("amps", "rating_a", "seconds")),
    _Rule(
        "lift-margin", (("gross_lb", "pin_lb"), ("rating_leg_lb", "rating_pair_lb", "rating_motor_lb")),
        ("gross_lb", "pin_lb", "rating_leg_lb", "rating_pair_lb", "rating_motor_lb"),
    ),
    _Rule("leg-load", (("pin_lb",),), ("gross_lb", "pin_lb")),
    # From the gross weight alone the load is anywhere in a wide band: no help to an owner who has just begun.
    _Rule("leg-load", (("gross_lb",),), ("gross_lb",), False),
    _Rule(
        "harness", (("gauge_awg",), ("one_way_ft",), ("amps",)), ("gauge_awg", "one_way_ft", "amps"), False
    ),
    _Rule("battery", (("volts_rest",), ("volts_loaded",)), ("volts_rest", "volts_loaded", "amps"), False),
    _Rule("retime", (("difference_in",),), ("difference_in", "turns_per_inch")),
)  # fmt: skip
_MEASURED = {"path", "motor-point"}  # their working names every reading


def overheard(state: State, meaning: Meaning) -> tuple[State, Meaning, frozenset[str]]:
    """What only sums use and a line tells in passing: ratings of the legs, seconds of a lift, points of a motor.

    Returns the state that keeps it, the meaning without readings made of the same words, and the new names.
    """
    places = {h.value for h in meaning.said("place")}
    found: list[Given] = []
    if "leg rating" in places:
        found += [
            g for g in fill(CATALOGUE["lift-margin"], meaning, ()).given if g.name.startswith("rating_")
        ]
    if "lift time" in places:
        found += [
            g for g in fill(CATALOGUE["fuse-time"], meaning, asks_of("seconds")).given if g.name == "seconds"
        ]
    if sum(1 for t in meaning.line if t.text == "rpm") > 1:
        found += [g for g in fill(CATALOGUE["motor-point"], meaning, ()).given if g.name == "points_flat"]
    if not found:
        return state, meaning, frozenset()
    echoes = {g.echo for g in found}
    points = any(g.name == "points_flat" for g in found)
    readings = tuple(
        r
        for r in meaning.readings
        if not (
            (r.finding.endswith("weight_lb") and any(f"{r.value:g} lb" in echo for echo in echoes))
            or (points and r.finding.startswith(("volts", "amps")))
        )
    )
    before = {g.name: g.value for g in state.told}
    state = keep(state, tuple(found))
    new = frozenset(g.name for g in found if before.get(g.name) != g.value)
    return state, replace(meaning, readings=readings), new


def sum_lines(
    new: tuple[Found, ...], state: State, knowledge: Knowledge, also: frozenset[str] = frozenset()
) -> tuple[State, list[Line]]:
    """The one sum that these new findings make possible, and the state that remembers it; no lines where none is.

    ``also`` names inputs that are new and no findings.
    """
    names = {f.name for f in new}
    for rule in _RULES:
        if not rule.owner and state.wording == "owner":
            continue
        if not any(FINDING.get(by, "") in names or by in also for by in rule.by):
            continue
        one, notes = CATALOGUE[rule.name], notes_of(rule.name, knowledge)
        given = known(one, (), asks_of(notes.get("asks", "")), state, knowledge)
        have = {g.name for g in given}
        key = key_of(rule.name, given)
        if not all(any(name in have for name in group) for group in rule.needs) or key in state.worked:
            continue
        result = work_out(rule.name, given)
        if isinstance(result, str):
            if rule.name != "retime":
                continue
            lines = [Line("sum", "turns = difference x turns an inch"), Line("note", result)]
        else:
            shown = given if rule.name not in _MEASURED else tuple(replace(g, from_case=False) for g in given)
            lines = told(result, shown, notes, state, state.wording == "tech")
            state = after(result, state, state.wording == "tech")
            before = (
                work_out(rule.name, state.last_sum.given)
                if state.last_sum is not None and state.last_sum.name == rule.name
                else ""
            )
            if not isinstance(before, str) and (before.values, before.verdict) == (
                result.values,
                result.verdict,
            ):
                lines = [Line("say", f"With that, the same: {headline(result, notes, given, family(state))}")]
        state = replace(state, worked=(*state.worked, key), last_sum=OpenSum(rule.name, given))
        return state, lines
    return state, []


def all_sum_lines(state: State, knowledge: Knowledge) -> list[Line]:
    """Every sum that the findings of a case make possible, as a record keeps them."""
    state, lines = replace(state, worked=(), wording="phone"), []
    for _ in _RULES:
        state, more = sum_lines(state.found, state, knowledge, frozenset(g.name for g in state.told))
        if not more:
            break
        lines += more
    return lines


def all_results(state: State, knowledge: Knowledge) -> dict[str, Result]:
    """Every sum that the findings of a case make possible, worked out, by its name."""
    state, results = replace(state, worked=(), wording="phone"), {}
    for _ in _RULES:
        state, more = sum_lines(state.found, state, knowledge, frozenset(g.name for g in state.told))
        if not more or state.last_sum is None:
            break
        result = work_out(state.last_sum.name, state.last_sum.given)
        if not isinstance(result, str):
            results[state.last_sum.name] = result
    return results


__all__ = ["all_results", "all_sum_lines", "overheard", "sum_lines"]
