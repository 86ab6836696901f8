"""The corpus as numbers: priors, one likelihood for each answer under each cause, and simulated trailers.

A motor that turns and one that stands show different things: what the legs do, which shafts turn, what squeals. A check
whose page has `at a standstill` is read twice, once for each; a cause's own line is for the turning motor, and a line
`finding standstill` for the other. How often the motor turns under a cause is its chance of "motor_runs".
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from functools import cached_property

from bot.corpus.model import Cause, Check, Corpus, Expectation
from bot.corpus.vocabulary import SCALE, SOMETHING_ELSE
from bot.frozen import dataclass, field
from bot.reason.circuit import READINGS, draws_of

ELSE = "something_else"
TURNING, RUNS = (
    "button_response",
    "motor_runs",
)  # the finding that tells whether the motor turns, and its answer
STANDSTILL = "standstill"
_NEVER = SCALE["never"]
SLIP = 0.03  # share of readings that are anything: a digit typed wrong, millivolts as volts, the wrong place
MISTAKE = 0.08  # share of answers that say nothing: misheard, misread, or looked at in a hurry


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
    still: Mapping[str, Mapping[str, tuple[float, ...]]] = field(
        default_factory=dict
    )  # rows of a standing motor
    turns: Mapping[str, tuple[float, ...]] = field(
        default_factory=dict
    )  # gear -> how often the motor turns, a cause

    @cached_property
    def parts(self) -> tuple[tuple[bytes, ...], ...]:
        """For each reading and each set of draws, the part each draw falls in; used to look ahead alone."""
        return tuple(
            tuple(bytes(bisect_left(edges_of(finding), draw[column]) for draw in one) for one in self.draws)
            for column, finding in enumerate(READINGS)
        )

    @cached_property
    def turning_draws(self) -> tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]:
        """For each set of draws, those where the motor turns and those where it stands; all where there are too few."""
        found = []
        for one in self.draws:
            every = tuple(range(len(one)))
            turning = tuple(i for i in every if len(one[i]) <= len(READINGS) or one[i][len(READINGS)] > 0.5)
            standing = tuple(i for i in every if i not in set(turning))
            found.append(
                (turning if len(turning) >= _FEW else every, standing if len(standing) >= _FEW else every)
            )
        return tuple(found)

    @cached_property
    def even(self) -> tuple[tuple[float, ...], ...]:
        """The weights of the draws while nothing was measured."""
        return tuple((1.0,) * len(one) for one in self.draws)

    @cached_property
    def even_shares(self) -> tuple[tuple[tuple[list[float], list[float]], ...], ...]:
        """For each reading, set of draws, and turning or standing motor: the shares of the parts, nothing measured."""
        return tuple(
            tuple(
                (shares_of(parts, even, turning), shares_of(parts, even, standing))
                for parts, even, (turning, standing) in zip(
                    column, self.even, self.turning_draws, strict=True
                )
            )
            for column in self.parts
        )

    def rows_of(self, finding: str, gear: str | None, standing: bool) -> Mapping[str, tuple[float, ...]]:
        """Answer -> one likelihood a cause, with the motor turning or standing, in that gear where a cause names it."""
        key = f"{finding} {gear}" if gear else finding
        if standing and finding in self.still:
            return self.still.get(key) or self.still[finding]
        return self.rows.get(key) or self.rows[finding]

    def turning(self, gear: str | None) -> tuple[float, ...]:
        """How often the motor turns under each cause; 1 where no motor is asked about."""
        return self.turns.get(gear or "") or (1.0,) * len(self.names)


_FEW = 4


def build_model(corpus: Corpus) -> Model:
    """The model of a corpus. Pure; about 50 ms for the shipped one, done once and kept."""
    causes = corpus.causes
    names = (*(c.name for c in causes), ELSE)
    checks = {c.finding: c for c in corpus.checks}
    rows: dict[str, Mapping[str, tuple[float, ...]]] = {}
    still: dict[str, Mapping[str, tuple[float, ...]]] = {}
    turns: dict[str, tuple[float, ...]] = {}
    for check in corpus.checks:
        name = check.finding
        if name in READINGS:
            continue
        for gear in ("", *check.fits):
            key = f"{name} {gear}".strip()
            if gear and not any(c.says(f"{name} {gear}{t}") for c in causes for t in ("", f" {STANDSTILL}")):
                continue
            columns = _columns(check, causes, gear, False)
            if name == TURNING:
                turns[gear] = tuple(c.get(RUNS, 0.0) for c in columns)
                rows[key] = _blurred([{a: float(a == RUNS) for a in check.choices}] * len(names))
                still[key] = _blurred([_without_runs(c) for c in columns])
                continue
            rows[key] = _blurred(columns)
            if check.standstill:
                still[key] = _blurred(_columns(check, causes, gear, True))
    for gear in {g for c in corpus.checks if c.finding == TURNING for g in c.fits}:
        turns.setdefault(gear, turns.get("", (1.0,) * len(names)))
    sets: dict[tuple[object, ...], int] = {}
    draws: list[tuple[tuple[float, ...], ...]] = []
    which = []
    for cause in (*causes, None):
        key_of: tuple[object, ...] = ()
        if cause:
            key_of = (
                *((r.element, r.low, r.high) for r in cause.circuit), *cause.breaks, cause.motor,
                cause.motor_low, cause.motor_high,
            ) if cause.circuit or cause.breaks or cause.motor else ()  # fmt: skip
        if key_of not in sets:
            sets[key_of] = len(draws)
            draws.append(draws_of(cause if key_of else None))
        which.append(sets[key_of])
    return Model(
        causes, names, (*(c.weight for c in causes), SOMETHING_ELSE), checks, rows, tuple(draws), tuple(which),
        {name: i for i, name in enumerate(names)}, still, turns,
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


def _said(cause: Cause, finding: str, gear: str, standing: bool) -> Expectation | None:
    """The line of a cause for a finding, the nearest to that gear and to a turning or a standing motor."""
    if standing:
        return (
            (cause.says(f"{finding} {gear} {STANDSTILL}") or cause.says(f"{finding} {gear}") if gear else None)
            or cause.says(f"{finding} {STANDSTILL}")
        )  # fmt: skip
    return (cause.says(f"{finding} {gear}") if gear else None) or cause.says(finding)


def _columns(check: Check, causes: tuple[Cause, ...], gear: str, standing: bool) -> list[dict[str, float]]:
    """One distribution over the answers a cause, the last for something else."""
    answers = answers_of(check)

    def plain(said: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float], ...]:
        return tuple((a.split(" ")[0], c) for a, c in said) if check.kind == "quantity" else said

    flat = {a: 1.0 / len(answers) for a in answers}
    usual = check.standstill if standing else check.otherwise
    base = _distribution(plain(usual), answers) if usual else flat
    columns = []
    for cause in causes:
        said = _said(cause, check.finding, gear, standing)
        columns.append(_distribution(plain(said.chances), answers) if said else base)
    columns.append({a: (base[a] + flat[a]) / 2 for a in answers})
    return columns


def _without_runs(column: dict[str, float]) -> dict[str, float]:
    """What a press sounds like where the motor stands."""
    rest = sum(c for a, c in column.items() if a != RUNS)
    return {a: 0.0 if a == RUNS else c / rest if rest else 1.0 / (len(column) - 1) for a, c in column.items()}


def _blurred(columns: list[dict[str, float]]) -> dict[str, tuple[float, ...]]:
    """Likelihood rows, with the share of answers that say nothing."""
    flat = 1.0 / len(columns[0])
    return {a: tuple((1.0 - MISTAKE) * c[a] + MISTAKE * flat for c in columns) for a in columns[0]}


def shares_of(parts: bytes, weights: tuple[float, ...], draws: tuple[int, ...]) -> list[float]:
    """The share of the draws in each of the seven parts of a reading, with the slips spread over all."""
    share, total = [0.0] * 7, 0.0
    for n in draws:
        share[parts[n]] += weights[n]
        total += weights[n]
    return [SLIP / 7 + (1.0 - SLIP) * x / total for x in share]


def threshold(check: Check, causes: tuple[Cause, ...]) -> float | None:
    """The limit that "over" and "under" refer to for a quantity that is no electrical reading."""
    for said, _ in (
        *check.otherwise,
        *(p for c in causes if (e := c.says(check.finding)) for p in e.chances),
    ):
        if said.startswith(("over ", "under ")):
            return float(said.split(" ")[1])
    return None


def discrete(model: Model, finding: str, value: str | float) -> str | None:
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


def edges_of(finding: str) -> tuple[float, ...]:
    """Where a reading is cut to look ahead: parts that a tech would tell apart."""
    if finding == "amps":
        return (8.0, 15.0, 25.0, 35.0, 45.0, 60.0)
    if finding == "volts_battery_resting":
        return (9.0, 11.0, 11.9, 12.1, 12.3, 12.5)
    if finding == "volts_ground_drop":
        return (0.15, 0.4, 0.8, 1.5, 3.0, 6.0)
    return (1.0, 4.0, 8.0, 10.0, 11.2, 12.0)
