"""Each bare formula once on quantities: the units that go in give the unit that comes out."""

import inspect
from collections.abc import Callable
from typing import Any

import pint
import pytest

from bot.sums import battery, bolts, columns, copper, foot, motors, path, screws, shafts, statics
from bot.sums.convert import OTHER

UNIT: Any = pint.UnitRegistry(cache_folder=None)


def q(value: float, unit: str) -> Any:
    return UNIT.Quantity(value, unit)


OHM_CMIL_FT = q(1.0, "ohm * circular_mil / ft")

CASES: list[tuple[Callable[..., Any], tuple[Any, ...], str]] = [
    (copper.drop_v, (q(30, "A"), q(0.036, "ohm")), "volt"),
    (copper.rule_drop_v, (q(30, "A"), q(18, "ft"), q(10383, "circular_mil"), 10.75 * OHM_CMIL_FT), "volt"),
    (copper.cmil_wanted, (q(30, "A"), q(36, "ft"), q(0.36, "V"), 10.75 * OHM_CMIL_FT), "circular_mil"),
    (path.ohm_from_drop, (q(0.3, "V"), q(30, "A")), "ohm"),
    (path.heat_w, (q(30, "A"), q(0.00185, "ohm")), "watt"),
    (battery.inner_ohm, (q(12.6, "V"), q(12.2, "V"), q(25, "A")), "ohm"),
    (statics.pin_load_lb, (q(14000, "lbf"), q(26, "ft"), q(20.8, "ft")), "lbf"),
    (statics.legs_lb, (q(2800, "lbf"), q(26, "ft"), q(6, "ft")), "lbf"),
    (statics.near_leg_lb, (q(3640, "lbf"), q(72, "in"), q(3, "in")), "lbf"),
    (statics.change_by_move_lb, (q(500, "lbf"), q(4, "ft"), q(22, "ft"), q(20, "ft")), "lbf"),
    (statics.cg_shift, (q(4000, "lb"), q(100, "lb"), q(90, "in")), "in"),
    (statics.weight_to_move, (q(7800, "lb"), q(1, "in"), q(120, "in")), "lb"),
    (statics.three_level_supports, (q(10, "lbf/in"), q(120, "in")), "lbf"),
    (screws.raise_torque, (q(1820, "lbf"), q(0.9, "in"), q(0.2, "in"), 0.15, 14.5), "lbf*in"),
    (screws.lower_torque, (q(1820, "lbf"), q(0.9, "in"), q(0.2, "in"), 0.15, 14.5), "lbf*in"),
    (screws.collar_torque, (q(1820, "lbf"), 0.15, q(0.6, "in")), "lbf*in"),
    (screws.efficiency, (q(1820, "lbf"), q(0.2, "in"), q(186, "lbf*in")), ""),
    (screws.holding_friction, (q(0.9, "in"), q(0.2, "in"), 14.5), ""),
    (screws.crank_force, (q(186, "lbf*in"), q(8, "in"), 0.95), "lbf"),
    (shafts.polar_moment, (q(1.75, "in"), q(1.25, "in")), "in**4"),
    (shafts.shear_stress, (q(6200, "lbf*in"), q(1.75, "in"), q(1.25, "in")), "psi"),
    (shafts.twist_rad, (q(4000, "N*m"), q(2.5, "m"), q(77e9, "Pa"), q(0.075, "m"), q(0, "m")), ""),
    (shafts.yield_torque, (q(36000, "psi"), q(0.75, "in"), q(0, "in")), "lbf*in"),
    (shafts.pin_torque, (q(4150, "lbf"), q(0.75, "in")), "lbf*in"),
    (bolts.clamp_lbf, (q(0.1419, "in**2"), q(85000, "psi")), "lbf"),
    (bolts.shear_lbf, (q(120000, "psi"), q(0.1419, "in**2")), "lbf"),
    (columns.euler_load, (q(29e6, "psi"), q(1.9, "in**4"), q(30, "in"), "fixed-free"), "lbf"),
    (columns.slenderness, (q(30, "in"), q(1.9, "in**4"), q(2.25, "in**2")), ""),
    (columns.johnson_load, (q(29e6, "psi"), q(46e3, "psi"), q(2.25, "in**2"), 65.0), "lbf"),
    (columns.cantilever_tip, (q(300, "lbf"), q(30, "in"), q(29e6, "psi"), q(1.9, "in**4")), "in"),
    (foot.pressure_psf, (q(1820, "lbf"), q(0.5625, "ft**2")), "lbf/ft**2"),
    (foot.pad_area_ft2, (q(1820, "lbf"), q(1500, "lbf/ft**2")), "ft**2"),
    (motors.constant_power_a, (q(300, "W"), q(12.6, "V"), q(0.06, "ohm")), "A"),
]  # fmt: skip


@pytest.mark.parametrize(("formula", "inputs", "unit"), CASES, ids=[case[0].__name__ for case in CASES])
def test_formula_has_the_dimension_its_name_says(
    formula: Callable[..., Any], inputs: tuple[Any, ...], unit: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Formulas that call another one get its bare form too: limits compare plain numbers only.
    monkeypatch.setattr(shafts, "polar_moment", inspect.unwrap(shafts.polar_moment))
    monkeypatch.setattr(columns, "transition", inspect.unwrap(columns.transition))
    found = inspect.unwrap(formula)(*inputs)
    for one in found if isinstance(found, tuple) else (found,):
        assert UNIT.Quantity(one).check(UNIT.Quantity(1, unit).dimensionality)


PINT_NAMES = {
    "lb-ft": "lbf*ft", "lb-in": "lbf*in", "N.m": "N*m", "psf": "lbf/ft**2", "in2": "in**2", "mm2": "mm**2", "ft2": "ft**2",
    "m2": "m**2", "cmil": "circular_mil", "ohm/1000ft": "ohm/kft", "ohm/km": "ohm/km",
}  # fmt: skip


@pytest.mark.parametrize("unit", sorted(OTHER))
def test_factor_to_the_other_family_is_the_one_pint_has(unit: str) -> None:
    other, factor = OTHER[unit]
    theirs = q(1.0, PINT_NAMES.get(unit, unit)).to(PINT_NAMES.get(other, other)).magnitude
    print(f"{unit} to {other}, pint, difference {abs(factor - theirs) / theirs:.1e}")
    assert factor == pytest.approx(theirs, rel=1e-9)
