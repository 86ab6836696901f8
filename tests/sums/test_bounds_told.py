"""Numbers as they are written, drawings of small and empty things, and what a sum says beside its figure."""

import pytest

from bot.sums.battery import battery
from bot.sums.bolts import bolts
from bot.sums.catalogue import CATALOGUE
from bot.sums.convert import figure
from bot.sums.draw import bar, fold, steps
from bot.sums.foot import foot
from bot.sums.fuses import fuse_time
from bot.sums.leg_fit import leg_fit
from bot.sums.legs import leg_load
from bot.sums.lift_margin import lift_margin
from bot.sums.motor_point import motor_point
from bot.sums.path import path
from bot.sums.result import Row
from bot.sums.screw import screw
from bot.sums.shafts import shaft
from bot.sums.spans import Span, combined, exact, span, widest
from bot.sums.stand import stand
from bot.sums.wire import harness

# --- numbers ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "text"),
    [
        # Four figures: the place where a digit is dropped changes at each power of ten.
        (1000.4, "1000"), (999.94, "999.9"), (100.46, "100.5"), (99.946, "99.95"), (10.456, "10.46"),
        (9.9946, "9.995"), (1.0, "1"), (1.2344, "1.234"), (0.99946, "0.9995"), (0.10456, "0.1046"),
        (0.099946, "0.09995"), (0.00095123, "0.0009512"),
        # Nine places are the most.
        (1e-10, "0"), (1.4e-9, "0.000000001"),
        (float("-inf"), "unknown"), (float("nan"), "unknown"),
    ],
)  # fmt: skip
def test_number_has_four_figures(value: float, text: str) -> None:
    assert figure(value) == text


# --- drawings -----------------------------------------------------------------------------------------


def test_bar_is_40_columns_unless_told_and_10_at_least() -> None:
    assert bar(50, 40, 60, 100) == bar(50, 40, 60, 100, 40)
    assert len(bar(50, 40, 60, 100)) == 43
    assert len(bar(50, 40, 60, 100, 5)) == 13


def test_bar_of_small_figures_has_their_own_scale() -> None:
    assert bar(0.25, 0.25, 0.25, 0.5, 10) == "[#####.....|]"
    assert bar(0.25, 0.249, 0.251, 0.5, 10) == "[#####~....|]"
    assert bar(0.75, 0.75, 0.75, 0.5, 12) == "[########|####]"


def test_steps_are_between_10_and_70_columns_and_nothing_is_empty() -> None:
    points = (Row("step", "battery", 12.0, 12, 12, 0, "V"), Row("step", "motor", 0.0, 0, 0, 0, "V"))
    for width, most in ((20, 10), (60, 40), (90, 70), (200, 70)):
        first, last = steps(points, width)
        assert first == "battery   12.0 V  |" + "#" * most + "|"
        assert last == "motor      0.0 V  ||"


def test_word_with_a_hyphen_stays_whole() -> None:
    assert fold("the cross-shaft", 9) == ["the", "    cross-shaft"]


# --- ranges -------------------------------------------------------------------------------------------


def test_low_end_of_a_reading_stops_at_nothing() -> None:
    assert span(0.5, plus_minus=1) == Span(0, 0.5, 1.5)
    assert span(0.5, plus_minus=0.1).low == pytest.approx(0.4)


def test_small_moves_are_joined_as_they_are() -> None:
    assert combined(lambda a: a, Span(0.9, 1.0, 1.2)) == pytest.approx((0.9, 1.0, 1.2))
    # (a - 1)^2 rises to 0.25 at both ends and falls at neither.
    assert combined(lambda a: (a - 1) ** 2, Span(0.5, 1.0, 1.5)) == pytest.approx((0.0, 0.0, 0.25))


def test_widest_is_the_first_of_equals_and_nobody_where_all_is_sure() -> None:
    same = Span(9, 10, 11)
    assert widest(lambda a, b: a * b, {"first": same, "second": same}) == "first"
    assert widest(lambda a: a, {"sure": exact(3)}) == ""


# --- what is told beside the figure -------------------------------------------------------------------


def test_source_of_the_charge_is_that_of_the_kind() -> None:
    assert "Battery Council" in battery(12.5).sources[0]
    assert "LiFePO4" in battery(13.2, "lithium").sources[0]
    assert battery(12.5).rows[0].of == 100


def test_joint_through_threads_or_shank_is_shown_with_its_area() -> None:
    # 1/2-13: 0.1419 in2 in the threads (ASME B1.1), pi/4 x 0.25 = 0.1963 in2 in the shank.
    threads, shank = bolts("1/2-13"), bolts("1/2-13", threads_in_shear=False)
    assert "x 0.1419 in2" in threads.working[-1]
    assert "x 0.1963 in2" in shank.working[-1]
    assert "the threads lie in the joint" in threads.assumptions
    assert "the plain shank lies in the joint" in shank.assumptions


def test_yes_or_no_that_is_not_told_is_no() -> None:
    told = {
        one.option: one.assumed for each in CATALOGUE.values() for one in each.inputs if one.kind == "yes_no"
    }
    assert told.pop("stranded") == "both are counted in"
    assert told.pop("threads-in-joint") == "yes"
    assert told == {"one-foot-first": "no", "frame-return": "no"}


def test_ground_is_asked_for_only_where_nothing_is_known_of_it() -> None:
    assert foot(1820, None, 9).narrow == "what the ground is made of"
    assert foot(1820, "clay", 9).narrow == "the load on the leg"
    assert foot(1820, None, 9, bearing_psf=1500).narrow == "the load on the leg"
    assert foot(1820, "clay", 9, bearing_psf=1500).narrow == "the load on the leg"


def test_fuse_that_may_never_open_is_said_to_be_so() -> None:
    assert "may not open at all" in fuse_time(exact(33), 30, "large blade", 10).working[1]
    assert "no later than 1 min" not in fuse_time(exact(33), 30, "large blade", 10).working[1]
    assert (
        "no sooner than 2 s and no later than 60 s" in fuse_time(exact(60), 30, "large blade", 10).working[1]
    )


def test_time_of_the_lift_is_asked_for_until_it_is_known() -> None:
    assert fuse_time(40, 30, "large blade").narrow == "how long the lift takes, with a watch"
    assert fuse_time(40, 30, "large blade", 20).narrow == "the amps, with a clamp meter"


def test_stroke_to_spare_is_told() -> None:
    found = leg_fit(14, 26, 13)
    assert found.working[1] == "stroke of the leg 13 in: 1 in to spare"


def test_places_without_a_known_load_are_drawn_as_nothing() -> None:
    rows = [row for row in leg_load(pin_lb=2800).rows if row.label.startswith(("pin", "axles"))]
    assert [(row.value, row.low, row.high) for row in rows] == [(0, 0, 0), (0, 0, 0)]


def test_leg_load_names_the_tape_where_a_distance_is_widest() -> None:
    sure = {"pin_lb": exact(2800), "pin_to_axles_ft": exact(26), "pin_to_legs_ft": exact(6)}
    wide = {"pin_to_axles_ft": Span(15, 26, 32), "pin_to_legs_ft": Span(4, 6, 12)}
    for name, told in (("pin_to_axles_ft", "pin to axles"), ("pin_to_legs_ft", "pin to legs")):
        found = leg_load(**{**sure, name: wide[name]})  # type: ignore[arg-type]
        assert found.narrow == f"{told}, with a tape"


def test_tolerance_is_told_once_and_only_of_bare_readings() -> None:
    def told(**given: object) -> int:
        return sum("off by no more" in text for text in leg_load(**given).assumptions)  # type: ignore[arg-type]

    sure = {"pin_lb": exact(2800), "pin_to_axles_ft": exact(26), "pin_to_legs_ft": exact(6)}
    assert told(**sure) == 0
    assert told(**{**sure, "pin_lb": 2800}) == 1
    assert told(**{**sure, "pin_to_axles_ft": 26}) == 1
    assert told(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6) == 1


def test_rating_is_wanted_and_one_of_three_is_enough() -> None:
    from bot.problems import NotEnough

    with pytest.raises(NotEnough, match="a rating from a label"):
        lift_margin(3640)
    for rating in ({"rating_motor_lb": 6000.0}, {"rating_pair_lb": 6000.0}, {"rating_leg_lb": 6000.0}):
        assert lift_margin(3640, **rating).verdict == "clear"  # type: ignore[arg-type]


def test_overload_gets_its_advice_and_both_feet_theirs() -> None:
    clear, over = lift_margin(3640, rating_leg_lb=2500), lift_margin(3640, rating_leg_lb=1500)
    assert not any("Take weight off" in note for note in clear.notes)
    assert any("Take weight off" in note for note in over.notes)
    assert any("Set both feet down" in note for note in clear.notes)
    alone = lift_margin(3640, rating_leg_lb=2500, one_foot_first=True)
    assert not any("Set both feet down" in note for note in alone.notes)


def test_motor_asks_for_the_length_until_it_is_known() -> None:
    known = {"k_nm_per_a": 0.04, "motor_ohm": 0.12}
    told, open_ = motor_point(12.6, 10, 18, 1.2, **known), motor_point(12.6, 10, None, 1.2, **known)  # type: ignore[arg-type]
    assert told.narrow.startswith("volts at the motor and amps")
    assert open_.narrow == "the length of the wire"
    assert not any("18 ft one way" in text for text in told.assumptions)
    assert any("18 ft one way" in text for text in open_.assumptions)


def test_joined_ranges_are_told_where_something_was_assumed() -> None:
    assert any("joined as squares" in text for text in path(12, 11, 0.4, 30, 10).assumptions)
    assert not any("joined as squares" in text for text in path(12, 11, 0.4, 30, 10, 18).assumptions)


def test_screw_tells_its_washer_and_asks_for_the_nut_until_friction_is_known() -> None:
    plain, washer = screw(1820, 1.0, 5, friction=0.15), screw(1820, 1.0, 5, collar_dia_in=1.25)
    assert ", washer" not in plain.working[0]
    # 1820 lb x 0.12 x 0.625 in
    assert washer.working[0].endswith(", washer 136.5 lb-in")
    assert plain.narrow == ""
    assert washer.narrow.startswith("what the nut is made of")


def test_shaft_tells_which_goes_first_and_warns_of_a_stall() -> None:
    # 3/4 in of mild bar yields at 1721 lb-in; pins of 3/16 and 3/8 in shear at 1556 and 6113 lb-in.
    small = shaft(600, 0.75, pin_kind="slotted", pin_size_in=3 / 16, stall_torque_lb_in=1700)
    large = shaft(600, 0.75, pin_kind="slotted", pin_size_in=3 / 8, stall_torque_lb_in=1800)
    assert small.working[-1].endswith("the pin goes first")
    assert large.working[-1].endswith("the shaft goes first")
    assert any("A stall can shear the pin" in note for note in small.notes)
    assert any("A stall can shear the shaft" in note for note in large.notes)
    for safe in (shaft(600, 0.75, stall_torque_lb_in=700), shaft(1800, 0.75)):
        assert not any("A stall can shear" in note for note in safe.notes)
    assert small.narrow == ""
    assert shaft(600, 0.75).narrow.startswith("the torque at a stall")


def test_stand_tells_of_the_pair_of_the_third_and_of_its_marking() -> None:
    def told(texts: tuple[str, ...], words: str) -> bool:
        return any(words in text for text in texts)

    assert told(stand(3640, 2, 3000).notes, "for the pair")
    assert not told(stand(3640, 2, 3000, marked_for="one").notes, "for the pair")
    assert told(stand(3640, 2, 3000).assumptions, "half of it counts")
    assert not told(stand(3640, 2, 3000).assumptions, "more than two")
    assert told(stand(3640, 3, 3000).assumptions, "more than two")
    assert stand(3640, 2, 3000).narrow.startswith("what the marking on the stand")
    assert stand(3640, 2, 6000).narrow == "the pin weight, from a scale"


# --- the harness in words -----------------------------------------------------------------------------


def test_harness_names_the_family_of_its_gauge() -> None:
    # 10 %: 10.75 x 30 x 36 / 1.2 = 9675 cmil: 10 AWG has 10383, SAE 10 has 9343, SAE 8 has 14810.
    awg, sae = harness(10, 18, 30), harness(10, 18, 30, family="sae")
    assert "(10 AWG)" in awg.working[0]
    assert awg.working[2].endswith("10 AWG or thicker")
    assert "(10 SAE gauge)" in sae.working[0]
    assert sae.working[2].endswith("8 SAE gauge or thicker")
    assert harness(10, 500, 300).working[2].endswith("thicker than any size listed")


def test_return_through_the_frame_is_told() -> None:
    assert any("through the frame" in text for text in harness(10, 18, 30, frame_return=True).assumptions)
    assert not any("through the frame" in text for text in harness(10, 18, 30).assumptions)


def test_harness_asks_for_what_is_least_known() -> None:
    feet, amps = exact(18), exact(30)
    assert harness(None, feet, amps, temp_f=68).narrow == "the gauge of the wire"
    warm = "how warm the wire gets, and whether it is solid or stranded"
    assert harness(10, feet, amps).narrow == warm
    assert harness(None, feet, amps, mm2=6.0).narrow == warm
    assert harness(10, feet, None).narrow == "the current, button held"
    assert harness(10, None, amps).narrow == "the length of the wire"


def test_what_is_least_known_is_weighed_in_volts() -> None:
    # Copper from -43.6 C to 20 C: 1 - 0.00393 x 63.6 = 0.75 to 1 times its ohms, 25 % of the loss;
    # 26 to 34.7 A: 29 %. (In feet of wire to a volt it would be the copper: 33 %.)
    found = harness(10, exact(18), Span(26, 30, 34.7), stranded=False, temp_f=Span(-46.5, 68, 68))
    assert found.narrow == "the current, button held"
