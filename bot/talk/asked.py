"""A sum asked for in words: its inputs from the line and the case, what is missing asked one at a time, the answer.

The question of a sum never stands before a stop or a danger: at a stop the sum is told as text and the stop is
repeated; danger drops it. It is a state like any other: events replay it, "back" leads out of it.
"""

from __future__ import annotations

from typing import NamedTuple

from bot.frozen import dataclass, replace
from bot.sums.answers import Refused, read_answer, sample
from bot.sums.catalogue import CATALOGUE, Input, Sum, limits_of
from bot.sums.convert import both, both_ranged
from bot.sums.result import Result
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Asking, Given, OpenSum, State
from bot.talk.sum_inputs import Step, asks_of, fill, hashable
from bot.talk.sum_known import KEPT, known
from bot.talk.sum_told import after, drawn, headline, key_of, told, work_out
from bot.talk.understand import Meaning
from bot.units import UNITS, canonical

_MOST_MISSED = 3
_LEAVES_OPEN = (
    "help", "record", "what do you know", "other causes", "person", "us units", "metric units", "owner wording",
    "phone wording", "tech wording", "draw", "no drawings", "back", "put aside", "leave",
)  # fmt: skip


_COUNTED = {"motors", "count", "holes", "starts"}


class _Beyond(NamedTuple):
    """A figure outside the limits of its sum; ``reply`` says so."""

    reply: str


@dataclass(frozen=True)
class Asked:
    """What a line about a sum led to. ``rest`` is what else the line said, to be taken as any other line;
    ``again`` repeats the open question of the case.
    """

    state: State
    lines: tuple[Line, ...]
    rest: str = ""
    again: bool = False


def notes_of(name: str, knowledge: Knowledge) -> dict[str, str]:
    """What the corpus says of a sum: what it asks for, which figures lead its answer."""
    return dict(knowledge.reader.lexicon.notes("sum: " + name))


def wanted_sum(meaning: Meaning) -> str:
    """The sum a line asks for, "" where it asks for none: of several the one with most words."""
    heard = [h for h in meaning.said("sum") if h.value in CATALOGUE]
    if not heard:
        return ""
    return max(heard, key=lambda h: (h.end - h.start, -h.start)).value


def rest_of(meaning: Meaning, kind: str) -> str:
    """The line without the sentences in which that kind of meaning was heard."""
    clauses = {
        meaning.line[i].clause
        for h in meaning.said(kind)
        for i in (h.start, h.end - 1)
        if i < len(meaning.line)
    }
    if not clauses:
        return meaning.text
    kept = []
    for clause in sorted({t.clause for t in meaning.line} - clauses):
        inside = [t for t in meaning.line if t.clause == clause]
        kept.append(meaning.spelt[inside[0].start : inside[-1].end])
    return ". ".join(kept)


def asked(state: State, meaning: Meaning, knowledge: Knowledge) -> Asked | None:
    """The answer to a line that asks for a sum, or its first question; None where the line asks for none."""
    name = wanted_sum(meaning)
    if not name:
        return None
    one, asks = CATALOGUE[name], asks_of(notes_of(name, knowledge).get("asks", ""))
    filled = fill(one, meaning, asks, "", state.units)
    given = (*filled.given, *known(one, filled.given, asks, state, knowledge))
    lines = []
    if filled.unused:
        lines.append(Line("note", f"Not used in it: {', '.join(filled.unused)}."))
    opened = OpenSum(name, given)
    done = _go_on(replace(state, sum=None), opened, meaning, knowledge)
    return replace(done, lines=(*done.lines, *lines), rest=rest_of(meaning, "sum"))


def at_a_stop(state: State, meaning: Meaning, knowledge: Knowledge) -> tuple[Line, ...]:
    """A sum asked for at a stop, as text alone: the state stays as it is, and nothing is asked."""
    name = wanted_sum(meaning)
    if not name:
        return ()
    one, notes = CATALOGUE[name], notes_of(name, knowledge)
    asks = asks_of(notes.get("asks", ""))
    now = fill(one, meaning, asks, "", state.units).given
    given = (*now, *known(one, now, asks, state, knowledge))
    result = work_out(name, given)
    if isinstance(result, str):
        return (Line("note", result), Line("note", "Ask for the sum again once this stop is answered."))
    return tuple(told(result, given, notes, replace(state, drawings="off"), False))


def open_answer(state: State, meaning: Meaning, knowledge: Knowledge) -> Asked | None:
    """A line while an input is asked for. None where it steers elsewhere and the question stays open."""
    opened = state.sum
    assert opened is not None
    one = CATALOGUE[opened.name]
    wanted = next(i for i in one.inputs if i.option == opened.asking)
    if _short(meaning, "drop sum"):
        return Asked(replace(state, sum=None), (Line("say", "The sum is dropped."),), again=True)
    if wanted_sum(meaning):
        return asked(state, meaning, knowledge)
    asks = asks_of(notes_of(opened.name, knowledge).get("asks", ""))
    now = _answers(one, wanted, meaning, asks, state.units)
    if not isinstance(now, (Refused, _Beyond)):
        names = {g.name for g in now}
        given = (*(g for g in opened.given if g.name not in names), *now)
        return _go_on(state, replace(opened, given=given, missed=0), meaning, knowledge)
    if isinstance(now, _Beyond):
        return Asked(state, (Line("note", now.reply), *question(state)))
    if meaning.wants("why", "how"):
        return Asked(state, (Line("say", _why(opened, wanted)), *question(state)))
    if meaning.wants("dont know", "skip"):
        if wanted.required:
            return Asked(
                state,
                (
                    Line(
                        "say",
                        "The sum cannot do without that. Leave it drops the sum; it can be asked again.",
                    ),
                    *question(state),
                ),
            )
        return _go_on(
            state, replace(opened, left=(*opened.left, opened.asking), missed=0), meaning, knowledge
        )
    if meaning.wants(*_LEAVES_OPEN):
        return None
    if state.walk is not None and meaning.wants("done", "yes", "fixed"):
        # The step was last seen before the sum: it is shown again, and "done" is said to it, not to the sum.
        note = Line("note", "I leave the sum. Back to the repair:")
        return Asked(replace(state, sum=None), (note,), again=True)
    if meaning.facts or set(meaning.intents) - {"yes", "no", "small talk"}:
        return Asked(
            replace(state, sum=None),
            (Line("note", "I leave the sum; ask for it again at any time."),),
            rest=meaning.text,
        )
    if opened.missed + 1 >= _MOST_MISSED:
        return Asked(
            replace(state, sum=None),
            (Line("note", "I leave the sum; ask for it again once the figure is at hand."),),
            again=True,
        )
    state = replace(state, sum=replace(opened, missed=opened.missed + 1))
    reply = now.reply if isinstance(now, Refused) else "I did not get a figure from that."
    return Asked(state, (Line("note", reply), *question(state)))


def _answers(
    one: Sum, wanted: Input, meaning: Meaning, asks: tuple[Step, ...], units: str
) -> tuple[Given, ...] | Refused | _Beyond:
    """The inputs a line gives while one is asked for, or why it cannot be taken."""
    if wanted.kind == "text" and meaning.intents and not any(c.isdigit() for c in meaning.text):
        return Refused("That is no answer to it.")  # "back" is no size of a bolt
    filled = fill(one, meaning, asks, wanted.option, units)
    now = filled.given
    if not any(g.name == wanted.name for g in now):
        read = read_answer(one, wanted, _bare(meaning, wanted), wanted.prompt)
        if isinstance(read, Refused):
            return now or read
        now = (*now, Given(wanted.name, hashable(read.value), read.echo))
    for given in now:
        input_ = next((i for i in one.inputs if i.name == given.name), wanted)
        beyond = _beyond(one, input_, given.value)
        if beyond:
            return _Beyond(beyond)
    return now


def _bare(meaning: Meaning, wanted: Input) -> str:
    """The words of an answer as an input reads them: a number word or choice among others stands for itself."""
    text = meaning.text.strip().strip(".!?")
    if wanted.kind in ("count", "number") and not wanted.unit:
        digits = [t.text for t in meaning.line if t.text.replace(".", "").replace("/", "").isdigit()]
        if len(digits) == 1:
            return digits[0]
    if wanted.choices:
        low = " ".join(t.text for t in meaning.line)
        fitting = sorted((c for c in wanted.choices if c in low), key=len)
        return fitting[-1] if fitting else text
    if wanted.kind == "yes_no" and meaning.wants("yes", "no"):
        return "yes" if meaning.wants("yes") else "no"
    return text


def _beyond(one: Sum, wanted: Input, value: object) -> str:
    """Why a figure lies outside the limits of its sum; "" where it does not."""
    bounds = limits_of(one, wanted)
    figures = value if isinstance(value, (tuple, list)) else (value,)
    for figure in figures if bounds else ():
        low, high, unit = bounds or (0.0, 0.0, "")
        if isinstance(figure, (int, float)) and not isinstance(figure, bool) and not low <= figure <= high:
            return (
                f"{wanted.prompt[0].upper()}{wanted.prompt[1:]}: {both(figure, unit)} is outside"
                f" {both(low, unit)} to {both(high, unit)}. Type it again with its unit."
            )
    return ""


def _why(opened: OpenSum, wanted: Input) -> str:
    have = [g.echo for g in opened.given]
    so_far = f" So far it has: {'; '.join(have)}." if have else ""
    lack = f" Without it {wanted.assumed} is taken." if wanted.assumed else ""
    return f"The sum {opened.name} ({CATALOGUE[opened.name].help}) is worked out from it.{lack}{so_far}"


def _missing(one: Sum, opened: OpenSum, asks: tuple[Step, ...]) -> Input | None:
    """The next input to ask for: what has to be there first, then what the corpus asks for."""
    by_option = {i.option: i for i in one.inputs}
    have = {g.name for g in opened.given}
    named = {option for step in asks for option in step.asked}
    wanted = [Step((i.option,)) for i in one.inputs if i.required and i.option not in named]
    for step in (*wanted, *asks):
        if any(by_option[option].name in have for option in step.options if option in by_option):
            continue
        for option in step.asked:
            if option in by_option and option not in opened.left:
                return by_option[option]
    return None


def _go_on(state: State, opened: OpenSum, meaning: Meaning, knowledge: Knowledge) -> Asked:
    """The next question of a sum, or its answer where nothing is missing."""
    one, notes = CATALOGUE[opened.name], notes_of(opened.name, knowledge)
    wanted = _missing(one, opened, asks_of(notes.get("asks", "")))
    if wanted is not None:
        state = replace(state, sum=replace(opened, asking=wanted.option))
        return Asked(state, question(state, first=not opened.asking))
    state = keep(replace(state, sum=None), opened.given)
    result = work_out(opened.name, opened.given)
    if isinstance(result, str):
        return Asked(state, (Line("note", result),), again=True)
    key = key_of(opened.name, opened.given)
    if key in state.worked:
        first = "metric" if state.units == "metric" else "us"
        same = headline(result, notes, opened.given, first)
        lines = [Line("say", f"As worked out before: {same}")]
    else:
        lines = told(result, opened.given, notes, state, True)
        if state.wording == "owner" and result.rows and state.drawings == "on":
            lines.append(Line("note", "Say draw it to see it drawn."))
        state = replace(after(result, state, True), worked=(*state.worked, key))
    return Asked(replace(state, last_sum=replace(opened, asking="")), tuple(lines), again=True)


def keep(state: State, given: tuple[Given, ...]) -> State:
    """The state with what only sums use, for the next one."""
    new = tuple(g for g in given if g.name in KEPT and not g.from_case)
    names = {g.name for g in new}
    return replace(state, told=(*(g for g in state.told if g.name not in names), *new)) if new else state


def question(state: State, first: bool = False) -> tuple[Line, ...]:
    """The open input of a sum, asked in the wording of the moment."""
    opened = state.sum
    assert opened is not None
    one = CATALOGUE[opened.name]
    wanted = next(i for i in one.inputs if i.option == opened.asking)
    if wanted.choices:
        how = ": " + ", ".join(wanted.choices)
    elif wanted.kind == "yes_no":
        how = ": yes or no"
    else:
        unit = (
            f", in {unit_words(wanted.unit)}" if wanted.unit and wanted.kind not in ("gauge", "text") else ""
        )
        how = f"{unit}, like {sample(wanted, one)}"
    ways = []
    if not wanted.required:
        ways.append(f"Skip takes {wanted.assumed}." if wanted.assumed else "Skip leaves it out.")
    if first:
        ways.append("Leave it drops the sum.")
    many = "how many " if wanted.option in _COUNTED else ""
    prompt = many + wanted.prompt.removeprefix("or ") + how
    lead = {"phone": "Ask the caller: ", "tech": ""}.get(state.wording, "For that sum I need: ")
    asks = f"{lead}{prompt}." if lead else f"{prompt[0].upper()}{prompt[1:]}."
    lines = []
    case = [g.echo for g in opened.given if g.from_case]
    if first and case:
        lines.append(Line("note", "From what you told: " + "; ".join(case) + "."))
    lines.append(Line("ask", asks))
    return (*lines, *([Line("choices", " ".join(ways))] if ways else []))


def unit_words(unit: str) -> str:
    """A unit as it is said: inches for in.

    >>> unit_words("in"), unit_words("N.m")
    ('inches', 'newton metres')
    """
    short = canonical(unit)
    return UNITS[short].said if short is not None else unit


def sum_asking(state: State) -> Asking:
    """The open input of a sum as others read it: a question like the ones of the case."""
    opened = state.sum
    assert opened is not None
    wanted = next(i for i in CATALOGUE[opened.name].inputs if i.option == opened.asking)
    name = f"sum {opened.name}: {wanted.option}"
    if wanted.choices or wanted.kind == "yes_no":
        return Asking(name, "choice" if wanted.choices else "yes_no", "", wanted.choices or ("yes", "no"))
    return Asking(name, "text" if wanted.kind in ("text", "numbers") else "quantity", wanted.unit)


def _short(meaning: Meaning, intent: str) -> bool:
    """Whether a line says that and little else; figures in it mean that it says more."""
    return any(h.value == intent for h in meaning.said("intent")) and len(meaning.line) <= 6


def draw_asked(state: State, meaning: Meaning) -> Asked | None:
    """What a line about drawings led to: to draw the last sum, or none from now on. None where it says neither."""
    if meaning.wants("no drawings"):
        return Asked(
            replace(state, drawings="off"),
            (Line("note", "No drawings: sums are told in words."),),
            again=True,
        )
    opened = state.last_sum
    if (
        opened is not None
        and _short(meaning, "drop sum")
        and meaning.wants("leave")
        and len(meaning.line) > 1
    ):
        return Asked(state, (Line("note", "No sum is open. Quit ends the conversation."),), again=True)
    if not meaning.wants("draw") or meaning.facts:
        return None
    if opened is None:
        return Asked(state, (Line("note", "There is no sum to draw yet."),), again=True)
    result = work_out(opened.name, opened.given)
    if isinstance(result, str):
        return Asked(state, (Line("note", result),), again=True)
    lines = drawn(result, state) or [Line("say", text) for text in _in_words(result)]
    return Asked(state, tuple(lines), again=True)


def _in_words(result: Result) -> list[str]:
    """What a drawing would show, for a screen reader or where nothing is drawn."""
    said = []
    for row in result.rows:
        middle, low, high = both_ranged(row.value, row.low, row.high, row.unit)
        ranged = f", from {low} to {high}" if low != high else ""
        against = f" of {both_ranged(row.of, row.of, row.of, row.unit)[0]}" if row.kind == "bar" else ""
        if row.kind != "window":
            before = " before the move" if row.kind == "before" else ""
            said.append(f"{row.label}{before}: {middle}{against}{ranged}")
    return said or ["This sum has nothing to draw; its working says it all."]


__all__ = [
    "Asked",
    "asked",
    "at_a_stop",
    "draw_asked",
    "keep",
    "open_answer",
    "question",
    "rest_of",
    "sum_asking",
]
