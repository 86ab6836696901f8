"""Legs, screw, stand, foot and fit at the edges of their words; each figure worked out in a comment."""

from math import cos, pi, radians

import pytest

from bot.problems import NotEnough, OutOfRange
from bot.sums.draw import drawing
from bot.sums.foot import foot
from bot.sums.leg_fit import Leg, leg_fit
from bot.sums.legs import leg_load
from bot.sums.lift_margin import lift_margin
from bot.sums.result import Result
from bot.sums.retime import retime
from bot.sums.screw import screw
from bot.sums.screws import raise_torque
from bot.sums.shafts import shaft
from bot.sums.spans import Span
from bot.sums.stand import stand


def _line(result: Result, start: str) -> str:
    return next(text for text in result.working if text.startswith(start))


def _exact(value: float) -> Span:
    return Span(value, value, value)


# --- load on the legs ---------------------------------------------------------------------------------


def test_move_that_takes_all_off_leaves_nothing_not_less() -> None:
    # 400 lb on the pin: 520 lb on the legs. 1000 lb moved 20 ft back takes 1000 lb off.
    found = leg_load(pin_lb=400, pin_to_axles_ft=26, pin_to_legs_ft=6, moved_lb=1000, from_ft=4, to_ft=24)
    assert found.value("change by the move") == pytest.approx(-1000)
    assert found.found("both legs")[1:4] == (0, 0, 0)


def test_move_is_shown_with_its_way_and_its_arm() -> None:
    found = leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6, moved_lb=500, from_ft=4, to_ft=22)
    # 22 - 4 = 18 ft, 26 - 6 = 20 ft: 500 x 18 / 20; on the pin 500 x 18 / 26.
    assert _line(found, "change = ") == "change = -w (to - from) / (L - a) = -500 lb x 18 / 20 = -450 lb"
    assert found.value("change of the pin") == pytest.approx(-500 * 18 / 26)


def test_move_from_or_to_the_pin_itself_is_counted_from_there() -> None:
    back = leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6, moved_lb=500, from_ft=0, to_ft=13)
    assert back.value("change of the pin") == pytest.approx(-250)
    forth = leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6, moved_lb=500, from_ft=13, to_ft=0)
    assert forth.value("change of the pin") == pytest.approx(250)


def test_chocks_are_told_their_push_where_the_weight_is_known() -> None:
    slope = {"pin_lb": 2800.0, "pin_to_axles_ft": 26.0, "pin_to_legs_ft": 6.0, "grade_percent": 5.0}
    known = leg_load(14000, **slope)  # type: ignore[arg-type]
    # 14000 x sin(atan 0.05) = 14000 x 0.049938
    assert _line(known, "the chocks hold") == "the chocks hold W sin g = 699.1 lbf"
    unknown = leg_load(**slope)  # type: ignore[arg-type]
    assert not any(text.startswith("the chocks") for text in unknown.working)
    assert any("a grade needs the gross weight" in text for text in unknown.assumptions)


def test_bar_of_the_legs_is_named_by_what_it_shows() -> None:
    given = {"pin_lb": 2800.0, "pin_to_axles_ft": 26.0, "pin_to_legs_ft": 6.0, "rating_each_lb": 2500.0}
    assert leg_load(**given).rows[0].label == "each leg"  # type: ignore[arg-type]
    off = leg_load(**given, offset_in=3, leg_spacing_in=72)  # type: ignore[arg-type]
    assert off.rows[0].label == "heavier leg"


def test_advice_to_move_stands_beside_the_other_notes_and_only_above_the_rating() -> None:
    given = {"pin_lb": _exact(2800), "pin_to_axles_ft": _exact(26), "pin_to_legs_ft": _exact(6)}
    over = leg_load(**given, rating_each_lb=1819.5)  # type: ignore[arg-type]
    assert any("more than the pin" in note for note in over.notes)
    # 0.5 lb over on each leg: 2 x 0.5 x 20 ft = 20 lb ft, over 26 - 4 = 22 ft: 0.9091 lb.
    assert any("move about 0.9091 lb from 4 ft" in note for note in over.notes)
    at = leg_load(**given, rating_each_lb=1820)  # type: ignore[arg-type]
    assert not any("To get under" in note for note in at.notes)
    assert at.verdict == "clear"


TICKETS = {
    "truck_alone_lb": [4000.0, 3500.0],
    "truck_coupled_lb": [4100.0, 6200.0],
    "pin_to_axles_ft": 26.0,
    "pin_to_legs_ft": 6.0,
}


def test_three_tickets_give_the_trailers_weight_with_its_one_per_cent() -> None:
    # Pin 10300 - 7500 = 2800; trailer 2800 + 11200 = 14000 lb; its axles keep 14000 - 3640.
    found = leg_load(**TICKETS, trailer_axles_lb=11200)  # type: ignore[arg-type]
    assert found.value("axles") == pytest.approx(10_360)
    # On a slope the legs' range takes in the 1 % of the weight: 138.6 lb of h sin g / (L - a) alone move 2.8 lb.
    steep = {**TICKETS, "grade_percent": 5.0, "cg_height_ft": 5.0, "pin_to_axles_ft": _exact(26)}
    ticket = leg_load(**{**steep, "pin_to_legs_ft": _exact(6)}, trailer_axles_lb=11200)  # type: ignore[arg-type]
    both = leg_load(
        Span(13860, 14000, 14140), Span(2755.5, 2800, 2844.5), _exact(26), _exact(6),
        grade_percent=5, cg_height_ft=5,
    )  # fmt: skip
    assert ticket.found("both legs")[1:4] == pytest.approx(both.found("both legs")[1:4])


def test_two_tickets_give_the_pin_and_no_weight() -> None:
    found = leg_load(**TICKETS)  # type: ignore[arg-type]
    assert found.value("pin") == 2800
    assert "axles" not in {one.name for one in found.values}


def test_gross_weight_that_was_given_goes_before_the_tickets_sum() -> None:
    found = leg_load(15000, **TICKETS, trailer_axles_lb=11200)  # type: ignore[arg-type]
    assert found.value("axles") == pytest.approx(15000 - 3640)
    without = leg_load(15000, **TICKETS)  # type: ignore[arg-type]
    assert without.value("axles") == pytest.approx(15000 - 3640)


def test_pin_of_two_tickets_is_never_less_than_nothing() -> None:
    # 20 lb of difference, 37.55 lb of error: half a per cent of 7510 lb.
    found = leg_load(truck_alone_lb=[7500], truck_coupled_lb=[7520], pin_to_axles_ft=26, pin_to_legs_ft=6)
    assert found.found("pin")[1:4] == pytest.approx((20, 0, 57.55))


# --- lift margin --------------------------------------------------------------------------------------


def test_two_motors_share_the_load_and_one_carries_both_legs() -> None:
    # 3640 lb on 4000 lb is 91 %; half of it 45.5 %.
    assert lift_margin(3640, 4000, motors=1).value("share of the motor") == pytest.approx(91)
    assert lift_margin(3640, 4000, motors=2).value("share of the motor") == pytest.approx(45.5)


def test_load_that_is_worked_out_brings_its_working_and_adds_its_own() -> None:
    found = lift_margin(rating_leg_lb=2500, pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6)
    assert any(text.startswith("legs = pin x L / (L - a)") for text in found.working)
    assert any(text.startswith("leg: 1820 lb / 2500 lb = 72.8 %") for text in found.working)
    assert any("both legs equal" in text for text in found.assumptions)
    assert any("both feet touch together" in text for text in found.assumptions)


def test_hand_crank_has_no_motor_to_be_judged() -> None:
    found = lift_margin(3640, 1000, 5000, motors=0)
    assert "share of the motor" not in {one.name for one in found.values}
    with pytest.raises(NotEnough, match="no motor lifts here"):
        lift_margin(3640, 1000, motors=0)


# --- fit ----------------------------------------------------------------------------------------------

OLD = Leg(outer_in=3.0, inner_in=2.5, stroke_in=14.0, retracted_in=30.0, shaft_in=0.75, bolt_spacing_in=6.0)


@pytest.mark.parametrize(
    ("point", "differs", "word"),
    [
        # The tape is good to 1/16 in: same within one reading, close within two.
        ("outer_in", 0.0625, "fits"),
        ("outer_in", 0.07, "close"),
        ("outer_in", -0.125, "close"),
        ("outer_in", 0.13, "does not fit"),
        ("outer_in", -0.13, "does not fit"),
        ("bolt_spacing_in", 0.0625, "fits"),
        ("bolt_spacing_in", 0.15, "does not fit"),
        # Shorter when retracted is no harm, longer by more than two readings is.
        ("retracted_in", -3.0, "fits"),
        ("retracted_in", 0.125, "fits"),
        ("retracted_in", 0.13, "does not fit"),
        # A longer stroke is no harm.
        ("stroke_in", 2.0, "fits"),
        ("stroke_in", 0.0, "fits"),
        ("stroke_in", -0.125, "close"),
        ("stroke_in", -0.13, "does not fit"),
    ],
)
def test_measured_point_is_judged_by_its_own_rule(point: str, differs: float, word: str) -> None:
    new = OLD._replace(**{point: getattr(OLD, point) + differs})
    assert leg_fit(old=OLD, new=new).verdict == word


def test_point_measured_on_one_leg_alone_is_left_out_and_the_rest_compared() -> None:
    for old, new in ((OLD._replace(outer_in=0.0), OLD), (OLD, OLD._replace(outer_in=0.0))):
        names = [one.name for one in leg_fit(old=old, new=new._replace(shaft_in=1.0)).values]
        assert names == [
            "inner, new less old", "stroke, new less old", "retracted, new less old", "shaft, new less old",
            "bolt spacing, new less old",
        ]  # fmt: skip
        assert leg_fit(old=old, new=new._replace(shaft_in=1.0)).verdict == "does not fit"


def test_same_leg_does_not_mend_a_stroke_that_is_too_short() -> None:
    assert leg_fit(14, 30, old=OLD, new=OLD).verdict == "does not fit"


def test_one_inch_of_clearance_is_clearance() -> None:
    found = leg_fit(14, 26, 13, hole_spacing_in=3, holes=5, foot_in=2, tow_height_in=3)
    assert found.value("clearance on the road") == 1
    assert found.verdict == "fits"


# --- retime -------------------------------------------------------------------------------------------


def test_turns_an_inch_are_counted_turns_over_counted_inches() -> None:
    # 10 turns moved the foot 2.5 in: 4 turns an inch, 3 turns for 0.75 in.
    found = retime(10, 10.75, turns_counted=10, inches_counted=2.5)
    assert found.value("turns") == pytest.approx(3)
    for given in (
        {"turns_counted": 10.0},
        {"inches_counted": 2.5},
        {"turns_counted": 10.0, "inches_counted": 0.0},
    ):
        with pytest.raises(NotEnough, match="count ten turns"):
            retime(10, 10.75, **given)  # type: ignore[arg-type]


# --- screw --------------------------------------------------------------------------------------------


def test_nut_by_name_has_the_middle_of_its_band() -> None:
    # Greased bronze 0.10 to 0.16: 0.13. 1 in - 5 Acme: mean 0.9 in, lead 0.2 in.
    found = screw(1820, 1.0, 5, lubrication="greased bronze").found("torque to raise")
    secant = 1 / cos(radians(14.5))

    def torque(friction: float) -> float:
        up, under = 0.2 + pi * friction * 0.9 * secant, pi * 0.9 - friction * 0.2 * secant
        return 1820 * 0.45 * up / under

    assert found[1:4] == pytest.approx((torque(0.13), torque(0.10), torque(0.16)))
    with pytest.raises(NotEnough, match="greased bronze"):
        screw(1820, 1.0, 5, lubrication="soap")


def test_crank_force_is_drawn_against_130_newtons() -> None:
    # 130 N / 4.448222 N a pound-force = 29.225 lbf.
    row = screw(1820, 1.0, 5, friction=0.15, crank_in=8).rows[0]
    assert row.of == pytest.approx(29.225, abs=0.001)
    assert row.unit == "lbf"


def test_friction_that_no_torque_overcomes_is_told_with_its_limit() -> None:
    # tan of the lead angle is lead / (pi dm): friction x secant may not pass its inverse, pi 0.5 / 2 x cos 30.
    with pytest.raises(OutOfRange) as caught:
        raise_torque(100, 0.5, 2.0, 0.7, 30.0)
    assert caught.value.low == 0
    assert caught.value.high == pytest.approx(pi * 0.5 / 2.0 * cos(radians(30)))
    assert raise_torque(100, 0.5, 2.0, 0.67, 30.0) > 0


# --- foot ---------------------------------------------------------------------------------------------


def test_ground_of_which_nothing_is_known_bears_1500_psf() -> None:
    # 24 CFR 3285.202(e): 1500 psf. 1820 / 1500 = 1.2133 ft2, 12 x root = 13.218 in.
    assert foot(1820, None, 9).value("pad side wanted") == pytest.approx(13.218, abs=0.001)


def test_load_about_a_third_of_what_buckles_the_leg_is_close() -> None:
    leg = {"extended_in": 70.0, "tube_side_in": 1.0, "wall_in": 0.1}
    third = foot(100, "rock", 9, **leg).value("leg buckles at") / 3
    # 1 % either way of a load half a per cent above: the limit lies inside.
    assert foot(third * 1.005, "rock", 60, **leg).verdict == "close"


# --- stand --------------------------------------------------------------------------------------------


def test_load_on_the_stands_carries_the_errors_of_scale_and_tape() -> None:
    found = stand(pin_lb=2800, pin_to_axles_ft=26, pin_to_stands_ft=6, rating_each_lb=6000).found(
        "load in all"
    )
    # 1 % of the weight, 0.1 ft of each distance: 2772 x 26.1 / 20.2 and 2828 x 25.9 / 19.8.
    assert found.low == pytest.approx(2772 * 26.1 / 20.2)
    assert found.high == pytest.approx(2828 * 25.9 / 19.8)


def test_arm_of_the_stands_is_shown() -> None:
    found = stand(pin_lb=2800, pin_to_axles_ft=26, pin_to_stands_ft=6, rating_each_lb=6000)
    assert found.working[0] == "load = pin x L / (L - a) = 2800 lb x 26 / 20 = 3640 lb"


def test_stands_at_the_pin_itself_carry_the_pin_weight() -> None:
    found = stand(pin_lb=2800, pin_to_axles_ft=26, pin_to_stands_ft=0, rating_each_lb=6000).found(
        "load in all"
    )
    # The tape cannot find a place ahead of the pin: 0 to 0.1 ft.
    assert found.low == pytest.approx(2772)
    assert found.high == pytest.approx(2828 * 25.9 / 25.8)


def test_crib_as_tall_as_allowed_is_not_too_tall() -> None:
    # 4x4 timbers: 4 ft, and three times the 14 in of width: 42 in.
    assert stand(3640, 2, crib_timber=4, crib_width_in=14, height_in=42).verdict == "clear"
    assert stand(3640, 2, crib_timber=4, crib_width_in=14, height_in=42.5).verdict == "over"


# --- asked in part ------------------------------------------------------------------------------------


def test_difference_told_as_one_figure_carries_the_tape_too() -> None:
    # A tape is right to a sixteenth: 15/16 to 17/16 in, 5.625 to 6.375 turns at 6 an inch.
    found = retime(difference_in=1, turns_per_inch=6)
    gap, turns = found.found("difference"), found.values[1]
    assert (gap.low, gap.value, gap.high) == pytest.approx((15 / 16, 1, 17 / 16))
    assert (turns.low, turns.value, turns.high) == pytest.approx((5.625, 6, 6.375))


def test_leg_that_is_turned_alone_goes_out_only_where_it_is_the_shorter() -> None:
    told = retime(difference_in=1, turns_per_inch=6, free_leg="left").working[-1]
    assert told == "turn the left leg by 6 turns: out where it is the shorter one, else in"
    assert retime(10, 11, 6, free_leg="left").working[-1] == "turn the left leg out by 6 turns"
    assert retime(10, 11, 6, free_leg="right").working[-1] == "turn the right leg in by 6 turns"


def test_stand_without_a_rating_asks_for_it() -> None:
    assert stand(3640, 2).narrow == "the rating marked on one stand"
    assert stand(3640, 2, 1000).narrow.startswith("the pin weight")


def test_share_of_what_nothing_may_carry_has_no_limit() -> None:
    # Margin: strength over load; without a load there is none.
    margin = shaft(0, 0.75).found("margin")
    assert margin.value == float("inf")
    assert margin.text() == "margin: no limit"


def test_the_axles_are_known_as_well_as_the_trailer_and_the_legs_are() -> None:
    # legs = 2800 x 26 / 20 = 3640, the pin good to 1 %: 3603.6 to 3676.4; what is left of 13860 to 14140.
    known = _exact(26), _exact(6)
    found = leg_load(Span(13860, 14000, 14140), Span(2772, 2800, 2828), *known)
    axles = found.found("axles")
    assert (axles.value, axles.low, axles.high) == pytest.approx((10360, 13860 - 3676.4, 14140 - 3603.6))
    # The pin at 10740 lb: legs 13962, which at its worst is more than the trailer weighs: never under nothing.
    found = leg_load(_exact(14000), Span(10632.6, 10740, 10847.4), *known)
    assert found.found("axles").low == 0


def test_bars_stay_where_a_move_is_drawn() -> None:
    found = leg_load(
        pin_lb=2800, gross_lb=14000, pin_to_axles_ft=26, pin_to_legs_ft=6, moved_lb=500, from_ft=4, to_ft=22,
        rating_each_lb=2500,
    )  # fmt: skip
    lines = drawing(found, 80)
    assert lines.index("before the move:") > next(i for i, line in enumerate(lines) if line.startswith("  ["))


def test_on_a_slope_the_picture_shows_what_presses_on_the_axles() -> None:
    # W cos g less what the legs carry: the axles of row L-14 (anastruct), 10172.3 lb.
    found = leg_load(_exact(14000), _exact(2800), _exact(26), _exact(6), grade_percent=5, cg_height_ft=5)
    shown = next(row for row in found.rows if row.kind == "place" and row.label == "axles")
    assert shown.value == pytest.approx(10172.3, abs=0.2)
