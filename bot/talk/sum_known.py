"""What the case already knows of a sum's inputs."""

from __future__ import annotations

from bot.sums.catalogue import CATALOGUE, Input, Sum
from bot.sums.spans import Span
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import value_words
from bot.talk.state import Found, Given, State
from bot.talk.sum_inputs import LOAD_ON, Step, load_from

#: Input of a sum -> the finding that is the same thing.
FINDING = {
    "gross_lb": "gross_weight_lb",
    "pin_lb": "pin_weight_lb",
    "amps": "amps",
    "gauge_awg": "wire_gauge_awg",
    "one_way_ft": "wire_length_ft",
    "rating_a": "fuse_rating_a",
    "fuse_a": "fuse_rating_a",
    "rated_a": "motor_rating_a",
    "volts_battery": "volts_battery_loaded",
    "volts_loaded": "volts_battery_loaded",
    "volts_motor": "volts_motor_loaded",
    "volts_ground_side": "volts_ground_drop",
    "volts_rest": "volts_battery_resting",
    "difference_in": "leg_length_difference_in",
    "old_outer_in": "outer_tube_in",
    "old_inner_in": "inner_tube_in",
    "old_stroke_in": "stroke_in",
}
_ON_ALL, _ON_ONE = (
    {"stand"},
    {"screw", "foot"},
)  # sums that start from the load on the legs, or on one of them
#: The same where an argument means something else in other sums.
_OF_ONE_SUM = {("stand", "rating_each_lb"): "stand_rating_lb"}
_MOTORS = {"one_motor": 1.0, "two_motor": 2.0, "manual": 0.0}
#: What only sums use and is worth keeping once it was told: argument -> the other names it goes by.
KEPT = {
    "seconds": ("lift_s",), "lift_s": ("seconds",), "rating_leg_lb": ("rating_each_lb",), "rating_pair_lb": (),
    "rating_motor_lb": (), "turns_per_inch": (), "points_flat": (), "pin_to_axles_ft": (), "pin_to_legs_ft": (),
    "amp_hours": (), "cca_a": (),
}  # fmt: skip


def number(found: Found) -> float | Span:
    """A reading with its range where it has one."""
    value = float(found.value)
    if found.low is not None and found.high is not None and found.low < found.high:
        return Span(found.low, value, found.high)
    return value


def known(
    one: Sum, now: tuple[Given, ...], asks: tuple[Step, ...], state: State, knowledge: Knowledge
) -> tuple[Given, ...]:
    """Inputs that the case knows and the person did not give now.

    Of inputs that stand for one another (``asks`` joins them in one step) the case adds none where one was given now.
    """
    have = {g.name for g in now}
    options = {i.option: i.name for i in one.inputs}
    shut = set()
    for step in asks:
        names = {options[option] for option in step.options if option in options}
        if names & have:
            shut |= names
    # A wire told in mm2 or by its SAE size is the wire; the gauge of the case is another.
    shut |= {"gauge_awg"} if "mm2" in have else set()
    found: list[Given] = []
    for wanted in one.inputs:
        if wanted.name in have or wanted.name in shut:
            continue
        given = _one(one, wanted, state, knowledge)
        if given is not None:
            found.append(given)
    return tuple(found)


def _one(one: Sum, wanted: Input, state: State, knowledge: Knowledge) -> Given | None:
    kept = next((g for g in state.told if wanted.name == g.name or wanted.name in KEPT.get(g.name, ())), None)
    if kept is not None and not (one.name == "stand" and wanted.name == "rating_each_lb"):
        return Given(wanted.name, kept.value, f"{wanted.option.replace('-', ' ')} {kept.echo}", True)
    if wanted.name == "motors" and state.value("gear") in _MOTORS:
        motors = _MOTORS[str(state.value("gear"))]
        return Given(
            "motors", motors, {0.0: "a hand crank", 1.0: "one motor"}.get(motors, "two motors"), True
        )
    if wanted.name == "load_lb" and one.name in LOAD_ON:
        return _load(one, state)
    finding = _OF_ONE_SUM.get((one.name, wanted.name)) or FINDING.get(wanted.name, "")
    found = next((f for f in state.found if f.name == finding), None)
    if found is None or isinstance(found.value, str):
        return None
    value: object = number(found)
    if wanted.kind == "number" and isinstance(value, Span):
        value = value.value
    if wanted.kind == "gauge":
        whole = float(found.value)
        value = f"{whole:.0f}" if whole >= 1 else f"{1 - whole:.0f}/0"
    said = value_words(knowledge.checks.get(finding), found.value, state.units)
    return Given(wanted.name, value, f"{wanted.option.replace('-', ' ')} {said}", True)


def _load(one: Sum, state: State) -> Given | None:
    """The load on the legs, or on one, from the weights of the case."""
    names = {"gross_weight_lb": "gross", "pin_weight_lb": "pin"}
    weights = {names[f.name]: number(f) for f in state.found if f.name in names}
    return load_from(one, weights, state.units) if weights else None


def kept_words(given: Given) -> str:
    """An input that only sums use, as it is read back: what it is, then the figure."""
    prompts = (i.prompt for one in CATALOGUE.values() for i in one.inputs if i.name == given.name)
    return f"{next(prompts, given.name)}: {given.echo}"
