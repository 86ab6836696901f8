"""What a sum hands back: values, working, assumptions, sources, range, verdict, rows to draw."""

from typing import NamedTuple

from bot.frozen import dataclass
from bot.sums.convert import both_ranged, figure
from bot.sums.spans import Span


class Value(NamedTuple):
    """One figure of the answer: its name, the figure with its range, and the unit."""

    name: str
    value: float
    low: float
    high: float
    unit: str

    def text(self, first: str = "us") -> str:
        """``name: value unit (other unit)``, with the range where there is one.

        >>> Value("each leg", 1820, 1700, 1900, "lb").text()
        'each leg: 1820 lb (826 kg), from 1700 lb (771 kg) to 1900 lb (862 kg)'
        """
        if self.unit in ("AWG", "SAE"):
            number = f"{1 - self.value:.0f}/0" if self.value <= 0 else figure(self.value)
            return f"{self.name}: {number} {self.unit} or thicker"
        if abs(self.value) == float("inf"):
            return f"{self.name}: no limit"
        middle, low, high = both_ranged(self.value, self.low, self.high, self.unit, first)
        if low == high:
            return f"{self.name}: {middle}"
        return f"{self.name}: {middle}, from {low} to {high}"


class Row(NamedTuple):
    """One line of the drawing. ``kind`` is "bar" (load on a rating), "step" (volts along the path),
    "place" (a load at a distance on the side view), "before" (the same before a load was moved), "window" (seconds a fuse stands it, from ``low`` to
    ``high``, against ``value`` seconds of a lift, 0 where they are not known); the rest is what that line
    shows. ``says`` stands behind a step: what happens to the volts between the step before and this one.
    """

    kind: str
    label: str
    value: float
    low: float
    high: float
    of: float
    unit: str
    says: str = ""


@dataclass(frozen=True)
class Result:
    """The answer of one sum. ``low`` and ``high`` are the range of its first value.

    ``verdict`` is one word or short phrase that follows the range; ``narrow`` names the one measurement
    that would narrow it most ("" where none would); ``notes`` meet wrong rules of thumb and say what to do.
    """

    name: str
    values: tuple[Value, ...]
    working: tuple[str, ...]
    assumptions: tuple[str, ...]
    sources: tuple[str, ...]
    low: float
    high: float
    verdict: str
    narrow: str = ""
    rows: tuple[Row, ...] = ()
    notes: tuple[str, ...] = ()

    def value(self, name: str) -> float:
        """The figure of that name. Raises KeyError where the sum has none."""
        return self.found(name).value

    def found(self, name: str) -> Value:
        """The value of that name with its range. Raises KeyError where the sum has none."""
        for one in self.values:
            if one.name == name:
                return one
        raise KeyError(name)

    def lines(self, first: str = "us") -> tuple[str, ...]:
        """The values as text, one a line, the named unit family first."""
        return tuple(one.text(first) for one in self.values)

    def as_data(self) -> dict[str, object]:
        """Everything as plain lists and numbers, ready for JSON. A limit that is not there becomes None."""

        def plain(number: float) -> float | None:
            return number if abs(number) < float("inf") else None

        return {
            "sum": self.name,
            "values": [
                {
                    "name": one.name,
                    "value": plain(one.value),
                    "low": plain(one.low),
                    "high": plain(one.high),
                    "unit": one.unit,
                }
                for one in self.values
            ],
            "verdict": self.verdict,
            "low": plain(self.low),
            "high": plain(self.high),
            "working": list(self.working),
            "assumptions": list(self.assumptions),
            "narrow": self.narrow,
            "notes": list(self.notes),
            "sources": list(self.sources),
        }


def valued(name: str, known: Span | float, unit: str) -> Value:
    """A Value from a range or from a bare figure."""
    if isinstance(known, Span):
        return Value(name, known.value, known.low, known.high, unit)
    return Value(name, known, known, known, unit)


def bar_row(label: str, load: Span, rating: float, unit: str) -> Row:
    """A drawn line: a load with its range, against a rating."""
    return Row("bar", label, load.value, load.low, load.high, rating, unit)
