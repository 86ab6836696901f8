"""The order sheet of a case: what a part is ordered by, what is known of it and from which words, what is missing."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from bot.corpus.model import Cause, Check, Sheet
from bot.frozen import dataclass
from bot.parts.known import Case
from bot.problems import LeglineError
from bot.sums.legs import leg_load
from bot.units import show

_LABEL_FIRST = "The label on the part goes before this sheet; where the two differ, the label is right."


@dataclass(frozen=True)
class Entry:
    """One point of the sheet: known with its words, or missing with the page or the way that measures it."""

    name: str
    known: str = ""
    words: str = ""
    how: str = ""
    page: str = ""  # the check page that measures it, "" where there is none
    asked: bool = False  # asked in the conversation, and not known there

    def line(self) -> str:
        """The point in one line."""
        if self.known:
            said = f' (from: "{self.words}")' if self.words else ""
            return f"[x] {self.name}: {self.known}{said}"
        by = f" Page: {self.page}" if self.page else ""
        asked = " Not known when asked." if self.asked else ""
        return f"[ ] {self.name}: {self.how.rstrip('.')}.{asked}{by}"


@dataclass(frozen=True)
class Order:
    """A filled sheet. `part` is "" where no part page covers the cause and only its own page says what to order."""

    part: str
    title: str
    entries: tuple[Entry, ...]
    photographs: tuple[str, ...] = ()
    worked_out: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    guide: str = ""

    @property
    def missing(self) -> tuple[Entry, ...]:
        """The points not known yet."""
        return tuple(e for e in self.entries if not e.known)

    def lines(self) -> list[str]:
        """The sheet as plain lines."""
        known = len(self.entries) - len(self.missing)
        out = [f"{self.title}: {known} of {len(self.entries)} known."]
        out += [entry.line() for entry in self.entries]
        out += [f"Worked out: {text}" for text in self.worked_out]
        out += [f"[ ] photograph: {text}" for text in self.photographs]
        out += [f"Before you order: {text}" for text in self.before]
        if self.guide:
            out.append(f"How to measure, step by step: read {self.guide}")
        return out

    def plain(self) -> dict[str, object]:
        """The sheet as plain data."""
        return {
            "part": self.part or None,
            "title": self.title,
            "points": [
                {"point": e.name, "known": e.known or None, "words": e.words or None, "how": e.how or None,
                 "page": e.page or None}
                for e in self.entries
            ],
            "photographs": list(self.photographs),
            "worked_out": list(self.worked_out),
            "before": list(self.before),
        }  # fmt: skip


def order(
    sheet: Sheet | None,
    cause: Cause | None,
    case: Case,
    checks: Mapping[str, Check],
    unknown: Collection[str] = (),
    units: str = "us",
) -> Order:
    """The sheet of a part filled from what a case knows; what the cause's own page adds is added behind.

    sheet : the part's page; None where no part page covers the cause
    cause : the verdict; None where the part was named without one
    case : what the conversation took down; unknown : findings asked for and not known
    """
    entries: list[Entry] = []
    photographs = list(sheet.page.bullets("Photographs")) if sheet else []
    before = list(sheet.page.bullets("Before you order")) if sheet else []
    for point in sheet.points if sheet else ():
        entries.append(_entry(point.name, point.how, case, checks, unknown))
    names = {n for p in sheet.points for n in p.name.split(" or ")} if sheet else set()
    for bullet in cause.page.bullets("What to order") if cause else ():
        label, colon, rest = bullet.partition(": ")
        if colon and label == "measure" and rest in checks:
            if rest not in names:
                entries.append(_entry(rest, f"see page {checks[rest].id}", case, checks, unknown))
                names.add(rest)
        elif colon and label == "photograph":
            photographs += [rest] if rest not in photographs else []
        elif sheet is None:
            entries.append(Entry(label if colon else "also", how=rest if colon else bullet))
    title = sheet.page.title if sheet else f"To order for: {cause.page.title}" if cause else "Order sheet"
    return Order(
        sheet.part if sheet else "",
        title,
        tuple(entries),
        tuple(photographs),
        tuple(_worked_out(sheet, case, units)),
        (*before, *(() if any("label" in b and "before" in b for b in before) else (_LABEL_FIRST,))),
        sheet.page.head.get("guide", "") if sheet else "",
    )


def _entry(name: str, how: str, case: Case, checks: Mapping[str, Check], unknown: Collection[str]) -> Entry:
    """A point from its name, `a` or `a or b`: the first of them that the case knows, else how to get it."""
    names = name.split(" or ")
    known = next((n for n in names if n in case), None)
    first = checks.get(known or names[0])
    called = first.page.title if first else name
    if known is not None:
        return Entry(
            called, case[known].text, " ".join(case[known].words.split())[:80], how, first.id if first else ""
        )
    pages = ", ".join(checks[n].id for n in names if n in checks)
    return Entry(called, "", "", how, pages, all(n in unknown for n in names))


def _worked_out(sheet: Sheet | None, case: Case, units: str) -> list[str]:
    """What a leg or foot has to carry, from the weights the case knows; nothing where it knows none."""
    if sheet is None or not any(m.rule == "leg load" for m in sheet.matches):
        return []
    load = load_of_one_leg_lb(case)
    if load is None:
        return []
    value, low, high = (show(x, "lb", units) for x in load)
    return [f"one leg carries about {value}, from {low} to {high} (sum leg-load, level ground, truck gone)."]


def load_of_one_leg_lb(case: Case) -> tuple[float, float, float] | None:
    """(value, least, most) of what one leg carries [lb], by the sum leg-load; None where no weight is known or the
    weights contradict each other.
    """

    def weight(name: str) -> tuple[float, float, float] | None:
        known = case.get(name)
        return known.span if known else None

    gross, pin = weight("gross_weight_lb"), weight("pin_weight_lb")
    if gross is None and pin is None:
        return None
    spans = []
    for end in (1, 2):  # the weights as told may be ranges themselves: both ends are put through the sum
        try:
            result = leg_load(gross_lb=gross[end] if gross else None, pin_lb=pin[end] if pin else None).found(
                "each leg"
            )
        except LeglineError:
            return None
        spans.append(result)
    return (spans[0].value + spans[1].value) / 2, min(s.low for s in spans), max(s.high for s in spans)
