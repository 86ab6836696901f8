"""Conversions against outside values, and what importing the reader may load."""

import contextlib
import importlib
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pint
import pytest

from bot.problems import LeglineError
from bot.units import UNITS, OtherKind, UnknownUnit, awg_mm2, canonical, convert, mm2_awg, sae_mm2

# Rows U-01 to U-16 of the reference values: the defined factors of NIST SP 811, on which pint's own file,
# scipy.constants and Debian units 2.22 agree.
FACTORS = [
    ("lb", "kg", 0.45359237),
    ("ft", "m", 0.3048),
    ("in", "mm", 25.4),
    ("lbf", "N", 4.4482216152605),
    ("lb-ft", "N.m", 1.3558179483314),
    ("lb-in", "N.m", 0.11298482902762),
    ("psi", "Pa", 6894.7572931684),
    ("psf", "Pa", 47.880258980336),
    ("short ton", "kg", 907.18474),
    ("long ton", "kg", 1016.0469088),
    ("t", "lb", 2204.6226218488),
    ("hp", "W", 745.69987158227),
    ("cmil", "mm2", 0.0005067074790975),
    ("mile", "km", 1.609344),
    ("kgf", "N", 9.80665),
    ("gal", "L", 3.785411784),
]


@pytest.mark.parametrize(("unit", "other", "factor"), FACTORS)
def test_factor_is_the_defined_one(unit: str, other: str, factor: float) -> None:
    assert convert(1.0, unit, other) == pytest.approx(factor, rel=1e-12)
    assert convert(factor, other, unit) == pytest.approx(1.0, rel=1e-12)


# Row U-17: printed tables (navalfacilities.tpub.com appendix B; brassmein.com; Engineering Statics appendix).
@pytest.mark.parametrize(
    ("unit", "other", "printed"),
    [
        ("lb", "kg", 0.453592),
        ("lbf", "N", 4.44822),
        ("lb-in", "N.m", 0.112985),
        ("short ton", "t", 0.907185),
        ("psi", "Pa", 6894.757),
        ("lb-ft", "N.m", 1.3558),
    ],
)
def test_factor_agrees_with_the_printed_tables(unit: str, other: str, printed: float) -> None:
    assert convert(1.0, unit, other) == pytest.approx(printed, rel=2e-5)


def test_temperature_reading_and_difference_are_kept_apart() -> None:
    # Row U-18: 80 F is 26.667 C as a reading; 10 F of difference is 5.556 K.
    assert convert(80, "F", "C") == pytest.approx(26.667, abs=0.001)
    assert convert(10, "delta_F", "delta_C") == pytest.approx(5.556, abs=0.001)
    assert convert(20, "C", "F") == 68


PINT_SAYS = {
    "V": "volt", "mV": "millivolt", "kV": "kilovolt", "A": "ampere", "mA": "milliampere", "ohm": "ohm",
    "mohm": "milliohm", "kohm": "kiloohm", "Mohm": "megaohm", "in": "inch", "ft": "foot", "yd": "yard",
    "mile": "mile", "thou": "thou", "mm": "millimeter", "cm": "centimeter", "m": "meter",
    "km": "kilometer", "lb": "pound", "kip": "kilopound", "stone": "stone", "oz": "ounce", "short ton": "short_ton",
    "long ton": "long_ton", "kg": "kilogram", "g": "gram", "t": "metric_ton", "lbf": "pound_force",
    "N": "newton", "kN": "kilonewton", "kgf": "kilogram_force", "lb-ft": "pound_force * foot",
    "lb-in": "pound_force * inch", "N.m": "newton * meter", "kgf.m": "kilogram_force * meter",
    "psi": "psi", "psf": "pound_force / foot ** 2", "Pa": "pascal", "kPa": "kilopascal",
    "MPa": "megapascal", "bar": "bar", "ms": "millisecond", "s": "second", "min": "minute", "h": "hour",
    "day": "day", "week": "week", "month": "month", "yr": "year", "in2": "inch ** 2", "ft2": "foot ** 2",
    "mm2": "millimeter ** 2", "cm2": "centimeter ** 2", "m2": "meter ** 2", "cmil": "circular_mil",
    "kcmil": "kilocircular_mil", "mph": "mile / hour", "km/h": "kilometer / hour",
    "in/min": "inch / minute", "in/s": "inch / second", "mm/s": "millimeter / second", "W": "watt",
    "kW": "kilowatt", "hp": "horsepower", "gal": "gallon", "L": "liter",
    "delta_F": "delta_degree_Fahrenheit", "delta_C": "delta_degree_Celsius",
}  # fmt: skip


def test_every_unit_agrees_with_the_library_s_own_definitions() -> None:
    library: pint.UnitRegistry[float] = pint.UnitRegistry()
    first: dict[str, str] = {}
    for name, said in PINT_SAYS.items():
        base = first.setdefault(UNITS[name].kind, name)
        expected = library.Quantity(1.0, said).to(PINT_SAYS[base]).magnitude
        assert convert(1.0, name, base) == pytest.approx(expected, rel=1e-12), name
    unlinked = {
        "F",
        "C",
        "K",
        "AWG",
        "SAE",
        "%",
        "rpm",
        "Ah",
        "CCA",
        "Hz",
    }  # one of their kind, or tested elsewhere
    assert set(PINT_SAYS) | unlinked == set(UNITS)


# Row W-06: areas by the ASTM B258 law, repeated with Debian units 2.22 and pint for 10 AWG.
@pytest.mark.parametrize(
    ("awg", "mm2"),
    [(4, 21.151), (6, 13.302), (8, 8.366), (10, 5.261), (12, 3.309), (14, 2.081), (16, 1.309), (18, 0.823)],
)
def test_wire_area_follows_the_gauge_law_both_ways(awg: float, mm2: float) -> None:
    assert awg_mm2(awg) == pytest.approx(mm2, rel=5e-4)
    assert mm2_awg(awg_mm2(awg)) == pytest.approx(awg, abs=1e-9)
    assert convert(awg, "AWG", "mm2") == pytest.approx(mm2, rel=5e-4)


def test_sae_wire_holds_less_copper_than_awg_of_the_same_number() -> None:
    # Row W-20: SAE minima in circular mils (marine wire appendix); 10 gauge holds 10.0 % less.
    for gauge, cmil in zip(
        [18, 16, 14, 12, 10, 8, 6, 4], [1537, 2336, 3702, 5833, 9343, 14810, 24538, 37360], strict=True
    ):
        assert convert(gauge, "SAE", "cmil") == pytest.approx(cmil, rel=1e-12)
        assert 0.05 < 1 - convert(gauge, "SAE", "mm2") / awg_mm2(gauge) < 0.11
    ten = sae_mm2(10)
    assert ten is not None
    assert ten / awg_mm2(10) == pytest.approx(0.900, abs=0.0005)


def test_force_and_weight_cross_at_standard_gravity() -> None:
    # 9.80665 m/s2: third CGPM, 1901. One pound-force is the weight of one pound there.
    assert convert(1.0, "lb", "lbf") == pytest.approx(1.0, rel=1e-12)
    assert convert(1.0, "kN", "kg") == pytest.approx(1000 / 9.80665, rel=1e-12)


def test_the_same_unit_comes_back_untouched() -> None:
    assert convert(0.1 + 0.2, "V", "V") == 0.1 + 0.2


def test_units_that_no_rule_joins_name_both() -> None:
    with pytest.raises(OtherKind, match="V to ft"):
        convert(1, "V", "ft")
    with pytest.raises(OtherKind):
        convert(1, "mm2", "SAE")
    with pytest.raises(UnknownUnit, match="furlong"):
        convert(1, "furlong", "ft")


def test_every_short_name_and_its_spelling_lead_to_one_unit() -> None:
    assert [canonical(name) for name in UNITS] == list(UNITS)
    assert [canonical(word) for word in ("ft-lb", "Volts", " percent ", "guage wire")] == [
        "lb-ft",
        "V",
        "%",
        None,
    ]


def test_reading_without_converting_never_loads_pint() -> None:
    code = (
        "import sys; from bot.units import read, scan, show; read('12.4 volts', 'V'); read('nine', 'A');"
        " scan('18 ft of 10 awg at 12,4 V'); show(12.4, 'V'); show(14, 'ft'); before = 'pint' in sys.modules;"
        " read('57 mm', 'in'); print(before, 'pint' in sys.modules)"
    )
    root = Path(__file__).parents[1]
    run = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["False", "True"]


def test_infinite_ends_stay_infinite() -> None:
    assert convert(math.inf, "m", "ft") == math.inf


def test_kept_factors_are_those_of_pint(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the factors kept no conversion loads pint, and each gives what pint gives."""
    module: Any = importlib.import_module("bot.units.convert")  # the package has a function of that name
    values = (-40.0, 0.0, 0.3, 7.0, 14000.0)
    pairs = [(a, b) for a in UNITS for b in UNITS if a != b]

    def all_of() -> dict[tuple[str, str, float], float]:
        found = {}
        for a, b in pairs:
            for value in values:
                with contextlib.suppress(LeglineError, ValueError, OverflowError):
                    found[a, b, value] = convert(value, a, b)
        return found

    monkeypatch.setattr(module, "_KNOWN", {})
    monkeypatch.setattr(module, "_SPANS", {})
    module._factor.cache_clear()
    by_pint, kept = all_of(), module.all_factors()
    module._factor.cache_clear()
    module.use_factors(kept)

    def refuse() -> None:
        raise AssertionError("pint was asked")

    monkeypatch.setattr(module, "_registry", refuse)
    by_kept = all_of()
    module._factor.cache_clear()
    assert by_kept.keys() == by_pint.keys()
    assert len(by_pint) > 500
    for key, value in by_pint.items():
        assert by_kept[key] == pytest.approx(value, rel=1e-12, abs=1e-9), key
