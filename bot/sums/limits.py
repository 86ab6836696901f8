"""The limits of a formula, declared once and enforced on every call."""

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar

from bot.problems import OutOfRange

P = ParamSpec("P")
R = TypeVar("R")

Bound = tuple[float, float, str]

#: Limits by formula, "module.function" -> name -> (low, high, unit). Tests compare it with the docstrings.
DECLARED: dict[str, dict[str, Bound]] = {}


def limits(**bounds: Bound) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """A decorator that raises OutOfRange when a named argument lies outside ``(low, high, unit)``.

    Both ends are allowed. None is let through (an input that was not given); so is a name left to its
    default. Not-a-number lies outside every range. ``inspect.unwrap`` gives the bare formula.

    >>> @limits(amps=(0, 150, "A"))
    ... def heat_w(amps: float, ohm: float) -> float:
    ...     return amps * amps * ohm
    >>> heat_w(10, 0.5)
    50.0
    >>> heat_w(180, 0.5)
    Traceback (most recent call last):
    bot.problems.OutOfRange: amps is 180 A; this formula holds from 0 to 150 A (limits.py, heat_w).
    """

    def wrap(formula: Callable[P, R]) -> Callable[P, R]:
        code = formula.__code__
        place = {name: i for i, name in enumerate(code.co_varnames[: code.co_argcount])}
        known = set(code.co_varnames[: code.co_argcount + code.co_kwonlyargcount])
        unknown = set(bounds) - known
        if unknown:
            raise TypeError(f"{formula.__qualname__} has no argument {', '.join(sorted(unknown))}")
        where = f"{formula.__module__.rsplit('.', 1)[-1]}.py, {formula.__qualname__.rsplit('.', 1)[-1]}"

        @wraps(formula)
        def held(*args: P.args, **kwargs: P.kwargs) -> R:
            for name, (low, high, unit) in bounds.items():
                at = place.get(name)
                value = args[at] if at is not None and at < len(args) else kwargs.get(name)
                if value is None:
                    continue
                for one in value if isinstance(value, (tuple, list)) else (value,):
                    if not low <= one <= high:
                        raise OutOfRange(name, one, low, high, unit, where)
            return formula(*args, **kwargs)

        DECLARED[f"{formula.__module__}.{formula.__qualname__}"] = dict(bounds)
        return held

    return wrap
