"""One event in, a new state and replies out. Pure and total: any text in any stage gets an answer.

The order is fixed: danger before everything, then an open hold, then steering, then facts, then the next move.
"""

from __future__ import annotations

import re

from bot.frozen import dataclass, replace
from bot.reason.chances import ELSE, standing
from bot.reason.policy import Means, choose
from bot.talk import repair, steer
from bot.talk.asked import asked, at_a_stop, draw_asked, open_answer, rest_of
from bot.talk.asked import question as sum_question
from bot.talk.conditions import alone, hear
from bot.talk.danger import danger_answer, enter, raise_danger
from bot.talk.events import Event, NotSaved, Resumed, Said, Set
from bot.talk.explain import cause_title, nothing_left, verdict_lines
from bot.talk.facts import take_facts
from bot.talk.folk import folk_lines
from bot.talk.in_danger import (
    IN_DANGER,
    answered_note,
    asks_back,
    goes_on,
    put,
    question_lines,
    raised_unasked,
)
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, choices_line, found_words, percent, plain_title, question, taken_down
from bot.talk.reloaded import over_these_pages
from bot.talk.state import Asking, Stage, State, Verdict
from bot.talk.sum_known import kept_words
from bot.talk.sums import overheard, sum_lines
from bot.talk.tongues import danger_in, tongue_of
from bot.talk.understand import Meaning, clean, understand
from bot.talk.which import WHICH, answered_which, in_doubt, which_lines

_MOST_BACK = 200
_SHUTS = ("truck pulled out", "no truck", "unsafe")
_SUMLESS = (Stage.HELD, Stage.DANGER, Stage.CLOSED)  # no question of a sum stands before these


@dataclass(frozen=True)
class Turn:
    """What one event led to. The state handed in is untouched."""

    state: State
    replies: tuple[Line, ...]
    wants: tuple[str, ...] = ()  # requests to the shell: "record", "put aside", "leave"


def greeting(state: State) -> tuple[Line, ...]:
    """The first words, before anything was typed."""
    if state.wording == "phone":
        return (Line("ask", "Ask the caller what the legs do, in their own words."),)
    if state.wording == "tech":
        return (Line("ask", "Complaint, readings, gear: in any order. Or: find WORDS."),)
    return (
        Line("ask", "Tell me in your own words what the front legs do, or do not do."),
        Line("note", "If somebody is hurt or under the nose, or it is sinking or smoking, say that first."),
    )


def turn(state: State, event: Event, knowledge: Knowledge) -> Turn:
    """The next state and the replies. One event per call.

    Whatever an event did, a walk ends its turn behind the stop that is shut, or at the step where none is.
    """
    state, changed = over_these_pages(state, knowledge)
    done = _led_to(state, event, knowledge)
    if changed:
        before, after = state.walk, done.state.walk
        if (
            before is not None
            and after is not None
            and (before.step, before.opened) != (after.step, after.opened)
        ):
            # Taken as an answer to a step or stop that nobody has seen: it was said to the page as it was.
            state = replace(state, turn=state.turn + 1, log=(*state.log, event), before=_shortened(state))
            done = Turn(state, ask_again(state, knowledge))
        done = Turn(done.state, (*changed, *done.replies), done.wants)
    if done.state.sum is not None and (done.state.stage in _SUMLESS or isinstance(event, Resumed)):
        done = Turn(replace(done.state, sum=None), done.replies, done.wants)
    if done.state.walk is not None and done.state.off != done.state.walk.off:
        done = Turn(replace(done.state, off=done.state.walk.off), done.replies, done.wants)
    if done.state.walk is not None and done.state.stage in (Stage.HELD, Stage.REPAIRING):
        shown = repair.show(replace(done.state, sum=None), knowledge)
        if done.state.sum is None:
            return Turn(shown.state, done.replies, done.wants)
        if shown.state.stage is Stage.HELD:
            # A stop shut behind the question of a sum: the stop is asked, or a yes to the sum would open it unseen.
            return Turn(
                shown.state, (*done.replies, Line("note", "I leave the sum."), *shown.lines), done.wants
            )
    return done


def _led_to(state: State, event: Event, knowledge: Knowledge) -> Turn:
    if isinstance(event, Said):
        return _said(state, event, knowledge)
    logged = replace(state, log=(*state.log, event))
    if isinstance(event, Resumed):
        return _resumed(replace(logged, sum=None), knowledge)
    if isinstance(event, Set):
        if event.name in ("wording", "units", "drawings"):
            logged = replace(logged, **{event.name: event.value})  # type: ignore[arg-type]
        return Turn(logged, ())
    assert isinstance(event, NotSaved)
    return Turn(logged, (Line("note", f"The last line is kept in memory but not on disk: {event.why}"),))


def _said(state: State, event: Said, knowledge: Knowledge) -> Turn:
    text = clean(event.text)
    base = replace(state, turn=state.turn + 1, log=(*state.log, event), before=_shortened(state))
    if not text:
        return Turn(base, (Line("note", "That line was empty."), *ask_again(base, knowledge)))
    meaning = understand(text, _question_of(state), knowledge.reader)
    if state.stage is Stage.CLOSED:
        return Turn(
            base,
            (Line("note", "This case is closed and its record kept. Say new case for another complaint."),),
        )
    tongue = tongue_of(text)
    if tongue is not None and not meaning.dangers and (kind := danger_in(text, tongue)):
        meaning = replace(meaning, dangers=(kind,))
    foreign: tuple[Line, ...] = ()
    if tongue is not None:
        foreign = (Line("danger", tongue.alarm) if meaning.dangers else Line("note", tongue.says),)
        if base.stage is not Stage.DANGER:
            # "solo" is only, not alone; what shuts stops is heard in any language.
            meaning = replace(meaning, intents=tuple(i for i in meaning.intents if i in _SHUTS))
        if not (meaning.dangers or meaning.facts or meaning.intents or base.stage is Stage.DANGER):
            again = () if base.stage is Stage.HEARING else ask_again(base, knowledge)
            return Turn(base, (*foreign, *again))
    base, conditions = hear(base, meaning, knowledge)
    conditions = (*(() if meaning.dangers else foreign), *conditions)
    if raised_unasked(base, meaning):
        meaning = replace(meaning, dangers=(*meaning.dangers, meaning.doubtful))
    danger = raise_danger(base, meaning)
    if danger is not None:
        # What else the line told is kept for later; nothing of it is asked or said now.
        kept = take_facts(danger.state, text, meaning, knowledge).state
        return Turn(replace(kept, words=(kept.words + " " + text).strip()[-400:]), (*foreign, *danger.lines))
    if state.stage is Stage.DANGER:
        answered = danger_answer(base, meaning, knowledge)
        if answered.over:
            return _with(answered.lines, move_on(answered.state, knowledge))
        return Turn(answered.state, answered.lines)
    if base.doubt is not None:
        return _after_doubt(base, text, meaning, knowledge)
    if asks_back(base, meaning):
        told = take_facts(base, text, meaning, knowledge).state
        asked = put(
            replace(base, conditions=state.conditions), told, text, meaning.doubtful, knowledge
        )  # heard anew when it is answered
        return Turn(asked, (*conditions, *question_lines(asked)))
    return _heard(base, state, text, meaning, conditions, knowledge)


def _question_of(state: State) -> Asking | None:
    """The question that a line may answer; none while a sum asks for its input, which reads the line itself."""
    return None if state.sum is not None and state.stage not in _SUMLESS else state.asking


def _after_doubt(base: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Turn:
    """An answer to the question whether a line told of a danger."""
    doubt = base.doubt
    assert doubt is not None
    if meaning.answer == "yes":
        danger = enter(replace(base, doubt=None), doubt.kind)
        return Turn(danger.state, danger.lines)
    answers = meaning.answer == "no" or meaning.wants("dont know", "skip")
    if not answers and meaning.intents and not meaning.facts:
        done = _other(base, text, meaning, knowledge)
        if done.state.asking is not None and done.state.asking.finding == IN_DANGER:
            return done
        return replace(done, state=replace(done.state, doubt=None))  # another question is open now
    before = goes_on(base, doubt)
    told = understand(doubt.text, _question_of(before), knowledge.reader)
    heard, conditions = hear(before, told, knowledge)
    first = _with(answered_note(meaning), _heard(heard, before, doubt.text, told, conditions, knowledge))
    if answers or first.state.stage is Stage.DANGER:
        return first
    # The line is no answer: it is heard as what it says, after the one that was in doubt.
    then = replace(first.state, turn=base.turn, before=base.before)
    again = understand(text, _question_of(then), knowledge.reader)
    kept = tuple(line for line in first.replies if line.role in ("note", "taken"))
    return _with(kept, _heard(then, then, text, again, (), knowledge), first.wants)


def _heard(
    base: State,
    state: State,
    text: str,
    meaning: Meaning,
    conditions: tuple[Line, ...],
    knowledge: Knowledge,
) -> Turn:
    """A line with no danger in it: where and when the work is done, sums, and all else."""
    if conditions and alone(meaning) and base.conditions != state.conditions:
        kept = replace(base, words=(base.words + " " + text).strip()[-400:])
        return Turn(kept, (*conditions, *ask_again(kept, knowledge)))
    about = _about_sums(base, text, meaning, knowledge)
    return _with(conditions, _other(base, text, meaning, knowledge) if about is None else about)


def _about_sums(base: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Turn | None:
    """A line about sums, or one that leans on a wrong rule of thumb. None where it is neither.

    At a stop a sum is text alone: the stop is repeated as it stands, and what else the line says goes to it.
    """
    if base.stage is Stage.HELD:
        lines = at_a_stop(base, meaning, knowledge)
        if not lines:
            return None
        rest = understand(rest_of(meaning, "sum"), None, knowledge.reader)
        if rest.facts or rest.intents:
            return _with(lines, _other(base, text, rest, knowledge))
        return Turn(base, (*lines, *ask_again(base, knowledge)))
    done = open_answer(base, meaning, knowledge) if base.sum is not None else asked(base, meaning, knowledge)
    done = done or draw_asked(base, meaning)
    state, folk, at_large = folk_lines(base if done is None else done.state, meaning, knowledge)
    if done is None and not folk and not at_large:
        return None
    if done is None and not at_large:
        return _with(tuple(folk), _other(state, text, meaning, knowledge))
    if done is None:
        note = () if folk else (Line("note", "That rule of thumb was put right before."),)
        lines, left, again = (*folk, *note), rest_of(meaning, "folk"), True
    else:
        lines, left, again = (*done.lines, *folk), done.rest, done.again
    rest = understand(left, state.asking, knowledge.reader)
    if left and (rest.facts or set(rest.intents) - {"small talk", "how", "why"}):
        other = _other(replace(state, sum=None), left, rest, knowledge)
        if state.sum is None or other.state.stage in _SUMLESS:
            return _with(lines, other)
        heard = tuple(line for line in other.replies if line.role == "taken")
        return Turn(replace(other.state, sum=state.sum), (*heard, *lines), other.wants)
    again = again and base.stage is not Stage.HEARING
    return Turn(state, (*lines, *(ask_again(state, knowledge) if again else ())))


def _other(base: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Turn:
    """A line that asks for no sum: an answer to a stop, steering, or facts."""
    state = base
    if state.stage is Stage.HELD:
        held = repair.hold_answer(base, text, meaning, knowledge)
        if held is not None:
            return Turn(held.state, held.lines, held.wants)
    if state.stage is Stage.ASKING and state.asking is not None and state.asking.finding == WHICH:
        which = answered_which(state, text)
        if which is not None:
            return _with((which[1],), move_on(which[0], knowledge))
    steered = steer.steer(base, text, meaning, knowledge)
    if steered is not None:
        if steered.ask_on:
            return _with(steered.lines, move_on(steered.state, knowledge), steered.wants)
        return Turn(
            steered.state,
            (*steered.lines, *(ask_again(steered.state, knowledge) if steered.again else ())),
            steered.wants,
        )
    return _facts(base, text, meaning, knowledge)


def _shortened(state: State) -> State:
    """The state with a bounded chain behind it, so that memory stays flat however long a case is."""
    chain: list[State] = []
    at: State | None = state
    while at is not None and len(chain) <= _MOST_BACK:
        chain.append(at)
        at = at.before
    if at is None:
        return state
    kept: State | None = None
    for link in reversed(chain[: _MOST_BACK // 2]):
        kept = replace(link, before=kept)
    assert kept is not None
    return kept


def _with(lines: tuple[Line, ...], following: Turn, wants: tuple[str, ...] = ()) -> Turn:
    return Turn(following.state, (*lines, *following.replies), (*wants, *following.wants))


def _resumed(state: State, knowledge: Knowledge) -> Turn:
    state = repair.shut_all(state)
    lines = [Line("note", "Taken up again. Every stop that was open is shut and will be asked afresh.")]
    return Turn(state, (*lines, *ask_again(state, knowledge)))


def _facts(base: State, text: str, meaning: Meaning, knowledge: Knowledge) -> Turn:
    """A line that carries findings, readings, or an answer to the open question."""
    state = base
    state, meaning, also = overheard(state, meaning)
    facts = take_facts(state, text, meaning, knowledge)
    state = facts.state
    lines: list[Line] = list(facts.lines)
    if facts.support_changed:
        kept = repair.support_changed(state)
        state = kept.state
        lines += kept.lines
        if state.alert == "emergency":
            return Turn(state, tuple(lines))
    elif facts.changed and state.walk is not None:
        state = repair.shut_all(state)
        lines.append(Line("say", "An answer was changed, so every stop is shut and will be asked again."))
    first_words = base.stage is Stage.HEARING
    if first_words or facts.new:
        words = (state.words + " " + text).strip()[-400:]
        state = replace(state, words=words)
    if _points_elsewhere(state, meaning, knowledge):
        return _outside(state, meaning, knowledge, tuple(lines))
    state, sums = sum_lines(facts.new + facts.changed, state, knowledge, also)
    aside = [
        Line("taken", "Taken down: " + "; ".join(kept_words(g) for g in state.told if g.name in also) + ".")
    ]
    lines = [
        *taken_down(facts.new, facts.changed, state, knowledge),
        *(aside if also else []),
        *sums,
        *lines,
    ]
    if meaning.doubt:
        lines.append(Line("ask", meaning.doubt))
    understood = bool(facts.new or facts.changed or facts.answered or also)
    if state.walk is not None and state.stage in (Stage.REPAIRING, Stage.PROVING, Stage.HELD):
        if facts.answered or not understood:
            walked = repair.walk_answer(state, text, meaning, knowledge)
            if walked is not None:
                if walked.ask_on:
                    return _with((*lines, *walked.lines), move_on(walked.state, knowledge))
                return Turn(walked.state, (*lines, *walked.lines), walked.wants)
        return Turn(state, (*lines, *ask_again(state, knowledge)))
    if state.stage is Stage.OFFERED and not understood:
        return Turn(replace(state, missed=state.missed + 1), (*lines, *_not_understood(state, knowledge)))
    if first_words:
        if not understood:
            state = replace(state, documents=knowledge.search(state.words, 5))
            lines.append(Line("note", _nothing_yet(state, meaning, knowledge)))
        return _with(tuple(lines), move_on(state, knowledge))
    if not understood:
        known = [f for f in state.found if meaning.findings.get(f.name, ("",))[0] == f.value]
        if known and not meaning.unread:
            said = "; ".join(found_words(f, state, knowledge) for f in known)
            lines.append(Line("taken", f"That is down already: {said}."))
            return Turn(state, (*lines, *ask_again(state, knowledge)))
        missed = state.missed + 1
        state = replace(state, missed=missed)
        if meaning.unread:
            return Turn(state, (*lines, Line("note", meaning.unread), Line("ask", "Or say don't know.")))
        if missed >= 3 and state.asking is not None:
            state = replace(state, unknown=(*state.unknown, state.asking.finding), missed=0)
            note = Line("note", "I leave that question; it can be answered later.")
            return _with((*lines, note), move_on(state, knowledge))
        return Turn(state, (*lines, *_not_understood(state, knowledge)))
    return _with(tuple(lines), move_on(replace(state, missed=0), knowledge))


def _nothing_yet(state: State, meaning: Meaning, knowledge: Knowledge) -> str:
    if state.documents:
        titles = [
            f"{knowledge.pages[d].title} (read {d})" for d in state.documents[:3] if d in knowledge.pages
        ]
        return "I could not take a finding from that. Pages that come near it: " + "; ".join(titles) + "."
    return "I could not take a finding from that; a few questions will do it."


def _not_understood(state: State, knowledge: Knowledge) -> tuple[Line, ...]:
    asking = state.asking
    if asking is None:
        return (Line("note", "I did not get that. Tell me what the legs do, or say help."),)
    check = knowledge.checks.get(asking.finding)
    if state.missed <= 1:
        ways = {"yes_no": "yes, no", "choice": ", ".join(c.replace("_", " ") for c in asking.choices), "quantity": f"a number in {asking.unit}",
                "hold": "yes or no", "step": "done", "text": "your own words"}[asking.kind]  # fmt: skip
        return (
            Line(
                "note",
                f"I did not get an answer from that. This one takes: {ways}, don't know, skip, why, how, back.",
            ),
        )
    if check is not None:
        section = check.page.section("How")
        first = next((t for t in (section.text.split("\n") if section else ()) if t.strip()), "")
        return (
            Line("ask", f"Put differently: {check.ask_tech} {first.lstrip('1. ')}".strip()),
            Line("note", "Don't know is a good answer too."),
        )
    return (Line("ask", "Say yes, no or don't know."),)


def _points_elsewhere(state: State, meaning: Meaning, knowledge: Knowledge) -> bool:
    """Whether the line is about something else: another part is its trouble, and no trouble of the legs is told."""
    if state.value("gear") == "hydraulic":
        return True
    if not meaning.outside or state.stage not in (Stage.HEARING, Stage.OUTSIDE):
        return False
    return bool({"hydraulic", "hitch"} & set(meaning.outside)) or not any(
        value != "both" and (_OF_THE_LEGS.search(words) or name in _ONLY_LEGS)
        for name, (value, words) in meaning.findings.items()
        if name not in ("gear", "support", "hitched")
    )


_OF_THE_LEGS = re.compile(r"\b(legs?|landing gear|front jacks?)\b", re.I)
_ONLY_LEGS = {
    "legs_run_with_weight_off",
    "battery_terminals_tight_and_clean",
    "ground_clean",
    "front_storage_full",
}


def _outside(state: State, meaning: Meaning, knowledge: Knowledge, lines: tuple[Line, ...]) -> Turn:
    what = "hydraulic" if state.value("gear") == "hydraulic" else meaning.outside[0]
    notes = knowledge.reader.lexicon.notes("outside: " + what)
    points = notes.get("points", "that is outside what this program knows.")
    documents = tuple(
        d for d in ("call-the-right-shop", *knowledge.search(meaning.text, 2)) if d in knowledge.pages
    )
    state = replace(state, stage=Stage.OUTSIDE, alert="out_of_scope", pointer=what, documents=documents,
                    asking=Asking("is it the front legs", "yes_no", "", ("yes", "no")))  # fmt: skip
    said = (
        f"That sounds like {what}, not the two front legs of a fifth-wheel trailer: {points}"
        if what != "hydraulic"
        else f"That sounds like a hydraulic system: {points}"
    )
    return Turn(
        state,
        (
            *lines,
            Line("say", said[0].upper() + said[1:]),
            Line("ask", "If it is the front legs after all, tell me what they do."),
        ),
    )


def move_on(state: State, knowledge: Knowledge) -> Turn:
    """The next question or the verdict, from all that is known."""
    findings = state.findings()
    unknown = frozenset(state.unknown)
    state = replace(state, alert="", verdict=None, walk=None, stage=Stage.ASKING)
    if "support" not in findings and "support" not in unknown and "support" in knowledge.checks:
        return _ask("support", ("people under a nose that may come down",), state, knowledge)
    now = standing(knowledge.model, findings, state.tried)
    doubted = in_doubt(state, now, knowledge)
    if doubted is not None:
        return Turn(doubted, which_lines(doubted, knowledge))
    means = Means(dict(state.tools), state.helper, state.truck)
    gear_known = "gear" in findings or "gear" in unknown
    choice = choose(knowledge.model, now, findings, unknown, means, state.tried)
    # What gear it is decides which causes can be at all: asked before anything that costs more than a look.
    if not gear_known and not (
        choice.act and choice.sure_enough and _same_for_all_gear(choice.act, knowledge)
    ):
        return _ask("gear", (), state, knowledge)
    if choice.ask is not None:
        return _ask(choice.ask.finding, choice.ask.separates, state, knowledge)
    if choice.act is None:
        return Turn(*nothing_left(state, knowledge, now))
    chance = now.chances[knowledge.model.index[choice.act]]
    procedure = knowledge.procedure_for(choice.act, str(findings["gear"]) if "gear" in findings else None)
    document = procedure.id if procedure else knowledge.causes[choice.act].page.id
    state = replace(state, stage=Stage.OFFERED, verdict=Verdict(choice.act, chance, document),
                    asking=Asking("go through the repair", "yes_no", "", ("yes", "no")))  # fmt: skip
    lines = verdict_lines(state, knowledge, procedure)
    last = state.before.verdict if state.before is not None and state.before.stage is Stage.OFFERED else None
    if last is not None and (last.cause, last.document, percent(last.chance)) == (
        choice.act,
        document,
        percent(chance),
    ):
        # Nothing that was said since bears on it: what was told a line ago is not told again.
        still = f"Still most likely: {cause_title(choice.act, knowledge)}, {percent(chance)} in 100."
        return Turn(state, (Line("say", still), lines[-1]))
    if not choice.sure_enough:
        lines.insert(
            0,
            Line(
                "note",
                "No question is left that would tell more with what is at hand, so this is the best guess, not a finding.",
            ),
        )
    return Turn(state, tuple(lines))


def _same_for_all_gear(cause: str, knowledge: Knowledge) -> bool:
    return len([p for p in knowledge.procedures.values() if cause in p.mends]) <= 1


def _ask(finding: str, reason: tuple[str, ...], state: State, knowledge: Knowledge) -> Turn:
    check = knowledge.checks[finding]
    asking = Asking(finding, check.kind, check.unit, check.choices if check.kind == "choice" else ())
    state = replace(
        state,
        stage=Stage.ASKING,
        asking=asking,
        reason=tuple(r for r in reason if r in knowledge.causes or r == ELSE),
    )
    return Turn(state, ask_again(state, knowledge))


def ask_again(state: State, knowledge: Knowledge) -> tuple[Line, ...]:
    """The open question of the state, worded afresh."""
    if state.sum is not None and state.stage not in _SUMLESS:
        return sum_question(state)
    if state.stage in (Stage.HELD, Stage.REPAIRING, Stage.PROVING) and state.walk is not None:
        return repair.show(state, knowledge).lines
    asking = state.asking
    if asking is None:
        return greeting(state)
    if asking.finding == WHICH:
        return which_lines(state, knowledge)
    if asking.finding == IN_DANGER:
        return question_lines(state)
    check = knowledge.checks.get(asking.finding)
    if check is None:
        if state.stage is Stage.OFFERED:
            return (
                Line(
                    "ask",
                    "Shall we go through the repair? yes, no, why, other causes, what do I order, that did not fix it, record.",
                ),
            )
        return (Line("ask", "If it is the front legs, tell me what they do."),)
    asked = question(check, state)
    if state.before is not None and state.before.asking == asking and state.stage is Stage.ASKING:
        # The same question as a line ago: its short name is enough, and no line is said twice running.
        asked = f"Still open: {plain_title(check.page.title)}?"
    lines = [Line("ask", asked)]
    said = choices_line(asking, check)
    if said is not None:
        lines.append(said)
    return tuple(lines)


__all__ = ["Turn", "ask_again", "greeting", "move_on", "turn", "understand"]
