"""What can go wrong, as data with fields: nobody has to take a message apart to act on it."""

from bot.frozen import dataclass


class LeglineError(Exception):
    """Base of every exception this program raises on purpose."""


class OutOfRange(LeglineError):
    """A formula was asked outside the limits it holds in.

    Fields: ``name`` of the quantity, ``value`` given, ``low`` and ``high`` limit, ``unit``,
    ``where`` (the formula).
    """

    def __init__(self, name: str, value: float, low: float, high: float, unit: str, where: str) -> None:
        self.name = name
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit
        self.where = where
        super().__init__(name, value, low, high, unit, where)

    def __str__(self) -> str:
        unit = f" {self.unit}" if self.unit else ""
        return (
            f"{self.name} is {self.value:g}{unit}; this formula holds from {self.low:g} to"
            f" {self.high:g}{unit}"
            f" ({self.where})."
        )


class NotEnough(LeglineError):
    """A sum cannot say anything yet. ``sum_name`` is the sum, ``needs`` what to measure or read off."""

    def __init__(self, sum_name: str, needs: str) -> None:
        self.sum_name = sum_name
        self.needs = needs
        super().__init__(sum_name, needs)

    def __str__(self) -> str:
        return f"{self.sum_name} can say nothing yet. It wants {self.needs}."


class Contradiction(LeglineError):
    """Two inputs cannot both be right. ``sum_name`` is the sum, ``what`` says which and why."""

    def __init__(self, sum_name: str, what: str) -> None:
        self.sum_name = sum_name
        self.what = what
        super().__init__(sum_name, what)

    def __str__(self) -> str:
        return f"{self.sum_name}: {self.what}"


@dataclass(frozen=True)
class Problem:
    """One fault in a hand-written file: where it is, what is wrong, and what to do about it."""

    file: str
    line: int
    what: str
    fix: str

    def __str__(self) -> str:
        return f"{self.file}, line {self.line}: {self.what} {self.fix}".rstrip()
