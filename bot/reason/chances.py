"""Exact chances of the causes, from the prior, the gear and every finding so far.

One cause at a time plus "something else". The weight of each cause is its prior times the likelihood of each
finding; it is recomputed from the whole list, so the order of answers cannot matter and a correction is exact.
Electrical readings enter jointly, through simulated trailers (circuit.py), blurred by meter error, with a share
for slips of the person or the meter.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from bot.frozen import dataclass
from bot.reason.circuit import READINGS
from bot.reason.model import ELSE, SLIP, Model, build_model, discrete, edges_of, shares_of, threshold

Value = str | float
Findings = Mapping[str, Value]

# Meter, probe and wording error of one reading: one standard deviation, and the share of plain slips.
_BLUR_V, _BLUR_REST_V, _BLUR_A_SHARE, _BLUR_A = 0.45, 0.12, 0.15, 2.0
# A fault that people see and name (head label `told by`), not named by any of those findings: what is left of it.
_UNTOLD = 0.15
_RETRIED = 0.04  # what is left of a cause whose repair was tried in vain


def _reading_likelihood(
    draws: tuple[tuple[float, ...], ...], readings: list[tuple[int, float]]
) -> list[float]:
    """For each draw, the likelihood of all readings together (blurred, with the share of slips)."""
    weights = [1.0] * len(draws)
    for column, seen in readings:
        if column == 8:
            blur = _BLUR_A + _BLUR_A_SHARE * seen
            slip = SLIP / 80.0
        else:
            blur = _BLUR_REST_V if column == 0 else _BLUR_V
            slip = SLIP / 14.0
        scale = (1.0 - SLIP) / (blur * 2.5066)
        for i, draw in enumerate(draws):
            gap = (draw[column] - seen) / blur
            weights[i] *= (scale * math.exp(-0.5 * gap * gap) if -6 < gap < 6 else 0.0) + slip
    return weights


@dataclass(frozen=True)
class Standing:
    """Where a case stands: one joint weight a cause, the chances, and the draws' weights for what comes next.

    `split` holds two weights a cause, normalised: with the motor turning at the press, and with it standing.
    """

    weights: tuple[float, ...]
    chances: tuple[float, ...]
    draw_weights: tuple[tuple[float, ...], ...]
    conflict: float
    split: tuple[float, ...] = ()
    start: tuple[float, ...] = ()  # one weight a cause before any answer


def row_of(model: Model, finding: str, answer: str, gear: str | None) -> tuple[float, ...]:
    """The likelihood of an answer under each cause, in that gear, whether the motor turns or not."""
    turning, standing_ = (
        model.rows_of(finding, gear, False)[answer],
        model.rows_of(finding, gear, True)[answer],
    )
    return tuple(
        share * a + (1.0 - share) * b
        for share, a, b in zip(model.turning(gear), turning, standing_, strict=True)
    )


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


def superseded(model: Model, finding: str, findings: Findings) -> bool:
    """Whether a finding says the same, and less, as one that is known (label `stands in for`): it is not counted twice."""
    check = model.checks.get(finding)
    return check is not None and check.page.head.get("stands in for") in findings


def fitting(model: Model, gear: str | None) -> tuple[bool, ...]:
    """Which causes can be in that gear; all of them while it is unknown."""
    if gear is None:
        return (True,) * len(model.names)
    return (*(gear in c.fits for c in model.causes), True)


def standing(model: Model, findings: Findings, tried: tuple[str, ...] = ()) -> Standing:
    """The exact chances given the findings; `tried` names causes whose repair did not help."""
    said_gear = findings.get("gear")
    gear = str(said_gear) if said_gear is not None else None
    fits = fitting(model, gear)
    priors = [p if f else 0.0 for p, f in zip(model.priors, fits, strict=True)]
    if findings:
        for i, cause in enumerate(model.causes):
            told = cause.page.head.get("told by", "")
            if told and not any(name.strip() in findings for name in told.split(",")):
                priors[i] *= _UNTOLD
    total = sum(priors)
    start = []
    for prior, share in zip(priors, model.turning(gear), strict=True):
        start += [prior * share / total, prior * (1.0 - share) / total]
    weights = list(start)
    singles = 0.0
    for finding, value in with_derived(model, findings).items():
        if superseded(model, finding, findings):
            continue
        answer = discrete(model, finding, value) if finding != "gear" else None
        if answer is None:
            continue
        row = _both(model, finding, answer, gear)
        singles += math.log(sum(s * r for s, r in zip(start, row, strict=True)))
        weights = [w * r for w, r in zip(weights, row, strict=True)]
    readings = [
        (i, float(findings[name]))
        for i, name in enumerate(READINGS)
        if isinstance(findings.get(name), (int, float))
    ]
    draw_weights = model.even
    if readings:
        draw_weights = tuple(tuple(_reading_likelihood(draws, readings)) for draws in model.draws)
        joint = []
        for s in model.draws_of_cause:
            for kept in model.turning_draws[s]:
                joint.append(sum(draw_weights[s][n] for n in kept) / len(kept))
        singles += math.log(max(1e-300, sum(s * j for s, j in zip(start, joint, strict=True))))
        weights = [w * j for w, j in zip(weights, joint, strict=True)]
    for name in tried:
        if name in model.index:
            weights[2 * model.index[name]] *= _RETRIED
            weights[2 * model.index[name] + 1] *= _RETRIED
    total = sum(weights)
    if total <= 0:
        weights, total = start, 1.0
    split = tuple(w / total for w in weights)
    pairs = list(zip(weights[::2], weights[1::2], strict=True))
    return Standing(
        tuple(a + b for a, b in pairs), tuple((a + b) / total for a, b in pairs), draw_weights,
        singles - math.log(total), split, tuple(a + b for a, b in zip(start[::2], start[1::2], strict=True)),
    )  # fmt: skip


def _both(model: Model, finding: str, answer: str, gear: str | None) -> list[float]:
    """Two likelihoods a cause: with the motor turning, and with it standing."""
    turning, still = model.rows_of(finding, gear, False)[answer], model.rows_of(finding, gear, True)[answer]
    return [r for pair in zip(turning, still, strict=True) for r in pair]


def part_words(finding: str, part: str) -> str:
    """A part of a reading that `predicted` names by its number, in words with its unit."""
    edges, n = edges_of(finding), int(part)
    unit = "A" if finding == "amps" else "V"
    if n == 0:
        return f"under {edges[0]:g} {unit}"
    return f"over {edges[-1]:g} {unit}" if n == len(edges) else f"{edges[n - 1]:g} to {edges[n]:g} {unit}"


def part_range(finding: str, part: str) -> tuple[float, float]:
    """The lower and upper end of a part of a reading, in its unit; the outer parts end where such readings end."""
    edges, n = edges_of(finding), int(part)
    top = 90.0 if finding == "amps" else 13.4
    return (edges[n - 1] if n else 0.0), (edges[n] if n < len(edges) else max(top, edges[-1]))


def predicted(
    model: Model, now: Standing, finding: str, gear: str | None = None
) -> dict[str, tuple[float, ...]]:
    """For each answer a check may bring, its likelihood under each cause given what is known.

    Electrical readings are cut into seven parts only to look ahead; as evidence they are never cut.
    """
    shares = []
    for turning, still in zip(now.split[::2], now.split[1::2], strict=True):
        shares.append(turning / (turning + still) if turning + still > 0 else 1.0)
    rows = split_rows(model, now, finding, gear, range(len(now.split)))
    return {
        a: tuple(s * t + (1.0 - s) * o for s, t, o in zip(shares, row[::2], row[1::2], strict=True))
        for a, row in rows.items()
    }


def split_rows(
    model: Model, now: Standing, finding: str, gear: str | None, kept: Sequence[int]
) -> dict[str, tuple[float, ...]]:
    """The likelihoods of each answer under the weights of `Standing.split` that `kept` names by index."""
    if finding not in READINGS:
        turning, still = model.rows_of(finding, gear, False), model.rows_of(finding, gear, True)
        return {a: tuple((still if k % 2 else turning)[a][k // 2] for k in kept) for a in turning}
    column = READINGS.index(finding)
    parts, known = model.parts[column], now.draw_weights is model.even
    shares: dict[tuple[int, int], list[float]] = {}
    for k in kept:
        key = (model.draws_of_cause[k // 2], k % 2)
        if key not in shares:
            if known:  # nothing was measured yet: the same each time
                shares[key] = model.even_shares[column][key[0]][key[1]]
                continue
            shares[key] = shares_of(
                parts[key[0]], now.draw_weights[key[0]], model.turning_draws[key[0]][key[1]]
            )
    return {str(n): tuple(shares[model.draws_of_cause[k // 2], k % 2][n] for k in kept) for n in range(7)}


__all__ = [
    "ELSE", "Findings", "Model", "Standing", "Value", "build_model", "discrete", "fitting", "part_range", "part_words", "predicted",
    "row_of", "split_rows", "standing", "superseded", "threshold", "with_derived",
]  # fmt: skip
