"""The working shows the figures of the answer, and the rows to draw carry the same figures."""

import pytest

from bot.sums.catalogue import CATALOGUE
from bot.sums.convert import figure
from bot.sums.draw import bar, drawing, side_view, steps, window
from bot.sums.leg_fit import leg_fit
from bot.sums.legs import leg_load
from bot.sums.motor_point import motor_point
from bot.sums.path import path
from bot.sums.result import Result, Row
from bot.sums.retime import retime
from bot.sums.screw import screw
from bot.sums.wire import harness

#: A fuller call than the example, by argument, for the sums whose example leaves much out.
FULL: dict[str, dict[str, object]] = {
    "leg-load": {
        "gross_lb": 14000.0, "pin_lb": 2800.0, "pin_to_axles_ft": 26.0, "pin_to_legs_ft": 6.0, "moved_lb": 500.0,
        "from_ft": 4.0, "to_ft": 22.0, "offset_in": 3.0, "leg_spacing_in": 72.0, "rating_each_lb": 1700.0,
    },
    "lift-margin": {"legs_lb": 3640.0, "rating_motor_lb": 6000.0, "rating_pair_lb": 5000.0, "rating_leg_lb": 2500.0},
    "harness": {"gauge_awg": "10", "one_way_ft": 18.0, "amps": 30.0, "fuse_a": 30.0},
    "path": {"volts_battery": 12.1, "volts_motor": 6.8, "volts_ground_side": 4.4, "amps": 28.0},
    "motor-point": {
        "volts_rest": 12.6, "gauge_awg": "10", "one_way_ft": 18.0, "torque_nm": 1.2, "k_nm_per_a": 0.04,
        "motor_ohm": 0.12, "stroke_in": 10.0, "turns_per_inch": 200.0, "shorten_ft": 6.0,
    },
    "fuse-time": {"amps": 45.0, "rating_a": 30.0, "kind": "large blade", "seconds": 40.0, "gauge_awg": "10"},
    "battery": {
        "volts_rest": 12.5, "volts_loaded": 12.0, "amps": 30.0, "amp_hours": 80.0, "lift_s": 60.0, "cca_a": 575.0,
    },
    "screw": {"load_lb": 1820.0, "major_in": 1.0, "threads_per_inch": 5.0, "crank_in": 8.0},
    "shaft": {"torque_lb_in": 600.0, "shaft_in": 0.75, "pin_kind": "slotted", "pin_size_in": 0.1875},
    "bolts": {"size": "1/2-13", "count": 4.0, "side_load_lb": 3000.0},
    "leg-fit": {"lowest_in": 14.0, "highest_in": 26.0, "stroke_in": 13.0, "hole_spacing_in": 3.0, "holes": 5.0,
                "foot_in": 2.0, "tow_height_in": 20.0},
    "foot": {"load_lb": 1820.0, "soil": "clay", "foot_side_in": 9.0, "extended_in": 30.0, "tube_side_in": 2.5,
             "wall_in": 0.25, "side_load_lb": 300.0},
    "stand": {"load_lb": 3640.0, "count": 2.0, "crib_timber": 4.0, "crib_width_in": 14.0},
    "retime": {"left_in": 10.0, "right_in": 10.75, "turns_per_inch": 6.0},
    "carry": {"weight_lb": 30.0},
}  # fmt: skip

#: Values that stand beside the working: read off a table, or one division of two figures that are shown.
BESIDE = {
    "leg-load": {"far leg", "change of the pin", "axles"},
    "harness": {"wire may carry"},
    "motor-point": {"volts at the motor, shortened", "seconds, shortened"},
    "fuse-time": {"longest time to open"},
    "battery": {"load test passes at", "load test current"},
    "screw": {"friction that still holds"},
    "shaft": {"margin"},
    "foot": {"pressure a square inch"},
    "stand": {"margin", "most height"},
}


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_each_figure_of_the_answer_is_shown_in_the_working(name: str) -> None:
    result = CATALOGUE[name].run(FULL[name])
    text = "\n".join(result.working)
    missing = {
        one.name
        for one in result.values
        if not {figure(one.value), figure(1000 * one.value)} & _figures(text)
    }
    assert missing == BESIDE.get(name, set())


def _figures(text: str) -> set[str]:
    return {word.strip("();,:%") for word in text.replace(" - ", " ").split()}


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_first_value_gives_the_range_of_the_result(name: str) -> None:
    result = CATALOGUE[name].run(FULL[name])
    assert (result.low, result.high) == pytest.approx((result.values[0].low, result.values[0].high), rel=0.6)
    assert result.low <= result.values[0].value <= result.high or name == "bolts"


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_drawn_loads_are_within_their_own_range(name: str) -> None:
    for row in CATALOGUE[name].run(FULL[name]).rows:
        if row.kind == "bar":
            assert row.low <= row.value <= row.high
            assert row.of > 0


def test_sound_run_in_the_path_is_told_with_wire_switch_and_joints() -> None:
    result = path(12.1, 6.8, amps=30, gauge_awg=10, one_way_ft=18, stranded=False, temp_f=68)
    line = next(text for text in result.working if text.startswith("a sound run"))
    # 2 x 18 ft x 0.9989 ohm per 1000 ft x 30 A = 1.079 V; 0.3 V of switch and 0.1 V of ground beside it.
    assert "1.079 V" in line
    assert "0.4 V more" in line


def test_steps_of_the_harness_fall_by_the_two_wires() -> None:
    result = harness(10, 18, 30, stranded=False, temp_f=68)
    battery, plus, minus, back = [row.value for row in result.rows if row.kind == "step"]
    assert battery - plus == pytest.approx(1.0787 / 2, rel=1e-3)
    assert minus - back == pytest.approx(1.0787 / 2, rel=1e-3)
    assert back == 0
    assert (battery - back) - (plus - minus) == pytest.approx(1.0787, rel=1e-3)


def test_steps_of_a_frame_return_lose_nothing_on_the_way_back() -> None:
    result = harness(10, 18, 30, stranded=False, temp_f=68, frame_return=True)
    _, plus, minus, _ = [row.value for row in result.rows if row.kind == "step"]
    assert plus == pytest.approx(12 - 1.0787 / 2, rel=1e-3)
    assert minus == pytest.approx(0, abs=1e-9)


def test_steps_of_the_path_go_from_the_battery_through_the_motor_and_back() -> None:
    result = path(12.1, 6.8, 4.4)
    steps_v = [(row.label, row.value) for row in result.rows if row.kind == "step"]
    # By hand: 4.4 V on the ground side, 12.1 - 6.8 - 4.4 = 0.9 V on the supply side, so 11.2 V at the plus.
    assert steps_v == [
        ("battery plus", 12.1),
        ("motor plus", pytest.approx(11.2)),
        ("motor minus", pytest.approx(4.4)),
        ("battery minus", 0.0),
    ]
    drawn = "\n".join(drawing(result, 80))
    assert "0.90 V lost on the supply side" in drawn
    assert "4.40 V lost on the ground side" in drawn


def _mark(lines: tuple[str, ...]) -> int:
    return next(line for line in lines if "^" in line).index("^") - 2


def _window(seconds: float, low: float, high: float, width: int) -> tuple[str, ...]:
    return window(Row("window", "fuse", seconds, low, high, 0, "s"), width)


@pytest.mark.parametrize("width", [40, 80])
def test_window_of_a_fuse_puts_the_end_of_the_lift_where_it_belongs(width: int) -> None:
    # 30 s is half way (by tens) between 10 and 100; the fuse holds to 10 s and is open after 100 s.
    lines = _window(10**1.5, 10, 100, width)
    cells, place = lines[1][2:], _mark(lines)
    assert cells[place] == "~"
    assert cells.index("~") < place < cells.index("#")
    assert place - cells.index("~") == pytest.approx(cells.index("#") - place, abs=1)
    holds, opens = _window(5, 10, 100, width), _window(500, 10, 100, width)
    assert holds[1][2:][_mark(holds)] == "="
    assert opens[1][2:][_mark(opens)] == "#"
    assert max(map(len, (*lines, *holds, *opens))) <= width


def test_window_without_a_lift_has_no_mark_and_one_without_an_end_never_opens() -> None:
    lines = _window(0, 10, float("inf"), 80)
    assert "^" not in "".join(lines)
    assert "#" not in "".join(lines)
    assert "may never open" in lines[0]


def test_steps_of_the_motor_fall_by_battery_and_path() -> None:
    result = motor_point(
        12.0, 10, 0.0, 1.0, k_nm_per_a=0.05, motor_ohm=0.1, battery_ohm=0.02, contact_ohm=0.03
    )
    steps_v = [row.value for row in result.rows if row.kind == "step"]
    assert steps_v == pytest.approx([12.0, 11.6, 11.0])


def test_side_view_places_pin_legs_and_axles_in_order() -> None:
    result = leg_load(14000, 2800, 26, 6)
    places = [(row.label.split(",")[0], row.of, row.value) for row in result.rows if row.kind == "place"]
    assert places == [
        ("pin", 0.0, 0.0),
        ("legs", 6.0, pytest.approx(3640)),
        ("axles", 26.0, pytest.approx(10360)),
    ]
    lines = side_view([row for row in result.rows if row.kind == "place"], 80)
    posts, ground = lines[2], lines[3]
    assert posts.index(":") < posts.index("|") < posts.index("(O)")
    assert ground[posts.index("|")] == "^"
    # Legs stand at 6 of 26 ft: a good fifth of the way from pin to axles.
    pin, legs, wheel = posts.index(":"), posts.index("|"), posts.index("O")
    assert (legs - pin) / (wheel - pin) == pytest.approx(6 / 26, abs=0.02)


def test_load_of_nothing_is_drawn_as_a_mark_not_a_load() -> None:
    lines = side_view(
        [Row("place", "pin", 0.0, 0.0, 0.0, 0.0, "lb"), Row("place", "legs", 10.0, 9, 11, 6.0, "lb")], 60
    )
    assert lines[2].lstrip().startswith(":")
    assert lines[2].endswith("|")


def test_bar_is_as_long_as_its_width_says() -> None:
    for value in (0.0, 20.0, 100.0, 180.0):
        assert len(bar(value, value * 0.9, value * 1.1, 100.0, 30)) == 33


def test_small_range_is_still_seen_in_the_bar() -> None:
    assert "~" in bar(50, 49.9, 50.1, 100, 20)


def test_steps_share_one_scale() -> None:
    lines = steps([Row("step", "a", 12.0, 12, 12, 0, "V"), Row("step", "b", 6.0, 6, 6, 0, "V")], 60)
    assert lines[0].count("#") == 2 * lines[1].count("#")


def test_legs_in_step_may_differ_by_nothing() -> None:
    found = retime(10, 10, 6).found("difference")
    assert found.low == 0
    assert found.high == pytest.approx(0.125)


def test_screw_says_its_torque_in_newton_metres_too() -> None:
    result = screw(1820, 1.0, 5, friction=0.15)
    # 186.87 lb-in x 0.112985 N.m
    assert "21.11 N.m" in result.working[-1]


def test_clearance_of_nothing_does_not_fit() -> None:
    assert (
        leg_fit(14, 26, 13, hole_spacing_in=3, holes=5, foot_in=2, tow_height_in=2).verdict == "does not fit"
    )
    assert leg_fit(14, 26, 13, hole_spacing_in=3, holes=5, foot_in=2, tow_height_in=20).verdict == "fits"


def _line(result: Result, start: str) -> str:
    return next(text for text in result.working if text.startswith(start))


def test_working_of_the_legs_names_the_arm() -> None:
    assert "26 / 20 = 3640 lb" in _line(leg_load(14000, 2800, 26, 6), "legs = pin x L / (L - a)")


def test_side_view_shows_the_loads_before_and_after_a_move() -> None:
    # Moments about the axles, by hand: 2800 lb x 26 ft / 20 ft = 3640 lb on the legs; 400 lb moved 21 ft towards
    # the back takes 400 x 21 / 20 = 420 lb off them and puts it on the axles.
    result = leg_load(
        gross_lb=14000, pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6, moved_lb=400, from_ft=3, to_ft=24
    )
    loads = {(row.kind, row.label): row.value for row in result.rows}
    assert loads["before", "legs"] == pytest.approx(3640)
    assert loads["before", "axles"] == pytest.approx(10360)
    assert loads["place", "legs"] == pytest.approx(3220)
    assert loads["place", "axles"] == pytest.approx(10780)
    drawn = drawing(result, 80)
    assert drawn.index("before the move:") < drawn.index("after the move:")
    before = drawn[: drawn.index("after the move:")]
    assert "3640 lb" in before[-1] or "3640 lb" in before[-2]
    assert not any("before" in line for line in drawing(leg_load(gross_lb=14000, pin_lb=2800), 80))
