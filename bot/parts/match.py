"""A part of a list held against a case, point by point: fits, does not fit and by how much, or unknown and what to
measure. Never more certain than the readings: a range that leaves it open is unknown.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping

from bot.corpus.model import Check, Match, Sheet
from bot.frozen import dataclass
from bot.parts.known import Case, Known
from bot.parts.listed import Figure, Part
from bot.parts.order import load_of_one_leg_lb
from bot.problems import LeglineError
from bot.sums.leg_fit import Leg, leg_fit
from bot.sums.tables import READ_OFF
from bot.units import show

FITS, UNFIT, UNKNOWN = "fits", "does not fit", "unknown"
_OF_LEG = {"outer tube": "outer_in", "inner tube": "inner_in", "stroke": "stroke_in"}
Span = tuple[float, float, float]


@dataclass(frozen=True)
class Held:
    """One point of a part held against the case. `page` is the check that measures what is missing, if one does."""

    column: str
    verdict: str
    why: str
    page: str = ""

    def line(self) -> str:
        """The point in one line."""
        by = f" Page: {self.page}" if self.page and self.verdict == UNKNOWN else ""
        return f"{self.column}: {self.verdict}. {self.why}{by}"


@dataclass(frozen=True)
class Matched:
    """One part with its points. The whole fits only where every point does, and fails where one does."""

    part: Part
    points: tuple[Held, ...]

    @property
    def verdict(self) -> str:
        """One of "does not fit", "unknown", "fits": the worst of the points, and unknown where there are none."""
        words = {p.verdict for p in self.points} or {UNKNOWN}
        return UNFIT if UNFIT in words else UNKNOWN if UNKNOWN in words else FITS

    def head(self) -> str:
        """The part and how it stands, in one line."""
        of = {v: [p.column for p in self.points if p.verdict == v] for v in (UNFIT, UNKNOWN, FITS)}
        why = {
            UNFIT: f" ({', '.join(of[UNFIT])})",
            UNKNOWN: f", nothing against it so far; open: {', '.join(of[UNKNOWN]) or 'everything'}",
            FITS: " in every point that can be held against the case",
        }[self.verdict]
        return f"{self.part.name} (row {self.part.row}): {self.verdict}{why}."

    def plain(self) -> dict[str, object]:
        """The part as plain data."""
        return {
            "part": self.part.name,
            "row": self.part.row,
            "verdict": self.verdict,
            "points": [
                {"point": p.column, "verdict": p.verdict, "why": p.why, "page": p.page or None}
                for p in self.points
            ],
        }


def match(part: Part, sheet: Sheet, case: Case, checks: Mapping[str, Check], units: str = "us") -> Matched:
    """A part of the sheet's kind held against the case by the rules of the sheet."""
    hows = {name: p.how for p in sheet.points for name in p.name.split(" or ")}
    return Matched(part, tuple(_held(part, rule, case, checks, hows, units) for rule in sheet.matches))


def ranked(found: list[Matched]) -> list[Matched]:
    """Parts that fit first, then those still open with the fewest open points, then those that do not fit."""
    order = {FITS: 0, UNKNOWN: 1, UNFIT: 2}
    return sorted(
        found,
        key=lambda m: (order[m.verdict], sum(p.verdict != FITS for p in m.points), m.part.row),
    )


def _held(
    part: Part, rule: Match, case: Case, checks: Mapping[str, Check], hows: Mapping[str, str], units: str
) -> Held:
    column = rule.column
    figure, text = part.figures.get(column), part.texts.get(column, "")
    if rule.rule == "by hand":
        said = f'The list says "{text}"' if text else "The list does not say"
        how = hows.get(column, "")
        return Held(
            column, UNKNOWN, f"{said}; no reading of the case decides it. Measure the old one: {how}".rstrip()
        )
    needs = _needs(rule, case, checks)
    if figure is None:
        said = f'The list says "{text}", which is no figure.' if text else "The list does not say."
        return Held(column, UNKNOWN, f"{said} Read it off the part's label or ask the seller.")
    if not needs:
        how = hows.get(rule.findings[0] if rule.findings else "pin_weight_lb", "")
        page = rule.findings[0] if rule.findings else "pin_weight_lb"
        return Held(
            column, UNKNOWN, f"The list says {figure.text}; the case has no reading. Measure: {how}".rstrip(),
            checks[page].id if page in checks else "",
        )  # fmt: skip
    if rule.rule == "leg load":
        return _carries(column, figure, needs[0], units)
    if column in _OF_LEG and figure.unit == "in":
        return _by_leg_fit(column, figure, needs[0], _page(rule, checks), units)
    return _by_size(column, rule.rule, figure, needs, _page(rule, checks), units)


def _page(rule: Match, checks: Mapping[str, Check]) -> str:
    return next((checks[f].id for f in rule.findings if f in checks), "")


@dataclass(frozen=True)
class _Need:
    """What the case asks of a point: its range, how it reads, and the words it came from."""

    span: Span
    text: str
    words: str


def _needs(rule: Match, case: Case, checks: Mapping[str, Check]) -> list[_Need]:
    if rule.rule == "leg load":
        load = load_of_one_leg_lb(case)
        names = [n for n in ("pin_weight_lb", "gross_weight_lb") if n in case]
        return [_Need(load, "", "; ".join(case[n].words for n in names))] if load else []
    found = []
    for name in rule.findings:
        known = case.get(name)
        span = known.span if known else None
        if known is not None and span is not None:
            found.append(_Need(_measured(span, known, checks.get(name)), known.text, known.words))
    return found


def _measured(span: Span, known: Known, check: Check | None) -> Span:
    """A reading with what its instrument may be off; a figure read off a label is taken as it stands.

    Tape readings are left to the leg-fit sum, which has their error in it.
    """
    value, low, high = span
    if check is not None and check.unit == "A" and check.button == "held" and low == high:
        off = READ_OFF["amps share"] * value
        return value, low - off, high + off
    return value, low, high


def _said(need: _Need) -> str:
    words = " ".join(need.words.split())[:60]
    return f'{need.text} measured ("{words}")' if words else f"{need.text} measured"


def _by_leg_fit(column: str, figure: Figure, need: _Need, page: str, units: str) -> Held:
    """A length by the sum leg-fit, put through it with every end of both ranges."""
    field = _OF_LEG[column]
    words = set()
    for was, now in itertools.product(need.span, (figure.value, figure.low, figure.high)):
        if not (math.isfinite(was) and math.isfinite(now) and was > 0 and now > 0):
            words.add("open")
            continue
        try:
            words.add(leg_fit(old=Leg(**{field: was}), new=Leg(**{field: now})).verdict)
        except LeglineError:
            words.add("open")
    differs = figure.value - need.span[0]
    size = show(float(f"{abs(differs):.2g}"), "in", units)  # a tape tells no more
    by = f"{size} more" if differs > 0 else f"{size} less" if differs < 0 else "the same"
    said = f"Listed {figure.text}, {_said(need)}: {by}"
    if words == {"fits"}:
        return Held(column, FITS, said + ".", page)
    if words == {"does not fit"}:
        return Held(column, UNFIT, said + ".", page)
    return Held(
        column,
        UNKNOWN,
        f"{said}, which these readings leave open. Measure both again to 1/16 in or finer.",
        page,
    )


def _carries(column: str, figure: Figure, need: _Need, units: str) -> Held:
    """A rating against what one leg carries. Where the list does not say whether it is for one leg or for the
    pair, both are tried, and only what holds either way is said.
    """
    _, least, most = need.span
    shares = {"one": (1.0,), "pair": (0.5,), "": (1.0, 0.5)}[figure.each]
    verdicts = set()
    for share in shares:
        low, high = figure.low * share, figure.high * share
        verdicts.add(FITS if low >= most else UNFIT if high < least else UNKNOWN)
    carried = f"one leg carries {show(least, 'lb', units)} to {show(most, 'lb', units)} (sum leg-load)"
    said = f"Listed {figure.text}; {carried}"
    if verdicts == {FITS}:
        spare = min(figure.low * s for s in shares) - most
        return Held(column, FITS, f"{said}: {show(spare, 'lb', units)} to spare at least.")
    if verdicts == {UNFIT}:
        short = least - max(figure.high * s for s in shares)
        return Held(column, UNFIT, f"{said}: short by {show(short, 'lb', units)} at least.")
    if figure.each == "" and verdicts != {UNKNOWN}:
        return Held(column, UNKNOWN, f"{said}. Is the rating for one leg or for the pair? The label says.")
    return Held(
        column, UNKNOWN, f"{said}, too wide to tell. The pin weight from a scale narrows it.", "pin-weight-lb"
    )


def _by_size(column: str, rule: str, figure: Figure, needs: list[_Need], page: str, units: str) -> Held:
    """A figure against readings: at least every one of them, or the same as the one."""
    unit = figure.unit
    verdicts, parts = [], []
    for need in needs:
        _, low, high = need.span
        if rule == "at least":
            if figure.low >= high:
                verdicts.append(FITS)
                parts.append(f"{_said(need)}: {show(figure.low - high, unit, units)} to spare")
            elif figure.high < low:
                verdicts.append(UNFIT)
                parts.append(f"{_said(need)}: short by {show(low - figure.high, unit, units)}")
            else:
                verdicts.append(UNKNOWN)
                parts.append(f"{_said(need)}: too close to tell")
        elif figure.high < low or figure.low > high:
            more = figure.low - high if figure.low > high else figure.high - low
            verdicts.append(UNFIT)
            word = "more" if more > 0 else "less"
            parts.append(f"{_said(need)}: {show(abs(more), unit, units)} {word}")
        elif figure.low == figure.high == low == high:
            verdicts.append(FITS)
            parts.append(f"{_said(need)}: the same")
        else:
            verdicts.append(UNKNOWN)
            parts.append(f"{_said(need)}: the ranges leave it open")
    verdict = UNFIT if UNFIT in verdicts else UNKNOWN if UNKNOWN in verdicts else FITS
    return Held(column, verdict, f"Listed {figure.text}; {'; '.join(parts)}.", page)
