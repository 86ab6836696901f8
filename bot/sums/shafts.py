"""Shafts and cross pins: shear stress, first yield, the torque that shears a pin; and the shaft sum."""

from collections.abc import Mapping
from math import pi, radians, sqrt

from bot.problems import NotEnough
from bot.sums import tables_parts as p
from bot.sums.convert import IN_MM, LBF_N, figure
from bot.sums.limits import limits
from bot.sums.result import Result, bar_row, valued
from bot.sums.spans import Known, Span, against, exact, span

PIN_TABLES: dict[str, tuple[Mapping[float, float], str, str]] = {
    "slotted": (p.SLOTTED_IN_LBF, "lbf by inch", "ASME B18.8.2-2000, slotted spring pin, double shear"),
    "slotted metric": (p.SLOTTED_MM_KN, "kN by mm", "ISO 8752, slotted spring pin, double shear"),
    "stainless metric": (p.STAINLESS_MM_KN, "kN by mm", "stainless spring pins, tested values, double shear"),
    "coiled metric": (p.COILED_MM_KN, "kN by mm", "ISO 8748, coiled spring pin, double shear"),
}
LIKE_NOTE = (
    "Replace a pin like for like: kind, steel, diameter, length. A harder pin only moves the break"
    " to the shaft or"
    " the gears; a stainless spring pin is weaker than a carbon-steel one."
)


@limits(outer=(0.001, 1e4, ""), inner=(0, 1e4, ""))
def polar_moment(outer: float, inner: float = 0.0) -> float:
    """Polar moment of a round shaft.

    J = pi (D^4 - d^4) / 32

    Parameters
    ----------
    outer : outside diameter, any unit of length, 0.001 to 10000
    inner : bore, same unit, 0 to 10000

    Returns length to the fourth. Source: mechanics of materials.

    >>> round(polar_moment(1.75, 1.25), 4)
    0.6811
    """
    return pi * (outer**4 - inner**4) / 32


def shear_stress(torque: float, outer: float, inner: float = 0.0) -> float:
    """Shear stress at the surface of a round shaft: T D / (2 J). Any one set of units.

    >>> round(shear_stress(6200, 1.75, 1.25))
    7965
    """
    return torque * outer / (2 * polar_moment(outer, inner))


def twist_rad(torque: float, length: float, shear_modulus: float, outer: float, inner: float = 0.0) -> float:
    """Twist of a shaft [rad]: T L / (G J). Any one set of units.

    >>> round(twist_rad(4000, 2.5, 77e9, 0.075), 4)
    0.0418
    """
    return torque * length / (shear_modulus * polar_moment(outer, inner))


def shear_yield(tensile_yield: float) -> float:
    """Shear yield of a tough metal by distortion energy: tensile yield over the root of 3.

    >>> round(shear_yield(250), 2)
    144.34
    """
    return tensile_yield / sqrt(3)


def yield_torque(tensile_yield: float, outer: float, inner: float = 0.0) -> float:
    """Torque at which a round shaft first yields: shear yield x 2 J / D. Any one set of units.

    >>> round(yield_torque(36000, 0.5), 0)
    510.0
    """
    return shear_yield(tensile_yield) * 2 * polar_moment(outer, inner) / outer


def pin_torque(double_shear: float, shaft_dia: float) -> float:
    """Torque that shears a cross pin: its double shear force x half the shaft's diameter.

    >>> pin_torque(4150, 0.75)
    1556.25
    """
    return double_shear * shaft_dia / 2


def twist_degrees(twist: float) -> float:
    """A twist in degrees.

    >>> round(twist_degrees(0.0418), 1)
    2.4
    """
    return twist / radians(1)


def pin_strength_lbf(kind: str, size: float) -> float:
    """Double shear of a listed pin [lbf]; size in inches, or in mm for the metric kinds.

    Raises NotEnough for a size the table does not list: one between is not made.

    >>> pin_strength_lbf("slotted", 3 / 16), round(pin_strength_lbf("slotted metric", 5))
    (4150, 3943)
    """
    if kind not in PIN_TABLES:
        raise NotEnough("shaft", f"the kind of pin: {', '.join(PIN_TABLES)}")
    table, units, _ = PIN_TABLES[kind]
    nearest = min(table, key=lambda listed: abs(listed - size))
    if abs(nearest - size) > 0.005 * nearest:
        near = ", ".join(f"{listed:g}" for listed in sorted(table))
        raise NotEnough("shaft", f"a size of that pin which is made: {near}")
    return table[nearest] if units.startswith("lbf") else table[nearest] * 1000 / LBF_N


@limits(
    torque_lb_in=(0, 1e6, "lb-in"),
    pin_size_in=(0.01, 1, "in"),
    stall_torque_lb_in=(0, 1e6, "lb-in"),
    shaft_in=(0.1, 4, "in"),
    bore_in=(0, 4, "in"),
    yield_psi=(5000, 250_000, "psi"),
)
def shaft(
    torque_lb_in: Known | None = None,
    shaft_in: float | None = None,
    bore_in: float = 0.0,
    *,
    yield_psi: float | None = None,
    pin_kind: str | None = None,
    pin_size_in: float | None = None,
    stall_torque_lb_in: Known | None = None,
) -> Result:
    """Stress in the cross shaft, its margin, and whether a stall can shear the shaft or its pin.

    Parameters
    ----------
    torque_lb_in : in the shaft while lifting [lb-in], 0 to 1e+06
    shaft_in : outside diameter [in], 0.1 to 4
    bore_in : bore of a tube [in], 0 to 4
    yield_psi : tensile yield of its steel [psi], 5000 to 250000; 36000 where not known
    pin_kind : one of PIN_TABLES
    pin_size_in : diameter of the pin [in], 0.01 to 1; a metric kind is looked up by its millimetres
    stall_torque_lb_in : what gear and motor put into the shaft when it jams [lb-in], 0 to 1e+06

    Returns a Result; first value the stress [psi]. Verdict "clear", "close", "over" of the weaker of shaft
    and pin. Raises OutOfRange, NotEnough. Leaves out: notches, holes, fatigue, which lower every figure.
    Source: mechanics of materials; pin tables.

    >>> shaft(600, 0.75, pin_kind="slotted", pin_size_in=3 / 16).value("pin shears at")
    1556.25
    """
    torque = stall_torque_lb_in if stall_torque_lb_in is not None else torque_lb_in
    if torque is None:
        raise NotEnough("shaft", "the torque in the shaft while lifting, or at a stall")
    if shaft_in is None:
        raise NotEnough("shaft", "the shaft's diameter")
    if bore_in >= shaft_in:
        raise NotEnough("shaft", "a bore smaller than the shaft's outside diameter")
    most = span(torque)
    assumed = ["no notch, no hole, no wear counted: each lowers the figures"]
    if yield_psi is None:
        assumed.append(f"mild bar, {figure(p.MILD_BAR_YIELD_PSI)} psi yield (common practice, no source)")
        yield_psi = p.MILD_BAR_YIELD_PSI
    stress = Span(*(shear_stress(one, shaft_in, bore_in) for one in most))
    gives = yield_torque(yield_psi, shaft_in, bore_in)
    values = [
        valued("shear stress", stress, "psi"),
        valued("shaft yields at", gives, "lb-in"),
    ]
    working = [
        (
            f"stress = T D / (2 J) = {figure(most.value)} lb-in x {figure(shaft_in)} in / (2 x"
            f" {figure(polar_moment(shaft_in, bore_in))} in4) = {figure(stress.value)} psi"
        ),
        f"yields at 0.577 x {figure(yield_psi)} psi x 2 J / D = {figure(gives)} lb-in",
    ]
    sources = ["mechanics of materials: round shaft in torsion; distortion energy"]
    rows = [bar_row("torque on the shaft's first yield", most, gives, "lb-in")]
    weakest, weak_name = gives, "shaft"
    if pin_kind is not None and pin_size_in is not None:
        force = pin_strength_lbf(pin_kind, pin_size_in * (IN_MM if pin_kind.endswith("metric") else 1.0))
        shears = pin_torque(force, shaft_in)
        values.append(valued("pin shears at", shears, "lb-in"))
        working.append(
            f"pin: {figure(force)} lbf double shear x {figure(shaft_in)} in / 2 = {figure(shears)} lb-in;"
            f" the {'pin' if shears < gives else 'shaft'} goes first"
        )
        sources.append(PIN_TABLES[pin_kind][2])
        rows.append(bar_row("torque on the pin's shear", most, shears, "lb-in"))
        if shears < gives:
            weakest, weak_name = shears, "pin"
    verdict = against(most, exact(weakest))
    margin = weakest / most.high if most.high else float("inf")
    values.append(valued("margin", margin, "times"))
    notes = [LIKE_NOTE]
    if stall_torque_lb_in is not None and verdict != "clear":
        notes.append(f"A stall can shear the {weak_name}: let go of the button the moment the legs stop.")
    return Result(
        "shaft",
        tuple(values),
        tuple(working),
        tuple(assumed),
        tuple(sources),
        stress.low,
        stress.high,
        verdict,
        "the torque at a stall: the motor's stall torque times the gear"
        if stall_torque_lb_in is None
        else "",
        tuple(rows),
        tuple(notes),
    )
