"""What a person at the other end would trip over: figures in the wrong family, things told twice, a fault called sound."""

from __future__ import annotations

from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from bot.talk.turn import turn
from bot.talk.understand import understand
from bot.talk.view import power_path
from tests.safety.walking import offered
from tests.talk.saying import said, text_of


def test_who_measures_in_metric_is_answered_in_metric(knowledge: Knowledge) -> None:
    """5 t is 5000 kg (SI brochure: 1 t = 1000 kg)."""
    done = said(["front legs wont lift it, the trailer weighs 5 tonne"], knowledge)
    assert done.state.units == "metric"
    assert "5000 kg" in text_of(done)
    assert "lb" not in text_of(done)


def test_a_later_metric_reading_changes_no_family(knowledge: Knowledge) -> None:
    done = said(["trailer weighs 14000 lb, legs click", "outer tube is 57 mm"], knowledge)
    assert done.state.units == "us"


def test_a_gross_weight_alone_tells_an_owner_no_sum(knowledge: Knowledge) -> None:
    assert "legs = pin x L" not in text_of(said(["legs are slow, trailer is 14000 lb"], knowledge))
    tech = said(["legs are slow, trailer is 14000 lb"], knowledge, State(wording="tech"))
    assert "legs = pin x L" in text_of(tech)


def test_a_link_with_a_fault_told_of_is_never_shown_as_sound(knowledge: Knowledge) -> None:
    lines = ["motor runs but neither leg moves", "hitched, jaws locked", "one motor", "the pin is missing"]
    path = {link.name: link.state for link in power_path(said(lines, knowledge).state, knowledge)}
    assert path["cross shaft"] == "suspect"


def test_a_verdict_that_nothing_changed_is_told_short(knowledge: Knowledge) -> None:
    lines = ["legs click only", "legs", "one motor", "lights go dim", "12.6 V at rest, 12.4 with the button held",
             "4 V at the motor, 6 V on the ground side"]  # fmt: skip
    done = said(lines, knowledge)
    while done.state.stage is Stage.ASKING:
        done = turn(done.state, Said("don't know"), knowledge)
    assert done.state.stage is Stage.OFFERED
    again = turn(done.state, Said("hitched"), knowledge)
    assert "Still most likely" in text_of(again)
    assert "For it:" not in text_of(again)


def test_a_word_of_steering_is_no_size_of_a_bolt(knowledge: Knowledge) -> None:
    done = said(["legs click", "work out the bolt torque"], knowledge)
    assert done.state.sum is not None
    assert done.state.sum.asking == "size"
    assert said(["back"], knowledge, done.state).state.sum is None


def test_a_yes_to_a_sum_opens_no_stop(knowledge: Knowledge) -> None:
    """Back to a state whose sum was open: its stops are shut, and what is asked is the stop, not the sum."""
    page = knowledge.procedures["take-the-lead-leg-off-and-put-it-back"]
    state = offered(page, "one_motor", "legs")
    for _ in range(60):
        state = turn(state, Said("yes"), knowledge).state
        if state.stage is Stage.REPAIRING and state.walk and state.walk.opened:
            break
    done = said(["work out the bolt torque", "yes", "back"], knowledge, state)
    assert done.state.stage is Stage.HELD
    assert done.state.sum is None
    assert "HOLD" in text_of(done)
    assert done.state.walk is not None
    assert done.state.walk.opened == frozenset()


def test_what_only_the_weights_heard_changes_nothing_told_before(knowledge: Knowledge) -> None:
    """A correction of a reading names the motor and says no: what gear it is was told in plain words before."""
    lines = [
        "legs only hum",
        "hitched",
        "one motor",
        "motor gets 5.1 V with the button held",
        "no sorry 9.8 at the motor",
    ]
    state = said(lines, knowledge).state
    assert state.value("gear") == "one_motor"
    assert state.value("volts_motor_loaded") == 9.8


def test_volts_without_a_place_are_asked_for_one(knowledge: Knowledge) -> None:
    assert "where" in understand("it shows 12,4 volt", None, knowledge.reader).unread
    assert understand("12.4 at rest", None, knowledge.reader).unread == ""


def test_a_joining_word_says_in_what_state_it_was_read(knowledge: Knowledge) -> None:
    assert (
        said(["legs only click, 12,4 volt when sitting"], knowledge).state.value("volts_battery_resting")
        == 12.4
    )
