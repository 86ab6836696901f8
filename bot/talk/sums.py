"""Sums that a reading sets off in the conversation: what it means, with its working, once both ends are known."""

from __future__ import annotations

import contextlib

from bot.problems import LeglineError
from bot.sums.legs import leg_load
from bot.sums.path import path
from bot.sums.result import Result
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Found, State
from bot.units import show

_PATH = {
    "volts_battery_loaded",
    "volts_motor_loaded",
    "volts_ground_drop",
    "amps",
    "wire_gauge_awg",
    "wire_length_ft",
}
_LOAD = {"gross_weight_lb", "pin_weight_lb"}


def _number(state: State, name: str) -> float | None:
    value = state.value(name)
    return float(value) if isinstance(value, (int, float)) else None


def _told(result: Result, units: str) -> list[Line]:
    """A sum as it is told: its working, its range, what was assumed for want of a measurement, what to do."""
    lines = [Line("sum", text) for text in result.working[:4]]
    first = result.values[0]
    spread = result.high - result.low
    if spread > 0.05 * abs(first.value or 1.0):
        family = "metric" if units == "metric" else "us"
        low, high = show(result.low, first.unit, family), show(result.high, first.unit, family)
        lines.append(Line("note", f"{first.name}: from {low} to {high}."))
    missing = [a for a in result.assumptions if "was not" in a]
    others = [a for a in result.assumptions if a not in missing]
    if missing or others:
        lines.append(Line("note", "Assumed: " + "; ".join((missing + others)[: max(3, len(missing))]) + "."))
    if result.notes:
        lines.append(Line("note", result.notes[0]))
    if result.narrow and missing:
        lines.append(Line("note", f"What would narrow it most: {result.narrow}."))
    return lines


def sum_results(names: set[str], state: State) -> list[Result]:
    """The sums that findings of these names make possible, worked out; none where something is still missing."""
    results: list[Result] = []
    battery, motor = _number(state, "volts_battery_loaded"), _number(state, "volts_motor_loaded")
    if (
        names & {"volts_battery_loaded", "volts_motor_loaded", "volts_ground_drop"}
        and battery is not None
        and motor is not None
        and motor <= battery
    ):
        with contextlib.suppress(LeglineError):
            results.append(
                path(
                    battery, motor, _number(state, "volts_ground_drop"), _number(state, "amps"),
                    _number(state, "wire_gauge_awg"), _number(state, "wire_length_ft"),
                )
            )  # fmt: skip
    if names & _LOAD:
        with contextlib.suppress(LeglineError):
            results.append(
                leg_load(gross_lb=_number(state, "gross_weight_lb"), pin_lb=_number(state, "pin_weight_lb"))
            )
    return results


def sum_lines(new: tuple[Found, ...], state: State, knowledge: Knowledge) -> list[Line]:
    """The sums that these new findings make possible, as lines; none where nothing new can be worked out."""
    del knowledge
    return [
        line for result in sum_results({f.name for f in new}, state) for line in _told(result, state.units)
    ]


__all__ = ["sum_lines", "sum_results"]
