"""A danger in doubt is asked about once, before anything else, and nothing of the line is lost by it."""

import json
from pathlib import Path

import pytest

from bot.frozen import replace
from bot.talk.events import Said
from bot.talk.in_danger import IN_DANGER, raised_unasked
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from bot.talk.turn import Turn, turn
from bot.talk.understand import Meaning, understand

LINES = Path(__file__).parents[1] / "lines"


@pytest.fixture(scope="module")
def doubtful(knowledge: Knowledge) -> list[tuple[str, str]]:
    """(line, kind) of every line in the sets that leaves a danger in doubt."""
    found = []
    for file in sorted(LINES.glob("*.jsonl")):
        if file.name.startswith(("emergencies", "near_misses", "offtopic")):
            for row in map(json.loads, file.read_text(encoding="utf-8").splitlines()):
                meaning = understand(row["line"], None, knowledge.reader)
                if meaning.doubtful and not meaning.dangers:
                    found.append((row["line"], meaning.doubtful))
    assert len(found) > 10
    return found


def _say(state: State, text: str, knowledge: Knowledge) -> Turn:
    return turn(state, Said(text), knowledge)


def _asked(line: str, knowledge: Knowledge) -> Turn:
    done = _say(State(), line, knowledge)
    assert done.state.asking is not None, line
    assert done.state.asking.finding == IN_DANGER, line
    assert done.state.stage is Stage.ASKING
    assert not done.state.alert
    assert "Before anything else" in done.replies[-2].text
    return done


def test_yes_opens_the_emergency_of_that_kind(doubtful: list[tuple[str, str]], knowledge: Knowledge) -> None:
    for line, kind in doubtful:
        done = _say(_asked(line, knowledge).state, "yes", knowledge)
        assert (done.state.stage, done.state.danger, done.state.alert) == (Stage.DANGER, kind, "emergency"), (
            line
        )
        assert done.state.doubt is None


def test_no_goes_on_as_if_it_had_not_been_asked(
    doubtful: list[tuple[str, str]], knowledge: Knowledge
) -> None:
    for line, kind in doubtful:
        after = _say(_asked(line, knowledge).state, "no", knowledge)
        if understand(line, None, knowledge.reader).likely:
            continue  # said a second time it is raised
        # The same line said to somebody who was told beforehand that it is no danger.
        plain = _say(replace(State(), doubted=(kind,)), line, knowledge)
        assert [r.text for r in after.replies] == [r.text for r in plain.replies], line
        assert after.state.findings() == plain.state.findings(), line
        assert after.state.asking == plain.state.asking, line
        assert after.state.doubt is None


def test_what_is_no_answer_is_heard_after_the_line(
    doubtful: list[tuple[str, str]], knowledge: Knowledge
) -> None:
    for line, _ in doubtful:
        done = _say(_asked(line, knowledge).state, "it has one motor with a bar across", knowledge)
        assert done.state.value("gear") == "one_motor", line
        assert any("somebody is in danger" in r.text for r in done.replies), line


def test_the_same_kind_is_asked_about_once(doubtful: list[tuple[str, str]], knowledge: Knowledge) -> None:
    for line, _ in doubtful:
        after = _say(_asked(line, knowledge).state, "no", knowledge)
        if after.state.stage is not Stage.ASKING:
            continue
        again = _say(after.state, line, knowledge)
        assert again.state.doubt is None, line


def test_do_not_know_is_told_to_look(doubtful: list[tuple[str, str]], knowledge: Knowledge) -> None:
    for line, _ in doubtful:
        done = _say(_asked(line, knowledge).state, "don't know", knowledge)
        assert done.replies[0].text.startswith("Look first"), line
        assert done.state.doubt is None


def test_why_is_answered_and_the_question_stays(
    doubtful: list[tuple[str, str]], knowledge: Knowledge
) -> None:
    line, kind = doubtful[0]
    done = _say(_asked(line, knowledge).state, "why", knowledge)
    assert any("meant two ways" in r.text for r in done.replies)
    assert done.state.asking is not None
    assert done.state.asking.finding == IN_DANGER
    assert _say(done.state, "yes", knowledge).state.danger == kind


def test_a_danger_said_outright_needs_no_question(
    doubtful: list[tuple[str, str]], knowledge: Knowledge
) -> None:
    for line, _ in doubtful[:10]:
        done = _say(_asked(line, knowledge).state, "yes my husband is trapped under the leg", knowledge)
        assert (done.state.stage, done.state.danger) == (Stage.DANGER, "person hurt"), line


def test_back_takes_the_line_back(doubtful: list[tuple[str, str]], knowledge: Knowledge) -> None:
    line, _ = doubtful[0]
    done = _say(_asked(line, knowledge).state, "back", knowledge)
    assert done.state.doubt is None
    assert done.state.asking is None or done.state.asking.finding != IN_DANGER


def _in_doubt(likely: bool) -> Meaning:
    return replace(Meaning("x"), doubtful="nose dropped", likely=likely)


@pytest.mark.parametrize("stage", [Stage.HELD, Stage.REPAIRING, Stage.PROVING])
def test_in_a_repair_a_likely_danger_is_raised_and_no_other_is(stage: Stage) -> None:
    assert raised_unasked(State(stage=stage), _in_doubt(True))
    assert not raised_unasked(State(stage=stage), _in_doubt(False))


def test_a_likely_danger_of_a_kind_asked_about_before_is_raised() -> None:
    assert not raised_unasked(State(stage=Stage.ASKING), _in_doubt(True))
    assert raised_unasked(State(stage=Stage.ASKING, doubted=("nose dropped",)), _in_doubt(True))


def test_yes_is_heard_though_a_sum_was_open(doubtful: list[tuple[str, str]], knowledge: Knowledge) -> None:
    asking = _say(State(), "how much do two stands carry", knowledge).state
    assert asking.sum is not None
    asked = [
        (d, k) for d, k in ((_say(asking, line, knowledge), kind) for line, kind in doubtful) if d.state.doubt
    ]
    assert asked
    for done, kind in asked:
        assert _say(done.state, "yes", knowledge).state.danger == kind


def test_where_another_question_came_up_its_yes_is_no_danger(
    doubtful: list[tuple[str, str]], knowledge: Knowledge
) -> None:
    done = _say(_asked(doubtful[0][0], knowledge).state, "no meter", knowledge)
    assert (done.state.doubt is None) == (done.state.asking is None or done.state.asking.finding != IN_DANGER)
