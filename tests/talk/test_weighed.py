"""What weights may do to a line and what they may not, with small tables whose scores a hand can reckon."""

from __future__ import annotations

from zlib import crc32

import pytest

from bot.corpus.learned import Learned, packed, parsed
from bot.frozen import replace
from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import State
from bot.talk.turn import turn
from bot.talk.understand import understand
from bot.talk.weighed import DANGER, LONG, LONG_DANGER, NOTHING, READ, SEEN_FINDING, SHORT


def _sure_of(*labels: str) -> Learned:
    """A table that scores 5 for these labels whatever is said, and -5 for a danger unless it is among them."""
    every = ["danger", "danger: person hurt", "danger: nose dropped", *(n for n in labels if "=" in n)]
    bias = [5.0 if label in labels else -5.0 for label in every]
    return parsed(packed(every, bias, [0.01] * len(every), {}, "mark", {crc32(b"1never"): [(0, 1)]}))


def _with(table: Learned, knowledge: Knowledge) -> Knowledge:
    return replace(knowledge, reader=replace(knowledge.reader, learned=lambda: table))


LINE = "well the thing up front is as it always was"


@pytest.mark.parametrize(
    "label", ["support=hitched", "hitched=yes", "kingpin_locked=yes", "prop_kind=crib_4x4", "support=stands"]
)
def test_what_holds_the_nose_is_never_taken_from_weights(label: str, knowledge: Knowledge) -> None:
    """Stops and the sums behind them lean on these findings."""
    assert (
        label.split("=")[0] not in understand(LINE, None, _with(_sure_of(label), knowledge).reader).findings
    )


def test_another_finding_is_taken_and_marked(knowledge: Knowledge) -> None:
    state = turn(State(), Said(LINE), _with(_sure_of("leg_knocked=yes"), knowledge)).state
    (found,) = [f for f in state.found if f.name == "leg_knocked"]
    assert (found.value, found.weighed) == ("yes", True)


def test_plain_words_told_before_stay(knowledge: Knowledge) -> None:
    state = turn(State(), Said("the fuse is fine"), knowledge).state
    assert state.value("fuse_ok") == "yes"
    after = turn(state, Said(LINE), _with(_sure_of("fuse_ok=no"), knowledge)).state
    assert after.value("fuse_ok") == "yes"


def test_plain_words_go_before_what_weights_heard(knowledge: Knowledge) -> None:
    state = turn(State(), Said(LINE), _with(_sure_of("fuse_ok=no"), knowledge)).state
    assert state.value("fuse_ok") == "no"
    assert turn(state, Said("the fuse is fine"), knowledge).state.value("fuse_ok") == "yes"


def test_a_value_that_the_check_does_not_know_is_left_out(knowledge: Knowledge) -> None:
    assert (
        "fuse_ok" not in understand(LINE, None, _with(_sure_of("fuse_ok=perhaps"), knowledge).reader).findings
    )


def test_a_line_with_readings_or_a_sum_or_few_words_is_not_heard_by_weights(knowledge: Knowledge) -> None:
    reader = _with(_sure_of("leg_knocked=yes"), knowledge).reader
    for line in ("it was 12.4 V at rest as always", "will a 30 amp fuse hold at 45 amps", "as always was"):
        assert "leg_knocked" not in understand(line, None, reader).findings


def test_a_danger_of_the_weights_alone_is_raised(knowledge: Knowledge) -> None:
    meaning = understand(LINE, None, _with(_sure_of("danger", "danger: nose dropped"), knowledge).reader)
    assert meaning.dangers == ("nose dropped",)


def test_the_truck_leaving_is_judged_by_what_is_off_just_then(knowledge: Knowledge) -> None:
    reader = _with(_sure_of("danger", "danger: nose dropped"), knowledge).reader
    assert understand("just pulled the truck out", None, reader).dangers == ()
    assert understand("no truck here and it is coming down on the gravel", None, reader).dangers != ()


def test_words_of_danger_in_a_harmless_sense_are_left_alone(knowledge: Knowledge) -> None:
    """The patterns see a danger here; a table that is sure of the contrary goes before them."""
    line = "my dad is pinned under the nose"
    assert understand(line, None, knowledge.reader).dangers[0] == "person hurt"
    assert understand(line, None, _with(_sure_of(), knowledge).reader).dangers == ()


def test_without_a_table_the_patterns_decide(knowledge: Knowledge) -> None:
    meaning = understand("my dad is pinned under the nose", None, _with(Learned(), knowledge).reader)
    assert meaning.dangers[0] == "person hurt"


def test_a_doubtful_danger_is_asked_about_once(knowledge: Knowledge) -> None:
    every = ["danger", "danger: nose dropped"]
    doubtful = parsed(packed(every, [0.5, 1.0], [0.01] * 2, {}, "mark", {crc32(b"1never"): [(0, 1)]}))
    with_doubt = _with(doubtful, knowledge)
    first = turn(State(), Said(LINE), with_doubt)
    assert any("is the nose falling" in line.text.lower() for line in first.replies)
    assert first.state.alert == ""
    second = turn(turn(first.state, Said("no"), with_doubt).state, Said(LINE + " really"), with_doubt)
    assert not any("before anything else" in line.text.lower() for line in second.replies)


def _scoring(score: float, words: dict[str, int] | None = None) -> Learned:
    """A table that scores any line so, moved by single words."""
    table = {crc32(f"1{word}".encode()): [(0, weight)] for word, weight in (words or {}).items()}
    labels = ["danger", "danger: person hurt", "danger: nose dropped"]
    return parsed(packed(labels, [score, 1.0, 0.0], [1.0, 1.0, 1.0], {}, "mark", table))


def _dangers_of(line: str, table: Learned, knowledge: Knowledge) -> tuple[str, ...]:
    return understand(line, None, _with(table, knowledge).reader).dangers


def test_a_story_has_to_sound_more_like_danger_than_a_sentence(knowledge: Knowledge) -> None:
    story = f"{LINE} {LINE} {LINE}"
    assert len(LINE.split()) < LONG < len(story.split())
    between = (DANGER + LONG_DANGER) / 2
    assert _dangers_of(LINE, _scoring(between), knowledge) == ("person hurt",)
    assert _dangers_of(story, _scoring(between), knowledge) == ()
    assert _dangers_of(story, _scoring(LONG_DANGER + 0.1), knowledge) == ("person hurt",)
    assert understand(story, None, _with(_scoring(between), knowledge).reader).doubtful == "person hurt"


def test_a_line_that_measures_has_to_sound_more_like_danger(knowledge: Knowledge) -> None:
    reads = "12.4 volts at the battery with nothing on"
    assert understand(reads, None, knowledge.reader).readings
    assert _dangers_of(reads, _scoring(DANGER + READ / 2), knowledge) == ()
    assert _dangers_of(reads, _scoring(DANGER + READ + 0.1), knowledge) == ("person hurt",)


def test_nobody_is_hurt_speaks_for_no_danger_and_takes_none_away(knowledge: Knowledge) -> None:
    alarm = _scoring(0.5, {"hurt": 60, "flies": 60})
    assert _dangers_of("she is hurt out there by the front end", alarm, knowledge) == ("person hurt",)
    assert _dangers_of("the front end is as it was and nobody is hurt", alarm, knowledge) == ()
    assert _dangers_of("nobody is hurt", alarm, knowledge) == ()
    assert _dangers_of("nobody is hurt but the thing up front flies", alarm, knowledge) == ("person hurt",)
    for line in ("nobody around here he is hurt", "nobody helps me i am hurt out here"):
        assert _dangers_of(line, alarm, knowledge) == ("person hurt",)


SEEN = "the left leg squeals when it goes"  # a pattern sees this


def _finding(score: float, *labels: str) -> Learned:
    """A table that scores any line so for these labels."""
    every = ["danger", "danger: person hurt", "danger: nose dropped", *labels]
    bias = [-5.0, 0.0, 0.0, *([score] * len(labels))]
    return parsed(packed(every, bias, [0.01] * len(every), {}, "mark", {crc32(b"1never"): [(0, 1)]}))


def _found(line: str, table: Learned, knowledge: Knowledge) -> dict[str, str]:
    findings = understand(line, None, _with(table, knowledge).reader).findings
    return {name: value for name, (value, _) in findings.items()}


def test_a_line_that_tells_nothing_gives_no_finding_of_a_pattern(knowledge: Knowledge) -> None:
    assert _found(SEEN, _finding(-1.0, "nothing told", "squeals=yes"), knowledge)["squeals"] == "yes"
    assert _found(SEEN, _finding(NOTHING + 0.1, "nothing told", "squeals=yes"), knowledge) == {}
    measured = "12.4 volts at the battery with nothing on and the left leg squeals"
    assert _found(measured, _finding(NOTHING + 0.1, "nothing told"), knowledge)["squeals"] == "yes"


def test_a_short_line_that_speaks_of_another_thing_gives_no_finding_of_a_pattern(
    knowledge: Knowledge,
) -> None:
    assert _found(SEEN, _finding(SEEN_FINDING - 0.1, "squeals=yes"), knowledge) == {}
    assert _found(SEEN, _finding(SEEN_FINDING + 0.1, "squeals=yes"), knowledge)["squeals"] == "yes"
    long = f"{SEEN} and it did so all last week on the way down to the lake and back again"
    assert len(long.split()) > SHORT
    assert _found(long, _finding(SEEN_FINDING - 0.1, "squeals=yes"), knowledge)["squeals"] == "yes"


@pytest.mark.parametrize("label", ["hitched=no", "kingpin_locked=no", "support=unsure"])
def test_what_shuts_a_stop_is_heard_in_any_words(label: str, knowledge: Knowledge) -> None:
    name, value = label.split("=")
    assert _found(LINE, _sure_of(label), knowledge)[name] == value


def test_a_short_answer_is_not_weighed(knowledge: Knowledge) -> None:
    table = _finding(NOTHING + 1, "nothing told")
    assert _found("leg squeals", table, knowledge)["squeals"] == "yes"


def _by_words(weights: dict[str, int], *labels: str) -> Learned:
    """A table that knows single words alone; the weight of a word goes to the last label."""
    every = ["danger", "danger: person hurt", "danger: nose dropped", *labels]
    table = {crc32(f"1{word}".encode()): [(len(every) - 1, weight)] for word, weight in weights.items()}
    return parsed(
        packed(every, [-5.0, 0.0, 0.0, *([-1.0] * len(labels))], [1.0] * len(every), {}, "mark", table)
    )


def test_a_long_line_is_heard_by_its_parts(knowledge: Knowledge) -> None:
    table = _by_words({"quokka": 40}, "leg_knocked=yes")
    part = "the quokka thing went there"
    long = f"we drove all the way down to the lake in the rain last week, {part}, then home by the old road again"
    assert _found(part, table, knowledge)["leg_knocked"] == "yes"
    assert _found(long, table, knowledge)["leg_knocked"] == "yes"
    asked = long.replace(part, "is it bad when the quokka thing went there")
    assert "leg_knocked" not in _found(asked, table, knowledge)


def test_a_part_with_a_number_is_not_heard_by_weights(knowledge: Knowledge) -> None:
    table = _by_words({"quokka": 40}, "leg_knocked=yes")
    line = "we went down to the lake all day, the quokka thing had 12.4 volts there, then home again"
    assert "leg_knocked" not in _found(line, table, knowledge)


def test_the_whole_line_settles_a_yes_and_a_no(knowledge: Knowledge) -> None:
    line = "no the breaker has never tripped"
    assert "breaker_trips" in understand(line, None, _with(Learned(), knowledge).reader).clashes
    meaning = understand(line, None, _with(_sure_of("breaker_trips=no"), knowledge).reader)
    assert meaning.findings["breaker_trips"][0] == "no"
    assert "breaker_trips" not in meaning.clashes


@pytest.mark.parametrize(
    "line",
    [
        "motor only hums, it isn't hot and I don't see smoke",
        "smell? no. sparks? no. it is just dead",
        "no smoke and no smell here",
    ],
)
def test_smoke_that_is_denied_raises_nothing(line: str, knowledge: Knowledge) -> None:
    assert understand(line, None, knowledge.reader).dangers == ()


@pytest.mark.parametrize(
    "line",
    [
        "I can't see the fire but I smell burning",
        "it won't stop smoking",
        "I don't see smoke but it smells like burning plastic",
        "smoke is coming out, not much",
        "not hot a minute ago and now there is smoke everywhere",
        "not working, smoke coming out of the motor",
    ],
)
def test_smoke_beside_a_not_is_not_denied(line: str, knowledge: Knowledge) -> None:
    assert understand(line, None, knowledge.reader).dangers == ("smoke or runaway",)


@pytest.mark.parametrize("label", ["hitched=no", "support=unsure", "support=legs"])
def test_what_shuts_a_stop_never_falls(label: str, knowledge: Knowledge) -> None:
    """A stop leans on being hitched: who says otherwise is heard, whatever the rest of the line sounds like."""
    name, value = label.split("=")
    line = {
        "no": "we are not hitched to the truck",
        "unsure": "not sure what is holding it up",
        "legs": "it sits on its own legs",
    }[value]
    assert _found(line, _finding(-9.0, label), knowledge)[name] == value


def test_a_no_of_another_thing_takes_no_smoke_away(knowledge: Knowledge) -> None:
    meaning = understand("no power and smoke everywhere", None, knowledge.reader)
    assert "smoke or runaway" in (*meaning.dangers, meaning.doubtful)
