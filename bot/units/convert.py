"""The one pint registry, made at the first real conversion, from a definition text of our own."""

from functools import cache
from typing import TYPE_CHECKING

from bot.units import wire
from bot.units.table import UNITS

if TYPE_CHECKING:
    from pint import UnitRegistry

#: Base units are chosen so that the defined factors stay exact in binary arithmetic.
#: Sources: international yard and pound agreement 1959 (25.4 mm, 0.45359237 kg; a stone is 14 lb); third CGPM 1901 (9.80665
#: m/s2); NIST SP 811 as reprinted (tons, gallon, horsepower of 550 ft.lbf/s); Julian year of 365.25 days
#: (IAU).
DEFINITIONS = """
V = [potential]
mV = V / 1000
kV = 1000 * V
A = [current]
mA = A / 1000
ohm = [resistance]
mohm = ohm / 1000
kohm = 1000 * ohm
Mohm = 1000000 * ohm
mm = [length]
inch = 25.4 * mm
ft = 304.8 * mm
yd = 914.4 * mm
mile = 1609344 * mm
thou = 0.0254 * mm
cm = 10 * mm
m = 1000 * mm
km = 1000000 * mm
kg = [mass]
lb = 0.45359237 * kg
oz = lb / 16
kip = 1000 * lb
stone = 14 * lb
short_ton = 2000 * lb
long_ton = 2240 * lb
g = kg / 1000
t = 1000 * kg
s = [time]
ms = s / 1000
min = 60 * s
h = 3600 * s
day = 86400 * s
week = 604800 * s
yr = 31557600 * s
month = yr / 12
N = kg * m / s ** 2
kN = 1000 * N
kgf = 9.80665 * N
lbf = 0.45359237 * kgf
N_m = N * m
kgf_m = kgf * m
lb_ft = lbf * ft
lb_in = lbf * inch
Pa = N / m ** 2
kPa = 1000 * Pa
MPa = 1000000 * Pa
bar = 100000 * Pa
psi = lbf / inch ** 2
psf = lbf / ft ** 2
K = [temperature]
C = K; offset: 273.15
F = 5 / 9 * K; offset: 233.15 + 200 / 9
percent = []
mm2 = mm ** 2
cm2 = cm ** 2
m2 = m ** 2
in2 = inch ** 2
ft2 = ft ** 2
cmil = 0.7853981633974483 * thou ** 2
kcmil = 1000 * cmil
turn = [turn]
rpm = turn / min
mph = mile / h
km_h = km / h
in_min = inch / min
in_s = inch / s
mm_s = mm / s
W = N * m / s
kW = 1000 * W
hp = 550 * ft * lbf / s
Ah = A * h
CCA = [cranking]
Hz = 1 / s
L = 1000000 * mm ** 3
gal = 231 * inch ** 3
"""

_PINT_NAME = {"in": "inch", "%": "percent"}
_STANDARD_GRAVITY_M_S2 = 9.80665  # third CGPM 1901
_MADE: "dict[str, UnitRegistry[float]]" = {}


def _registry() -> "UnitRegistry[float]":
    if not _MADE:
        import pint  # here and not above: it takes a tenth of a second, and most lines never convert

        registry: UnitRegistry[float] = pint.UnitRegistry(None)
        registry.load_definitions(DEFINITIONS.strip().splitlines())
        _MADE.setdefault("one", registry)  # two threads may both get here; one registry is kept
    return _MADE["one"]


def warm() -> None:
    """Makes the registry now, so that the first conversion does not wait for it; safe from any thread."""
    convert(1.0, "in", "mm")


def _pint_name(unit: str) -> str:
    return _PINT_NAME.get(unit) or unit.replace("/", "_").replace("-", "_").replace(".", "_").replace(
        " ", "_"
    )


_KNOWN: dict[tuple[str, str], float] = {}
_SPANS: dict[tuple[str, str], tuple[float, float]] = {}  # of temperatures: what 0 and 9 are


def all_factors() -> tuple[dict[tuple[str, str], float], dict[tuple[str, str], tuple[float, float]]]:
    """Every factor between two units of one kind, and of temperatures what 0 and 9 are: by pint, to be kept."""
    names = [n for n in UNITS if UNITS[n].kind not in ("temperature", "gauge")]
    readings = [n for n in UNITS if UNITS[n].kind == "temperature"]
    factors = {
        (a, b): _factor(a, b) for a in names for b in names if a != b and UNITS[a].kind == UNITS[b].kind
    }
    ends = {
        (a, b): (_temperature(0.0, a, b), _temperature(9.0, a, b))
        for a in readings
        for b in readings
        if a != b
    }
    return factors, ends


def use_factors(
    kept: tuple[dict[tuple[str, str], float], dict[tuple[str, str], tuple[float, float]]],
) -> None:
    """Takes what `all_factors` made in an earlier run, so that no line waits for pint."""
    _KNOWN.update(kept[0])
    _SPANS.update(kept[1])


@cache
def _factor(from_unit: str, to_unit: str) -> float:
    if from_unit == to_unit:
        return 1.0
    if (from_unit, to_unit) in _KNOWN:
        return _KNOWN[from_unit, to_unit]
    registry = _registry()
    return float(registry.Quantity(1.0, _pint_name(from_unit)).to(_pint_name(to_unit)).magnitude)


def _temperature(value: float, from_unit: str, to_unit: str) -> float:
    ends = _SPANS.get((from_unit, to_unit))
    if ends is not None:
        return round(
            ends[0] + value * round(ends[1] - ends[0], 10) / 9, 10
        )  # nine degrees are a whole number of the other
    registry = _registry()
    reading = float(registry.Quantity(value, from_unit).to(to_unit).magnitude)
    return round(reading, 10)  # the offsets are no binary fractions; without this 20 C is 67.99999999999993 F


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """The same quantity in another unit of the table.

    Takes the short names of ``table.UNITS``. Weight and force cross at standard gravity, 9.80665 m/s2;
    gauge and area cross by the gauge law; ``delta_F`` and ``delta_C`` are differences, F, C and K are
    readings. The same unit on both sides never touches pint. Raises UnknownUnit for a name the table lacks,
    OtherKind where the two do not measure the same thing.

    >>> convert(2.0, "in", "mm"), convert(12.4, "V", "V")
    (50.8, 12.4)
    """
    for name in from_unit, to_unit:
        if name not in UNITS:
            from bot.units.faults import UnknownUnit

            raise UnknownUnit(name)
    if from_unit == to_unit:
        return value
    kinds = UNITS[from_unit].kind, UNITS[to_unit].kind
    if kinds == ("temperature", "temperature"):
        return _temperature(value, from_unit, to_unit)
    if kinds == ("weight", "force"):
        return value * _factor(from_unit, "kg") * _STANDARD_GRAVITY_M_S2 * _factor("N", to_unit)
    if kinds == ("force", "weight"):
        return value * _factor(from_unit, "N") / _STANDARD_GRAVITY_M_S2 * _factor("kg", to_unit)
    if "gauge" in kinds and set(kinds) <= {"gauge", "area"}:
        return _wire(value, from_unit, to_unit)
    if kinds[0] != kinds[1]:
        from bot.units.faults import OtherKind

        raise OtherKind(from_unit, to_unit)
    return value * _factor(from_unit, to_unit)


def _wire(value: float, from_unit: str, to_unit: str) -> float:
    from bot.units.faults import OtherKind

    area_mm2: float | None
    if from_unit == "AWG":
        area_mm2 = wire.awg_mm2(value) if -10 <= value <= 60 else None
    elif from_unit == "SAE":
        area_mm2 = wire.sae_mm2(value)
    else:
        area_mm2 = value * _factor(from_unit, "mm2") if 0 < value < float("inf") else None
    if area_mm2 is None or to_unit == "SAE":  # SAE sizes have a table and no law: nothing lies between them
        raise OtherKind(from_unit, to_unit)
    return wire.mm2_awg(area_mm2) if to_unit == "AWG" else area_mm2 * _factor("mm2", to_unit)
