"""A search through every walk of every procedure over the real `turn`, with a witness that keeps its
own book.

The witness never looks at which holds the program counts as open. It reads what was shown and what was
typed, as a person beside the table would: which stop was asked last, which stops were answered with a
typed "yes" since the last break, which step was shown. A break is anything after which the words of
before no longer hold: a resumed case, back, a case put aside, a correction, a truck that left, danger.

Four pure parts are remembered by their arguments, so that the search stays short: what a line means
(`understand`), the stops of a step (`holds_before`), the sum behind a stop (`proof`), and the diagnosis once a walk is left (`move_on`).
"""

from __future__ import annotations

import gc
import re
from collections import Counter, deque
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace

import bot.talk.repair as repairing
import bot.talk.turn as turning
from bot.corpus.model import Procedure, Step
from bot.safety import holds
from bot.safety.proofs import INPUTS, Proof
from bot.safety.rules import RULES
from bot.talk.events import Event, Resumed, Said
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Asking, Found, Stage, State, Verdict
from bot.talk.turn import Turn, turn

# Each move is the lines or events of one thing a person does. Some lines are said as facts, some in the
# plural.
MOVES: dict[str, tuple[Event, ...]] = {
    "yes": (Said("yes"),),
    "no": (Said("no"),),
    "done": (Said("done"),),
    "next": (Said("next"),),
    "back": (Said("back"),),
    "skip": (Said("skip"),),
    "don't know": (Said("don't know"),),
    "why": (Said("why"),),
    "how": (Said("how"),),
    "not fixed": (Said("that did not fix it"),),
    "no truck": (Said("no truck"),),
    "truck out": (Said("just pulled the truck out"),),
    "hitched": (Said("we are hitched to the truck"),),
    "put aside": (Said("put aside"), Resumed()),
    "yes yes yes": (Said("yes yes yes"),),
    "pasted yes": (Said("yes", pasted=True),),
    "correction": (Said("no, the battery is 12.1 V at rest"),),
    "on its legs": (Said("it stands on its legs, not hitched"),),
    "empty": (Said(""),),
}
# Said only where a stop wants the load on a stand worked out.
FIGURES: dict[str, tuple[Event, ...]] = {
    "trailer weight": (Said("the trailer weighs 14000 lb"),),
    "stands": (Said("stands"),),
    "crib": (Said("crib of 4x4"),),
    "weak stand": (Said("the stand is marked 1000 lb"),),
    "strong stand": (Said("the stand is marked 20000 lb"),),
}
# A sum that is answered at once, and one that asks for something before it can be.
SUMS: dict[str, tuple[Event, ...]] = {
    "sum": (Said("will a 30 amp fuse hold at 45 amps"),),
    "open sum": (Said("work out the bolt torque"),),
    "rule of thumb": (Said("a longer wire blows fuses"),),
}
# Told once a search wants them: they shut what was open, and bring stops of their own.
CONDITIONS: dict[str, tuple[Event, ...]] = {
    "bad place": (Said("it is pitch dark here on the side of the highway and we are parked on a slope"),),
    "light again": (Said("it's light again now"),),
}
_ASKED_IN = {"dark": "light on the work", "slope": "wheels chocked", "traffic": "clear of traffic"}
BREAKS = {"back", "put aside"}
SAYS_NOT_HITCHED = {"truck out", "on its legs"}  # a break where the truck was there until now
NO_TRUCK = {"no truck", "truck out", "on its legs"}
TAKEN_OFF = {"leg", "motor", "gearbox", "shaft"}
_FIGURES = ("gross_weight_lb", "pin_weight_lb", "prop_kind", "stand_rating_lb")
# Beside these a person asks where the children are, whether or not the page says so.
_MOVES_OR_FALLS = {"raised nose", "rolling", "motor start", "pinch", "stored energy"}
_LEFT = {Stage.ASKING, Stage.OUTSIDE, Stage.CLOSED, Stage.HEARING}
_GOES_BACK = {Stage.HELD, Stage.REPAIRING, Stage.PROVING}
_NAMES = sorted(
    {r.hold for r in RULES.values()} | {f"before {r.hold} ends" for r in RULES.values()},
    key=len,
    reverse=True,
)


@dataclass(frozen=True)
class Witness:
    """What a person beside the table has seen: the stop last asked, the stops answered, the step last
    shown.
    """

    asked: str = ""
    answered: frozenset[str] = frozenset()
    shown: int = 0
    off: frozenset[str] = frozenset()  # parts that a shown step told somebody to take off


@dataclass(frozen=True)
class Violation:
    """One thing that must not be, with the moves that lead there."""

    rule: str
    where: str
    moves: tuple[str, ...]
    what: str

    def __str__(self) -> str:
        return f"[{self.rule}] {self.where}: {self.what}  after: {' > '.join(self.moves)}"


@dataclass
class Walks:
    """What the search saw."""

    states: int = 0
    transitions: int = 0
    shown: Counter[str] = field(default_factory=Counter)  # how often each step was shown, by "id/number"
    stages: Counter[str] = field(default_factory=Counter)
    violations: list[Violation] = field(default_factory=list)
    rows: list[tuple[str, str, int, int]] = field(
        default_factory=list
    )  # procedure, gear, states, transitions

    def of(self, rule: str) -> list[Violation]:
        """The violations of one rule."""
        return [v for v in self.violations if v.rule == rule]


def offered(procedure: Procedure, gear: str, support: str) -> State:
    """The state in which that repair is offered; built, so that the search needs no diagnosis in front."""
    found = (
        Found("gear", gear, gear, 1),
        Found("support", support, support, 1),
        Found("hitched", "yes" if support == "hitched" else "no", support, 1),
        Found("volts_battery_resting", 12.6, "12.6 V", 1),
    )
    cause = procedure.mends[0] if procedure.mends else "leg_bent"
    return State(
        stage=Stage.OFFERED,
        turn=1,
        found=found,
        verdict=Verdict(cause, 0.9, procedure.id),
        asking=Asking("go through the repair", "yes_no", "", ("yes", "no")),
    )


def moves_of(procedure: Procedure) -> dict[str, tuple[Event, ...]]:
    """What a person does in that procedure: figures of weight only where something rests on them."""
    rests = any("overloaded stand" in s.hazards for s in procedure.steps)
    return MOVES | FIGURES if rests else MOVES


def _of_figures(state: State) -> bool:
    """Whether a stop wants a figure, or has shut over one."""
    asked = state.asking.finding if state.asking else ""
    return asked in _FIGURES or asked == f"hold: {RULES['overloaded stand'].hold}"


def _same(state: State, witness: Witness) -> Hashable:
    """Two situations with the same value go on alike: where it stands, what holds the nose, what was seen.

    Left out: the log, the wording of findings, the count of lines not understood (it only picks a
    wording), and the chain behind "back", which `_backs` covers by going back from every kind of state
    that follows.
    """
    asking = state.asking.finding if state.asking else ""
    return (
        state.stage,
        state.walk,
        state.support,
        state.value("hitched"),
        state.truck,
        state.danger,
        state.alert,
        asking,
        state.verdict is None,
        tuple(state.value(name) for name in _FIGURES),
        tuple(name in state.unknown for name in _FIGURES),
        state.sum,
        state.conditions,
        witness,
    )


def _shown_step(replies: tuple[Line, ...]) -> int:
    for line in replies:
        match = re.match(r"Step (\d+) of \d+:", line.text)
        if line.role == "step" and match:
            return int(match.group(1))
    return 0


def _shown_hold(replies: tuple[Line, ...]) -> str:
    for line in replies:
        if line.role == "hold":
            return next(n for n in _NAMES if line.text.startswith(f"HOLD  {n}. "))
    return ""


def _bears(found: State) -> bool:
    """Whether two supports bear the nose by a hand sum: a quarter of the weight on the pin, the longest lever
    anybody meets (20 ft to the axles, legs 8 ft behind the pin: 20 / 12), half on each, the marking for the pair.
    """
    weight, rating = found.value("gross_weight_lb"), found.value("stand_rating_lb")
    if not isinstance(weight, float):
        return False
    each = 0.25 * weight * 20 / 12 / 2
    carries = {"stands": rating / 2 if isinstance(rating, float) else 0.0, "crib_4x4": 4 * 6000 / 2}
    return each <= carries.get(str(found.value("prop_kind")), 0.0)


def faults_of_step(
    step: Step, witness: Witness, procedure: Procedure | None = None, state: State | None = None
) -> Iterator[tuple[str, str]]:
    """Every stop that this step needs and that nobody answered with a typed yes since the last break."""
    if state is not None and "overloaded stand" in step.hazards and not _bears(state):
        yield "stand", f"step {step.number} shown, and what goes under the nose does not bear it"
    if procedure is not None and _MOVES_OR_FALLS & set(step.hazards):
        earlier = procedure.steps[: step.number]
        covered = any("person under the nose" in (*s.hazards, *s.makes_safe) for s in earlier)
        if not covered and RULES["children and animals"].hold not in witness.answered:
            yield "children", f"step {step.number} shown, nobody was asked where children and animals are"
    for name in state.conditions if state is not None and step.hazards else ():
        kept = [RULES[h].hold for h in step.makes_safe]
        if _ASKED_IN[name] not in witness.answered and _ASKED_IN[name] not in kept:
            yield "condition", f"step {step.number} shown in {name}, {_ASKED_IN[name]} not asked"
    for hazard in step.hazards:
        if hazard not in step.makes_safe and RULES[hazard].hold not in witness.answered:
            rule = "control" if RULES[hazard].needs_control else "question"
            yield rule, f'step {step.number} shown, "{RULES[hazard].hold}" not answered'
    for hazard in step.undoes:
        if f"before {RULES[hazard].hold} ends" not in witness.answered:
            yield "undoing", f'step {step.number} undoes "{hazard}", nobody was asked'
    if TAKEN_OFF & set(step.removes) and RULES["raised nose"].hold not in witness.answered:
        yield "truck", f"step {step.number} takes off {', '.join(step.removes)} without the truck"
    if (step.opens_gears or TAKEN_OFF & set(step.removes)) and RULES[
        "motor start"
    ].hold not in witness.answered:
        yield "gears", f"step {step.number} opens gears with the motor's circuit closed"


def _puts_back(text: str, part: str) -> bool:
    """Whether a step, once done, has that part on the trailer again: "lift the leg in", "slide the
    shaft back on".
    """
    act = rf"\b(?:lift|slide|put|bolt|fit|refit)\b[^.;:]*\b{part}\b[^.;:]*\b(?:in|on|back)\b"
    return re.search(act, text, re.I) is not None


def _corrected(before: State, after: State) -> bool:
    return before.value("volts_battery_resting") != after.value("volts_battery_resting")


def witnessed(
    name: str, event: Event, before: State, seen: Witness, done: Turn, procedure: Procedure
) -> tuple[Witness, list[tuple[str, str]]]:
    """The witness after a move, and what it objects to."""
    faults: list[tuple[str, str]] = []
    answered, shown, asked, off = seen.answered, seen.shown, seen.asked, seen.off
    if event == Said("yes") and asked:
        answered = answered | {asked}
    was = before.walk.step if before.walk else 0
    now = done.state.walk.step if done.state.walk else 0
    number, hold = _shown_step(done.replies), _shown_hold(done.replies)
    danger = any(line.role == "danger" for line in done.replies)
    if name in NO_TRUCK and off & TAKEN_OFF and done.state.alert != "emergency":
        faults.append(
            ("support lost", f"{', '.join(sorted(off))} off or coming off, the truck gone, no emergency")
        )
    truck_was_there = before.support == "hitched" or RULES["raised nose"].hold in answered
    # "A crib of 4x4", said out of turn, is heard as what holds the nose now: the truck does not any more.
    other_support = name in FIGURES and before.support != done.state.support
    elsewhere = before.conditions != done.state.conditions
    if (
        name in BREAKS
        or danger
        or elsewhere
        or other_support
        or (name in SAYS_NOT_HITCHED and truck_was_there)
    ):
        answered, shown = frozenset(), 0
    elif name == "no truck":
        answered = answered - {RULES["raised nose"].hold}
    if was and now == was + 1:
        if seen.shown != was:
            faults.append(("passed over", f"step {was} was counted as done without having been shown"))
        step = procedure.steps[was - 1]
        off = frozenset(part for part in off if part in step.removes or not _puts_back(step.text, part))
        gone = {RULES[h].hold for h in (*step.undoes, *step.makes_safe)}
        answered = frozenset(a for a in answered if a not in gone and not a.startswith("before "))
    elif was and now and now not in (was, was + 1) and name != "back":
        faults.append(("jump", f"from step {was} to step {now}"))
    if name == "correction" and _corrected(before, done.state) and number:
        faults += [
            ("correction", what)
            for rule, what in faults_of_step(procedure.steps[number - 1], Witness())
            if rule == "control"
        ]
    if not done.replies and isinstance(event, Said) and not done.wants:
        faults.append(("silent", "no reply"))
    if number and hold:
        faults.append(("both", f"step {number} shown beside an open stop"))
    if number:
        asked = ""
        step = procedure.steps[number - 1]
        faults += faults_of_step(step, replace(seen, answered=answered), procedure, done.state)
        shown = number
        off = off | set(step.removes)
    elif hold:
        asked = hold
    elif done.state.stage not in (Stage.HELD, Stage.REPAIRING):
        asked = ""
    if done.state.walk is None or done.state.stage is Stage.PROVING:
        shown, off = 0, frozenset()  # left, or every step said to be done, putting back included
    return Witness(asked, answered, shown, off), faults


@contextmanager
def remembered() -> Iterator[None]:
    """Meanings and diagnoses kept by their arguments while the search runs."""
    real_understand, real_move_on = turning.understand, turning.move_on
    meanings: dict[Hashable, object] = {}
    moves: dict[Hashable, Turn] = {}

    def understand(text: str, asking: Asking | None, reader: object) -> object:
        key = (text, asking)
        if key not in meanings:
            meanings[key] = real_understand(text, asking, reader)  # type: ignore[arg-type]
        return meanings[key]

    def move_on(state: State, knowledge: Knowledge) -> Turn:
        values = tuple(sorted((f.name, f.value) for f in state.found))
        asked = state.before.asking if state.before else None
        if asked is not None and asked.finding not in knowledge.checks:
            asked = None  # a stop, a step or an offer is never the question asked next
        key = (
            values,
            state.unknown,
            state.tools,
            state.helper,
            state.tried,
            state.wording,
            state.units,
            asked,
        )
        if key not in moves:
            moves[key] = real_move_on(state, knowledge)
        kept = moves[key]
        state = replace(
            state,
            alert=kept.state.alert,
            verdict=kept.state.verdict,
            walk=kept.state.walk,
            stage=kept.state.stage,
            asking=kept.state.asking,
            reason=kept.state.reason,
        )
        return Turn(state, kept.replies, kept.wants)

    real_holds = holds.holds_before
    stops: dict[Hashable, tuple[holds.Hold, ...]] = {}

    def holds_before(
        procedure: Procedure, number: int, conditions: tuple[str, ...] = ()
    ) -> tuple[holds.Hold, ...]:
        key = procedure.id, number, conditions
        if key not in stops:
            stops[key] = real_holds(procedure, number, conditions)
        return stops[key]

    real_proof = repairing.proof  # type: ignore[attr-defined]
    proofs: dict[Hashable, Proof] = {}

    def proof(
        name: str, findings: Mapping[str, str | float], unknown: frozenset[str], units: str = "us"
    ) -> Proof:
        key = name, tuple(findings.get(i) for i in INPUTS), unknown & set(INPUTS), units
        if key not in proofs:
            proofs[key] = real_proof(name, findings, unknown, units)
        return proofs[key]

    turning.understand, turning.move_on = understand, move_on  # type: ignore[assignment]
    repairing.proof = proof  # type: ignore[attr-defined]
    holds.holds_before = holds_before  # type: ignore[assignment]
    collecting = gc.isenabled()
    gc.disable()  # states hold no cycles; looking for them costs a third of the run
    try:
        yield
    finally:
        turning.understand, turning.move_on = real_understand, real_move_on
        holds.holds_before = real_holds
        repairing.proof = real_proof  # type: ignore[attr-defined]
        if collecting:
            gc.enable()


def _cut(state: State) -> State:
    """The state with the one before it and nothing further back, so that memory stays flat."""
    before = replace(state.before, before=None, log=()) if state.before is not None else None
    return replace(state, before=before, log=state.log[-1:])


def search(
    procedure: Procedure,
    gear: str,
    knowledge: Knowledge,
    walks: Walks,
    take: Callable[..., Turn] = turn,
    supports: tuple[str, ...] = ("legs", "hitched"),
    most: int = 200_000,
    until: frozenset[str] = frozenset(),
    only: dict[str, tuple[Event, ...]] | None = None,
) -> None:
    """Walks every reachable situation of one procedure breadth first and writes what it saw into `walks`.

    `only` are moves instead of all. `until` ends the search once these rules were all broken (for programs broken on purpose).
    """
    moves = only or moves_of(procedure)
    queue: deque[tuple[State, Witness, int]] = deque()
    seen: set[Hashable] = set()
    trail: list[tuple[int, str]] = []  # where each situation came from, to name the way to a fault
    found: set[tuple[str, str]] = set()
    transitions = 0

    def reach(state: State, witness: Witness, parent: int, name: str) -> None:
        key = _same(state, witness)
        if key in seen:
            return
        seen.add(key)
        trail.append((parent, name))
        walks.stages[state.stage.value] += 1
        if state.stage not in _LEFT:
            queue.append((_cut(state), witness, len(trail) - 1))

    def way(at: int, *last: str) -> tuple[str, ...]:
        names = list(last)
        while at >= 0:
            at, name = trail[at]
            names.insert(0, name)
        return tuple(names)

    def move(state: State, witness: Witness, name: str, at: int, *after: str) -> tuple[State, Witness]:
        nonlocal transitions
        transitions += 1
        for event in moves[name]:
            done = take(state, event, knowledge)
            number = _shown_step(done.replies)
            if number:
                walks.shown[f"{procedure.id}/{number}"] += 1
            witness, faults = witnessed(name, event, state, witness, done, procedure)
            for rule, what in faults:
                if (rule, what) not in found:
                    found.add((rule, what))
                    walks.violations.append(
                        Violation(rule, f"{procedure.id}, {gear}", way(at, *after, name), what)
                    )
            state = done.state
        return state, witness

    for support in supports:
        reach(offered(procedure, gear, support), Witness(), -1, f"offered, {support}")
    while queue:
        state, witness, at = queue.popleft()
        if until and until <= {rule for rule, _ in found}:
            break
        if len(seen) > most:
            raise AssertionError(f"{procedure.id}: more than {most} states; the search has no end")
        gone_back = False
        for name in moves:
            if name in FIGURES and not _of_figures(state):
                continue  # told where they are asked for; told at every step they would only multiply the search
            following, after = move(state, witness, name, at)
            reach(following, after, at, name)
            # "Back" leads to the state before the last line, whatever that line was: tried once from a state
            # that follows this one, so every situation is gone back to.
            if not gone_back and following.stage in _GOES_BACK and following.before is not None:
                gone_back = True
                returned, afterwards = move(following, after, "back", at, name)
                reach(returned, afterwards, at, f"{name} > back")
    walks.states += len(seen)
    walks.transitions += transitions
    walks.rows.append((procedure.id, gear, len(seen), transitions))


def walk_all(procedures: Iterable[Procedure], knowledge: Knowledge) -> Walks:
    """Every one of these procedures with each gear it fits."""
    walks = Walks()
    with remembered():
        for procedure in procedures:
            for gear in procedure.fits:
                search(procedure, gear, knowledge, walks)
    return walks
