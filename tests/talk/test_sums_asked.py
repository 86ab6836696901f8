"""Sums asked for in words: the right sum, the inputs where they belong, the outside figure in the answer."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from bot.shells.session import replay
from bot.sums.catalogue import CATALOGUE
from bot.talk.asked import notes_of, wanted_sum
from bot.talk.danger import enter
from bot.talk.events import Event, Resumed, Said, Set, event_from_plain, event_to_plain
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from bot.talk.sum_told import work_out
from bot.talk.turn import Turn, turn
from bot.talk.understand import understand
from bot.talk.view import as_json
from tests.talk.test_total import _of_stage

ROWS = {
    row["id"]: row
    for row in json.loads((Path(__file__).parent.parent / "sums" / "rows.json").read_text(encoding="utf-8"))
}


def outside(row: str, part: str | int | None = None) -> Any:
    """The outside value of a row; its source stands in the row."""
    assert ROWS[row]["source"]
    value = ROWS[row]["expected"]
    return value if part is None else value[part]


def say(lines: list[str], knowledge: Knowledge, state: State | None = None, wording: str = "tech") -> Turn:
    """The last of the turns that these lines lead to."""
    done = Turn(state or State(wording=wording), ())
    for line in lines:
        done = turn(done.state, Said(line), knowledge)
    return done


def text_of(done: Turn) -> str:
    return "\n".join(line.text for line in done.replies)


def figure_after(name: str, text: str) -> float:
    """The figure that stands behind a name in the answer."""
    found = re.search(re.escape(name) + r": ?(?:from )?(-?[\d.]+)", text, re.I)
    assert found, f"{name} is not in:\n{text}"
    return float(found.group(1))


# (line, sum, name of the figure, outside value, relative tolerance). The row names its source.
ASKED = [
    ("work out the bolt torque for 1/2 inch grade 5 dry", "bolts", "torque", outside("K-05", 1), 0.01),
    ("what is the torque of a 1/2-13 grade 8 bolt", "bolts", "torque", outside("K-05", 2), 0.01),
    ("torque 1/2-13 grade 8", "bolts", "torque", outside("K-05", 2), 0.01),
    ("what torque for 1/2 grade 2 bolts, plain", "bolts", "torque", outside("K-05", 0), 0.01),
    ("what torque for 3/4-10 grade 5 bolts, plain", "bolts", "torque", outside("K-06", 4), 0.01),
    ("sum harness gauge=10 length=18ft amps=30", "harness", "drop", outside("W-22", "volts"), 0.05),
    ("what is the voltage drop of 10 awg, 18 ft, 30 A", "harness", "drop", outside("W-22", "volts"), 0.05),
    ("what pad for 1820 lb", "foot", "pad side wanted", outside("G-05", "side_in"), 0.001),
    ("what pad do I need for 1820 lb on clay", "foot", "pad side wanted", outside("G-05", "side_in"), 0.001),
    ("can I lift a 60 lb leg alone", "carry", "one person may lift", outside("Y-10", "RWL_lb"), 0.01),
    (
        "how much weight is on the legs, pin 2800 lb, pin to axles 26 ft, pin to legs 6 ft",
        "leg-load", "both legs", outside("L-11", "legs_total"), 0.001,
    ),
    ("sum leg-load gross=14000 lb pin=2800 lb pin-to-axles=26 ft pin-to-legs=6 ft moved=500 lb from=4 ft to=22 ft",
     "leg-load", "both legs", outside("L-12", "legs_total"), 0.001),
    (
        "sum screw load=1820 lb diameter=1 in threads=5 friction=0.15 crank=8 in", "screw",
        "torque to raise", outside("S-15", "raise_lb_in")[1], 0.001,
    ),
    ("sum shaft diameter=3/4 in torque=600 lb-in pin=slotted pin-size=3/16 in", "shaft", "pin shears at",
     outside("T-11", "lb_in"), 0.001),
    ("sum battery rest=12.24 V loaded=12 amps=30", "battery", "charge", 50, 0.02),  # B-01: 12.24 V is 50 %
    (
        "sum battery rest=12.6 V loaded=12.2187 V amps=25.42", "battery", "inner resistance",
        outside("B-10") / 1000, 0.01,
    ),
    (
        "sum motor-point battery=12.6 gauge=10 length=18 ft torque=1.2 N.m constant=0.04 winding=0.12 ohm",
        "motor-point", "speed", outside("M-12", "rpm"), 0.02,
    ),
    (
        "sum path battery=12.1 motor=6.8 ground=4.4 amps=30", "path", "lost on the ground side", 4.4, 1e-9,
    ),  # told as it was read
    ("will a 30 amp fuse hold at 45 amps for 40 seconds", "fuse-time", "share of rating", 150, 0.001),  # 45 / 30
    ("how much do two stands carry with 2400 lb on them, rated 6000 lb each", "stand", "load on each", 1200, 0.001),
    ("how many turns to retime 3/4 inch at 6 turns an inch", "retime", "turns to the half", 4.5, 1e-9),
    ("can the legs lift 3640 lb, each leg rated 2500 lb", "lift-margin", "share of rating", 72.8, 0.001),
    ("sum leg-fit lowest=14 in highest=26 in stroke=13 in", "leg-fit", "stroke wanted", 12, 1e-9),  # 26 - 14
]  # fmt: skip


@pytest.mark.parametrize(("line", "name", "figure", "value", "off"), ASKED, ids=[a[0][:50] for a in ASKED])
def test_sum_asked_in_words_gives_the_outside_figure(
    line: str, name: str, figure: str, value: float, off: float, knowledge: Knowledge
) -> None:
    assert wanted_sum(understand(line, None, knowledge.reader)) == name
    done = say([line], knowledge)
    assert done.state.sum is None, text_of(done)
    assert figure_after(figure, text_of(done)) == pytest.approx(float(value), rel=off)


def test_every_sum_can_be_asked_by_its_name_and_by_words(knowledge: Knowledge) -> None:
    by_words = {wanted_sum(understand(line, None, knowledge.reader)) for line, *_ in ASKED}
    assert by_words >= set(CATALOGUE)
    for name in CATALOGUE:
        assert wanted_sum(understand(f"sum {name}", None, knowledge.reader)) == name


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_the_figures_that_lead_an_answer_are_figures_of_that_sum(name: str, knowledge: Knowledge) -> None:
    """Typed as the example of the help, every sum answers, and at least its first leading figure is there."""
    one = CATALOGUE[name]
    words = [w if w.startswith("--") else f'"{w}"' for w in one.example]
    done = say([f"sum {name} " + " ".join(words)], knowledge)
    for _ in range(4):
        if done.state.sum is None:
            break
        done = turn(done.state, Said("skip"), knowledge)
    assert done.state.sum is None, text_of(done)
    assert done.state.last_sum is not None, text_of(done)
    result = work_out(name, done.state.last_sum.given)
    assert not isinstance(result, str), result
    leads = [part.strip() for part in notes_of(name, knowledge)["leads"].split(",")]
    names = {value.name for value in result.values}
    assert leads[0] in names
    assert figure_after(leads[0], text_of(done)) == pytest.approx(result.value(leads[0]), rel=5e-3)


def test_the_fuse_and_the_current_are_never_taken_for_each_other(knowledge: Knowledge) -> None:
    for line in (
        "will a 30 amp fuse hold at 45 amps",
        "will the 30 A fuse blow at 45 A",
        "at 45 amps, will a 30 amp fuse blow",
        "does a 30 A breaker trip at 45 A",
        "how long does a 30 amp fuse last at 45 amps",
        "sum fuse-time amps=45 rating=30",
    ):
        done = say([line, "40 s"], knowledge)
        assert figure_after("share of rating", text_of(done)) == pytest.approx(150), line


@pytest.mark.parametrize("wording", ["owner", "phone", "tech"])
def test_what_is_missing_is_asked_one_at_a_time_and_then_answered(wording: str, knowledge: Knowledge) -> None:
    done = say(["how much does the screw hold by itself"], knowledge, wording=wording)
    asked = []
    for answer in ("1820 lb", "1 in", "5", "skip"):
        assert done.state.sum is not None
        asked.append(done.state.sum.asking)
        shown = as_json(done.state, done.replies, knowledge)["asking"]
        assert shown["finding"] == f"sum screw: {done.state.sum.asking}"
        done = turn(done.state, Said(answer), knowledge)
    assert asked == ["load", "diameter", "threads", "crank"]
    assert done.state.sum is None
    # Greased, 0.15 in the middle: S-15 of the outside rows.
    assert figure_after("torque to raise", text_of(done)) == pytest.approx(
        outside("S-15", "raise_lb_in")[1], rel=1e-3
    )
    assert "Assumed: " in text_of(done)
    assert "What would narrow it most: " in text_of(done)
    assert "Source: " in text_of(done)


def test_several_inputs_in_one_answer_are_all_taken(knowledge: Knowledge) -> None:
    done = say(["what wire do I need", "22 ft at 30 A, 12 awg"], knowledge)
    assert done.state.sum is None
    assert "(12 AWG)" in text_of(done)
    assert "22 ft" in text_of(done)
    assert "the gauge was not given" not in text_of(done)


def test_what_the_case_knows_is_filled_in_and_named(knowledge: Knowledge) -> None:
    start = ["the legs are slow", "legs", "30 amps lifting through 10 awg 22 ft"]
    done = say([*start, "what wire do I need"], knowledge, wording="owner")
    shown = text_of(done)
    assert done.state.sum is None
    assert "From what you told: gauge 10 AWG; length 22 ft; amps 30 A" in shown
    assert "Still open" in shown, "the question of the case comes again"


def test_load_on_the_legs_comes_from_the_weights_of_the_case(knowledge: Knowledge) -> None:
    done = say(
        ["legs wont lift, pin weight 2800 lb", "what pad do I need on clay"], knowledge, wording="phone"
    )
    shown = text_of(done)
    # 2800 lb x 26 / 20 / 2 = 1820 lb (L-11), which wants 13.22 in (G-05).
    assert "1820 lb" in shown
    assert "worked out from the pin weight" in shown
    assert figure_after("pad side wanted", shown) == pytest.approx(outside("G-05", "side_in"), rel=5e-3)


@pytest.mark.parametrize(
    "line",
    [
        "what do two stands carry",
        "will two stands hold it",
        "how much do two stands carry",
        "caller wants to know if stands hold it",
        "how big a pad on mud",
    ],
)
def test_a_question_about_stands_or_pads_says_nothing_of_what_holds_the_nose(
    line: str, knowledge: Knowledge
) -> None:
    before = say(["legs wont come up", "hitched"], knowledge).state
    after = say([line], knowledge, before).state
    assert after.support == before.support == "hitched"
    assert after.findings() == before.findings()


@pytest.mark.parametrize("line", ["what pad for a 14000 lb trailer", "what pad with 2800 lb on the pin"])
def test_the_weight_of_the_trailer_is_not_the_load_on_a_leg(line: str, knowledge: Knowledge) -> None:
    for lines in ([line], ["what pad do I need", line.removeprefix("what pad ")]):
        shown = text_of(say(lines, knowledge))
        # 20 % of 14000 lb is 2800 lb on the pin, 1820 lb on each leg (L-11), which wants 13.22 in (G-05).
        assert figure_after("pad side wanted", shown) == pytest.approx(outside("G-05", "side_in"), rel=5e-3)
        assert "worked out from" in shown


def test_a_weight_without_a_name_is_the_gross_weight_of_a_leg_load(knowledge: Knowledge) -> None:
    shown = text_of(say(["how much weight is on the legs of a 14000 lb rig"], knowledge))
    # to the hundred: 15 to 25 % of the gross weight on the pin makes it 2400 to 5900
    assert figure_after("both legs", shown) == pytest.approx(outside("L-11", "legs_total"), abs=50)
    bare = text_of(say(["what is the load on the legs with 14000 lb"], knowledge))
    assert figure_after("both legs", bare) == pytest.approx(outside("L-11", "legs_total"), abs=50)


def test_the_same_answer_again_is_said_in_a_line(knowledge: Knowledge) -> None:
    done = say(
        ["legs slow", "38 amps with the button held", "30 amp fuse", "the lift takes 50 seconds"], knowledge
    )
    assert done.state.told
    assert "With that, the same" in text_of(done)
    assert "Assumed" not in text_of(done)


def test_figures_of_an_asked_sum_are_no_findings(knowledge: Knowledge) -> None:
    for line in (
        "what pad for 2500 lb",
        "what wire do I need for 22 ft at 30 A",
        "can I lift a 60 lb leg alone",
    ):
        state = say([line], knowledge).state
        assert state.findings() == {}, line
        assert state.helper is None, line


def test_the_rest_of_the_line_is_still_heard(knowledge: Knowledge) -> None:
    done = say(["One motor, it just clicks. What wire do I need for 22 ft at 30 A?"], knowledge)
    assert done.state.value("gear") == "one_motor"
    assert done.state.value("button_response") == "clicks"
    assert done.state.value("wire_length_ft") is None
    assert (
        figure_after("gauge wanted", text_of(done)) == 8
    )  # W-25: 9675 cmil for 18 ft; 11825 for 22 ft is 8 AWG


def test_skip_takes_what_is_assumed_and_says_so(knowledge: Knowledge) -> None:
    done = say(["what wire do I need", "skip", "don't know"], knowledge)
    assert "the length was not given" in text_of(done) or "the gauge" in text_of(done)


def test_what_cannot_be_assumed_is_not_skipped(knowledge: Knowledge) -> None:
    done = say(["sum carry", "skip"], knowledge)
    assert done.state.sum is not None
    assert "cannot do without" in text_of(done)


def test_leave_it_drops_the_sum_and_the_case_goes_on(knowledge: Knowledge) -> None:
    before = say(["legs wont come up, it just clicks"], knowledge).state
    for words in ("leave it", "never mind", "forget it"):
        done = say(["what wire do I need", words], knowledge, before)
        assert done.state.sum is None
        assert done.state.asking == before.asking
        assert done.state.findings() == before.findings()
        assert not done.wants, "leave it leaves the sum, not the conversation"


def test_three_answers_without_a_figure_leave_the_sum(knowledge: Knowledge) -> None:
    done = say(["sum carry", "hm", "potato", "potato"], knowledge)
    assert done.state.sum is None


def test_a_figure_beyond_the_limits_is_asked_again(knowledge: Knowledge) -> None:
    done = say(["sum carry", "9000 lb"], knowledge)
    assert done.state.sum is not None
    assert "outside" in text_of(done)


def test_a_finding_while_a_sum_is_open_is_taken_and_the_sum_is_left(knowledge: Knowledge) -> None:
    before = say(["legs wont come up"], knowledge).state
    done = say(["sum carry", "the fuse is blown"], knowledge, before)
    assert done.state.sum is None
    assert done.state.value("fuse_ok") == "no"


def test_yes_to_a_sum_is_no_answer_to_the_case(knowledge: Knowledge) -> None:
    state = say(["legs wont come up", "legs", "one motor", "silent"], knowledge).state
    done = say(["sum carry", "yes"], knowledge, state)
    assert done.state.findings() == state.findings()
    assert done.state.sum is not None


def test_back_leads_out_of_a_sum_and_into_its_question_before(knowledge: Knowledge) -> None:
    state = say(["legs wont come up"], knowledge).state
    one = say(["what wire do I need", "22 ft"], knowledge, state).state
    assert one.sum is not None
    assert one.sum.asking == "amps"
    back = say(["back"], knowledge, one).state
    assert back.sum is not None
    assert back.sum.asking == "length"
    assert say(["back"], knowledge, back).state.sum is None


# --- stops and dangers stay in front --------------------------------------------------------------------


@pytest.mark.parametrize(
    "line",
    [
        "what wire do I need for 22 ft at 30 A",
        "how much does the screw hold by itself",
        "sum carry weight=60 lb",
        "work out the bolt torque for 1/2 inch grade 5 dry",
    ],
)
def test_at_a_stop_a_sum_is_text_and_the_stop_stands_as_it_stood(line: str, knowledge: Knowledge) -> None:
    held = _of_stage(Stage.HELD, knowledge)
    done = turn(held, Said(line), knowledge)
    assert done.state.stage is Stage.HELD
    assert done.state.walk == held.walk
    assert done.state.asking == held.asking
    assert done.state.sum is None
    assert done.state.findings() == held.findings()
    stop = turn(held, Said("hm"), knowledge)
    last = [line.text for line in done.replies if line.role == "hold"]
    assert last, "the stop is repeated"
    assert any(text in text_of(stop) or text.split(". ", 1)[1][:40] in text_of(stop) for text in last)


def test_a_yes_beside_a_sum_opens_no_stop(knowledge: Knowledge) -> None:
    held = _of_stage(Stage.HELD, knowledge)
    assert held.walk is not None
    for line in (
        "yes. what wire do I need for 22 ft at 30 A",
        "what pad for 2500 lb? yes",
        "sum carry weight=60 lb. yes",
    ):
        done = turn(held, Said(line), knowledge)
        assert done.state.walk is not None
        assert done.state.walk.opened <= held.walk.opened, line


def test_a_truck_that_leaves_is_heard_beside_a_sum_at_a_stop(knowledge: Knowledge) -> None:
    held = _of_stage(Stage.HELD, knowledge)
    alone = turn(held, Said("just pulled the truck out"), knowledge).state
    beside = turn(held, Said("just pulled the truck out. what pad for 2500 lb?"), knowledge).state
    assert beside.stage == alone.stage
    assert beside.support == alone.support


def test_danger_comes_before_a_sum_and_drops_an_open_one(knowledge: Knowledge) -> None:
    opened = say(["legs wont come up", "sum carry"], knowledge).state
    assert opened.sum is not None
    done = turn(opened, Said("the nose just fell"), knowledge)
    assert done.state.stage is Stage.DANGER
    assert done.state.sum is None
    both = turn(State(), Said("the nose just fell. what pad for 2500 lb?"), knowledge)
    assert both.state.stage is Stage.DANGER
    assert "pad side" not in text_of(both)


def test_in_danger_no_sum_is_told(knowledge: Knowledge) -> None:
    state = enter(say(["legs wont come up"], knowledge).state, "nose dropped").state
    done = turn(state, Said("what pad for 2500 lb"), knowledge)
    assert done.state.stage is Stage.DANGER
    assert "pad side" not in text_of(done)


def test_at_a_step_the_step_is_shown_again_behind_the_sum(knowledge: Knowledge) -> None:
    step = _of_stage(Stage.REPAIRING, knowledge)
    done = turn(step, Said("what pad for 2500 lb"), knowledge)
    assert done.state.walk == step.walk
    assert done.state.asking == step.asking
    assert "Step" in text_of(done)
    open_sum = turn(step, Said("sum carry"), knowledge).state
    # "Done" is said to the step only where the step was the last thing shown.
    left = turn(open_sum, Said("done"), knowledge)
    assert left.state.sum is None
    assert left.state.walk == step.walk
    assert "Step" in text_of(left)


# --- events ---------------------------------------------------------------------------------------------

TALK = [
    "legs are slow, pin weight 2800 lb",
    "legs",
    "what wire do I need",
    "22 ft",
    "back",
    "22 ft",
    "30 A",
    "each leg is rated 2500 lb",
    "a longer wire blows fuses",
    "draw it",
    "sum screw",
    "1820 lb",
    "why",
    "leave it",
    "battery 12.4 at rest",
]


def test_a_talk_with_sums_replays_to_the_same_state(knowledge: Knowledge) -> None:
    state = State(wording="owner")
    later: list[Event] = [Set("drawings", "off"), Said("sum carry"), Resumed("2026-01-01T00:00:00Z")]
    for event in [*map(Said, TALK), *later]:
        state = turn(state, event, knowledge).state
    assert state.sum is None, "a sum that was open is dropped when a case is taken up"
    written: list[Event] = [event_from_plain(event_to_plain(e)) for e in state.log]
    assert replay(tuple(written), knowledge, State(wording="owner")) == state


# --- set off by findings --------------------------------------------------------------------------------


def test_lift_margin_is_told_once_load_and_rating_are_known(knowledge: Knowledge) -> None:
    done = say(["legs wont lift, gross 14000 lb, pin weight 2800 lb", "each leg is rated 2500 lb"], knowledge)
    assert done.state.value("gross_weight_lb") == 14000, "a rating is no weight of the trailer"
    shown = figure_after("share of rating", text_of(done))
    assert shown == pytest.approx(
        72.8, abs=0.5
    )  # as fine as its range of some percent; 1820 lb (L-11) of 2500 lb


def test_fuse_time_is_told_once_amps_and_rating_are_known(knowledge: Knowledge) -> None:
    done = say(["legs slow", "45 amps with the button held", "30 amp fuse"], knowledge)
    assert figure_after("share of rating", text_of(done)) == pytest.approx(150)
    assert "Verdict: can't be told" in text_of(done)


def test_harness_is_told_to_a_tech_once_gauge_length_and_amps_are_known(knowledge: Knowledge) -> None:
    lines = ["legs slow", "10 awg, 18 ft long", "30 amps with the button held"]
    wanted = outside("W-25", "awg_by_AWG_area")[1]  # 18 ft each way at 30 A, 10 % lost
    assert f"Gauge wanted: {wanted} AWG" in text_of(say(lines, knowledge))
    assert "Gauge wanted" not in text_of(say(lines, knowledge, wording="owner"))


def test_battery_is_told_once_rest_and_loaded_volts_are_known(knowledge: Knowledge) -> None:
    done = say(
        [
            "legs slow",
            "25.42 amps with the button held",
            "battery 12.6 V at rest",
            "12.2187 V at the battery with the button held",
        ],
        knowledge,
    )
    assert figure_after("inner resistance", text_of(done)) == pytest.approx(outside("B-10") / 1000, rel=0.01)


def test_motor_point_is_told_once_two_points_are_known(knowledge: Knowledge) -> None:
    # Two points of a motor of k 0.04 N.m/A and 0.12 ohm: by w = (U - I R) / k, 5 A at 12 V is 2721.6 rpm.
    done = say(
        ["legs slow", "battery 12.6 at rest", "10 awg, 18 ft long", "30 amps with the button held",
         "it draws 5 A at 12 V and 2721.6 rpm, and 30 A at 10.7713 V and 1712 rpm"],
        knowledge,
    )  # fmt: skip
    assert figure_after("speed", text_of(done)) == pytest.approx(outside("M-12", "rpm"), rel=0.02)


def test_retime_is_told_once_the_difference_is_said(knowledge: Knowledge) -> None:
    done = say(["the legs are 3/4 in apart"], knowledge, wording="owner")
    assert "turns = difference x turns an inch" in text_of(done)
    assert "count ten turns" in text_of(done)


def test_no_sum_is_told_twice_with_the_same_inputs(knowledge: Knowledge) -> None:
    first = say(["legs slow", "45 amps with the button held", "30 amp fuse"], knowledge)
    again = turn(first.state, Said("45 amps with the button held, 30 amp fuse"), knowledge)
    assert "Share of rating" not in text_of(again)
    asked = turn(say(["what pad for 2500 lb"], knowledge).state, Said("what pad for 2500 lb"), knowledge)
    assert "As worked out before" in text_of(asked)
    assert "Assumed" not in text_of(asked)


def test_only_one_sum_is_told_a_turn(knowledge: Knowledge) -> None:
    done = say(
        ["14k lbs gross, 2800 lb on the pin, 45 amps lifting thru 8 awg 22 ft, 30 amp fuse, one motor"],
        knowledge,
    )
    assert len([line for line in done.replies if line.text.startswith("Assumed:")]) == 1


# --- wrong rules of thumb -------------------------------------------------------------------------------

FOLK = [
    ("a longer wire blows fuses", "does not by itself blow the fuse"),
    ("the legs carry the pin weight", "more than the pin weight"),
    ("a 30 A fuse opens at 30 A", "has to carry that for hours"),
]


@pytest.mark.parametrize(("line", "put_right"), FOLK)
@pytest.mark.parametrize("wording", ["owner", "phone", "tech"])
def test_a_wrong_rule_is_put_right_once_and_is_no_finding(
    line: str, put_right: str, wording: str, knowledge: Knowledge
) -> None:
    before = say(["legs wont come up"], knowledge, wording=wording).state
    once = turn(before, Said(line), knowledge)
    assert put_right in text_of(once)
    assert "What to do: " in text_of(once)
    assert once.state.findings() == before.findings()
    twice = turn(once.state, Said(line), knowledge)
    assert put_right not in text_of(twice)


def test_a_wrong_rule_about_this_trailer_is_put_right_and_the_finding_stays(knowledge: Knowledge) -> None:
    done = say(["legs wont come up", "my fuse blew because the wire is too long"], knowledge)
    assert done.state.value("fuse_ok") == "no"
    assert "does not by itself blow the fuse" in text_of(done)


def test_a_fuse_that_blows_at_other_amps_is_no_wrong_rule(knowledge: Knowledge) -> None:
    done = say(["legs wont come up", "the 30 A fuse blows at 45 A"], knowledge)
    assert "has to carry that for hours: " not in text_of(done)
    assert done.state.corrected == ()


# --- drawings and units ---------------------------------------------------------------------------------


def test_a_tech_gets_the_drawing_and_an_owner_when_asked(knowledge: Knowledge) -> None:
    line = "sum harness gauge=10 length=22ft amps=30"
    assert "battery plus" in text_of(say([line], knowledge))
    owner = say([line], knowledge, wording="owner")
    assert "battery plus" not in text_of(owner)
    assert "battery plus" in text_of(turn(owner.state, Said("draw it"), knowledge))


def test_amps_that_it_draws_are_a_reading_and_no_wish_for_a_drawing(knowledge: Knowledge) -> None:
    state = say(["legs slow", "sum carry weight=40 lb"], knowledge).state
    done = turn(state, Said("draws 27 amps"), knowledge)
    assert done.state.value("amps") == 27
    assert not [line for line in done.replies if line.role == "drawing"]


def test_nothing_is_drawn_for_a_screen_reader(knowledge: Knowledge) -> None:
    state = State(wording="tech", drawings="off")
    done = say(["sum harness gauge=10 length=22ft amps=30"], knowledge, state)
    drawn = turn(done.state, Said("draw it"), knowledge)
    for turned in (done, drawn):
        assert "###" not in text_of(turned)
        assert not [line for line in turned.replies if line.role == "drawing"]
    assert "battery plus: 12 V" in text_of(drawn), "what would be drawn is told"
    spoken = say(["I use a screen reader", "sum harness gauge=10 length=22ft amps=30"], knowledge)
    assert "###" not in text_of(spoken)


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_no_sum_of_a_conversation_uses_box_characters(name: str, knowledge: Knowledge) -> None:
    words = [w if w.startswith("--") else f'"{w}"' for w in CATALOGUE[name].example]
    shown = text_of(say([f"sum {name} " + " ".join(words), "draw it"], knowledge))
    assert not [c for c in shown if 0x2500 <= ord(c) <= 0x259F]


def test_the_persons_units_come_first(knowledge: Knowledge) -> None:
    line = "what pad for 1134 kg"
    us = text_of(say([line], knowledge))
    metric = text_of(say([line], knowledge, State(wording="tech", units="metric")))
    assert figure_after("pad side wanted", us) == pytest.approx(
        figure_after("pad side wanted", metric) / 25.4, rel=1e-3
    )
