"""Lifting, feet, fit, screw, shaft, stand and statics exactly at their bounds and just beside them."""

from math import cos, pi, radians

import pytest

from bot.problems import Contradiction, NotEnough, OutOfRange
from bot.sums.carry import carry, limit_lb, reach_factor, travel_factor
from bot.sums.foot import foot
from bot.sums.leg_fit import hole_for, leg_fit, stroke_wanted_in
from bot.sums.legs import leg_load, move_wanted_lb
from bot.sums.lift_margin import lift_margin
from bot.sums.retime import retime
from bot.sums.screw import screw
from bot.sums.screws import crank_force, efficiency, holding_friction, raise_torque
from bot.sums.shafts import pin_strength_lbf, polar_moment, shaft
from bot.sums.spans import Span, exact
from bot.sums.stand import stand
from bot.sums.statics import legs_lb, scale_tickets

# --- carry: NIOSH 94-110 ------------------------------------------------------------------------------


def test_factors_are_one_where_the_posture_is_best() -> None:
    assert reach_factor(0) == 1
    # 10 in up, 30 in high, straight ahead, good grip: the whole 51 lb.
    assert limit_lb(10, 30, 10, 0, "good") == pytest.approx(51)


def test_travel_counts_from_ten_inches() -> None:
    # 0.82 + 1.8 / 10.5
    assert travel_factor(10.5) == pytest.approx(0.991429, abs=1e-6)


def test_grip_counts_as_high_from_30_inches() -> None:
    # Fair: 0.95 below 30 in, 1.00 from there up; the height factor at 29 in is 1 - 0.0075.
    assert limit_lb(10, 30, 10, 0, "fair") == pytest.approx(51)
    assert limit_lb(10, 29, 10, 0, "fair") == pytest.approx(51 * 0.9925 * 0.95)


def test_twist_takes_away() -> None:
    # 1 - 0.0032 x 45 = 0.856
    assert limit_lb(10, 30, 10, 45, "good") == pytest.approx(51 * 0.856)


def test_posture_that_was_not_told_is_a_low_and_far_one() -> None:
    # 20 in out, 6 in up, moved 16 in, no twist, fair grip: 51 x 0.5 x 0.82 x 0.9325 x 0.95 = 18.5 (Y-10).
    assert carry(30).value("one person may lift") == pytest.approx(51 * 0.5 * 0.82 * 0.9325 * 0.95)
    assert limit_lb(20, 6, 16) == limit_lb(20, 6, 16, 0.0, "fair")


@pytest.mark.parametrize(
    ("most", "verdict"),
    [(51.0, "one person"), (51.1, "two people"), (102.0, "two people"), (102.1, "jack")],
)
def test_one_person_lifts_the_limit_and_two_twice_as_much(most: float, verdict: str) -> None:
    assert carry(Span(40, 45, most), 10, 30, 10, 0, "good").verdict == verdict


def test_index_carries_five_per_cent_of_the_weight() -> None:
    found = carry(51, 10, 30, 10, 0, "good").found("lifting index")
    assert (found.low, found.value, found.high) == pytest.approx((0.95, 1.0, 1.05))


# --- foot ---------------------------------------------------------------------------------------------


def test_pressure_carries_one_per_cent_of_the_load() -> None:
    found = foot(1000, "clay", 12).found("pressure")
    assert (found.low, found.value, found.high) == pytest.approx((990, 1000, 1010))


def test_leg_without_a_push_stands_straight() -> None:
    found = foot(1000, "rock", 40, extended_in=30, tube_side_in=2.5, wall_in=0.25)
    assert found.value("foot goes sideways") == 0
    # 1010 lb on 2.25 in2
    assert found.value("stress at the root") == pytest.approx(1010 / 2.25)


@pytest.mark.parametrize(
    "given",
    [
        {"extended_in": 30.0},
        {"tube_side_in": 2.5},
        {"wall_in": 0.25},
        {"extended_in": 30.0, "tube_side_in": 2.5},
        {"tube_side_in": 2.5, "wall_in": 0.25},
    ],
    ids=lambda given: " ".join(given),
)
def test_leg_is_judged_only_with_all_three_of_its_measures(given: dict[str, float]) -> None:
    names = {one.name for one in foot(1820, "clay", 9, **given).values}
    assert "leg buckles at" not in names


def test_ground_without_a_printed_limit_lets_only_the_leg_speak() -> None:
    leg = {"extended_in": 30.0, "tube_side_in": 2.5, "wall_in": 0.25}
    for surface in ("asphalt", "concrete"):
        assert foot(1820, surface, 9).verdict == "no limit printed"
        assert foot(1820, surface, 9, **leg).verdict == "no limit printed"
        # 2000 lb x 30 in on 1.5375 in3 is 39024 psi: over.
        assert foot(1820, surface, 9, side_load_lb=2000, **leg).verdict == "over"
    assert foot(1820, "clay", 40, **leg).verdict == "clear"


# --- fit ----------------------------------------------------------------------------------------------


def test_one_height_alone_wants_no_stroke() -> None:
    assert stroke_wanted_in(20, 20) == 0
    with pytest.raises(Contradiction):
        stroke_wanted_in(20, 19.9)


def test_first_and_last_hole_are_counted_and_none_beyond() -> None:
    # Leg pushed in, the foot stands 13 in out: from 13 to 26 in by the screw alone.
    assert hole_for(14, 26, 13, 3, 5, 13) == 1
    # Foot 2 in, holes 3 in apart: hole 6 would reach from 17 to 30 in.
    assert hole_for(17, 30, 13, 3, 6, 2) == 6
    assert hole_for(17, 30, 13, 3, 5, 2) is None


def test_leg_without_told_holes_has_one_and_no_spacing() -> None:
    # From 13 to 26 in: 26 in is reached, 27 in not; a second hole, or an inch of spacing, would.
    assert leg_fit(14, 26, 13, foot_in=13).value("hole to use") == 1
    for more in ({}, {"holes": 5}, {"hole_spacing_in": 1.0}):
        assert leg_fit(14, 27, 13, foot_in=13, **more).verdict == "does not fit"
    assert leg_fit(14, 27, 13, foot_in=13, holes=2, hole_spacing_in=1.0).verdict == "close"


@pytest.mark.parametrize(
    # Two readings of a tape, 1/16 in each.
    ("spare_in", "word"),
    [
        (0.13, "fits"),
        (0.125, "fits"),
        (0.12, "close"),
        (0.0, "close"),
        (-0.125, "close"),
        (-0.13, "does not fit"),
    ],
)
def test_stroke_fits_with_two_readings_to_spare(spare_in: float, word: str) -> None:
    assert leg_fit(14, 26, 12 + spare_in).verdict == word


# --- legs ---------------------------------------------------------------------------------------------


def test_move_goes_backwards_and_never_below_nothing() -> None:
    with pytest.raises(NotEnough, match="further back"):
        move_wanted_lb(3640, 3190, 10, 10, 20)
    assert move_wanted_lb(3000, 3190, 4, 22, 20) == 0


def test_legs_at_the_axles_are_told_as_a_mix_up() -> None:
    with pytest.raises(Contradiction, match="behind the axles"):
        legs_lb(2800, 20, 20)


def test_truck_must_weigh_more_coupled() -> None:
    with pytest.raises(Contradiction, match="no heavier"):
        scale_tickets([4000, 3500], [4000, 3500], 11_200)
    assert scale_tickets([4000.0], [4000.5], 11_200) == pytest.approx((0.5, 11_200.5))


def test_load_at_the_rating_is_clear_and_a_hair_above_is_over() -> None:
    assert lift_margin(exact(2000), rating_pair_lb=2000).verdict == "clear"
    # 100.05 %
    assert lift_margin(exact(2001), rating_pair_lb=2000).verdict == "over"


def test_load_on_the_legs_carries_one_per_cent_and_one_motor_lifts_unless_told() -> None:
    found = lift_margin(2000, 4000)
    share = found.found("share of the motor")
    assert (share.low, share.value, share.high) == pytest.approx((49.5, 50, 50.5))


# --- retime -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("given", [{"left_in": 10.0}, {"right_in": 10.0}], ids=["left", "right"])
def test_both_feet_are_wanted(given: dict[str, float]) -> None:
    with pytest.raises(NotEnough, match="left and right"):
        retime(turns_per_inch=6, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(("left", "right"), [(10.0, 10.125), (10.125, 10.0)])
def test_two_readings_of_the_tape_may_part_legs_in_step(left: float, right: float) -> None:
    assert retime(left, right, 6).verdict == "in step"
    assert retime(left + (left > right) * 0.01, right + (right > left) * 0.01, 6).verdict == "out of step"


# --- screw --------------------------------------------------------------------------------------------


def test_crank_force_ranges_over_the_bevels() -> None:
    found = screw(1820, 1.0, 5, friction=0.15, crank_in=8)
    up, force = found.found("torque to raise"), found.found("crank force")
    # Straight bevels pass on 93 to 97 %.
    assert (force.low, force.value, force.high) == pytest.approx(
        (up.low / 0.97 / 8, up.value / 0.95 / 8, up.high / 0.93 / 8)
    )


def test_turns_an_inch_are_threads_times_ratio() -> None:
    assert screw(1820, 1.0, 5).value("crank turns an inch") == pytest.approx(5)
    assert screw(1820, 1.0, 5, ratio=2).value("crank turns an inch") == pytest.approx(10)
    assert screw(1820, 1.0, 5, starts=2).value("crank turns an inch") == pytest.approx(2.5)


def test_screw_without_a_load_shows_no_effort_and_cannot_be_told() -> None:
    found = screw(0, 1.0, 5)
    share = found.found("efficiency")
    assert (share.low, share.value, share.high) == (0, 0, 0)
    assert found.value("torque to raise") == 0
    assert found.verdict == "can't be told"
    assert efficiency(0, 0.2, 0) == 0


@pytest.mark.parametrize(
    # 1 in - 5 Acme holds above 0.0685 of friction, whatever the load.
    ("friction", "verdict"),
    [
        (Span(0.07, 0.08, 0.09), "holds"),
        (Span(0.05, 0.055, 0.06), "runs down"),
        (Span(0.06, 0.068, 0.08), "can't be told"),
    ],
)
def test_screw_under_one_pound_holds_as_under_a_ton(friction: Span, verdict: str) -> None:
    assert screw(1, 1.0, 5, friction=friction).verdict == verdict
    assert screw(2000, 1.0, 5, friction=friction).verdict == verdict


def test_square_thread_is_the_flat_one() -> None:
    # tan of the lead angle 0.2 / (pi 0.9), no flank angle.
    assert holding_friction(0.9, 0.2) == pytest.approx(0.2 / (pi * 0.9))
    square = screw(1820, 1.0, 5, form="square").value("friction that still holds")
    assert square == pytest.approx(0.2 / (pi * 0.9))
    v_form = screw(1820, 1.0, 5, form="v").value("friction that still holds")
    assert v_form == pytest.approx(0.2 * cos(radians(30)) / (pi * 0.9))


def test_friction_at_which_nothing_turns_is_refused_too() -> None:
    # Mean diameter 1, lead pi, friction 1: pi dm - f l is nothing.
    with pytest.raises(OutOfRange):
        raise_torque(100, 1.0, pi, 1.0)


def test_gear_before_the_crank_takes_off_its_ratio() -> None:
    assert crank_force(186.87, 8, 0.95, 2) == pytest.approx(24.588 / 2, abs=0.001)


# --- shaft --------------------------------------------------------------------------------------------


def test_shaft_without_a_bore_is_solid() -> None:
    # pi 2^4 / 32
    assert polar_moment(2) == pytest.approx(pi / 2)


def test_pin_size_is_met_within_half_a_per_cent() -> None:
    assert pin_strength_lbf("slotted", 3 / 16 * 1.0049) == 4150
    for size in (3 / 16 * 1.0052, 3 / 16 * 0.9948):
        with pytest.raises(NotEnough, match="which is made"):
            pin_strength_lbf("slotted", size)


def test_stall_alone_is_enough_and_nothing_is_not() -> None:
    # 16 T / (pi D^3)
    assert shaft(None, 0.75, stall_torque_lb_in=600).value("shear stress") == pytest.approx(
        16 * 600 / (pi * 0.75**3)
    )
    with pytest.raises(NotEnough, match="the torque in the shaft"):
        shaft(None, 0.75)


def test_bore_as_wide_as_the_shaft_is_refused() -> None:
    with pytest.raises(NotEnough, match="bore smaller"):
        shaft(600, 0.75, 0.75)


# --- stand --------------------------------------------------------------------------------------------


def test_two_stands_and_four_crossings_unless_told() -> None:
    assert stand(3640, rating_each_lb=6000).value("load on each") == 1820
    # Four crossings of 6000 lb (fire-service figure), halved.
    assert stand(3640, crib_timber=4).value("crib may carry") == 12_000


def test_margin_is_the_lowest_rating_over_the_highest_load() -> None:
    # 3640 lb and 1 %: 1838.2 lb on each of two.
    for marked, lowest in (("one", 3000), ("pair", 1500), ("unsure", 1500)):
        found = stand(3640, 2, 3000, marked_for=marked)
        assert found.value("margin") == pytest.approx(lowest / 1838.2), marked
    assert stand(0, 2, 3000).value("margin") == float("inf")


def test_place_of_the_stands_is_off_by_the_tape_both_ways() -> None:
    # 0.4 to 0.6 ft behind the pin; a place ahead of it is left out only where the reading says so.
    found = stand(pin_lb=2800, pin_to_axles_ft=26, pin_to_stands_ft=0.5, rating_each_lb=6000)
    load = found.found("load in all")
    assert load.low == pytest.approx(2772 * 26.1 / 25.7)
    assert load.high == pytest.approx(2828 * 25.9 / 25.3)


def test_legs_that_would_carry_more_than_the_trailer_are_refused_in_words() -> None:
    # Moments about the axles, by hand: 9000 x 20 / (20 - 4) = 11,250 lb on the legs of a trailer of 11,000 lb, which
    # leaves the axles less than nothing. At 8800 lb the legs carry all of it and the axles nothing.
    with pytest.raises(Contradiction, match="11250 lb, more than the whole trailer weighs.*11000 lb"):
        leg_load(gross_lb=11_000, pin_lb=9000, pin_to_axles_ft=20, pin_to_legs_ft=4)
    all_of_it = leg_load(gross_lb=11_000, pin_lb=8800, pin_to_axles_ft=20, pin_to_legs_ft=4)
    assert all_of_it.value("both legs") == pytest.approx(11_000)
    assert all_of_it.value("axles") == pytest.approx(0, abs=1e-6)
