"""Walking a procedure: holds before steps, steps one at a time, the proof at the end.

The gate is one function, `show`: a step's text is a thing to do only where every hold it needs is open. Nothing else
in the program shows a step. Resume, back, correction and any change of what holds the nose shut every hold.
"""

from __future__ import annotations

from bot.frozen import dataclass, replace
from bot.reason.second import explained
from bot.safety.holds import Hold, carried, holds_before, shut_before
from bot.safety.proofs import Proof, proof
from bot.safety.rules import RULES
from bot.talk.danger import enter
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, hold_lines, step_lines, title_of, wanted_lines
from bot.talk.state import Asking, Found, Stage, State, Walk
from bot.talk.understand import Meaning

_FIRST = 6  # things to measure, photograph or have at hand that are named before the first step
_LEAVES_A_STOP = (
    "why",
    "how",
    "back",
    "put aside",
    "record",
    "leave",
    "not fixed",
    "help",
    "person",
    "what do you know",
    "other causes",
    "truck pulled out",
    "no truck",
)


@dataclass(frozen=True)
class Walked:
    """What a line led to inside a procedure."""

    state: State
    lines: tuple[Line, ...]
    wants: tuple[str, ...] = ()
    ask_on: bool = False


def begin(state: State, document: str, knowledge: Knowledge) -> Walked:
    """The procedure taken up at its start: what it needs, what to measure first, then the first stop or step."""
    procedure = knowledge.procedures[document]
    if procedure.needs_truck and state.truck is False and state.support != "hitched":
        return Walked(replace(state, stage=Stage.OFFERED), no_truck_lines(document, knowledge))
    lines = [
        Line(
            "say",
            f"{procedure.page.title}: {len(procedure.steps)} steps. Tools: {', '.join(procedure.tools) or 'none'}. The label on the part and local rules go before this page.",
        )
    ]
    known = state.findings()
    first = [b.partition(": ") for b in procedure.page.bullets("Before you start")]
    first = [(what, _, rest) for what, _, rest in first if rest not in known]  # the rest is measured already
    for what, _, rest in first[:_FIRST]:
        lines.append(Line("note", f"First, {what}: {title_of(rest, knowledge)}".rstrip(".") + "."))
    if len(first) > _FIRST:
        left = "one thing" if len(first) == _FIRST + 1 else f"{len(first) - _FIRST} things"
        lines.append(Line("note", f'And {left} more under "Before you start": read {document}.'))
    state = replace(
        state, walk=Walk(document, 1, off=state.off, digest=procedure.page.digest), stage=Stage.REPAIRING
    )
    shown = show(state, knowledge)
    return Walked(shown.state, (*lines, *shown.lines))


def show(state: State, knowledge: Knowledge, brief: bool = False) -> Walked:
    """The open stop, or the step where none is open: the only place that shows a step.

    `brief` leaves out the step's own words before a further stop of the same step.
    """
    walk = state.walk
    assert walk is not None
    procedure = knowledge.procedures[walk.document]
    if walk.step > len(procedure.steps):
        return _prove(state, knowledge)
    step = procedure.steps[walk.step - 1]
    shut = shut_before(procedure, step.number, walk.opened, state.conditions)
    if shut:
        says = proof_of(shut[0], state)
        if says.wants:
            asked = knowledge.checks[says.wants]
            choices = asked.choices if asked.kind == "choice" else ()
            state = replace(
                state, stage=Stage.HELD, asking=Asking(says.wants, asked.kind, asked.unit, choices)
            )
            return Walked(state, tuple(wanted_lines(step, procedure, asked, state)[brief:]))
        state = replace(
            state, stage=Stage.HELD, asking=Asking(f"hold: {shut[0].name}", "hold", "", ("yes", "no"))
        )
        lines = hold_lines(step, procedure, shut, says)
        return Walked(state, tuple(lines[1:] if brief else lines))
    # From the moment a step is shown its part may be coming off, so a truck that leaves now is an emergency.
    at = replace(walk, off=walk.off | frozenset(step.removes))
    state = replace(state, walk=at, stage=Stage.REPAIRING, asking=Asking(f"step {step.number}", "step"))
    return Walked(state, tuple(step_lines(step, procedure)))


def proof_of(hold: Hold, state: State) -> Proof:
    """What the sum behind a stop says with what is known: a stop without one passes."""
    return proof(hold.sum, state.findings(), frozenset(state.unknown), state.units)


def stop_opens(state: State, knowledge: Knowledge) -> bool:
    """Whether a yes opens the stop that stands open: False where its sum keeps it shut, or where none stands."""
    walk = state.walk
    if walk is None:
        return False
    shut = shut_before(knowledge.procedures[walk.document], walk.step, walk.opened, state.conditions)
    return bool(shut) and proof_of(shut[0], state).passes


def hold_answer(state: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Walked | None:
    """The answer to an open hold: only a typed yes opens it. None where the line steers elsewhere."""
    at = state.walk
    assert at is not None
    procedure = knowledge.procedures[at.document]
    hold = shut_before(procedure, at.step, at.opened, state.conditions)[0]
    plain = text.strip().lower().rstrip(".!")
    says = proof_of(hold, state)
    if says.wants:
        return _measured(state, says, meaning, knowledge)
    if plain == "yes" and not says.passes:
        return show(state, knowledge, brief=True)
    if plain == "yes":
        if _pasted(state):
            return Walked(
                state,
                (
                    Line(
                        "note",
                        "A stop takes no line that was pasted with others. Type yes or no to it by itself.",
                    ),
                    *hold_lines(procedure.steps[at.step - 1], procedure, (hold,)),
                ),
            )
        walk = replace(at, opened=at.opened | {hold.key})
        found = state.found
        if RULES[hold.hazard].needs_truck and not hold.undoing:
            found = _set(found, state.turn, support="hitched", hitched="yes", kingpin_locked="yes")
        return show(replace(state, walk=walk, found=found), knowledge, brief=True)
    denied = plain == "no" or (
        meaning.wants("no") and plain.startswith("no") and not meaning.wants("not fixed")
    )
    truckless = meaning.wants("no truck")
    if truckless or (denied and RULES[hold.hazard].needs_truck and not hold.undoing):
        # Whatever was seen before was seen with a truck that is not there: all of it is asked afresh, and with
        # a part off it is an emergency.
        gone = truck_gone(state)
        if gone.state.stage is Stage.DANGER:
            return gone
        if truckless and not procedure.needs_truck:
            shown = show(gone.state, knowledge)
            return Walked(shown.state, (*gone.lines, *shown.lines))
        state = gone.state
    without = truckless and procedure.needs_truck
    if denied or truckless:
        rule = RULES[hold.hazard]
        lines = [Line("say", f"Then this step waits. {rule.cannot}")]
        if without or (rule.needs_truck and state.truck is False):
            lines += no_truck_lines(at.document, knowledge)
            return Walked(
                replace(
                    state,
                    truck=False,
                    walk=None,
                    stage=Stage.OFFERED,
                    asking=Asking("go through the repair", "yes_no", "", ("yes", "no")),
                ),
                tuple(lines),
            )
        lines.append(Line("ask", "When it is so, type yes. Or: back, how, no truck, put aside."))
        return Walked(state, tuple(lines))
    if meaning.facts or meaning.wants(*_LEAVES_A_STOP):
        return None
    return Walked(
        state,
        (
            Line("note", f"That is not a yes. {hold.question}"),
            Line("ask", "Type yes or no. If there is no truck: say so."),
        ),
    )


def _measured(state: State, says: Proof, meaning: Meaning, knowledge: Knowledge) -> Walked | None:
    """The answer to what a stop's sum still wants. None where the line tells it, or steers elsewhere."""
    told = {r.finding for r in meaning.readings} | set(meaning.findings)
    if says.wants in told or meaning.facts:
        return None
    if meaning.wants("dont know", "skip") and not meaning.wants("no truck"):
        known = replace(state, unknown=tuple(dict.fromkeys((*state.unknown, says.wants))))
        return show(known, knowledge, brief=True)
    if meaning.wants(*_LEAVES_A_STOP):
        return None
    asked = show(state, knowledge, brief=True)
    note = meaning.unread or "That does not answer it, and the stop stays shut."
    return Walked(asked.state, (Line("note", note), *asked.lines[-2:]))


def _pasted(state: State) -> bool:
    last = state.log[-1] if state.log else None
    return bool(getattr(last, "pasted", False))


def _set(found: tuple[Found, ...], turn: int, **values: str) -> tuple[Found, ...]:
    kept = tuple(f for f in found if f.name not in values)
    return (*kept, *(Found(name, value, "answer to a stop", turn) for name, value in values.items()))


def walk_answer(state: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Walked | None:
    """The answer to a step or to the proof. None where the line is something else."""
    at = state.walk
    assert at is not None
    procedure = knowledge.procedures[at.document]
    if state.stage is Stage.PROVING:
        if meaning.wants("not fixed", "no") and not meaning.wants("fixed"):
            return not_fixed(state)
        if meaning.wants("partly"):
            return helped_partly(state, knowledge)
        if meaning.wants("fixed", "yes", "done"):
            state = replace(state, stage=Stage.CLOSED, asking=None)
            return Walked(
                state,
                (
                    Line(
                        "say",
                        "Mended and proved, as you tell it. The record is kept: say nothing more, or print it with: case export.",
                    ),
                    *_after(procedure.page.bullets("Prove it")),
                ),
                ("record",),
            )
        return Walked(state, (Line("ask", "Does it hold up to that? yes, no, or partly."),))
    step = procedure.steps[at.step - 1]
    if shut_before(procedure, at.step, at.opened, state.conditions):
        return show(state, knowledge)  # this step was never shown, so it cannot be done
    plain = text.strip().lower().rstrip(".!")
    if plain in ("next", "done", "ok", "yes", "ready", "next step", "ok done", "ok next") or meaning.wants(
        "done", "yes"
    ):
        following = procedure.steps[step.number] if step.number < len(procedure.steps) else None
        off = at.off | set(step.removes)
        walk = replace(
            at, step=step.number + 1, opened=carried(step, following, at.opened), off=frozenset(off)
        )
        return show(replace(state, walk=walk, missed=0), knowledge)
    if meaning.wants("no"):
        return Walked(
            state,
            (
                Line(
                    "note",
                    "Then stay at this step. Say how for more, back to go back, put aside, or that did not fix it.",
                ),
            ),
        )
    return Walked(
        replace(state, missed=state.missed + 1),
        (Line("note", "Say done when the step is done, or why, how, back, put aside."),),
    )


def _after(bullets: tuple[str, ...]) -> list[Line]:
    later = [b for b in bullets if "first trip" in b or "recheck" in b.lower()]
    return [Line("note", "Later: " + b) for b in later[:2]]


def _prove(state: State, knowledge: Knowledge) -> Walked:
    assert state.walk is not None
    procedure = knowledge.procedures[state.walk.document]
    lines = [Line("say", "All steps are done. Now prove it:")]
    lines += [
        Line("note", f"{i}. {b.replace('_', ' ')}")
        for i, b in enumerate(procedure.page.bullets("Prove it"), 1)
    ]
    lines.append(Line("ask", "Does it hold up to that? yes, no, or partly."))
    # Every step was said to be done, putting back included: only now may the truck leave.
    state = replace(state, walk=replace(state.walk, off=frozenset(), opened=frozenset()))
    state = replace(state, stage=Stage.PROVING, asking=Asking("mended", "yes_no", "", ("yes", "no")))
    return Walked(state, tuple(lines))


def not_fixed(state: State) -> Walked:
    """The repair was tried in vain: its cause is reweighed, not forgotten, and the questions go on."""
    tried = state.tried
    name = state.verdict.cause if state.verdict else ""
    if name and name not in tried:
        tried = (*tried, name)
    state = replace(state, tried=tried, walk=None, verdict=None, stage=Stage.ASKING, asking=None)
    return Walked(
        state,
        (
            Line(
                "say",
                "Noted: that did not fix it. It counts against that cause without striking it out, and the rest is weighed again.",
            ),
        ),
        ask_on=True,
    )


def helped_partly(state: State, knowledge: Knowledge) -> Walked:
    """The repair helped and did not mend it all: a second cause is looked for, and what the first one explained is
    asked for again as it is now.
    """
    name = state.verdict.cause if state.verdict else ""
    stale = explained(knowledge.model, state.findings(), name)
    again = not_fixed(state).state
    again = replace(
        again,
        found=tuple(f for f in again.found if f.name not in stale),
        unknown=tuple(u for u in again.unknown if u not in stale),
    )
    text = (
        "Noted: better, and not mended. That points at a second fault, or at a repair that is not finished. What the first "
        "one explains may be different now, so I ask for it again; the rest stays."
    )
    return Walked(again, (Line("say", text),), ask_on=True)


def shut_all(state: State) -> State:
    """The state with no hold open. A step already shown falls back behind its holds."""
    if state.walk is None:
        return state
    stage = Stage.REPAIRING if state.stage is Stage.HELD else state.stage
    return replace(state, walk=replace(state.walk, opened=frozenset()), stage=stage)


def support_changed(state: State) -> Walked:
    """What holds the nose changed: every hold shuts, and with a part off and no truck it is an emergency."""
    off = parts_off(state)
    state = shut_all(state)
    if state.support != "hitched" and off & {"leg", "gearbox", "shaft", "motor"}:
        danger = enter(state, "support taken away")
        return Walked(danger.state, danger.lines)
    if state.walk is None:
        return Walked(state, ())
    return Walked(
        state,
        (Line("say", "What holds the nose has changed, so every stop is shut and will be asked again."),),
    )


def parts_off(state: State) -> frozenset[str]:
    """Parts that may be off the trailer now: "back" takes words back, not wrenches."""
    return state.off | (state.walk.off if state.walk else frozenset())


def truck_gone(state: State) -> Walked:
    """The truck that held the nose is not there any more, however that was said."""
    off = parts_off(state)
    kept = tuple(f for f in state.found if f.name != "kingpin_locked")
    support = "unsure" if off else state.support if state.support in ("legs", "stands") else "legs"
    found = _set(kept, state.turn, support=support, hitched="no")
    return support_changed(replace(state, found=found))


def no_truck_lines(document: str, knowledge: Knowledge) -> tuple[Line, ...]:
    """What can be done without a truck, what cannot, and whom to call."""
    procedure = knowledge.procedures[document]
    lines = [
        Line(
            "say",
            f"Without a truck under the nose, {procedure.page.title[0].lower() + procedure.page.title[1:]} does not start: nothing that holds the nose up comes off.",
        ),
        Line(
            "note",
            "What can be done now: readings at the panel, battery, fuse, ground and switch, looking at the legs from the side, measuring for the part to order.",
        ),
        Line(
            "note",
            "What cannot: any bolt, pin or cover of a leg that carries weight. Stands or cribs are a second support, not a stand-in for the truck.",
        ),
        Line(
            "note",
            "Whom to call: a certified RV technician who comes to you, or someone with a truck and hitch that fit.",
        ),
        Line(
            "ask",
            "When a truck is hitched, say so, and then yes. Or: put aside, other causes, talk to a person.",
        ),
    ]
    return tuple(lines)


__all__ = [
    "Walked",
    "begin",
    "hold_answer",
    "holds_before",
    "no_truck_lines",
    "not_fixed",
    "show",
    "shut_all",
    "support_changed",
    "truck_gone",
    "walk_answer",
]
