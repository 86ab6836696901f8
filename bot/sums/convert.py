"""Exact factors between the two unit families, and the text of a value in both."""

from math import isfinite

#: How many of the second unit make one of the first. Defined values (NIST SP 811): lb, in, ft,
#: standard gravity.
LB_KG = 0.45359237
FT_M = 0.3048
IN_MM = 25.4
STANDARD_GRAVITY = 9.80665
LBF_N = LB_KG * STANDARD_GRAVITY
LB_FT_N_M = LBF_N * FT_M
LB_IN_N_M = LBF_N * IN_MM / 1000
PSI_PA = LBF_N / (IN_MM / 1000) ** 2
PSF_PA = LBF_N / FT_M**2
SHORT_TON_KG = 2000 * LB_KG
LONG_TON_KG = 2240 * LB_KG
TONNE_LB = 1000 / LB_KG
HP_W = 550 * LB_FT_N_M
CMIL_MM2 = 3.141592653589793 / 4 * (IN_MM / 1000) ** 2
MILE_KM = 5280 * FT_M / 1000
GALLON_L = 231 * (IN_MM / 100) ** 3

#: unit -> (other family's unit, factor). US units first, then the way back.
OTHER: dict[str, tuple[str, float]] = {
    "lb": ("kg", LB_KG),
    "lbf": ("N", LBF_N),
    "ft": ("m", FT_M),
    "in": ("mm", IN_MM),
    "lb-ft": ("N.m", LB_FT_N_M),
    "lb-in": ("N.m", LB_IN_N_M),
    "psi": ("MPa", PSI_PA / 1e6),
    "psf": ("kPa", PSF_PA / 1000),
    "in2": ("mm2", IN_MM**2),
    "ft2": ("m2", FT_M**2),
    "cmil": ("mm2", CMIL_MM2),
    "ohm/1000ft": ("ohm/km", 1 / (0.3048)),
}


def celsius(fahrenheit: float) -> float:
    """The same temperature in degrees Celsius.

    >>> round(celsius(80), 3)
    26.667
    """
    return (fahrenheit - 32) * 5 / 9


def fahrenheit(celsius_reading: float) -> float:
    """The same temperature in degrees Fahrenheit.

    >>> fahrenheit(20)
    68.0
    """
    return celsius_reading * 9 / 5 + 32


def kelvin_of_f_difference(difference_f: float) -> float:
    """A difference of degrees Fahrenheit as a difference in kelvin.

    >>> round(kelvin_of_f_difference(10), 3)
    5.556
    """
    return difference_f * 5 / 9


def figure(value: float) -> str:
    """A number as a person writes it: four figures, no exponent, no trailing noise.

    >>> figure(3640.0), figure(1.07871), figure(0.01798), figure(10360.4), figure(0.0)
    ('3640', '1.079', '0.01798', '10360', '0')
    >>> figure(0.00001234), figure(364.04), figure(36.404), figure(-0.5), figure(float("inf"))
    ('0.00001234', '364', '36.4', '-0.5', 'no limit')
    """
    if not isfinite(value):
        return "no limit" if value > 0 else "unknown"
    size = abs(value)
    if size >= 1000:
        return f"{value:.0f}"
    if size == 0:
        return "0"
    places = 3
    if size >= 100:
        places = 1
    elif size >= 10:
        places = 2
    elif size < 1:
        places = 4
        while size < 0.1 and places < 9:
            size *= 10
            places += 1
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def seconds_words(seconds: float) -> str:
    """A time as a person says it.

    >>> seconds_words(40), seconds_words(600), seconds_words(14400)
    ('40 s', '10 min', '4 h')
    """
    if seconds >= 7200:
        return f"{figure(seconds / 3600)} h"
    return f"{figure(seconds / 60)} min" if seconds >= 120 else f"{figure(seconds)} s"


def in_other_family(value: float, unit: str) -> tuple[float, str] | None:
    """The value in the other unit family, or None where both families use one unit.

    >>> in_other_family(1, "ft")
    (0.3048, 'm')
    >>> in_other_family(12, "V") is None
    True
    """
    if unit == "F":
        return celsius(value), "C"
    pair = OTHER.get(unit)
    return (value * pair[1], pair[0]) if pair else None


def both(value: float, unit: str, first: str = "us") -> str:
    """The value with its unit, and in the other family in brackets; ``first`` is "us" or "metric".

    >>> both(3640, "lb"), both(3640, "lb", "metric"), both(12.1, "V")
    ('3640 lb (1651 kg)', '1651 kg (3640 lb)', '12.1 V')
    """
    here = f"{figure(value)} {unit}".rstrip()
    other = in_other_family(value, unit)
    if other is None:
        return here
    there = f"{figure(other[0])} {other[1]}"
    return f"{there} ({here})" if first == "metric" else f"{here} ({there})"
