"""What the sums say in words: verdicts follow the range, gaps are named, wrong rules of thumb are met."""

import subprocess
import sys
import time

import pytest

from bot.problems import Contradiction, NotEnough, OutOfRange, Problem
from bot.sums.battery import battery
from bot.sums.bolts import bolts, read_thread
from bot.sums.catalogue import CATALOGUE
from bot.sums.draw import bar, drawing, page
from bot.sums.foot import foot
from bot.sums.fuses import fuse_time
from bot.sums.leg_fit import Leg, leg_fit
from bot.sums.legs import leg_load
from bot.sums.lift_margin import lift_margin
from bot.sums.motor_point import motor_point
from bot.sums.path import path
from bot.sums.retime import retime
from bot.sums.screw import screw
from bot.sums.shafts import shaft
from bot.sums.spans import Span
from bot.sums.stand import stand
from bot.sums.wire import harness


def test_gross_weight_alone_gives_the_practice_band_and_names_the_scale() -> None:
    result = leg_load(14000, pin_to_axles_ft=26, pin_to_legs_ft=6)
    assert result.found("pin").low == pytest.approx(0.15 * 14000 * 0.99)
    assert result.found("pin").high == pytest.approx(0.25 * 14000 * 1.01)
    assert any("15 to 25 %" in text for text in result.assumptions)
    assert result.narrow == "the pin weight, from a scale"


def test_pin_weight_alone_assumes_the_distances_and_says_so() -> None:
    result = leg_load(pin_lb=2800)
    assert result.low < 3640 < result.high
    assert any("pin to axles 26 ft" in text for text in result.assumptions)
    assert any("pin to legs 6 ft" in text for text in result.assumptions)


def test_three_scale_tickets_give_the_pin_weight() -> None:
    result = leg_load(
        pin_to_axles_ft=26, pin_to_legs_ft=6, truck_alone_lb=[4000, 3500], truck_coupled_lb=[4100, 6200],
        trailer_axles_lb=11200,
    )  # fmt: skip
    assert result.value("pin") == 2800
    assert result.value("both legs") == pytest.approx(3640)
    assert result.found("pin").high - 2800 > 28, "a difference of two weighings is less sure than a weighing"


def test_legs_behind_the_axles_are_told_as_a_mix_up() -> None:
    with pytest.raises(Contradiction, match="behind the axles"):
        leg_load(pin_lb=2800, pin_to_axles_ft=8, pin_to_legs_ft=20)


def test_rating_just_above_the_middle_is_close_not_clear() -> None:
    inputs = {"pin_lb": 2800.0, "pin_to_axles_ft": 26.0, "pin_to_legs_ft": 6.0}
    assert leg_load(**inputs, rating_each_lb=1825).verdict == "close"  # type: ignore[arg-type]
    assert leg_load(**inputs, rating_each_lb=1900).verdict == "clear"  # type: ignore[arg-type]
    assert leg_load(**inputs, rating_each_lb=1700).verdict == "over"  # type: ignore[arg-type]


def test_move_named_for_an_overload_brings_the_leg_to_its_rating() -> None:
    result = leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6, rating_each_lb=1700)
    note = next(text for text in result.notes if text.startswith("To get under"))
    wanted = float(note.split("about ")[1].split(" lb")[0])
    after = leg_load(
        pin_lb=2800,
        pin_to_axles_ft=26,
        pin_to_legs_ft=6,
        moved_lb=wanted,
        from_ft=4,
        to_ft=26,
        rating_each_lb=1700,
    )
    assert after.found("each leg").high == pytest.approx(1700, abs=1)


def test_legs_carry_the_pin_weight_is_answered() -> None:
    assert any("more than the pin" in note for note in leg_load(pin_lb=2800).notes)


def test_longer_wire_blows_fuses_is_answered() -> None:
    assert any("does not blow the fuse" in note for note in harness(10, 36, 30).notes)


def test_fuse_opens_at_its_rating_is_answered() -> None:
    result = fuse_time(30, 30, "large blade", 40)
    assert result.verdict == "holds"
    assert any("does not open at its rating" in note for note in result.notes)


def test_fuse_too_large_for_its_wire_is_named() -> None:
    result = fuse_time(20, 40, "blade", 30, gauge_awg=16)
    assert result.value("largest fuse on this wire") == 22.5
    assert any("too large for its wire" in note for note in result.notes)


def test_blade_times_say_that_they_are_from_memory() -> None:
    result = fuse_time(65, 30, "blade", 20)
    assert result.verdict == "opens"
    assert any("from memory" in text for text in result.assumptions)


@pytest.mark.parametrize(
    ("readings", "verdict"),
    [
        ((12.1, 6.8, 4.4, None), "ground side"),
        ((12.1, 6.8, 0.3, 30), "supply side"),
        ((12.4, 11.4, 0.48, 30), "clear"),
        ((12.1, 5.1, 3.5, 30), "both sides"),
        ((12.1, 6.8, None, 30), "over"),
        ((None, None, 3.0, 40), "ground side"),
    ],
)
def test_path_says_on_which_side_the_volts_are_lost(
    readings: tuple[float | None, float | None, float | None, float | None], verdict: str
) -> None:
    battery_v, motor_v, ground_v, amps = readings
    assert path(battery_v, motor_v, ground_v, amps, 10, 18).verdict == verdict


def test_three_volts_on_the_ground_at_forty_amps_is_75_mohm_where_the_wire_has_18() -> None:
    result = path(volts_ground_side=3.0, amps=40, gauge_awg=10, one_way_ft=18)
    assert result.value("ground side ohms") == pytest.approx(0.075)
    assert result.value("ground side ohms of the wire") == pytest.approx(0.018, rel=0.03)


def test_path_without_the_ground_reading_asks_for_it() -> None:
    assert path(12.1, 6.8).narrow.startswith("volts on the ground side")


def test_motor_reading_above_the_battery_is_a_contradiction() -> None:
    with pytest.raises(Contradiction, match="button held"):
        path(11.0, 12.5)


def test_ground_side_above_all_that_is_lost_is_a_contradiction() -> None:
    with pytest.raises(Contradiction, match="ground side"):
        path(12.0, 11.0, 3.0)


def test_shorter_run_lifts_faster_and_keeps_its_amps() -> None:
    result = motor_point(
        12.6, 14, 36, 1.2, k_nm_per_a=0.04, motor_ohm=0.12, stroke_in=10, turns_per_inch=100, shorten_ft=18
    )
    assert result.value("seconds, shortened") < result.value("seconds for the lift")
    assert result.value("stall amps, shortened") > result.value("stall amps")


def test_peak_load_stalls_on_the_long_thin_wire_only() -> None:
    peak = 1.8
    short = motor_point(
        12.6, 10, 18, peak, k_nm_per_a=0.04, motor_ohm=0.12, battery_ohm=0.015, contact_ohm=0.01
    )
    long = motor_point(
        12.6, 14, 36, peak, k_nm_per_a=0.04, motor_ohm=0.12, battery_ohm=0.015, contact_ohm=0.01
    )
    assert (short.verdict, long.verdict) == ("turns", "stalls")


def test_motor_of_two_measured_points_and_of_its_constants_agree() -> None:
    points = ((10.7713, 30.0, 1712.0), (12.0, 5.0, 2721.6))
    by_points = motor_point(12.6, 10, 18, 1.2, points=points)
    by_constants = motor_point(12.6, 10, 18, 1.2, k_nm_per_a=0.04, motor_ohm=0.12)
    assert by_points.value("speed") == pytest.approx(by_constants.value("speed"), rel=1e-3)


@pytest.mark.parametrize(("volts", "word"), [(12.7, "full"), (12.45, "part"), (12.1, "low"), (11.8, "empty")])
def test_rested_volts_have_a_word(volts: float, word: str) -> None:
    assert battery(volts).verdict == word


def test_battery_that_reads_more_loaded_is_a_contradiction() -> None:
    with pytest.raises(Contradiction, match="charger"):
        battery(12.3, volts_loaded=13.4, amps=20)


def test_cold_battery_tells_when_its_acid_freezes() -> None:
    assert any("freezes" in note for note in battery(12.0, temp_f=10).notes)
    assert not any("freezes" in note for note in battery(12.0, temp_f=70).notes)


def test_one_foot_first_puts_all_on_one_leg() -> None:
    assert lift_margin(3640, rating_leg_lb=2500).value("share of the leg") == pytest.approx(72.8)
    alone = lift_margin(3640, rating_leg_lb=2500, one_foot_first=True)
    assert alone.value("share of the leg") == pytest.approx(145.6)
    assert alone.verdict == "over"


def test_part_with_least_margin_limits() -> None:
    result = lift_margin(3640, rating_motor_lb=6000, rating_pair_lb=5000, rating_leg_lb=2000)
    assert result.working[-1] == "the leg limits"
    assert result.value("share of rating") == pytest.approx(91)


def test_screw_with_unknown_nut_near_the_limit_cannot_be_told() -> None:
    steep = screw(1820, 1.0, 5, starts=2)
    assert steep.verdict == "can't be told"
    assert screw(1820, 1.0, 5).verdict == "holds"
    assert screw(1820, 1.0, 5, starts=4).verdict == "runs down"


def test_stall_that_passes_the_pin_is_over_and_says_to_let_go() -> None:
    result = shaft(600, 0.75, pin_kind="slotted", pin_size_in=3 / 16, stall_torque_lb_in=1600)
    assert result.verdict == "over"
    assert any("let go" in note for note in result.notes)


def test_stainless_pin_is_told_as_weaker() -> None:
    steel = shaft(600, 0.75, pin_kind="slotted metric", pin_size_in=5 / 25.4).value("pin shears at")
    stainless = shaft(600, 0.75, pin_kind="stainless metric", pin_size_in=5 / 25.4).value("pin shears at")
    assert stainless < steel


def test_pin_size_between_two_made_ones_is_refused() -> None:
    with pytest.raises(NotEnough, match="made"):
        shaft(600, 0.75, pin_kind="slotted", pin_size_in=0.2)


def test_finish_changes_the_torque_and_its_range() -> None:
    assert bolts("1/2-13", "5", "waxed").value("torque") < bolts("1/2-13", "5", "plain").value("torque")
    assert bolts("1/2-13").low < bolts("1/2-13").value("torque") < bolts("1/2-13").high


def test_mixed_fraction_bolt_is_read() -> None:
    assert read_thread("1 1/8-7 x 3 1/2") == (1.125, 7.0, 3.5)


def test_bolt_that_is_no_size_is_told_how_to_write_one() -> None:
    with pytest.raises(NotEnough, match="1/2-13"):
        bolts("half inch")


def test_soft_ground_under_a_bare_foot_is_over_and_a_pad_helps() -> None:
    assert foot(1820, "fill", 9).verdict == "over"
    assert foot(1820, "fill", 9, 24).verdict == "clear"


def test_push_on_an_extended_leg_can_be_worse_than_the_ground() -> None:
    result = foot(1820, "rock", 9, extended_in=30, tube_side_in=2.5, wall_in=0.25, side_load_lb=1500)
    assert result.verdict == "over"
    assert result.value("foot goes sideways") == pytest.approx(0.2422, rel=1e-3)


def test_mud_is_refused_as_ground() -> None:
    with pytest.raises(NotEnough, match="nothing that could be counted on"):
        foot(1820, "organic", 9)


def test_stand_marked_for_the_pair_carries_half() -> None:
    assert stand(3640, 2, 3000, marked_for="one").verdict == "clear"
    assert stand(3640, 2, 3000, marked_for="pair").verdict == "over"
    assert stand(3640, 2, 3000).verdict == "close"


def test_three_stands_are_not_counted_as_three() -> None:
    result = stand(6000, 3, 2500, marked_for="one")
    assert result.found("load on each").high == pytest.approx(3030)
    assert result.verdict == "close"


def test_crib_taller_than_three_widths_is_over() -> None:
    assert stand(3640, 2, crib_timber=4, crib_width_in=14, height_in=30).verdict == "clear"
    assert stand(3640, 2, crib_timber=4, crib_width_in=14, height_in=44).verdict == "over"


def test_legs_in_step_within_the_tape_are_left_alone() -> None:
    assert retime(10, 10.06, 6).verdict == "in step"


def test_longer_leg_that_turns_alone_is_turned_in() -> None:
    assert retime(10, 10.75, 6, free_leg="right").working[-1] == "turn the right leg in by 4.5 turns"


def test_replacement_is_compared_point_by_point() -> None:
    old = Leg(outer_in=3.0, inner_in=2.5, stroke_in=14.0, bolt_spacing_in=6.0)
    assert leg_fit(old=old, new=old).verdict == "fits"
    assert leg_fit(old=old, new=old._replace(outer_in=3.5)).verdict == "does not fit"
    assert leg_fit(old=old, new=old._replace(stroke_in=16.0)).verdict == "fits"
    assert leg_fit(old=old, new=old._replace(stroke_in=12.0)).verdict == "does not fit"


def test_stroke_too_short_for_the_heights_does_not_fit() -> None:
    assert leg_fit(14, 26, 10, hole_spacing_in=3, holes=5, foot_in=2).verdict == "does not fit"


@pytest.mark.parametrize("name", [name for name in CATALOGUE])
def test_sum_without_anything_says_what_it_wants(name: str) -> None:
    with pytest.raises(NotEnough) as caught:
        CATALOGUE[name].run({})
    assert caught.value.needs


def test_unknown_input_is_refused_by_name() -> None:
    with pytest.raises(NotEnough, match="no colour here"):
        CATALOGUE["carry"].run({"weight_lb": 20.0, "colour": "red"})


def test_range_given_by_the_person_is_used_instead_of_the_tolerance() -> None:
    result = leg_load(
        pin_lb=Span(2700, 2800, 3000), pin_to_axles_ft=Span(26, 26, 26), pin_to_legs_ft=Span(6, 6, 6)
    )
    assert (result.low, result.high) == pytest.approx((3510, 3900))


def test_bar_marks_the_rating_inside_when_the_load_is_over() -> None:
    assert bar(120, 110, 130, 100, 20) == "[###############|##~~~]"
    assert bar(0, 0, 0, 0, 20).count("|") == 1


@pytest.mark.parametrize("width", [40, 80, 120])
def test_drawing_is_never_wider_than_the_screen(width: int) -> None:
    results = (
        leg_load(14000, 2800, 26, 6, rating_each_lb=1850),
        harness(10, 18, 30),
        path(12.1, 6.8, 4.4),
        motor_point(12.6, 10, 18, 1.2, k_nm_per_a=0.04, motor_ohm=0.12),
        *(fuse_time(45, 30, "blade", seconds) for seconds in (None, 0.2, 40, 9000)),
        battery(12.5, volts_loaded=11.9, amps=30),
        stand(3640, 2, 3000),
    )
    for result in results:
        assert max(map(len, drawing(result, width))) <= width
        assert max(map(len, page(result, width))) <= width


def test_page_puts_the_persons_units_first() -> None:
    result = leg_load(pin_lb=2800)
    assert "3640 lb (1651 kg)" in "\n".join(page(result, 100, "us"))
    assert "1651 kg (3640 lb)" in "\n".join(page(result, 100, "metric"))


def test_importing_the_catalogue_loads_no_formula_and_nothing_foreign() -> None:
    code = (
        "import sys; import bot.sums.catalogue; "
        "far = ('pint', 'numpy', 'pydantic', 'textual', 'whoosh'); "
        "print([m for m in sys.modules if m.split('.')[0] in far"
        " or m in ('bot.sums.legs', 'bot.sums.wire', 'bot.units')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_each_sum_is_quick_once_loaded() -> None:
    call = {"pin_lb": 2800.0, "pin_to_axles_ft": 26.0, "pin_to_legs_ft": 6.0}
    CATALOGUE["leg-load"].run(call)
    started = time.perf_counter()
    for _ in range(20):
        CATALOGUE["leg-load"].run(call)
    assert (time.perf_counter() - started) / 20 < 0.05


def test_problem_reads_as_file_line_what_and_fix() -> None:
    problem = Problem("a.md", 4, '"hazzard" is no label here.', 'Did you mean "hazard"?')
    assert str(problem) == 'a.md, line 4: "hazzard" is no label here. Did you mean "hazard"?'


def test_out_of_range_keeps_its_fields() -> None:
    with pytest.raises(OutOfRange) as caught:
        harness(10, 18, 900)
    assert (caught.value.name, caught.value.value, caught.value.high) == ("amps", 900, 500)
