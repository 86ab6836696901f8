"""Values with a range, and what a range makes of a formula and of a verdict."""

from collections.abc import Callable
from itertools import product
from typing import NamedTuple


class Span(NamedTuple):
    """A value with the lowest and highest it may be."""

    low: float
    value: float
    high: float


#: What a sum accepts: a bare reading, to which the stated tolerance is added, or a range of one's own.
Known = float | Span


def span(known: Known, *, share: float = 0.0, plus_minus: float = 0.0) -> Span:
    """The reading with its tolerance: ``share`` of itself or ``plus_minus``, whichever is wider.

    A Span is taken as it stands. The low end of what is not negative never falls below 0.

    >>> span(100, share=0.01)
    Span(low=99.0, value=100.0, high=101.0)
    >>> span(Span(1, 2, 3), share=0.5)
    Span(low=1, value=2, high=3)
    """
    if isinstance(known, Span):
        return known
    value = float(known)
    half = max(abs(value) * share, plus_minus)
    return Span(max(value - half, min(0.0, value)), value, value + half)


def exact(value: float) -> Span:
    """A value without a range.

    >>> exact(3)
    Span(low=3, value=3, high=3)
    """
    return Span(value, value, value)


def middle(known: Known) -> float:
    """The value itself, without its range."""
    return known.value if isinstance(known, Span) else float(known)


def spread(formula: Callable[..., float], *inputs: Span) -> Span:
    """The value of a formula and its lowest and highest over every corner of the inputs' ranges.

    Exact where the formula rises or falls throughout in each input, which is so for every use here.
    Inputs without a range cost nothing: only the wide ones are taken through their corners.

    >>> spread(lambda volts, amps: volts / amps, Span(1, 2, 3), Span(10, 20, 30))
    Span(low=0.03333333333333333, value=0.1, high=0.3)
    """
    value = formula(*(one.value for one in inputs))
    ends = [(one.low, one.high) if one.low != one.high else (one.value,) for one in inputs]
    low = high = value
    for corner in product(*ends):
        result = formula(*corner)
        low = min(low, result)
        high = max(high, result)
    return Span(low, value, high)


def combined(formula: Callable[..., float], *inputs: Span) -> Span:
    """The value of a formula with a range in which independent inputs seldom all lie at their worst.

    Each input is taken to its ends alone; the moves up, and the moves down, are joined as the root of the sum
    of their squares. For ranges that were assumed; a measured limit is held against ``spread`` instead.
    Source: propagation of independent uncertainties (JCGM 100).

    >>> one = Span(7, 10, 13)
    >>> combined(lambda a, b: a + b, one, Span(6, 10, 14))
    Span(low=15.0, value=20, high=25.0)
    """
    values = [one.value for one in inputs]
    value = formula(*values)
    up = down = 0.0
    for place, one in enumerate(inputs):
        moves = []
        for end in (one.low, one.high):
            moved = list(values)
            moved[place] = end
            moves.append(formula(*moved) - value)
        up += max(0.0, *moves) ** 2
        down += min(0.0, *moves) ** 2
    return Span(value - down**0.5, value, value + up**0.5)


def widest(formula: Callable[..., float], named: dict[str, Span]) -> str:
    """The name of the input whose range alone moves the result most; "" where none does.

    >>> widest(lambda volts, amps: volts / amps, {"volts": Span(1, 2, 3), "amps": Span(19, 20, 21)})
    'volts'
    """
    best, most = "", 0.0
    values = [one.value for one in named.values()]
    for place, (name, one) in enumerate(named.items()):
        low, high = list(values), list(values)
        low[place], high[place] = one.low, one.high
        moved = abs(formula(*high) - formula(*low))
        if moved > most:
            best, most = name, moved
    return best


def against(load: Span, limit: Span) -> str:
    """Where a load stands against a limit: "clear", "close" or "over".

    The word follows the ranges, not the middles: clear only when the highest load stays within the
    lowest limit, over only when the lowest load passes the highest limit, close for all between.

    >>> against(Span(80, 90, 100), Span(100, 100, 100)), against(Span(90, 99, 101), Span(100, 100, 100))
    ('clear', 'close')
    >>> against(Span(110, 120, 130), Span(100, 100, 100))
    'over'
    """
    if load.high <= limit.low:
        return "clear"
    return "over" if load.low > limit.high else "close"
