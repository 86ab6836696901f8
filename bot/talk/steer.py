"""Steering: why, how, back, skip, don't know, that did not fix it, and the like. The open question survives it."""

from __future__ import annotations

import re
from collections.abc import Callable

from bot.frozen import dataclass, replace
from bot.reason.chances import standing
from bot.talk import repair
from bot.talk.conditions import before_work, what_goes
from bot.talk.explain import cause_title, more_of, why_asked
from bot.talk.facts import not_known
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, found_words, percent
from bot.talk.state import Stage, State
from bot.talk.understand import Meaning


@dataclass(frozen=True)
class Steered:
    """What steering led to: `again` repeats the open question, `ask_on` looks for the next one."""

    state: State
    lines: tuple[Line, ...]
    again: bool = False
    ask_on: bool = False
    wants: tuple[str, ...] = ()


def steer(state: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    """What the line steers to, or None where it is facts or an answer."""
    in_walk = state.walk is not None
    if meaning.wants("truck pulled out") and (in_walk or state.support == "hitched"):
        return _truck_out(state)
    if meaning.wants("no truck") and (in_walk or repair.parts_off(state)):
        gone = repair.truck_gone(state)
        note = Line("taken", "Changed: no truck under the nose.")
        if gone.state.stage is Stage.DANGER:
            return Steered(gone.state, (note, *gone.lines))
        return Steered(gone.state, (note, *gone.lines), again=True)
    if meaning.wants("no truck") and not meaning.facts:
        state = replace(state, truck=False)
        if (
            state.verdict is not None
            and state.verdict.document in knowledge.procedures
            and knowledge.procedures[state.verdict.document].needs_truck
        ):
            return Steered(
                replace(state, walk=None, stage=Stage.OFFERED),
                repair.no_truck_lines(state.verdict.document, knowledge),
            )
        return Steered(
            state,
            (Line("taken", "Taken down: no truck at hand. Nothing that holds the nose up will come off."),),
            again=state.stage is not Stage.ASKING,
            ask_on=state.stage is Stage.ASKING,
        )
    for intent, handler in _HANDLERS:
        if meaning.wants(intent) and (meaning.facts == 0 or intent in _DESPITE_FACTS):
            done = handler(state, meaning, knowledge)
            if done is not None:
                return done
    return None


def _truck_out(state: State) -> Steered:
    shut = repair.truck_gone(state)
    return Steered(
        shut.state,
        (Line("taken", "Changed: the truck is out from under the nose."), *shut.lines),
        again=shut.state.stage is not Stage.DANGER,
    )


def _not_fixed(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.verdict is None:
        return None
    partly = meaning.wants("partly")
    done = repair.helped_partly(state, knowledge) if partly else repair.not_fixed(state)
    return Steered(done.state, done.lines, ask_on=True)


def _fixed(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.verdict is None or state.stage is Stage.PROVING:
        return None
    if state.walk is None and not meaning.wants("fixed"):
        return None
    if state.stage is Stage.OFFERED:
        state = replace(state, stage=Stage.CLOSED, asking=None)
        return Steered(
            state,
            (Line("say", "Noted: it works again. Watch it over the next lifts; the record is kept."),),
            wants=("record",),
        )
    return None


def _why(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.stage is Stage.OFFERED and state.verdict is not None:
        return Steered(state, tuple(more_of(state, knowledge)))
    if state.stage is Stage.HELD:
        return Steered(
            state,
            (
                Line(
                    "say",
                    "Because this step could hurt somebody if that were not so; the stop comes from the step's own hazard, and nothing goes round it.",
                ),
            ),
            again=True,
        )
    if state.stage in (Stage.REPAIRING, Stage.PROVING) and state.verdict is not None:
        page = knowledge.causes[state.verdict.cause].page
        section = page.section("What mends it")
        return Steered(
            state,
            (Line("say", " ".join((section.text if section else page.title).split())[:400]),),
            again=True,
        )
    return Steered(state, tuple(why_asked(state, knowledge)), again=True)


_WHERE = re.compile(
    r"\bwhere\b.*\b(batter(?:y|ies)|fuse|breaker|switch|relay|motor|gear ?box|cross shaft|ground|label)s?\b"
)
_LINKS = {"batteries": "battery", "breaker": "fuse", "gear box": "gearbox"}


def _elsewhere(meaning: Meaning, link: str, knowledge: Knowledge) -> tuple[str, ...]:
    """Pages on a part that is asked for by "where", and that the open question is not about."""
    asked = _WHERE.search(meaning.spelt.lower())
    if asked is None or _LINKS.get(asked.group(1), asked.group(1)) == link:
        return ()
    return tuple(d for d in knowledge.search(meaning.spelt, 3) if d in knowledge.pages)


def _how(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    check = knowledge.checks.get(state.asking.finding) if state.asking else None
    if pages := _elsewhere(meaning, check.link if check is not None else "", knowledge):
        told = "; ".join(f"{knowledge.pages[d].title} (read {d})" for d in pages)
        return Steered(state, (Line("note", f"Pages on that: {told}."),), again=True)
    if check is not None:
        section = check.page.section("How")
        lines = [Line("note", t.strip()) for t in (section.text.split("\n") if section else ()) if t.strip()]
        return Steered(state, tuple(lines), again=True)
    if state.walk is not None:
        procedure = knowledge.procedures[state.walk.document]
        return Steered(
            state,
            (
                Line(
                    "say",
                    f"The whole page, with every stop: read {procedure.id}. Where the label on the part says otherwise, the label goes first.",
                ),
            ),
            again=True,
        )
    return Steered(
        state,
        (Line("say", "Say it in your own words, or: why, back, skip, other causes, record."),),
        again=True,
    )


def _back(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    target = state.before.before if state.before is not None else None
    if target is None:
        return Steered(
            state, (Line("note", "That is the beginning; there is nothing to go back to."),), again=True
        )
    shut = repair.shut_all(target)
    off = repair.parts_off(state)
    walk = replace(shut.walk, off=shut.walk.off | off) if shut.walk else None
    back = replace(shut, log=state.log, turn=state.turn, before=target.before, alert="", walk=walk, off=off)
    if walk is not None:
        back = replace(back, sum=None)  # its stops are shut: they are asked, not the sum
    return Steered(back, (Line("say", "Back one. What the last line said is taken out again."),), again=True)


def _unknown(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    asking = state.asking
    if asking is None or state.stage is not Stage.ASKING:
        if state.stage in (Stage.HELD,):
            return Steered(
                state,
                (Line("say", "Not knowing means no here: this stop stays shut until it has been seen."),),
                again=True,
            )
        return None
    return Steered(
        not_known(state, asking),
        (Line("taken", "Taken down: not known. It changes nothing; we ask round it."),),
        ask_on=True,
    )


def _skip(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.stage in (Stage.HELD, Stage.REPAIRING):
        return Steered(
            state,
            (Line("say", "A stop or a step is not skipped. Say back, put aside, or that did not fix it."),),
            again=True,
        )
    return _unknown(state, meaning, knowledge)


def _no_tool(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    tools = dict(state.tools) | {"meter": False, "clamp meter": False}
    state = replace(state, tools=tuple(tools.items()))
    return Steered(
        state,
        (Line("taken", "Taken down: no meter. I ask for nothing that needs one."),),
        ask_on=state.walk is None and state.stage is not Stage.OFFERED,
    )


def _has_meter(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    tools = dict(state.tools) | {"meter": True}
    return Steered(
        replace(state, tools=tuple(tools.items())),
        (Line("taken", "Taken down: a meter is at hand."),),
        again=True,
    )


def _no_helper(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    return Steered(
        replace(state, helper=False),
        (
            Line(
                "taken",
                "Taken down: alone. Nothing that needs a second person is asked; a leg does not come off alone.",
            ),
        ),
        ask_on=state.walk is None and state.stage is not Stage.OFFERED,
        again=state.walk is not None,
    )


def _already(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.stage is Stage.OFFERED and state.verdict is not None:
        done = repair.not_fixed(state)
        return Steered(
            done.state,
            (Line("taken", "Taken down: already done, and it is not mended."), *done.lines),
            ask_on=True,
        )
    if state.stage is Stage.ASKING and state.asking is not None:
        return Steered(state, (Line("ask", "Good. What came out of it?"),), again=True)
    return None


def _know(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if not state.found and not state.conditions:
        return Steered(state, (Line("say", "Nothing is taken down yet."),), again=True)
    lines = [
        Line("note", f'{found_words(f, state, knowledge)}   (from: "{f.words.strip()[:60]}")')
        for f in state.found
    ]
    if state.conditions:
        lines.append(Line("note", "where you stand: " + ", ".join(state.conditions)))
    return Steered(
        state, (Line("say", "Taken down so far; say it anew to change any of it:"), *lines), again=True
    )


def _others(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    now = standing(knowledge.model, state.findings(), state.tried)
    ranked = sorted(range(len(now.chances)), key=lambda i: -now.chances[i])[:6]
    lines = [
        Line("note", f"{percent(now.chances[i])} in 100  {cause_title(knowledge.model.names[i], knowledge)}")
        for i in ranked
        if now.chances[i] >= 0.005
    ]
    return Steered(
        state, (Line("say", "As it stands, by the team's weights and your findings:"), *lines), again=True
    )


def _aside(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    return Steered(repair.shut_all(state), (), wants=("put aside",))


def _record(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    return Steered(state, (), wants=("record",), again=True)


def _order(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    from bot.talk.order import order_lines  # late: it brings parts lists with it, and few lines ask for one

    return Steered(state, order_lines(state, meaning.text, knowledge), again=True)


def _leave(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    return Steered(repair.shut_all(state), (), wants=("leave",))


def _person(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    return Steered(
        state,
        (
            Line(
                "say",
                "For legs, gears or a bent mount: a certified RV technician, best one who comes to you. For wires and batteries: the same, or a licensed electrician for the 120 V side. Stuck in traffic or with the nose down: a recovery service that lifts trailers.",
            ),
            Line("say", "Hand over the record: say record, or put aside and print it later."),
        ),
        again=True,
        wants=("record",),
    )


def _help(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    return Steered(
        state,
        (
            Line(
                "say",
                "Answer in your own words, or: don't know, why, how, back, skip, what do you know, other causes, what do I order, record, put aside, no meter, no truck, talk to a person, quit.",
            ),
            Line("note", "Several facts at once are fine, and so is changing an answer: just say it anew."),
        ),
        again=True,
    )


def _goes(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.conditions:
        return Steered(state, tuple(what_goes(state.conditions, knowledge)), again=True)
    return Steered(
        state,
        (
            Line("say", "From outside, hands off: looking, readings at the panel and battery, fuse and switch, measuring."),
            Line("note", "Nothing that holds the nose comes off without the truck under it. Dark, rain, slope, soft ground, traffic: say so."),
        ),
        again=True,
    )  # fmt: skip


def _small(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.stage is Stage.REPAIRING or meaning.wants("yes", "no", "done"):
        return None
    return Steered(
        state, (Line("note", "Take your time."),) if state.stage is not Stage.HEARING else (), again=True
    )


def _go(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.stage is Stage.OFFERED and state.verdict is not None:
        if state.verdict.document in knowledge.procedures:
            walked = repair.begin(state, state.verdict.document, knowledge)
            first = before_work(state, knowledge) if walked.state.walk is not None else []
            return Steered(walked.state, (*first, *walked.lines))
        return Steered(
            state, (Line("say", f"For that the page says what to do: read {state.verdict.document}."),)
        )
    return None


def _decline(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
    if state.stage is not Stage.OFFERED:
        return None
    return Steered(
        state,
        (
            Line(
                "say",
                "Then it rests here. Say yes to go through it later, other causes, record, put aside, or that did not fix it if it was tried.",
            ),
        ),
    )


def _wording(which: str) -> Callable[[State, Meaning, Knowledge], Steered | None]:
    def set_it(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
        return Steered(replace(state, wording=which), (Line("note", f"Wording: {which}."),), again=True)

    return set_it


def _units(which: str) -> Callable[[State, Meaning, Knowledge], Steered | None]:
    def set_it(state: State, meaning: Meaning, knowledge: Knowledge) -> Steered | None:
        return Steered(
            replace(state, units=which),
            (
                Line(
                    "note",
                    "Units: "
                    + {"us": "inches, feet, pounds", "metric": "millimetres, metres, kilograms"}[which]
                    + ".",
                ),
            ),
            again=True,
        )

    return set_it


_DESPITE_FACTS = {"no tool", "no helper", "put aside", "not fixed"}
_HANDLERS: tuple[tuple[str, Callable[[State, Meaning, Knowledge], Steered | None]], ...] = (
    ("put aside", _aside),
    ("leave", _leave),
    ("person", _person),
    ("not fixed", _not_fixed),
    ("partly", _not_fixed),
    ("fixed", _fixed),
    ("order", _order),
    ("what do you know", _know),
    ("other causes", _others),
    ("record", _record),
    ("us units", _units("us")),
    ("metric units", _units("metric")),
    ("owner wording", _wording("owner")),
    ("phone wording", _wording("phone")),
    ("tech wording", _wording("tech")),
    ("no tool", _no_tool),
    ("no helper", _no_helper),
    ("has meter", _has_meter),
    ("already did", _already),
    ("dont know", _unknown),
    ("why", _why),
    ("how", _how),
    ("back", _back),
    ("skip", _skip),
    ("what can I do", _goes),
    ("help", _help),
    ("procedure", _go),
    ("yes", _go),
    ("done", _go),
    ("no", _decline),
    ("small talk", _small),
)
