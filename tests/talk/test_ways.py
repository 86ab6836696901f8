"""Two readings of one place, one for each way of the legs: the way in trouble is taken down."""

import pytest

from bot.talk.knowledge import Knowledge
from bot.talk.understand import understand


@pytest.mark.parametrize(
    ("line", "finding", "volts"),
    [
        ("relay puts out 12.4 V going up and 0.3 V going down", "volts_relay_out", 0.3),
        ("relay puts out 0.3 V extending and 12.4 V retracting", "volts_relay_out", 0.3),
        ("from the controller I get 11.9 on retract but 2.1 on extend", "volts_relay_out", 2.1),
        ("12 volts on the relay posts pressing extend, zero pressing retract", "volts_relay_out", 0),
        ("controller gives 12.1 V going up and nothing going down", "volts_relay_out", 0),
        ("at the motor 11.9 down, 4.2 up", "volts_motor_loaded", 4.2),
    ],
)
def test_the_lower_of_the_two_ways_is_taken(
    line: str, finding: str, volts: float, knowledge: Knowledge
) -> None:
    readings = {t.finding: t.value for t in understand(line, None, knowledge.reader).readings}
    assert readings == {finding: volts}


def test_a_relay_that_gives_out_one_way_only_is_taken_down(knowledge: Knowledge) -> None:
    meaning = understand("controller gives 12.2 going up, 0.4 going down", None, knowledge.reader)
    assert meaning.findings["one_direction_only_at_relay"][0] == "yes"
    even = understand("controller gives 12.2 going up, 11.9 going down", None, knowledge.reader)
    assert "one_direction_only_at_relay" not in even.findings


def test_two_readings_with_no_way_named_are_not_guessed_at(knowledge: Knowledge) -> None:
    readings = understand(
        "motor shows 11.9 V, motor shows 4.2 V with the button held", None, knowledge.reader
    ).readings
    assert "volts_motor_loaded" not in {t.finding for t in readings}


def test_other_places_keep_their_own_reading(knowledge: Knowledge) -> None:
    line = "battery 12.6, motor 9 going up, relay out 11 going down"
    readings = {t.finding: t.value for t in understand(line, None, knowledge.reader).readings}
    assert readings["volts_motor_loaded"] == 9
    assert readings["volts_relay_out"] == 11


def test_the_weight_of_the_nose_is_what_the_pin_carries(knowledge: Knowledge) -> None:
    """Taken for the whole trailer it would make the stands look five times as strong as they have to be."""
    for line in ("nose is like 3 tonnes i think", "about 3 tonnes on the nose"):
        (reading,) = understand(line, None, knowledge.reader).readings
        assert reading.finding == "pin_weight_lb"
        assert reading.value == pytest.approx(3000 / 0.45359237)  # NIST SP 811: 1 lb = 0.45359237 kg exactly
