"""Battery, fuse, path and motor sums at the edges of their words; each figure worked out in a comment."""

import pytest

from bot.problems import Contradiction, NotEnough
from bot.sums.battery import battery
from bot.sums.convert import both, in_other_family
from bot.sums.copper import gauge_number
from bot.sums.draw import drawing
from bot.sums.fuses import fuse_time, window_s
from bot.sums.legs import leg_load
from bot.sums.motor_point import motor_point
from bot.sums.path import path
from bot.sums.result import Result, Row
from bot.sums.spans import Span
from bot.sums.wire import harness, wire_ohm_per_ft

from .compare import ROWS

# --- battery ------------------------------------------------------------------------------------------


def test_inner_resistance_carries_the_errors_of_all_three_readings() -> None:
    found = battery(12.5, volts_loaded=12.0, amps=30).found("inner resistance")
    # Volts 0.05 either way, amps 3 % either way: (12.45 - 12.05) / 30.9 to (12.55 - 11.95) / 29.1.
    assert found.low == pytest.approx(0.40 / 30.9)
    assert found.value == pytest.approx(0.50 / 30)
    assert found.high == pytest.approx(0.60 / 29.1)


def test_readings_whose_ranges_touch_are_no_contradiction() -> None:
    rest, touching = Span(12.0, 12.25, 12.5), Span(12.5, 12.6, 12.7)
    assert battery(rest, volts_loaded=touching, amps=30).value("inner resistance") == 0
    with pytest.raises(Contradiction, match="charger"):
        battery(rest, volts_loaded=Span(12.51, 12.6, 12.7), amps=30)


def test_flat_battery_has_no_lift_left() -> None:
    found = battery(11.9, amps=30, amp_hours=80, lift_s=60).found("lifts left")
    assert (found.low, found.value, found.high) == (0, 0, 0)


def test_range_over_two_words_cannot_be_told() -> None:
    # 13.0 V, 0.05 V by the meter and 0.2 V by the chart: 12.75 V is 19 % (empty), 13.25 V is 55 % (part).
    assert battery(13.0, "lithium").verdict == "can't be told"
    # 13.2 V: 12.95 V is 27.5 % (low), 13.45 V is 92 % (full).
    assert battery(13.2, "lithium").verdict == "can't be told"


def test_load_test_of_a_battery_of_unknown_temperature_is_the_one_at_20_c() -> None:
    # Service manuals: 9.6 V at 20 C.
    assert battery(12.6, volts_loaded=12.2, amps=30, cca_a=575).value("load test passes at") == 9.6


# --- fuse ---------------------------------------------------------------------------------------------


def test_breaker_holds_up_to_its_rating_and_not_beyond() -> None:
    for high, verdict in ((30.0, "holds"), (30.2, "can't be told")):
        assert fuse_time(Span(28, 29, high), 30, "breaker 1", 60).verdict == verdict


def test_fuse_without_a_time_holds_up_to_its_rating_and_not_beyond() -> None:
    for high, verdict in ((30.0, "holds"), (30.2, "can't be told")):
        assert fuse_time(Span(28, 29, high), 30, "large blade").verdict == verdict


@pytest.mark.parametrize(
    ("rating_a", "words"), [(30, ""), (40, ""), (41, "above what"), (60, "above what"), (61, "too large")]
)
def test_fuse_is_held_against_the_40_a_and_60_a_of_10_awg(rating_a: float, words: str) -> None:
    # 33 CFR 183.425 table 5: 40 A for 10 AWG at 75 C; 183.455(c)(1): a fuse of 150 % of that.
    notes = fuse_time(20, rating_a, "large blade", 10, gauge_awg=10).notes
    told = [note for note in notes if "This fuse is" in note]
    assert [words in note for note in told] == ([True] if words else [])


def test_wire_that_is_not_listed_is_said_to_be_so() -> None:
    result = fuse_time(20, 30, "large blade", 10, gauge_awg=9)
    assert any("does not list this wire" in note for note in result.notes)
    assert "wire may carry" not in {one.name for one in result.values}


# --- path and wire ------------------------------------------------------------------------------------


def _notes(result: Result) -> str:
    return " ".join(result.notes)


def test_each_bad_side_gets_its_own_advice() -> None:
    ground, supply = path(12.1, 6.8, 4.4, 30, 10, 18), path(12.1, 6.8, 0.3, 30, 10, 18)
    assert "Ground side first" in _notes(ground)
    assert "Supply side" not in _notes(ground)
    assert "Supply side" in _notes(supply)
    assert "Ground side first" not in _notes(supply)
    assert path(12.4, 11.4, 0.48, 30, 10, 18).notes == ()


def test_whole_path_that_loses_too_much_asks_for_the_ground_reading() -> None:
    assert "ground-side reading" in _notes(path(12.1, 6.8, amps=30, gauge_awg=10, one_way_ft=18))
    assert path(12.4, 12.0, amps=30, gauge_awg=10, one_way_ft=18).notes == ()


def test_aught_sizes_are_read_by_their_noughts_too() -> None:
    # The law counts on below 1: 1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3 (ASTM B258).
    assert [gauge_number(text) for text in ("0", "00", "000", "0000", "3/0")] == [0, -1, -2, -3, -2]


def test_temperature_is_told_in_both_scales() -> None:
    assert in_other_family(212, "F") == (100, "C")
    assert both(68, "F") == "68 F (20 C)"
    assert both(68, "F", "metric") == "20 C (68 F)"


def test_steps_along_a_path_carry_no_rating() -> None:
    results = (
        battery(12.5, volts_loaded=12.0, amps=30),
        path(12.1, 6.8, 4.4),
        harness(10, 18, 30),
        motor_point(12.6, 10, 18, 1.2, k_nm_per_a=0.04, motor_ohm=0.12, contact_ohm=0.01),
    )
    for result in results:
        marks = {row.of for row in result.rows if row.kind == "step"}
        assert marks == {0}, result.name


def test_metric_wire_lies_between_the_solid_and_the_flexible_limit() -> None:
    # IEC 60228, 4 mm2: 4.61 ohm/km solid, 4.95 flexible; 0.3048 m in a foot; 0.393 % a kelvin from 20 C.
    cold, warm = 1 - 0.00393 * 20, 1 + 0.00393 * 30
    at_20 = wire_ohm_per_ft(mm2=4.0, temp_f=68)[0]
    assert at_20 == pytest.approx((0.00461 * 0.3048, 0.00495 * 0.3048, 0.00495 * 0.3048))
    spread_out = wire_ohm_per_ft(mm2=4.0, temp_f=Span(32, 68, 122))[0]
    assert spread_out.low == pytest.approx(0.00461 * 0.3048 * cold)
    assert spread_out.high == pytest.approx(0.00495 * 0.3048 * warm)


@pytest.mark.parametrize(
    ("gauge", "fuse_a", "words"),
    [
        # 10 AWG: 40 A, ceiling 60 A (boat rules); 30 A in older RV code editions (memory).
        (10, 30, ["protects this"]),
        (10, 31, ["protects this", "name 30 A"]),
        (10, 40, ["protects this", "name 30 A"]),
        (10, 60, ["below the boat rules' ceiling", "name 30 A"]),
        (10, 61, ["is too large", "name 30 A"]),
        # 8 AWG: 65 A; the older table does not list it.
        (8, 65, ["protects this"]),
        (8, 70, ["below the boat rules' ceiling"]),
    ],
)
def test_fuse_of_the_harness_is_told_against_each_table(gauge: int, fuse_a: float, words: list[str]) -> None:
    told = [note for note in harness(gauge, 18, 20, fuse_a=fuse_a).notes if "fuse" in note or "name" in note]
    told = told[1:]  # the first meets the rule of thumb of the longer wire
    assert len(told) == len(words)
    assert all(word in note for word, note in zip(words, told, strict=True))


# --- motor --------------------------------------------------------------------------------------------


def test_motor_of_its_label_is_the_motor_of_the_textbook_line() -> None:
    # No load 3800 rpm at 12 V: k = 12 / (3800 pi / 30) = 0.030156; stall 0.03 N.m: R = k 12 / 0.03 = 12.06.
    found = motor_point(12.6, 10, 18, 0.01, no_load_rpm=3800, stall_nm=0.03)
    assert found.working[0].endswith("k = 0.03016 N.m/A, R = 12.06 ohm")
    assert "no-load speed" in found.working[0]


def test_motor_of_its_rated_point_and_winding() -> None:
    # 12 V, 30 A, 0.1 ohm leave 9 V at 1800 rpm = 188.5 rad/s: k = 0.04775.
    found = motor_point(12.6, 10, 18, 1.0, rated_a=30, rated_rpm=1800, motor_ohm=0.1)
    assert found.working[0] == "from the rated point: k = 0.04775 N.m/A, R = 0.1 ohm"


@pytest.mark.parametrize(
    "given",
    [
        {"no_load_rpm": 3800.0},
        {"stall_nm": 0.03},
        {"rated_a": 30.0, "rated_rpm": 1800.0},
        {"rated_a": 30.0, "motor_ohm": 0.1},
        {"rated_rpm": 1800.0, "motor_ohm": 0.1},
        {"k_nm_per_a": 0.04},
        {"motor_ohm": 0.1},
    ],
    ids=lambda given: " ".join(given),
)
def test_half_a_description_of_the_motor_is_not_enough(given: dict[str, float]) -> None:
    with pytest.raises(NotEnough, match="no-load speed and stall torque"):
        motor_point(12.6, 10, 18, 1.0, **given)  # type: ignore[arg-type]


def _known(torque_nm: float | None = 1.0, **more: float) -> Result:
    """12 V, no wire, 0.1 ohm of battery, a motor of 0.05 N.m/A and 0.1 ohm: the path is 0.1 ohm."""
    given: dict[str, float] = {"k_nm_per_a": 0.05, "motor_ohm": 0.1, "battery_ohm": 0.1, "contact_ohm": 0.0}
    return motor_point(12.0, 10, 0.0, torque_nm, **{**given, **more})  # type: ignore[arg-type]


def test_small_load_by_amps_is_the_small_load() -> None:
    # 4 A x 0.05 N.m/A = 0.2 N.m
    assert _known(None, amps=4).value("speed") == pytest.approx(_known(0.2).value("speed"))


def test_motor_that_stalls_turns_at_nothing_and_takes_for_ever() -> None:
    # Stall: 12 V / 0.2 ohm = 60 A, 3 N.m; 4 N.m is more.
    found = _known(4.0, stroke_in=10, turns_per_inch=200)
    assert found.verdict == "stalls"
    assert found.value("speed") == 0
    assert found.value("amps") == pytest.approx(60)
    assert found.value("seconds for the lift") == float("inf")
    # The motor gets 12 V less 60 A x 0.1 ohm.
    assert found.value("volts at the motor") == pytest.approx(6.0)


def test_motor_that_all_but_stalls_still_lifts() -> None:
    # 1 rpm is pi / 30 rad/s and needs 0.05 x 0.1047 = 0.00524 V: half of that is left at half a turn a minute.
    amps = (12.0 - 0.05 * 0.5 * 3.141592653589793 / 30) / 0.2
    found = _known(None, amps=amps, stroke_in=10, turns_per_inch=200)
    assert found.value("speed") == pytest.approx(0.5, rel=1e-6)
    # 10 in x 200 turns x 60 s / 0.5 rpm
    assert found.value("seconds for the lift") == pytest.approx(240_000, rel=1e-6)


def test_shortened_run_is_told_at_its_middle() -> None:
    # 10 AWG solid at 20 C has 0.9989 ohm per 1000 ft (printed tables): 10 ft there and back 0.019978 ohm.
    found = motor_point(
        12.0, 10, 20.0, 1.0, k_nm_per_a=0.05, motor_ohm=0.1, battery_ohm=Span(0.01, 0.02, 0.05),
        contact_ohm=0.0, stranded=False, temp_f=68, shorten_ft=10,
    )  # fmt: skip
    # 20 A: 12 - 20 (0.02 + 0.019978)
    assert found.value("volts at the motor, shortened") == pytest.approx(11.2004, abs=0.001)


def test_seconds_want_stroke_and_turns_both() -> None:
    for given in ({"stroke_in": 10.0}, {"turns_per_inch": 200.0}):
        names = {one.name for one in _known(1.0, shorten_ft=1, **given).values}
        assert not {"seconds for the lift", "seconds, shortened"} & names


def test_pin_share_of_the_gross_weight_has_its_middle_at_a_fifth() -> None:
    # 20 % of 14000 lb is 2800 lb on the pin; x 26 / 20 on the legs. Common practice, no standard.
    found = leg_load(14000, pin_to_axles_ft=26, pin_to_legs_ft=6)
    assert found.value("pin") == pytest.approx(2800)
    assert found.value("both legs") == pytest.approx(3640)
    assert any(text == "pin = 0.20 x 14000 lb = 2800 lb" for text in found.working)


# --- what is drawn of a circuit -----------------------------------------------------------------------


def _steps(result: Result) -> dict[str, Row]:
    return {row.label: row for row in result.rows if row.kind == "step"}


def _ends(row: Row) -> tuple[float, float, float]:
    return (row.low, row.value, row.high)


def test_volts_at_each_place_of_the_path_carry_the_ranges_of_the_readings() -> None:
    # By hand: the motor's plus stands above the battery's minus by the motor's volts and the ground side's:
    # 6.8 + 4.4 V, at least 6.7 + 4.3, at most 6.9 + 4.6.
    found = _steps(path(Span(12.0, 12.1, 12.3), Span(6.7, 6.8, 6.9), Span(4.3, 4.4, 4.6)))
    assert list(found) == ["battery plus", "motor plus", "motor minus", "battery minus"]
    assert _ends(found["battery plus"]) == (12.0, 12.1, 12.3)
    assert _ends(found["motor plus"]) == pytest.approx((11.0, 11.2, 11.5))
    assert _ends(found["motor minus"]) == (4.3, 4.4, 4.6)
    # All is measured from the battery's minus, so that is nothing and has no range.
    assert _ends(found["battery minus"]) == (0, 0, 0)


def test_path_without_its_ground_side_is_two_places() -> None:
    found = _steps(path(Span(12.0, 12.1, 12.3), Span(6.7, 6.8, 6.9)))
    assert {label: _ends(row) for label, row in found.items()} == {
        "battery": (12.0, 12.1, 12.3),
        "motor gets": (6.7, 6.8, 6.9),
    }


def test_volts_at_each_place_of_the_harness() -> None:
    # 10 AWG solid at 20 C: 0.9989 ohm per 1000 ft in the printed tables, 18 ft, 30 A: 0.5394 V a wire.
    found = _steps(harness(10, 18, 30, stranded=False, temp_f=68))
    assert _ends(found["battery plus"]) == (12, 12, 12)
    assert _ends(found["motor plus"]) == pytest.approx((12 - 0.5394,) * 3, abs=1e-3)
    assert _ends(found["motor minus"]) == pytest.approx((0.5394,) * 3, abs=1e-3)
    assert _ends(found["battery minus"]) == (0, 0, 0)
    assert found["battery minus"].says == "lost in the return"
    frame = _steps(harness(10, 18, 30, stranded=False, temp_f=68, frame_return=True))
    assert frame["battery minus"].says == "in the frame, not counted"
    assert "0.54 V lost in the return" in "\n".join(drawing(harness(10, 18, 30, stranded=False, temp_f=68)))


def test_gauge_wanted_is_told_in_its_family_and_only_where_there_is_one() -> None:
    # 10.75 x 30 A x 36 ft / 1.2 V = 9675 cmil. ASTM B258: 10 AWG has 10,383, 12 AWG 6,530. SAE wire table:
    # 10 has 9,343 and is too thin, 8 has 14,810.
    awg, sae = (harness(10, 18, 30, family=family).found("gauge wanted") for family in ("awg", "sae"))
    assert (awg.value, awg.unit) == (10, "AWG")
    assert (sae.value, sae.unit) == (8, "SAE")
    assert "gauge wanted" not in {one.name for one in harness(10, 500, 300).values}
    # Four times the amps want 38,700 cmil: 6 AWG has 26,251, 4 AWG 41,741.
    assert harness(10, 18, 120).found("gauge wanted").text() == "gauge wanted: 4 AWG or thicker"
    # 400 A over 26 ft: 10.75 x 400 x 52 / 1.2 = 186,333 cmil: 3/0 has 167,772, 4/0 211,600.
    assert harness(10, 26, 400).found("gauge wanted").text() == "gauge wanted: 4/0 AWG or thicker"
    # 240 A over 18 ft: 77,400 cmil: 2 AWG has 66,371, 1 AWG 83,693. 300 A: 96,750 cmil: 1/0 has 105,535.
    assert harness(10, 18, 240).found("gauge wanted").text() == "gauge wanted: 1 AWG or thicker"
    assert harness(10, 18, 300).found("gauge wanted").text() == "gauge wanted: 1/0 AWG or thicker"


def test_window_of_the_fuse_at_and_beside_each_printed_point() -> None:
    row = ROWS["F-18"]  # DIN 72581-3, read: at 100, 135, 200 and 350 % of the rating
    low_s, high_s = row["expected"]["min_s"], row["expected"]["max_s"]
    high_s = [float("inf") if one is None else one for one in high_s]
    points = list(zip(row["inputs"]["percent"], low_s, high_s, strict=True))
    for at, (percent, low, high) in enumerate(points):
        assert window_s("large blade", percent) == (low, high)
        # Just below: as soon as this point says, as late as the one before. Just above: the other way.
        before = points[at - 1][2] if at else float("inf")
        after = points[at + 1][1] if at + 1 < len(points) else 0
        assert window_s("large blade", percent - 1e-9) == (low, before)
        assert window_s("large blade", percent + 1e-9) == (after, high)


def test_fuse_without_a_time_of_the_lift_has_a_window_without_a_mark() -> None:
    for seconds, marks in ((None, 0), (40, 1), (0.5, 1)):
        drawn = "\n".join(drawing(fuse_time(45, 30, "large blade", seconds)))
        assert drawn.count("^") == marks
        # 0.97 x 45 / 30 = 145.5 % is past 135 %, 154.5 % short of 200 %: 2 s to 30 min.
        assert "holds to 2 s, surely open after 30 min" in drawn
