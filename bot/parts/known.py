"""What a case knows that a part is ordered or matched by: plain values, so that nothing of the conversation is needed."""

from __future__ import annotations

from collections.abc import Mapping

from bot.corpus.model import Cause, Corpus, Sheet
from bot.frozen import dataclass
from bot.parts.listed import Expected

_COLUMN_OF_FINDING = {"outer_tube_in": "outer tube", "inner_tube_in": "inner tube", "stroke_in": "stroke"}


@dataclass(frozen=True)
class Known:
    """One finding of a case: how it reads, the words it came from, and for a reading its range."""

    finding: str
    text: str
    words: str
    value: str | float
    low: float | None = None
    high: float | None = None

    @property
    def span(self) -> tuple[float, float, float] | None:
        """(value, low, high) of a reading, None for any other finding."""
        if isinstance(self.value, str):
            return None
        low = self.value if self.low is None else min(self.low, self.value)
        high = self.value if self.high is None else max(self.high, self.value)
        return self.value, low, high


Case = Mapping[str, Known]


def sheet_for(cause: Cause, corpus: Corpus) -> Sheet | None:
    """The order sheet of the part that mending a cause orders: the one that names it, else the one of its link
    where that link is the part's own name, else None.
    """
    for sheet in corpus.sheets:
        if cause.name in sheet.causes:
            return sheet
    return next((s for s in corpus.sheets if s.part == cause.link), None)


def sheet_named(text: str, corpus: Corpus) -> Sheet | None:
    """The order sheet whose part, or another name of it, stands in the text; the longest name wins."""
    plain = f" {' '.join(text.lower().replace('-', ' ').split())} "
    best: tuple[int, Sheet] | None = None
    for sheet in corpus.sheets:
        for name in (sheet.part, *sheet.page.bullets("Also called")):
            spelt = name.lower().replace("-", " ")
            met = any(
                f" {n}{mark}" in plain for n in (spelt, spelt + "s") for mark in (" ", "?", ".", ",", "!")
            )
            if met and (best is None or len(spelt) > best[0]):
                best = (len(spelt), sheet)
    return best[1] if best else None


def expected_of(corpus: Corpus) -> Expected:
    """What a parts list may hold: the kinds of the order sheets with their other names, and the checks' ranges."""
    limits = {
        column: (c.low, c.high)
        for c in corpus.checks
        if (column := _COLUMN_OF_FINDING.get(c.finding)) and c.high > c.low
    }
    units = {c.finding: c.unit for c in corpus.checks}
    ratings: dict[str, str] = {}
    for sheet in corpus.sheets:
        for match in sheet.matches:
            if match.column == "rating" and match.rule != "by hand":
                ratings[sheet.part] = "lb" if match.rule == "leg load" else units.get(match.findings[0], "")
    return Expected({s.part: s.page.bullets("Also called") for s in corpus.sheets}, limits, ratings)
