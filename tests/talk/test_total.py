"""The turn is total: any line in any stage gets an answer, nothing raises, and there is always a way on.

What must hold is in the rules of the conversation, not in its outputs: replies are never empty, replay
gives the same state, back takes a line out again, a correction weighs like the same answer given first.
"""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from bot.reason.chances import standing
from bot.safety.rules import RULES
from bot.shells.session import replay
from bot.talk.danger import enter
from bot.talk.events import Event, NotSaved, Resumed, Said, Set, event_from_plain, event_to_plain
from bot.talk.knowledge import Knowledge
from bot.talk.state import Asking, Stage, State
from bot.talk.turn import Turn, turn
from tests.safety.walking import offered

KINDS: dict[str, tuple[str, ...]] = {
    "complaint": ("legs wont come up, it just clicks", "the front legs do nothing", "nothing happens"),
    "finding": ("fuse is blown", "the ground is clean", "one motor", "two motors", "the leg is bent"),
    "reading": (
        "12.4",
        "battery 12.1",
        "3 V lost on the ground at 40 A",
        "2 1/4 in",
        "14k lbs",
        "10 ga about 18 ft",
    ),
    "reading that cannot be": ("battery 900 V", "-5", "1e99 V", "0 ga"),
    "yes or no": ("yes", "no", "y", "n", "yep", "nope", "yes yes yes", "no no", "yes and no"),
    "choice": ("both", "left", "hitched", "legs", "stands", "unsure", "clicks", "manual"),
    "steering": (
        "don't know",
        "why",
        "how",
        "back",
        "skip",
        "help",
        "record",
        "put aside",
        "that did not fix it",
        "it works",
        "other causes",
        "what do you know",
        "no meter",
        "no truck",
        "just pulled the truck out",
        "alone",
        "partly",
        "done",
        "next",
        "talk to a person",
        "quit",
        "already did that",
        "tech",
        "metric",
        "new case",
        "cases",
    ),
    "danger": (
        "my brother is pinned under the nose",
        "the nose just dropped",
        "smoke from the motor",
        "button wont let go",
        "the jaws are not locked and the weight is on it",
        "I will hold it with the floor jack while I take the leg off",
        "everybody is safe now",
        "it is over, truck is hitched",
    ),
    "elsewhere": ("my slide room is stuck", "the awning is torn", "hydraulic level up leaks"),
    "several": (
        "no its two motors, battery 12.4, wires are 10 ga about 18 ft",
        "actually the fuse is fine and it hums",
    ),
    "empty": ("", "   ", "\t", "\n", "\u200b", "\x00"),
    "hostile": (
        "[/",
        "[b + x",
        "{}",
        "%s%n",
        "../../etc",
        "'; drop table",
        "\x1b[2J",
        "\u202eabc",
        "?" * 300,
        "🔧",
        "ß",
        "²",
    ),
}
LINES = [line for lines in KINDS.values() for line in lines]


# What a stop asks for before a stand goes under the nose, and an answer that bears it.
_FIGURES = {"gross_weight_lb": "14000 lb", "prop_kind": "stands", "stand_rating_lb": "20000 lb"}


def _of_stage(stage: Stage, knowledge: Knowledge) -> State:
    """A state of that stage, reached by lines where that is short, built where it is not."""
    leg = next(p for p in knowledge.procedures.values() if any("leg" in s.removes for s in p.steps))
    state = offered(leg, leg.fits[0], "legs")
    if stage is Stage.HEARING:
        return State()
    if stage is Stage.ASKING:
        return turn(State(), Said("legs wont come up, it just clicks"), knowledge).state
    if stage is Stage.OFFERED:
        return state
    if stage is Stage.OUTSIDE:
        return turn(State(), Said("the awning is torn"), knowledge).state
    if stage is Stage.DANGER:
        return enter(state, "nose dropped").state
    for _ in range(600):
        if state.stage is stage and (stage is not Stage.HELD or state.asking == _hold("raised nose")):
            return state
        asked = state.asking.finding if state.asking else ""
        said = _FIGURES.get(asked, "done" if state.stage is Stage.REPAIRING else "yes")
        state = turn(state, Said(said), knowledge).state
    raise AssertionError(f"{stage} was not reached")


def _hold(hazard: str) -> Asking:
    return Asking(f"hold: {RULES[hazard].hold}", "hold", "", ("yes", "no"))


@pytest.fixture(scope="module")
def stages(knowledge: Knowledge) -> dict[Stage, State]:
    """One state of every stage."""
    return {stage: _of_stage(stage, knowledge) for stage in Stage}


def _is_answer(done: Turn, what: str) -> None:
    assert done.replies, what
    assert all(line.text.strip() and line.role for line in done.replies), what
    for line in done.replies:
        assert not [c for c in line.text if unicodedata.category(c) == "Cc" and c != "\n"], (what, line)
    assert _way_on(done.state), (what, done.state.stage, done.state.asking)


def _way_on(state: State) -> bool:
    """Whether the state waits for something a person can say: a question, a stop, a step, or it is closed."""
    if state.stage in (Stage.CLOSED, Stage.HEARING):
        return True
    return state.asking is not None


@pytest.mark.parametrize("stage", list(Stage), ids=lambda s: s.value)
def test_every_kind_of_line_in_every_stage_is_answered(
    stage: Stage, stages: dict[Stage, State], knowledge: Knowledge
) -> None:
    state = stages[stage]
    assert state.stage is stage
    for kind, lines in KINDS.items():
        for line in lines:
            for pasted in (False, True):
                before = replace(state)
                done = turn(state, Said(line, pasted=pasted), knowledge)
                assert state == before
                if done.wants and not done.replies:
                    continue  # the shell answers those: put aside, leave, record
                _is_answer(done, f"{stage.value}, {kind}: {line!r}")


@pytest.mark.parametrize("stage", list(Stage), ids=lambda s: s.value)
def test_events_that_nobody_typed_are_answered_too(
    stage: Stage, stages: dict[Stage, State], knowledge: Knowledge
) -> None:
    events: tuple[Event, ...] = (
        Resumed(),
        NotSaved("disk full"),
        Set("wording", "tech"),
        Set("units", "metric"),
    )
    for event in events:
        done = turn(stages[stage], event, knowledge)
        assert done.replies or isinstance(event, Set)
        assert done.state.stage in (stage, Stage.HELD, Stage.REPAIRING)
        assert done.state.log[-1] == event
        assert done.state.walk is None or not done.state.walk.opened or not isinstance(event, Resumed)


_ODD = st.one_of(
    st.text(max_size=60),
    st.text(
        alphabet=st.characters(categories=["Cc", "Cf", "Zs", "Mn", "Nd", "Ps", "Pe", "Sm", "So"]), max_size=40
    ),
    st.text(alphabet="[]{}()<>|\\/&;%$#@!*?+-.,:'\"` 0123456789\x00\x1b\u202e\u2066nofuseyes", max_size=60),
    st.lists(st.sampled_from(LINES), min_size=1, max_size=4).map(" ".join),
    st.tuples(st.sampled_from(LINES), st.text(max_size=12)).map("".join),
)


@settings(
    max_examples=2000,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(stage=st.sampled_from(list(Stage)), text=_ODD)
@example(stage=Stage.ASKING, text="x" * 1_000_000)
@example(stage=Stage.HELD, text="yes " * 250_000)
@example(stage=Stage.HEARING, text="\x00" * 1000)
@example(stage=Stage.DANGER, text="\u202e" * 10 + "yes")
@example(stage=Stage.HELD, text="[/bold]yes")
@example(stage=Stage.ASKING, text="9" * 5000)
@example(stage=Stage.ASKING, text="1/0")
@example(stage=Stage.REPAIRING, text="\ud800")
def test_no_text_raises_and_there_is_always_a_way_on(
    stage: Stage, text: str, stages: dict[Stage, State], knowledge: Knowledge
) -> None:
    done = turn(stages[stage], Said(text), knowledge)
    if not (done.wants and not done.replies):
        _is_answer(done, repr(text[:80]))
    assert done.state.log[-1] == Said(text)


# What opens a stop is the word alone, as typed; letters that only look like it are something else.
@settings(
    max_examples=400,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(text=_ODD)
@example(text="yes yes yes")
@example(text="Yes of course")
@example(text="y")
@example(text="ok")
@example(text="уes")  # the first letter is Cyrillic
def test_only_the_typed_word_opens_a_stop(
    text: str, stages: dict[Stage, State], knowledge: Knowledge
) -> None:
    held = stages[Stage.HELD]
    assert held.walk is not None
    done = turn(held, Said(text), knowledge)
    if "".join(c for c in text if c.isalpha()).lower() != "yes":
        assert done.state.walk is None or done.state.walk.opened <= held.walk.opened


def test_the_typed_word_opens_it_and_the_pasted_one_does_not(
    stages: dict[Stage, State], knowledge: Knowledge
) -> None:
    held = stages[Stage.HELD]
    opened = turn(held, Said("yes"), knowledge).state.walk
    pasted = turn(held, Said("yes", pasted=True), knowledge).state.walk
    assert held.walk is not None
    assert opened is not None
    assert pasted is not None
    assert "raised nose" in opened.opened - held.walk.opened
    assert pasted.opened == held.walk.opened


# --- replay, back, correction --------------------------------------------------------------------------

TALKS = [
    [
        "legs wont come up, it just clicks",
        "legs",
        "one motor",
        "battery 12.4",
        "don't know",
        "yes",
        "no",
        "back",
        "why",
        "skip",
    ],
    [
        "no its two motors, battery 12.4, wires are 10 ga about 18 ft",
        "hitched",
        "hums",
        "neither",
        "11.1",
        "0.8",
        "no",
        "yes",
    ],
    [
        "the nose just dropped",
        "everybody is safe now",
        "yes",
        "legs",
        "manual",
        "no",
        "yes",
        "no",
        "no",
        "don't know",
    ],
    [
        "one leg moves, the other does not",
        "stands",
        "one motor",
        "left",
        "no",
        "that did not fix it",
        "yes",
        "done",
        "back",
        "back",
    ],
    [
        "my slide room is stuck",
        "yes",
        "the front legs do nothing",
        "legs",
        "two motors",
        "silent",
        "no truck",
        "alone",
        "no meter",
        "yes",
    ],
]


def _said(lines: list[str], knowledge: Knowledge) -> list[State]:
    states = [State()]
    for line in lines:
        states.append(turn(states[-1], Said(line), knowledge).state)
    return states


@pytest.mark.parametrize("lines", TALKS, ids=lambda lines: lines[0][:30])
def test_replaying_the_log_gives_the_same_state(lines: list[str], knowledge: Knowledge) -> None:
    state = _said(lines, knowledge)[-1]
    for event in (Set("units", "metric"), Resumed("2026-01-01T00:00:00Z"), Said("why"), NotSaved("full")):
        state = turn(state, event, knowledge).state
    written = [event_to_plain(e) for e in state.log]
    assert replay(tuple(event_from_plain(p) for p in written), knowledge) == state


def _values(state: State) -> dict[str, str | float]:
    return state.findings()


@pytest.mark.parametrize("lines", TALKS, ids=lambda lines: lines[0][:30])
def test_back_so_often_gives_the_findings_of_then(lines: list[str], knowledge: Knowledge) -> None:
    """After n times back stands what stood n lines before; counted over lines that are no back themselves."""
    forward = [line for line in lines if line != "back" and "dropped" not in line]
    states = _said(forward, knowledge)
    state = states[-1]
    for n in range(1, len(states)):
        if states[-n].stage is Stage.DANGER or states[-n - 1].stage is Stage.DANGER:
            break
        state = turn(state, Said("back"), knowledge).state
        then = states[-n - 1]
        assert _values(state) == _values(then), n
        assert (state.unknown, state.tried, state.verdict, state.helper, state.tools) == (
            then.unknown,
            then.tried,
            then.verdict,
            then.helper,
            then.tools,
        )


def test_back_at_the_beginning_stays_there(knowledge: Knowledge) -> None:
    state = turn(State(), Said("back"), knowledge).state
    assert state.stage is Stage.HEARING
    assert not state.found


CORRECTIONS = [
    ("one motor", "no, it has two motors", "it has two motors"),
    ("battery 12.7 V at rest", "no, the battery is 11.9 V at rest", "the battery is 11.9 V at rest"),
    ("the fuse is blown", "actually the fuse is ok", "the fuse is ok"),
    ("it clicks", "no, it hums", "it hums"),
    (
        "0.8 V at the motor with the button held",
        "correction, 11.4 V at the motor with the button held",
        "11.4 V at the motor with the button held",
    ),
]


@pytest.mark.parametrize(("first", "corrected", "fresh"), CORRECTIONS, ids=[c[0] for c in CORRECTIONS])
def test_a_correction_weighs_like_the_answer_given_first(
    first: str, corrected: str, fresh: str, knowledge: Knowledge
) -> None:
    start = ["the front legs do not move", "legs"]
    late = _said([*start, first, corrected], knowledge)[-1]
    early = _said([*start, fresh], knowledge)[-1]
    wrong = _said([*start, first], knowledge)[-1]
    assert _values(wrong) != _values(late), "the correction was not taken"
    assert _values(late) == _values(early)
    a, b, c = (standing(knowledge.model, _values(s), s.tried).chances for s in (late, early, wrong))
    assert max(abs(x - y) for x, y in zip(a, b, strict=True)) < 1e-9
    assert max(abs(x - y) for x, y in zip(a, c, strict=True)) > 1e-6  # the answer mattered at all
    assert sum(a) == pytest.approx(1.0)
