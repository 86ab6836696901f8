"""Exact chances of the causes, from the prior, the gear and every finding so far.

One cause at a time plus "something else". The weight of each cause is its prior times the likelihood of each
finding; it is recomputed from the whole list, so the order of answers cannot matter and a correction is exact.
Electrical readings enter jointly, through simulated trailers (circuit.py), blurred by meter error, with a share
for slips of the person or the meter.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Mapping
from functools import cached_property
from typing import Any

from bot.corpus.model import Cause, Check, Corpus
from bot.corpus.vocabulary import SCALE, SOMETHING_ELSE
from bot.frozen import dataclass
from bot.reason.circuit import READINGS, draws_of

Value = str | float
Findings = Mapping[str, Value]

ELSE = "something_else"
_NEVER = SCALE["never"]
# Meter, probe and wording error of one reading: one standard deviation, and the share of plain slips.
_BLUR_V, _BLUR_REST_V, _BLUR_A_SHARE, _BLUR_A = 0.45, 0.12, 0.15, 2.0
_SLIP = 0.03
_MISTAKE = 0.04  # share of answers that say nothing: misheard, misread, or looked at in a hurry
# A fault that people see and name (head label `told by`), not named by any of those findings: what is left of it.
_UNTOLD = 0.15
_RETRIED = 0.04  # what is left of a cause whose repair was tried in vain


@dataclass(frozen=True)
class Model:
    """The corpus as numbers: causes in a fixed order (the last is "something else"), answers as likelihood rows."""

    causes: tuple[Cause, ...]
    names: tuple[str, ...]
    priors: tuple[float, ...]
    checks: Mapping[str, Check]
    rows: Mapping[str, Mapping[str, tuple[float, ...]]]  # finding -> answer -> one likelihood a cause
    draws: tuple[tuple[tuple[float, ...], ...], ...]  # distinct sets of simulated trailers
    draws_of_cause: tuple[int, ...]
    index: Mapping[str, int]

    @cached_property
    def kept(self) -> dict[tuple[str, str], Any]:
        """What `predicted` works out of the draws once: nothing in it depends on a case."""
        return {}


def build_model(corpus: Corpus) -> Model:
    """The model of a corpus. Pure; about 50 ms for the shipped one, done once and kept."""
    causes = corpus.causes
    names = (*(c.name for c in causes), ELSE)
    checks = {c.finding: c for c in corpus.checks}
    rows: dict[str, Mapping[str, tuple[float, ...]]] = {}
    for check in corpus.checks:
        if check.finding in READINGS:
            continue
        rows[check.finding] = _rows(check, causes, "")
        for gear in check.fits:
            if any(c.says(f"{check.finding} {gear}") for c in causes):
                rows[f"{check.finding} {gear}"] = _rows(check, causes, gear)
    sets: dict[tuple[object, ...], int] = {}
    draws: list[tuple[tuple[float, ...], ...]] = []
    which = []
    for cause in (*causes, None):
        key: tuple[object, ...] = ()
        if cause:
            key = (
                *((r.element, r.low, r.high) for r in cause.circuit), *cause.breaks, cause.motor,
                cause.motor_low, cause.motor_high,
            ) if cause.circuit or cause.breaks or cause.motor else ()  # fmt: skip
        if key not in sets:
            sets[key] = len(draws)
            draws.append(draws_of(cause if key else None))
        which.append(sets[key])
    return Model(
        causes, names, (*(c.weight for c in causes), SOMETHING_ELSE), checks, rows, tuple(draws), tuple(which),
        {name: i for i, name in enumerate(names)},
    )  # fmt: skip


def answers_of(check: Check) -> tuple[str, ...]:
    """The discrete answers the model knows for a check that is no electrical reading."""
    if check.kind == "quantity":
        return ("over", "under")
    return check.choices


def _distribution(said: tuple[tuple[str, float], ...], answers: tuple[str, ...]) -> dict[str, float]:
    """One chance an answer, summing to one. Unsaid answers share what is left (two answers) or are "never"."""
    given = dict(said)
    if len(answers) == 2 and len(given) == 1:
        ((answer, chance),) = given.items()
        return {a: chance if a == answer else 1.0 - chance for a in answers}
    weights = {a: given.get(a, _NEVER) for a in answers}
    total = sum(weights.values())
    return {a: w / total for a, w in weights.items()}


def _rows(check: Check, causes: tuple[Cause, ...], gear: str) -> dict[str, tuple[float, ...]]:
    answers = answers_of(check)

    def plain(said: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float], ...]:
        return tuple((a.split(" ")[0], c) for a, c in said) if check.kind == "quantity" else said

    flat = {a: 1.0 / len(answers) for a in answers}
    base = _distribution(plain(check.otherwise), answers) if check.otherwise else flat
    columns = []
    for cause in causes:
        said = (cause.says(f"{check.finding} {gear}") if gear else None) or cause.says(check.finding)
        columns.append(_distribution(plain(said.chances), answers) if said else base)
    columns.append({a: (base[a] + flat[a]) / 2 for a in answers})
    return {a: tuple((1.0 - _MISTAKE) * c[a] + _MISTAKE * flat[a] for c in columns) for a in answers}


def threshold(check: Check, causes: tuple[Cause, ...]) -> float | None:
    """The limit that "over" and "under" refer to for a quantity that is no electrical reading."""
    for said, _ in (
        *check.otherwise,
        *(p for c in causes if (e := c.says(check.finding)) for p in e.chances),
    ):
        if said.startswith(("over ", "under ")):
            return float(said.split(" ")[1])
    return None


def discrete(model: Model, finding: str, value: Value) -> str | None:
    """The model's answer that a value stands for, or None where the model has no use for it."""
    check = model.checks.get(finding)
    if check is None or finding in READINGS:
        return None
    if check.kind != "quantity":
        return str(value) if value in model.rows[finding] else None
    limit = threshold(check, model.causes)
    if limit is None or isinstance(value, str):
        return None
    return "over" if value > limit else "under"


def _reading_likelihood(
    draws: tuple[tuple[float, ...], ...], readings: list[tuple[int, float]]
) -> list[float]:
    """For each draw, the likelihood of all readings together (blurred, with the share of slips)."""
    weights = [1.0] * len(draws)
    for column, seen in readings:
        if column == 8:
            blur = _BLUR_A + _BLUR_A_SHARE * seen
            slip = _SLIP / 80.0
        else:
            blur = _BLUR_REST_V if column == 0 else _BLUR_V
            slip = _SLIP / 14.0
        scale = (1.0 - _SLIP) / (blur * 2.5066)
        for i, draw in enumerate(draws):
            gap = (draw[column] - seen) / blur
            weights[i] *= (scale * math.exp(-0.5 * gap * gap) if -6 < gap < 6 else 0.0) + slip
    return weights


@dataclass(frozen=True)
class Standing:
    """Where a case stands: one joint weight a cause, the chances, and the draws' weights for what comes next."""

    weights: tuple[float, ...]
    chances: tuple[float, ...]
    draw_weights: tuple[tuple[float, ...], ...]
    conflict: float


def row_of(model: Model, finding: str, answer: str, gear: str | None) -> tuple[float, ...]:
    """The likelihoods of an answer, in that gear where some cause speaks of the gear by itself."""
    rows = model.rows.get(f"{finding} {gear}") if gear else None
    return (rows or model.rows[finding])[answer]


def with_derived(model: Model, findings: Findings) -> dict[str, Value]:
    """The findings and those that follow from two of them together (label `follows from` of a check page)."""
    found = dict(findings)
    for name, check in model.checks.items():
        rule = check.page.head.get("follows from")
        if rule and name not in found:
            pairs = [part.split() for part in rule.split(",")]
            if all(found.get(f) == v for f, v in pairs):
                found[name] = "yes"
            elif all(f in found for f, _ in pairs):
                found[name] = "no"
    return found


def fitting(model: Model, gear: str | None) -> tuple[bool, ...]:
    """Which causes can be in that gear; all of them while it is unknown."""
    if gear is None:
        return (True,) * len(model.names)
    return (*(gear in c.fits for c in model.causes), True)


def standing(model: Model, findings: Findings, tried: tuple[str, ...] = ()) -> Standing:
    """The exact chances given the findings; `tried` names causes whose repair did not help."""
    gear = findings.get("gear")
    fits = fitting(model, str(gear) if gear is not None else None)
    weights = [p if f else 0.0 for p, f in zip(model.priors, fits, strict=True)]
    if findings:
        for i, cause in enumerate(model.causes):
            told = cause.page.head.get("told by", "")
            if told and not any(name.strip() in findings for name in told.split(",")):
                weights[i] *= _UNTOLD
    total = sum(weights)
    start = [w / total for w in weights]
    weights = list(start)
    singles = 0.0
    for finding, value in with_derived(model, findings).items():
        if finding == "gear":
            continue
        answer = discrete(model, finding, value)
        if answer is None:
            continue
        row = row_of(model, finding, answer, str(gear) if gear is not None else None)
        singles += math.log(sum(s * r for s, r in zip(start, row, strict=True)))
        weights = [w * r for w, r in zip(weights, row, strict=True)]
    readings = [
        (i, float(findings[name]))
        for i, name in enumerate(READINGS)
        if isinstance(findings.get(name), (int, float))
    ]
    draw_weights: list[tuple[float, ...]] = []
    for draws in model.draws:
        likelihoods = _reading_likelihood(draws, readings) if readings else [1.0] * len(draws)
        draw_weights.append(tuple(likelihoods))
    if readings:
        means = [sum(w) / len(w) for w in draw_weights]
        joint = [means[s] for s in model.draws_of_cause]
        singles += math.log(max(1e-300, sum(s * j for s, j in zip(start, joint, strict=True))))
        weights = [w * j for w, j in zip(weights, joint, strict=True)]
    for name in tried:
        if name in model.index:
            weights[model.index[name]] *= _RETRIED
    total = sum(weights)
    if total <= 0:
        weights, total = start, 1.0
    chances = tuple(w / total for w in weights)
    return Standing(tuple(weights), chances, tuple(draw_weights), singles - math.log(total))


def _edges(finding: str) -> tuple[float, ...]:
    """Where a reading is cut to look ahead: parts that a tech would tell apart."""
    if finding == "amps":
        return (8.0, 15.0, 25.0, 35.0, 45.0, 60.0)
    if finding == "volts_battery_resting":
        return (9.0, 11.0, 11.9, 12.1, 12.3, 12.5)
    if finding == "volts_ground_drop":
        return (0.15, 0.4, 0.8, 1.5, 3.0, 6.0)
    return (1.0, 4.0, 8.0, 10.0, 11.2, 12.0)


def part_words(finding: str, part: str) -> str:
    """A part of a reading that `predicted` names by its number, in words with its unit."""
    edges, n = _edges(finding), int(part)
    unit = "A" if finding == "amps" else "V"
    if n == 0:
        return f"under {edges[0]:g} {unit}"
    return f"over {edges[-1]:g} {unit}" if n == len(edges) else f"{edges[n - 1]:g} to {edges[n]:g} {unit}"


def predicted(
    model: Model, now: Standing, finding: str, gear: str | None = None
) -> dict[str, tuple[float, ...]]:
    """For each answer a check may bring, its likelihood under each cause given what is known.

    Electrical readings are cut into seven parts only to look ahead; as evidence they are never cut.
    """
    if finding not in READINGS:
        return dict((model.rows.get(f"{finding} {gear}") if gear else None) or model.rows[finding])
    flat = all(w.count(1.0) == len(w) for w in now.draw_weights)  # no reading yet: every draw counts the same
    if flat and ("flat", finding) in model.kept:
        return dict(model.kept["flat", finding])
    parts: list[list[float]] = []
    for cut, weights in zip(_cut(model, finding), now.draw_weights, strict=True):
        share = [_SLIP / 7] * 7
        total = sum(weights)
        for part, weight in zip(cut, weights, strict=True):
            share[part] += weight / total * (1 - _SLIP)
        parts.append(share)
    found = {str(i): tuple(parts[s][i] for s in model.draws_of_cause) for i in range(7)}
    if flat:
        model.kept["flat", finding] = dict(found)
    return found


def _cut(model: Model, finding: str) -> tuple[bytes, ...]:
    """For each set of draws, the part of a reading that each draw falls into."""
    kept = model.kept.get(("cut", finding))
    if kept is None:
        column, edges = READINGS.index(finding), _edges(finding)
        kept = tuple(bytes(bisect_left(edges, draw[column]) for draw in draws) for draws in model.draws)
        model.kept["cut", finding] = kept
    return kept
