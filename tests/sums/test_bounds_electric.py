"""Battery, fuse, path, harness and motor exactly at their bounds and just beside them."""

from math import pi

import pytest

from bot.problems import Contradiction, NotEnough
from bot.sums.battery import _word, battery, lead_charge_percent, lithium_charge_percent
from bot.sums.copper import gauge_for
from bot.sums.fuses import fuse_time, pulse_a2s, sound_fuse_drop_v
from bot.sums.motor_point import motor_point
from bot.sums.motors import (
    Motor,
    at_torque,
    constant_power_a,
    from_rated_point,
    from_two_points,
    two_on_one_feed,
)
from bot.sums.path import path
from bot.sums.result import Result
from bot.sums.spans import Span, exact
from bot.sums.wire import harness

#: 10 AWG solid at 20 C [ohm/ft]: 10.371 / 10383.02 (copper of 100 % IACS, ASTM B258 area).
OHM_FT = 10.371 / 10_383.02
SOLID = {"gauge_awg": 10, "stranded": False, "temp_f": 68.0}

# --- battery ------------------------------------------------------------------------------------------


def test_charge_below_a_quarter_goes_down_to_the_first_tables_empty() -> None:
    # 11.95 V between empty at 11.89 V and the quarter of each table, 12.06, 12.15 and 12.00 V.
    found = lead_charge_percent(11.95)
    assert found.value == pytest.approx(25 * 0.06 / 0.17)
    assert found.low == pytest.approx(25 * 0.06 / 0.26)
    assert found.high == pytest.approx(25 * 0.06 / 0.11)


def test_lithium_chart_is_good_to_two_tenths_of_a_volt() -> None:
    # The chart has 13.0 V at 30 %, 13.2 V at 40 % and 13.4 V at 90 %.
    assert lithium_charge_percent(13.2) == pytest.approx((30, 40, 90))


@pytest.mark.parametrize(
    ("percent", "word"),
    [(100, "full"), (90, "full"), (89.9, "part"), (50, "part"), (49.9, "low"), (20, "low"), (19.9, "empty")],
)
def test_words_of_the_charge_change_at_90_50_and_20(percent: float, word: str) -> None:
    assert _word(exact(percent)) == word


def test_acid_is_spoken_of_below_the_freezing_of_water() -> None:
    assert not any("freezes" in note for note in battery(12.0, temp_f=32).notes)
    assert any("freezes" in note for note in battery(12.0, temp_f=31).notes)


# --- fuse ---------------------------------------------------------------------------------------------


def test_pulse_is_square_unless_told() -> None:
    assert pulse_a2s(100, 0.01) == pytest.approx(100)


def test_sound_fuse_may_drop_more_up_to_20_a() -> None:
    # DIN 72581-3: 125 mV to 20 A, 100 mV above.
    assert [sound_fuse_drop_v(rating) for rating in (20, 21)] == [0.125, 0.100]


@pytest.mark.parametrize("given", [{"amps": 40.0}, {"rating_a": 30.0}], ids=["amps", "rating"])
def test_fuse_wants_amps_and_rating_both(given: dict[str, float]) -> None:
    with pytest.raises(NotEnough, match="rating printed on the fuse"):
        fuse_time(**given)  # type: ignore[arg-type]


def test_share_of_the_rating_has_three_per_cent_of_the_meter() -> None:
    found = fuse_time(30, 40, "large blade").found("share of rating")
    assert (found.low, found.value, found.high) == pytest.approx((72.75, 75, 77.25))


@pytest.mark.parametrize(
    ("seconds", "verdict"),
    [(1.9, "holds"), (2, "can't be told"), (60, "can't be told"), (60.1, "opens")],
)
def test_fuse_at_twice_its_rating_opens_within_2_and_60_s(seconds: float, verdict: str) -> None:
    # DIN 72581-3, form E, 200 %.
    assert fuse_time(exact(60), 30, "large blade", seconds).verdict == verdict


def _told(result: Result, words: str) -> bool:
    return any(words in note for note in result.notes)


@pytest.mark.parametrize(
    ("amps", "steadily", "at_its_rating"),
    [(22.5, False, False), (22.65, True, False), (29.9, True, False), (30, False, True), (30.2, False, True)],
)
def test_fuse_between_three_quarters_and_its_rating_is_told_what_it_carries(
    amps: float, steadily: bool, at_its_rating: bool
) -> None:
    found = fuse_time(exact(amps), 30, "large blade", 10)
    assert _told(found, "Steadily a fuse") is steadily
    assert _told(found, "does not open at its rating") is at_its_rating


@pytest.mark.parametrize(
    ("amps", "seconds", "warned"),
    # At 135 % a common blade fuse opens within 600 s (memory); above 135 % the current itself is the fault.
    [(40.5, 601, True), (40.5, 10, False), (40.65, 0.1, True)],
)
def test_larger_fuse_is_warned_of_where_one_opens_or_is_far_overloaded(
    amps: float, seconds: float, warned: bool
) -> None:
    assert _told(fuse_time(exact(amps), 30, "blade", seconds), "Do not fit a larger fuse") is warned


# --- wire ---------------------------------------------------------------------------------------------


def test_sae_list_ends_at_2_and_an_exact_area_is_enough() -> None:
    assert gauge_for(9343, "sae") == 10
    assert gauge_for(9344, "sae") == 8
    assert gauge_for(70_000, "sae") is None


def test_loss_in_the_harness_carries_tape_and_meter() -> None:
    found = harness(one_way_ft=18, amps=30, **SOLID).found("drop")  # type: ignore[arg-type]
    # 0.1 ft and 3 % either way.
    assert found.low == pytest.approx(2 * OHM_FT * 17.9 * 29.1, rel=1e-6)
    assert found.high == pytest.approx(2 * OHM_FT * 18.1 * 30.9, rel=1e-6)


@pytest.mark.parametrize(
    # 30 A in 10 AWG: 2 x 30 x 0.00099884 x feet / 12 = 0.49942 % a foot: 3 % at 6.007 ft, 10 % at 20.02 ft.
    ("feet", "verdict"),
    [(6.0, "clear"), (6.1, "close"), (20.0, "close"), (20.1, "over")],
)
def test_loss_is_clear_to_3_per_cent_and_over_from_10(feet: float, verdict: str) -> None:
    found = harness(one_way_ft=exact(feet), amps=exact(30), **SOLID)  # type: ignore[arg-type]
    assert found.verdict == verdict


def test_wire_without_current_wants_no_copper_and_no_shortening() -> None:
    found = harness(10, 18, 0)
    assert found.value("copper wanted") == 0
    assert found.value("feet to take out") == 0
    assert found.value("drop") == 0


# --- path ---------------------------------------------------------------------------------------------


def test_ohms_of_a_side_carry_both_meters_and_its_wire_the_tape() -> None:
    found = path(volts_ground_side=3.0, amps=40, one_way_ft=18, **SOLID)  # type: ignore[arg-type]
    ohm, wire = found.found("ground side ohms"), found.found("ground side ohms of the wire")
    assert (ohm.low, ohm.value, ohm.high) == pytest.approx((2.95 / 41.2, 0.075, 3.05 / 38.8))
    assert (wire.low, wire.high) == pytest.approx((OHM_FT * 17.9, OHM_FT * 18.1), rel=1e-6)


def _side_bar(result: Result, side: str) -> float:
    return next(row.of for row in result.rows if row.label.startswith(f"lost on the {side}"))


def test_sound_side_may_lose_its_wire_and_its_switch_or_joint() -> None:
    found = path(12.1, 6.8, 4.4, exact(30), one_way_ft=exact(18), **SOLID)  # type: ignore[arg-type]
    one_wire = 30 * OHM_FT * 18
    # SAE guidance: 0.3 V for a switch contact, 0.1 V for a ground.
    assert _side_bar(found, "supply side") == pytest.approx(one_wire + 0.3, rel=1e-6)
    assert _side_bar(found, "ground side") == pytest.approx(one_wire + 0.1, rel=1e-6)


def test_return_through_the_frame_may_lose_its_joint_and_up_to_a_wire() -> None:
    given = {"amps": exact(30), "one_way_ft": exact(18), **SOLID}
    one_wire = 30 * OHM_FT * 18
    for volts, verdict in (
        (0.1, "clear"),
        (0.11, "close"),
        (one_wire + 0.09, "close"),
        (one_wire + 0.11, "ground side"),
    ):
        found = path(volts_ground_side=exact(volts), frame_return=True, **given)  # type: ignore[arg-type]
        assert found.verdict == verdict, volts
        assert _side_bar(found, "ground side") == pytest.approx(0.1)


def test_ground_side_is_over_only_beyond_the_most_a_sound_one_loses() -> None:
    # 29 to 31 A over 18 ft: 0.5214 to 0.5573 V, and 0.1 V for the joint.
    given = {"amps": Span(29, 30, 31), "one_way_ft": exact(18), **SOLID}
    for volts, verdict in ((0.62, "clear"), (0.64, "close"), (0.655, "close"), (0.66, "ground side")):
        found = path(volts_ground_side=exact(volts), **given)  # type: ignore[arg-type]
        assert found.verdict == verdict, volts


def test_readings_of_the_path_whose_ranges_touch_are_no_contradiction() -> None:
    assert path(Span(11.9, 12, 12.1), Span(12.1, 12.2, 12.3)).value("lost in all") == 0
    touching = path(exact(12.0), exact(11.0), Span(1.0, 1.1, 1.2), exact(30))
    assert touching.value("lost on the ground side") == 1.1
    with pytest.raises(Contradiction):
        path(exact(12.0), exact(11.0), Span(1.01, 1.1, 1.2), exact(30))


def test_small_loss_is_told_as_it_is() -> None:
    assert path(12.0, 11.8).value("lost in all") == pytest.approx(0.2)


# --- motor --------------------------------------------------------------------------------------------


def _rpm(rad_s: float) -> float:
    return rad_s * 30 / pi


@pytest.mark.parametrize(
    ("first", "second"),
    [
        # U = I R + k w turned round: each pair gives one constant that no motor has.
        ((7.0, 30.0, _rpm(200)), (4.5, 5.0, _rpm(100))),  # R = -0.1 ohm, k = 0.05
        ((29.0, 30.0, _rpm(100)), (3.0, 5.0, _rpm(200))),  # R = 1 ohm, k = -0.01
        ((10.0, 30.0, 1000.0), (5.0, 5.0, 500.0)),  # R = 0: volts as the speed
        ((10.0, 10.0, 100.0), (5.0, 5.0, 200.0)),  # k = 0: volts as the amps
    ],
)
def test_points_of_no_motor_are_told_as_such(
    first: tuple[float, float, float], second: tuple[float, float, float]
) -> None:
    with pytest.raises(Contradiction, match="cannot be of one motor"):
        from_two_points(first, second)


def test_rated_point_needs_some_back_voltage() -> None:
    with pytest.raises(Contradiction):
        from_rated_point(10.0, 100, 1000, 0.1)
    # 0.5 V at 1000 rpm = 104.72 rad/s.
    assert from_rated_point(10.5, 100, 1000, 0.1).k == pytest.approx(0.5 / 104.7198, rel=1e-6)


def test_motor_at_its_very_stall_does_not_turn() -> None:
    # 12 V / 0.2 ohm = 60 A x 0.05 = 3 N.m.
    assert at_torque(Motor(0.05, 0.1), 12.0, 0.1, 3.0) is None
    found = motor_point(12.0, 10, 0.0, 3.0, k_nm_per_a=0.05, motor_ohm=0.1, battery_ohm=0.1, contact_ohm=0.0)
    assert found.verdict == "stalls"


def test_two_motors_at_their_very_stall_do_not_turn() -> None:
    # 12 V less 0.1 ohm x 80 A leaves 4 V, which is 40 A x 0.1 ohm: nothing for the speed.
    motor = Motor(0.05, 0.1)
    assert two_on_one_feed(motor, 12.0, 0.1, 2.0) is None
    # 0.5 rad/s take 0.025 V: 12 - 0.3 I = 0.025.
    slow = two_on_one_feed(motor, 12.0, 0.1, 11.975 / 0.3 * 0.05)
    assert slow is not None
    assert slow.speed_rad_s == pytest.approx(0.5)


def test_most_power_a_wire_carries_is_carried() -> None:
    # U^2 = 4 R P: 400 = 4 x 1 x 100; I = U / 2R.
    assert constant_power_a(100, 20, 1.0) == pytest.approx(10)
    with pytest.raises(Contradiction):
        constant_power_a(100.1, 20, 1.0)


def _known(torque_nm: float | None, feet: float = 0.0, **more: float) -> Result:
    given: dict[str, float] = {"k_nm_per_a": 0.05, "motor_ohm": 0.1, "battery_ohm": 0.1, "contact_ohm": 0.0}
    return motor_point(12.0, 10, feet, torque_nm, **{**given, **more})  # type: ignore[arg-type]


def test_torque_that_was_given_goes_before_the_amps() -> None:
    assert _known(1.0, amps=4).value("speed") == pytest.approx(_known(1.0).value("speed"))


def test_run_is_shortened_only_when_told_and_never_below_nothing() -> None:
    assert "speed, shortened" not in {one.name for one in _known(1.0, 18.0).values}
    # Nothing is left of 5 ft: 12 V / (0.1 + 0.1) ohm.
    assert _known(1.0, 5.0, shorten_ft=10).value("stall amps, shortened") == pytest.approx(60)


def test_length_of_the_motors_wire_is_taken_as_it_was_given() -> None:
    found = motor_point(
        12.0, 10, 18.0, 1.0, k_nm_per_a=0.05, motor_ohm=0.1, battery_ohm=0.1, contact_ohm=0.0,
        stranded=False, temp_f=68,
    ).found("stall amps")  # fmt: skip
    assert found.low == found.value == found.high == pytest.approx(12 / (0.2 + 36 * OHM_FT), rel=1e-6)
