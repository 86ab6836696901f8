"""Where a figure has more than one sense, the question to put back."""

from bot.units.numbers import figure
from bot.units.table import UNITS

#: Nobody at a leg means thousands of these, so a comma before three digits needs a question.
_NEVER_THOUSANDS = frozenset(("volt", "amp", "gauge", "percent", "temperature"))


def figure_doubt(written: str, unit: str | None) -> str | None:
    """The question back for a comma or point of two senses; None where the unit settles it.

    >>> figure_doubt("12,500", "V")
    '"12,500": is that 12.500 or 12500? Type it without the comma.'
    >>> figure_doubt("14,000", "lb") is None, figure_doubt("12,5", "mm") is None
    (True, True)
    """
    taken = figure(written)
    if taken is None or written.startswith("0"):
        return None
    comma, kind = taken[1], UNITS[unit].kind if unit in UNITS else ""
    head, _, tail = written.rpartition("," if comma else ".")
    if not comma:
        thousands = unit in ("lb", "kg") and len(tail) == 3 and 0 < len(head) < 4
        return (
            f'"{written}": is that {written} or {head}{tail}? Type it without the point.'
            if thousands
            else None
        )
    if "." in written or head.count(","):
        return None
    unsure = comma == "odd" or (
        (kind in _NEVER_THOUSANDS or unit == "in") if comma == "group" else unit is None or unit == "lb"
    )
    whole = head + (tail.ljust(3, "0") if comma == "decimal" else tail)
    return f'"{written}": is that {head}.{tail} or {whole}? Type it without the comma.' if unsure else None
