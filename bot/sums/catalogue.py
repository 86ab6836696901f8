"""Every sum by name, and the two whose formulas take their inputs in bundles."""

from collections.abc import Callable
from importlib import import_module

from bot.problems import NotEnough
from bot.sums.catalogue_electric import SUMS as ELECTRIC
from bot.sums.catalogue_load import SUMS as LOAD
from bot.sums.catalogue_load import TAPE
from bot.sums.catalogue_parts import SUMS as PARTS
from bot.sums.inputs import Input, Sum
from bot.sums.result import Result

_ORDER = (
    *("leg-load", "lift-margin", "harness", "path", "motor-point", "fuse-time", "battery"),
    *("screw", "shaft", "bolts", "leg-fit", "foot", "stand", "retime", "carry"),
)
_BY_NAME = {one.name: one for one in (*LOAD, *ELECTRIC, *PARTS)}

#: Every sum by name, in the order a person would look for them.
CATALOGUE: dict[str, Sum] = {name: _BY_NAME[name] for name in _ORDER}


#: The formulas behind the two that take their inputs in bundles.
_BUNDLED = {
    "bot.sums.catalogue.motor_point_flat": "bot.sums.motor_point.motor_point",
    "bot.sums.catalogue.leg_fit_flat": "bot.sums.leg_fit.leg_fit",
}


def motor_point_flat(points_flat: list[float] | None = None, **given: object) -> Result:
    """motor_point with its two measured points as six numbers. Raises NotEnough for another count."""
    call: Callable[..., Result] = import_module("bot.sums.motor_point").motor_point
    if points_flat is None:
        return call(**given)
    if len(points_flat) != 6:
        raise NotEnough("motor-point", "six numbers for two points: volts amps rpm, volts amps rpm")
    return call(points=(tuple(points_flat[:3]), tuple(points_flat[3:])), **given)


def leg_fit_flat(**given: object) -> Result:
    """leg_fit with the two measured legs as single inputs."""
    module = import_module("bot.sums.leg_fit")
    for which in ("old", "new"):
        parts = {f"{point}_in": given.pop(f"{which}_{point}_in", None) for point in TAPE}
        if any(part is not None for part in parts.values()):
            given[which] = module.Leg(**{name: part or 0.0 for name, part in parts.items()})
    call: Callable[..., Result] = module.leg_fit
    return call(**given)


def limits_of(one: Sum, wanted: Input) -> tuple[float, float, str] | None:
    """Lowest, highest and unit that the formula of a sum takes for one input; None where it names no limits."""
    from bot.sums.limits import DECLARED

    place = _BUNDLED.get(one.place, one.place)
    import_module(place.rpartition(".")[0])
    return DECLARED.get(place, {}).get(wanted.name)


__all__ = ["CATALOGUE", "Input", "Sum", "leg_fit_flat", "limits_of", "motor_point_flat"]
