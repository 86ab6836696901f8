"""Exact factors between the two unit families, and the text of a value in both."""

from math import floor, isfinite, log10

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


def rounded(value: float, low: float, high: float) -> tuple[str, str, str]:
    """The value and the ends of its range, none written finer than the range is known.

    Half the range is written with one digit, with two where its first is 1 to 4, so that rounding never moves an
    end by more than an eighth of it; an uncertainty has two digits at most (GUM, JCGM 100:2008, 7.2.6). Without a
    range, three figures, because a table or a formula of this trade is no better; whole numbers stay whole.

    >>> rounded(81.25, 75, 93.75), rounded(1.1004, 0.9588, 1.299), rounded(3640, 3604, 3676)
    (('81', '75', '94'), ('1.10', '0.96', '1.30'), ('3640', '3604', '3676'))
    >>> rounded(186.94, 186.94, 186.94), rounded(0.068483, 0.068483, 0.068483), rounded(14523, 14523, 14523)
    (('187', '187', '187'), ('0.0685', '0.0685', '0.0685'), ('14523', '14523', '14523'))
    """
    half = (high - low) / 2
    if not (isfinite(half) and isfinite(value)):
        return figure(value), figure(low), figure(high)
    if figure(low) == figure(high):
        same = _three(value)
        return same, same, same
    power = floor(log10(half))
    if half / 10**power < 5:
        power -= 1
    told = [_plain(one, -power) for one in (value, low, high)]
    if power < 0 and all(text.endswith("0") for text in told):
        told = [_plain(one, -power - 1) for one in (value, low, high)]
    return told[0], told[1], told[2]


def _plain(value: float, places: int) -> str:
    """The value to that many places (-2: to the hundred), "0" rather than "-0.0"."""
    text = f"{round(value, places):.{max(0, places)}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def _three(value: float) -> str:
    """Three figures, whole numbers whole."""
    if value == round(value):
        return figure(value)
    text = f"{value:.{max(0, 2 - floor(log10(abs(value))))}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def both_ranged(value: float, low: float, high: float, unit: str, first: str = "us") -> tuple[str, str, str]:
    """Value, low and high as `both` says them, rounded to what the range allows in each family.

    >>> both_ranged(0.1467, 0.09667, 0.2967, "ohm")
    ('0.15 ohm', '0.10 ohm', '0.30 ohm')
    >>> both_ranged(24.59, 24.08, 25.12, "lbf")
    ('24.6 lbf (109.4 N)', '24.1 lbf (107.1 N)', '25.1 lbf (111.7 N)')
    """
    here = rounded(value, low, high)
    there = [pair for one in (value, low, high) if (pair := in_other_family(one, unit))]
    if not there:
        return tuple(f"{one} {unit}".rstrip() for one in here)  # type: ignore[return-value]
    other = there[0][1]
    beside = rounded(there[0][0], there[1][0], there[2][0])
    pairs = ((f"{a} {unit}", f"{b} {other}") for a, b in zip(here, beside, strict=True))
    return tuple(f"{b} ({a})" if first == "metric" else f"{a} ({b})" for a, b in pairs)  # type: ignore[return-value]


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
