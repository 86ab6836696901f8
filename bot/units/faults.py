"""Our own mistakes with units. Kept apart and loaded when raised, so that a cold start stays short."""

from bot.problems import LeglineError


class UnknownUnit(LeglineError):
    """A unit was named that the table does not hold. Field: ``unit``."""

    def __init__(self, unit: str) -> None:
        self.unit = unit
        super().__init__(unit)

    def __str__(self) -> str:
        return f'"{self.unit}" is no unit of units/table.py; use one of its short names, like "lb-ft".'


class OtherKind(LeglineError):
    """Two units do not measure the same thing, or no rule leads from one to the other.

    Fields: ``from_unit``, ``to_unit``.
    """

    def __init__(self, from_unit: str, to_unit: str) -> None:
        self.from_unit = from_unit
        self.to_unit = to_unit
        super().__init__(from_unit, to_unit)

    def __str__(self) -> str:
        return f"No rule leads from {self.from_unit} to {self.to_unit}; ask only for a unit of the same kind."
