"""Two ways of asking everybody the same: the printed order, and the best fixed order found by training.

Both hear the same answers as the conversation does, pay the same minutes, and do repairs at the same price.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from scripts.simulate.facts import Value
from scripts.simulate.faults import CAUSES, OUTSIDE
from scripts.simulate.pages import CALL_OUT_MINUTES, MOST_VERDICTS, Repairs
from scripts.simulate.person import Need
from scripts.simulate.play import Case

START = ("support", "gear")  # asked of everybody first, by every way of asking
Known = dict[str, Value]
Array = npt.NDArray[np.float64]


@dataclass
class Outcome:
    """What a fixed order came to for one trailer."""

    verdicts: list[str] = field(default_factory=list)
    asked: int = 0
    minutes: float = 0.0
    wrong_minutes: float = 0.0
    left: list[str] = field(default_factory=list)

    @property
    def cost(self) -> float:
        """Minutes of checks, of wrong repairs and their parts, and of the call-out where nothing helped."""
        return self.minutes + self.wrong_minutes

    def ask(self, case: Case, finding: str) -> Value | None:
        """One question; its answer, paid for."""
        self.asked += 1
        self.minutes += case.person.minutes(finding)
        return case.person.answers(finding)

    def repair(self, case: Case, cause: str, repairs: Repairs) -> bool:
        """One repair done; whether it all works now."""
        if cause in self.verdicts:
            return False
        self.verdicts.append(cause)
        gear = case.t.gear
        same = [r for r in repairs.procedures.values() if cause in r.mends and gear in r.gears]
        document = min(same, key=lambda r: r.minutes) if same else None
        mended = [c for c in self.left if c == cause or (document is not None and c in document.mends)]
        if not mended:
            self.wrong_minutes += repairs.cost(cause, gear)
        self.left = [c for c in self.left if c not in mended]
        return not self.left


def _number(known: Known, name: str) -> float | None:
    value = known.get(name)
    return value if isinstance(value, float) else None


def _is(name: str, value: str, cause: str) -> Callable[[Known], str | None]:
    return lambda known: cause if known.get(name) == value else None


def _one_leg(known: Known) -> bool:
    return known.get("legs_moving") in ("left", "right")


def _dead(known: Known) -> bool:
    return known.get("button_response") in ("silent", "clicks", "hums")


def _under(name: str, volts: float, cause: str) -> Callable[[Known], str | None]:
    def rule(known: Known) -> str | None:
        value = _number(known, name)
        return cause if value is not None and value < volts else None

    return rule


def _motor_volts(known: Known) -> str | None:
    volts = _number(known, "volts_motor_loaded")
    return "motor_failed" if volts is not None and volts >= 10.8 and _dead(known) else None


def _ground_volts(known: Known) -> str | None:
    volts = _number(known, "volts_ground_drop")
    return "bad_ground" if volts is not None and 0.8 < volts < 16 else None


def _lost(here: str, there: str, cause: str) -> Callable[[Known], str | None]:
    def rule(known: Known) -> str | None:
        one, other = _number(known, here), _number(known, there)
        return cause if one is not None and other is not None and one - other > 1.0 else None

    return rule


def _crank(known: Known) -> str | None:
    if known.get("crank_moves_both_legs") != "no" or known.get("crank_turns_freely") != "yes":
        return None
    return "cross_shaft_parted" if _one_leg(known) else "gearbox_stripped"


def _runs_for_nothing(known: Known) -> str | None:
    lost = known.get("button_response") == "motor_runs" and known.get("legs_moving") == "neither"
    return "motor_shaft_sheared" if lost else None


# The order that printed walk-throughs share: legs, gearbox, motor, ground, battery (and what carries its current), load.
# Common practice, no source. A row: the check, and what a positive answer is taken to mean.
PRINTED: tuple[tuple[str, Callable[[Known], str | None]], ...] = (
    ("legs_moving", lambda known: None),
    ("button_response", lambda known: None),
    ("leg_visibly_bent", _is("leg_visibly_bent", "yes", "leg_bent")),
    ("leg_at_end_of_travel", _is("leg_at_end_of_travel", "yes", "leg_jammed_at_end_of_travel")),
    ("pin_stays_seated", _is("pin_stays_seated", "no", "drop_leg_or_pin")),
    ("drop_leg_slides", _is("drop_leg_slides", "no", "drop_leg_or_pin")),
    ("leg_can_be_pushed_up_by_hand", _is("leg_can_be_pushed_up_by_hand", "yes", "leg_screw_or_nut_stripped")),
    ("clicking_at_top_of_leg", _is("clicking_at_top_of_leg", "yes", "leg_bevel_gears_damaged")),
    ("leg_rocks_by_hand", _is("leg_rocks_by_hand", "yes", "mounting_loose")),
    ("legs_uneven", lambda k: "legs_out_of_step" if k.get("legs_uneven") == "yes" and not _one_leg(k) else None),
    ("squeals", _is("squeals", "yes", "leg_binding")),
    ("pin_missing", _is("pin_missing", "yes", "cross_shaft_parted")),
    ("crank_turns_freely", lambda known: None),
    ("crank_moves_both_legs", _crank),
    ("grinding_when_cranked", _is("grinding_when_cranked", "yes", "gearbox_stripped")),
    ("clicking_at_motor", _is("clicking_at_motor", "yes", "gearbox_stripped")),
    ("cross_shaft_turns", _runs_for_nothing),
    ("tapping_helps", _is("tapping_helps", "yes", "motor_failed")),
    ("volts_motor_loaded", _motor_volts),
    ("ground_clean", _is("ground_clean", "no", "bad_ground")),
    ("volts_ground_drop", _ground_volts),
    ("battery_terminals_tight_and_clean",
     _is("battery_terminals_tight_and_clean", "no", "battery_connection")),
    ("volts_battery_resting", _under("volts_battery_resting", 11.9, "battery_discharged")),
    ("volts_battery_loaded", _under("volts_battery_loaded", 10.5, "battery_discharged")),
    ("lights_dim_when_button_pressed", _is("lights_dim_when_button_pressed", "yes", "battery_discharged")),
    ("fuse_ok", _is("fuse_ok", "no", "fuse_or_breaker_open")),
    ("switch_jiggle_helps", _is("switch_jiggle_helps", "yes", "switch_failed")),
    ("volts_switch_out", _lost("volts_battery_loaded", "volts_switch_out", "switch_failed")),
    ("volts_relay_out", _lost("volts_switch_out", "volts_relay_out", "relay_or_controller_failed")),
    ("wire_warm", _is("wire_warm", "yes", "supply_high_resistance")),
    ("foot_sinking_or_tilted", _is("foot_sinking_or_tilted", "yes", "ground_sinking_or_side_load")),
    ("front_storage_full", _is("front_storage_full", "yes", "overloaded_front")),
)  # fmt: skip


def fits_gear(case: Case, finding: str) -> bool:
    """Whether there is anything to ask: the trailer has that part at all."""
    return case.person.facts.values.get(finding) is not None


def play_printed(case: Case, repairs: Repairs) -> Outcome:
    """The printed order: every check in turn; a positive one is repaired, and where that was vain it goes on."""
    out = Outcome(left=list(case.causes))
    if case.causes[0] in OUTSIDE:
        out.verdicts = [case.causes[0]]
        return out
    known: Known = {}
    for name in START:
        out.ask(case, name)
    for finding, rule in PRINTED:
        if not fits_gear(case, finding):
            continue
        value = out.ask(case, finding)
        if value is not None:
            known[finding] = value
        cause = rule(known)
        if cause is not None and case.t.gear in CAUSES[cause][1] and cause not in out.verdicts:
            if out.repair(case, cause, repairs):
                return out
            if len(out.verdicts) == MOST_VERDICTS:
                break
    out.wrong_minutes += CALL_OUT_MINUTES
    return out


class FixedOrder:
    """The best fixed order of checks for each gear, found greedily on training trailers.

    The chances come from those trailers by counting (naive Bayes, smoothed towards all causes together), the order from
    the mean fall of entropy for a minute, and the chance from which it repairs from trying several on the same trailers.
    """

    ALPHA = 2.0
    THRESHOLDS = (0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95)

    def __init__(self, cases: list[Case], needs: dict[str, Need], repairs: Repairs):
        self.repairs = repairs
        self.findings = [f for f in needs if needs[f].asked and f not in START and f != "turning_is_lost"]
        self.cuts: dict[str, list[float]] = {}
        self.causes: dict[str, list[str]] = {}
        self.tables: dict[tuple[str, str], dict[Value, Array]] = {}
        self.priors: dict[str, Array] = {}
        self.orders: dict[str, list[str]] = {}
        self.threshold = 0.6
        cases = [c for c in cases if c.causes[0] not in OUTSIDE]
        for gear in dict.fromkeys(c.t.gear for c in cases):
            self._learn(gear, [c for c in cases if c.t.gear == gear])
        costs = {}
        for threshold in self.THRESHOLDS:
            self.threshold = threshold
            costs[threshold] = sum(self.play(c).cost for c in cases)
        self.threshold = min(costs, key=lambda x: costs[x])

    def _bin(self, finding: str, value: Value) -> Value:
        if isinstance(value, str):
            return value
        return float(np.searchsorted(self.cuts.get(finding, []), value))

    def _learn(self, gear: str, cases: list[Case]) -> None:
        causes = sorted({c for c, (_, gears) in CAUSES.items() if gear in gears and c not in OUTSIDE})
        self.causes[gear] = causes
        index = {c: i for i, c in enumerate(causes)}
        held = np.array([[c.causes[0] == name for name in causes] for c in cases], dtype=float)
        self.priors[gear] = np.log((held.sum(0) + 1) / (len(cases) + len(causes)))
        rows: dict[str, Array] = {}
        minutes: dict[str, float] = {}
        for finding in self.findings:
            answers = [c.person.answers(finding) for c in cases]
            numbers = sorted(a for a in answers if isinstance(a, float))
            if numbers:
                self.cuts[finding] = sorted(
                    {float(q) for q in np.quantile(numbers, (0.1, 0.25, 0.4, 0.6, 0.75, 0.9))}
                )
            binned = [None if a is None else self._bin(finding, a) for a in answers]
            overall = Counter(b for b in binned if b is not None)
            if len(overall) < 2:
                continue
            total = sum(overall.values())
            table: dict[Value, Array] = {}
            seen = np.zeros(len(causes))
            counts = {v: np.zeros(len(causes)) for v in overall}
            for case, b in zip(cases, binned, strict=True):
                if b is not None:
                    counts[b][index[case.causes[0]]] += 1
                    seen[index[case.causes[0]]] += 1
            for v, n in overall.items():
                table[v] = np.log((counts[v] + self.ALPHA * n / total) / (seen + self.ALPHA))
            self.tables[gear, finding] = table
            zero = np.zeros(len(causes))
            rows[finding] = np.array([zero if b is None else table[b] for b in binned])
            minutes[finding] = float(np.mean([c.person.minutes(finding) for c in cases]))
        self.orders[gear] = self._greedy(rows, minutes, self.priors[gear], len(cases))

    @staticmethod
    def _entropy(log_weights: Array) -> float:
        shifted = log_weights - log_weights.max(1, keepdims=True)
        p = np.exp(shifted)
        p /= p.sum(1, keepdims=True)
        return float(-(p * np.log(p + 1e-300)).sum(1).mean())

    def _greedy(self, rows: dict[str, Array], minutes: dict[str, float], prior: Array, n: int) -> list[str]:
        now = np.repeat(prior[None, :], n, axis=0)
        order: list[str] = []
        while len(order) < 28 and len(order) < len(rows):
            before = self._entropy(now)
            gains = {
                f: (before - self._entropy(now + r)) / minutes[f] for f, r in rows.items() if f not in order
            }
            best = max(gains, key=lambda f: gains[f])
            if gains[best] <= 0.0005:
                break
            order.append(best)
            now = now + rows[best]
        return order

    def play(self, case: Case) -> Outcome:
        """The fixed order of its gear, with a repair as soon as one cause is likely enough."""
        out = Outcome(left=list(case.causes))
        if case.causes[0] in OUTSIDE:
            out.verdicts = [case.causes[0]]
            return out
        gear = case.t.gear
        causes, weights = self.causes[gear], self.priors[gear].copy()
        for name in START:
            out.ask(case, name)
        for finding in self.orders[gear]:
            if not fits_gear(case, finding):
                continue
            value = out.ask(case, finding)
            if value is not None:
                row = self.tables[gear, finding].get(self._bin(finding, value))
                weights = weights if row is None else weights + row
            chances = np.exp(weights - weights.max())
            chances /= chances.sum()
            while chances.max() >= self.threshold:
                best = int(chances.argmax())
                if out.repair(case, causes[best], self.repairs):
                    return out
                weights[best] -= 6.0
                chances = np.exp(weights - weights.max())
                chances /= chances.sum()
                if len(out.verdicts) == MOST_VERDICTS:
                    out.wrong_minutes += CALL_OUT_MINUTES
                    return out
        price = np.array([self.repairs.cost(c, gear) for c in causes])
        for best in np.argsort(-np.exp(weights - weights.max()) / price):
            if len(out.verdicts) == MOST_VERDICTS:
                break
            if out.repair(case, causes[int(best)], self.repairs):
                return out
        out.wrong_minutes += CALL_OUT_MINUTES
        return out
