"""Which question next, and when to stop asking: by expected minutes, two questions ahead.

Asking costs its minutes; a repair tried in vain costs its own and the part. The best repair order of what is known is
worth V minutes; a question is worth what it takes off V, weighed over its answers, and the answers may each be followed
by the best second question. It stops when no question is worth its minutes; a repair that takes a part off or buys one
needs its own least chance besides. (Methods: value of information, two steps ahead over the four best of one step.)
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from bot.corpus.model import Check
from bot.frozen import dataclass, replace
from bot.reason.chances import ELSE, Findings, Model, Standing, split_rows, superseded
from bot.reason.worth import (
    PATIENCE_MINUTES,
    TALK_MINUTES,
    Means,
    allowed,
    can_be_done,
    check_cost,
    is_safe,
    least_chance,
    repair_value,
    seen_at_hand,
    worth_trying,
    wrong_cost,
)

NOT_ASKED = {"hitched", "kingpin_locked", "support", "gear"}
_BEAM = 4  # first questions looked at two steps ahead
_SECOND = 6  # second questions tried after each answer
_HARDLY = 6.0  # minutes at stake below which no second question is looked at
_LEADS = 0.3  # chance from which a look ahead tries a repair between two questions
_FAINT = 0.002  # a cause below this chance is left out of the look ahead
_TELLS_NOTHING = 0.004  # bits
# Below its least chance a verdict is a guess: it asks on while a question tells this many bits for a minute.
_BITS_A_MINUTE = 0.05
# How often a question is answered at all, before anything is known of the person: weight and share.
_KNOWN_BEFORE, _ASKED_BEFORE = 4.6, 5.0


@dataclass(frozen=True)
class Candidate:
    """A question that could be asked, with what it is worth."""

    finding: str
    cost: float
    gain: float  # minutes it saves beside acting now, its own cost taken off
    bits: float  # information about the cause
    separates: tuple[str, ...] = ()
    safe: bool = True


@dataclass(frozen=True)
class Choice:
    """What to do next: ask a finding, or act on a cause."""

    ask: Candidate | None
    act: str | None
    sure_enough: bool
    candidates: tuple[Candidate, ...] = ()


@dataclass(frozen=True)
class Test:
    """A question with its likelihoods over the causes that count."""

    finding: str
    minutes: float  # where it is answered
    asked_in_vain: float  # minutes where it is not
    able: float
    rows: tuple[tuple[float, ...], ...]
    safe: bool


@dataclass(frozen=True)
class Step:
    """A question weighed one step ahead: net minutes, bits, and the weights of the causes after each answer."""

    gain: float
    bits: float
    test: Test
    branches: list[list[float]]


def _entropy(weights: Sequence[float], beside: float, total: float) -> float:
    """Bits of a distribution given unnormalised, times its total."""
    bits = total * math.log2(total) - sum([w * math.log2(w) for w in weights if w > 0.0])
    return bits - beside * math.log2(beside) if beside > 0.0 else bits


class Look:
    """One look ahead from where a case stands: the causes that count, their costs, and the questions left."""

    def __init__(
        self,
        model: Model,
        now: Standing,
        findings: Findings,
        asked: frozenset[str],
        means: Means,
        tried: tuple[str, ...] = (),
    ):
        self.model, self.now = model, now
        means = seen_at_hand(model.checks, findings, means)
        gear = findings.get("gear")
        self.gear = str(gear) if gear is not None else None
        support = findings.get("support")
        self.support = str(support) if support is not None else None
        # What no repair covers comes last: something else, and what was mended in vain.
        likely = [i for i, c in enumerate(now.chances) if c >= _FAINT]
        repairable = [i for i in likely if i < len(model.causes) and model.causes[i].name not in tried]
        beside = [i for i in likely if i not in set(repairable)]
        self.costs = tuple(wrong_cost(model.causes[i]) for i in repairable)
        self.repairs = len(repairable)
        # Each cause with the motor turning and with it standing: the two show different things. Where it is known which,
        # the other half is left out.
        share = [sum(now.split[t::2]) for t in (0, 1)]
        self.halves = [t for t in (0, 1) if share[t] > _FAINT]
        order = [(i, t) for t in self.halves for i in repairable] + [
            (i, t) for t in self.halves for i in beside
        ]
        self.kept = [2 * i + t for i, t in order]
        self.weights = tuple(now.split[k] for k in self.kept)
        # Who could not answer the last questions will hardly answer the next; a missing tool is no such sign.
        unknown = sum(
            1
            for f in asked
            if f not in findings
            and f in model.checks
            and allowed(model.checks[f], self.gear, means, self.support)
        )
        told = sum(1 for f in findings if f in model.checks and f not in NOT_ASKED)
        self.knows = (told + _KNOWN_BEFORE) / (told + unknown + _ASKED_BEFORE)
        self.talk = TALK_MINUTES + PATIENCE_MINUTES * (told + len(asked))
        self.tests = tuple(self._tests(findings, asked, means))

    def _tests(self, findings: Findings, asked: frozenset[str], means: Means) -> Iterable[Test]:
        for finding, check in self.model.checks.items():
            if finding in findings or finding in asked or not askable(self.model, check):
                continue
            if superseded(self.model, finding, findings) or not allowed(
                check, self.gear, means, self.support
            ):
                continue
            rows = split_rows(self.model, self.now, finding, self.gear, self.kept)
            cost = check_cost(check, self.support) + self.talk
            able = can_be_done(check, means, self.support) * self.knows * self._gives(check, findings, asked)
            yield Test(
                finding, cost, self.talk + 1.0, able, tuple(rows.values()), is_safe(check, self.support)
            )

    def _gives(self, check: Check, findings: Findings, asked: frozenset[str]) -> float:
        """How likely somebody who has the tool gives this answer too, from what they gave with it so far."""
        tools = set(check.tools)
        if not tools:
            return 1.0
        alike = [
            n
            for n in (*findings, *asked)
            if n in self.model.checks and tools & set(self.model.checks[n].tools)
        ]
        given = sum(1 for n in alike if n in findings)
        return (given + 2.0) / (len(alike) + 2.0)

    def by_cause(self, weights: Sequence[float]) -> tuple[Sequence[float], float]:
        """The weights of the causes that can be mended, whether the motor turns or not; and the weight beside them."""
        n = self.repairs
        if len(self.halves) == 1:
            return weights[:n], sum(weights[n:])
        return [a + b for a, b in zip(weights[:n], weights[n : 2 * n], strict=True)], sum(weights[2 * n :])

    def value(self, weights: Sequence[float]) -> float:
        """Minutes of the best repair order with no more questions, times the total of the weights."""
        return repair_value(self.costs, *self.by_cause(weights))

    def one_step(self) -> list[Step]:
        """Each question left that tells something, with its net gain where no second one follows."""
        base, total = self.value(self.weights), sum(self.weights)
        entropy = _entropy(*self.by_cause(self.weights), total)
        found = []
        for test in self.tests:
            after, left = 0.0, 0.0
            branches = []
            for row in test.rows:
                weights = [w * r for w, r in zip(self.weights, row, strict=True)]
                mass = sum(weights)
                if mass <= 1e-9:
                    continue
                after += self.value(weights)
                left += _entropy(*self.by_cause(weights), mass)
                branches.append(weights)
            bits = entropy - left
            if bits >= _TELLS_NOTHING:
                found.append(Step(self._net(test, base, after), test.able * bits, test, branches))
        return found

    @staticmethod
    def _net(test: Test, base: float, after: float) -> float:
        """What asking takes off, where it may turn out that the question cannot be answered."""
        return test.able * (base - after - test.minutes) - (1.0 - test.able) * test.asked_in_vain

    def asked_once(self, weights: Sequence[float], tests: Sequence[Test]) -> float:
        """Minutes where at most one more question is asked first, the best of those given, times the total."""
        stop = best = self.value(weights)
        mass = sum(weights)
        if stop <= _HARDLY * mass:
            return stop
        for test in tests:
            then = sum([self.value([w * r for w, r in zip(weights, row, strict=True)]) for row in test.rows])
            worth = test.able * (mass * test.minutes + then)
            best = min(best, worth + (1.0 - test.able) * (mass * test.asked_in_vain + stop))
        return best

    def tried_first(self, at: int, weights: Sequence[float], tests: Sequence[Test]) -> float:
        """Minutes where that repair is tried first, and where it was in vain one more question is asked."""
        left = list(weights)
        for half in range(len(self.halves)):
            left[half * self.repairs + at] = 0.0
        return sum(left) * self.costs[at] + self.asked_once(left, tests)

    def acting_now(self, name: str | None) -> float:
        """Minutes where that repair is tried now; with no more questions at all where none is named."""
        best = self.value(self.weights)
        names = [self.model.names[k // 2] for k in self.kept[: self.repairs]]
        if name not in names:
            return best
        return min(best, self.tried_first(names.index(name), self.weights, self.tests))

    def two_step(self, first: Step, seconds: list[Step]) -> float:
        """Net gain of a question where each of its answers may be followed by one more, now or after the repair that
        then leads was in vain.
        """
        after = 0.0
        tests = [s.test for s in seconds if s.test is not first.test]
        for weights in first.branches:
            best = self.asked_once(weights, tests)
            by_cause, _ = self.by_cause(weights)
            leader = max(range(self.repairs), key=lambda i: by_cause[i] / self.costs[i], default=None)
            if leader is not None and by_cause[leader] > _LEADS * sum(weights):
                best = min(best, self.tried_first(leader, weights, tests))
            after += best
        return self._net(first.test, self.value(self.weights), after)

    def named(self, candidate: Candidate) -> Candidate:
        """The question with the causes it separates."""
        return replace(candidate, separates=self.separates(candidate.finding))

    def separates(self, finding: str) -> tuple[str, ...]:
        """The two or three causes whose chance the answers of a question move most."""
        test = next(t for t in self.tests if t.finding == finding)
        moved: dict[str, float] = {}
        for row in test.rows:
            weights = [w * r for w, r in zip(self.weights, row, strict=True)]
            mass = sum(weights)
            change: dict[str, float] = {}
            for k, before, after in zip(self.kept, self.weights, weights, strict=True):
                name = self.model.names[k // 2]
                change[name] = change.get(name, 0.0) + after - before * mass
            for name, by in change.items():
                moved[name] = moved.get(name, 0.0) + abs(by)
        named = sorted((n for n in moved if n != ELSE), key=lambda n: -moved[n])
        third = [n for n in named[2:3] if moved[n] > 0.3 * moved[named[0]]]
        return tuple([*named[:2], *third])


def askable(model: Model, check: Check) -> bool:
    """Whether a check is one the program asks for and has a use for."""
    if (
        check.finding in NOT_ASKED
        or check.page.head.get("asked") == "no"
        or check.page.head.get("follows from")
    ):
        return False
    return (
        check.kind != "quantity" or check.finding in model.rows or check.finding.startswith(("volts", "amps"))
    )


def candidates(
    model: Model,
    now: Standing,
    findings: Findings,
    asked: frozenset[str],
    means: Means,
    tried: tuple[str, ...] = (),
) -> list[Candidate]:
    """Every question left with its worth; the four best of one step, for each level of safety, two steps ahead."""
    return worths(Look(model, now, findings, asked, means, tried))


def worths(look: Look) -> list[Candidate]:
    """The questions of a look ahead, best first. Those that are not safe are looked at one step ahead alone while a safe
    one has worth: they are not asked then.
    """
    single = sorted(look.one_step(), key=lambda s: -s.bits / s.test.minutes)
    seconds = single[:_SECOND]
    found: list[Candidate] = []
    for safe in (True, False):
        group = [s for s in single if s.test.safe is safe]
        beam = [] if any(c.gain > 0.0 for c in found) else _beam(group)
        for step in group:
            two = any(step is other for other in beam)
            gain = look.two_step(step, seconds) if two else step.gain
            found.append(Candidate(step.test.finding, step.test.minutes, gain, step.bits, (), safe))
    return sorted(found, key=lambda c: (-c.gain, -c.bits / c.cost))


def _beam(group: list[Step]) -> list[Step]:
    """The four best of one step: by what they save and by what they tell for a minute, in turn."""
    by_gain = sorted(group, key=lambda s: -s.gain)
    beam: list[Step] = []
    for pair in zip(by_gain, group, strict=True):
        for step in pair:
            if len(beam) < _BEAM and all(step is not other for other in beam):
                beam.append(step)
    return beam


def choose(
    model: Model,
    now: Standing,
    findings: Findings,
    asked: frozenset[str],
    means: Means,
    tried: tuple[str, ...] = (),
) -> Choice:
    """Ask or act. Nothing under the nose, opened up or free of weight is asked while a safe question has worth.

    A cause whose repair was tried in vain is not offered again while another is left.
    """
    look = Look(model, now, findings, asked, means, tried)
    act, sure = _act(model, now, tried)
    spared = look.value(look.weights) - look.acting_now(act if sure else None)
    left = [replace(c, gain=c.gain - spared) for c in worths(look)]
    safe = [c for c in left if c.safe]
    for group in (safe, left):
        best = max(group, key=lambda c: c.gain, default=None)
        if best is not None and best.gain > 0.0:
            return Choice(look.named(best), None, sure, tuple(left))
    if not sure:
        # Acting now would be a guess with a price: ask on while a question still tells something for its minutes.
        for group in (safe, left):
            best = max(group, key=lambda c: c.bits / c.cost, default=None)
            if best is not None and best.bits / best.cost > _BITS_A_MINUTE:
                return Choice(look.named(best), None, sure, tuple(left))
    return Choice(None, act, sure, tuple(left))


def _act(model: Model, now: Standing, tried: tuple[str, ...]) -> tuple[str | None, bool]:
    """The cause to act on, and whether it passes the least chance of its repair; None where calling somebody out is
    cheaper than any repair left.
    """
    open_to = [
        i for i, c in enumerate(model.causes) if c.name not in tried and worth_trying(c, now.chances[i])
    ]
    if not open_to:
        return None, False
    passing = [i for i in open_to if now.chances[i] >= least_chance(model.causes[i])]
    # The cheapest for its chance goes first (falling p/c); a guess with a price waits for those that pass.
    at = max(passing or open_to, key=lambda i: now.chances[i] / wrong_cost(model.causes[i]))
    return model.causes[at].name, bool(passing)


__all__ = [
    "ELSE", "Candidate", "Choice", "Look", "Means", "candidates", "choose", "least_chance", "repair_value", "worths",
    "wrong_cost",
]  # fmt: skip
