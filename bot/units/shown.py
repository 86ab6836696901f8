"""Values as text, in the units of the person who reads them."""

import math

from bot.units.convert import convert
from bot.units.table import UNITS, US, canonical
from bot.units.wire import awg_text


def figure(value: float, digits: int = 4) -> str:
    """A number as a person writes it: ``digits`` figures, the whole part always kept, no trailing noughts.

    >>> figure(3640.0), figure(1.07871), figure(2.2441, 3), figure(14535.2, 3), figure(-0.0)
    ('3640', '1.079', '2.24', '14535', '0')
    """
    if math.isnan(value) or math.isinf(value):
        return "no limit" if value > 0 else "unknown"
    if value == 0:
        return "0"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{min(places, 12)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def plain(value: float, unit: str, digits: int = 4) -> str:
    """The value with its unit, not converted.

    >>> plain(12.4, "V"), plain(-1, "AWG"), plain(80, "%")
    ('12.4 V', '2/0 AWG', '80 %')
    """
    return f"{awg_text(value) if unit == 'AWG' and math.isfinite(value) else figure(value, digits)} {unit}"


def _twin(value: float, unit: str, family: str) -> str:
    """The unit of the wanted family for this value; the unit itself where it already belongs there."""
    twin = UNITS[unit].twin
    if not twin or (family == "us") == (unit in US):
        return unit
    if unit == "psi" and abs(value) < 1000:  # MPa suits stress in steel, kPa suits a tire or a pad
        return "kPa"
    return twin


def show(value: float, unit: str, family: str = "us") -> str:
    """The value with its unit in one family, "us" or "metric"; units that serve both stay as they are.

    Takes a short name or any spelling of the table; raises UnknownUnit for another. Four figures.

    >>> show(14000, "lb"), show(14000, "lb", "metric"), show(57, "mm"), show(12.1, "V", "metric")
    ('14000 lb', '6350 kg', '2.244 in', '12.1 V')
    >>> show(12000, "AWG", "metric")
    '12000 AWG'
    """
    name = _known(unit)
    if not math.isfinite(value):
        return plain(value, name)
    twin = _twin(value, name, family)
    if name == "AWG" and not -10 <= value <= 60:
        return plain(value, name)  # 12000 AWG names no wire, so it has no area
    return plain(convert(value, name, twin), twin)


def show_both(value: float, unit: str, first: str = "us") -> str:
    """The value in the family ``first``, and in the other one in brackets; once where both use one unit.

    >>> show_both(14000, "lb"), show_both(14000, "lb", "metric"), show_both(33, "A")
    ('14000 lb (6350 kg)', '6350 kg (14000 lb)', '33 A')
    """
    here, there = show(value, unit, first), show(value, unit, "us" if first == "metric" else "metric")
    return here if here == there else f"{here} ({there})"


def _known(unit: str) -> str:
    name = canonical(unit)
    if name is None:
        from bot.units.faults import UnknownUnit

        raise UnknownUnit(unit)
    return name
