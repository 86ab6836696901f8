"""What a sum says it assumes is what it works with."""

import re

import pytest

from bot.problems import NotEnough
from bot.sums import legs, motor_point, screw, wire
from bot.sums import tables as t
from bot.sums import tables_parts as p
from bot.sums.battery import battery
from bot.sums.bolts import bolts
from bot.sums.carry import carry
from bot.sums.catalogue import CATALOGUE
from bot.sums.foot import STEEL_PSI, foot
from bot.sums.fuses import fuse_time
from bot.sums.path import path
from bot.sums.result import Result
from bot.sums.screws import worm_holds
from bot.sums.shafts import shaft
from bot.sums.spans import Span


def _figures(result: Result, start: str) -> list[float]:
    """The numbers in the assumption that starts so."""
    text = next(text for text in result.assumptions if text.startswith(start))
    return [float(figure) for figure in re.findall(r"\d+(?:\.\d+)?", text)]


MOTOR = {"k_nm_per_a": 0.04, "motor_ohm": 0.12}


@pytest.mark.parametrize(
    ("result", "start", "span", "scale"),
    [
        (lambda: legs.leg_load(pin_lb=2800), "pin to axles", legs.ASSUMED_AXLES_FT, 1),
        (lambda: legs.leg_load(pin_lb=2800), "pin to legs", legs.ASSUMED_LEGS_FT, 1),
        (lambda: wire.harness(10), "18 ft one way", wire.ASSUMED_FT, 1),
        (lambda: wire.harness(10), "30 A", wire.ASSUMED_A, 1),
        (lambda: path(12, 11), "18 ft one way", wire.ASSUMED_FT, 1),
        (lambda: path(12, 11), "30 A", wire.ASSUMED_A, 1),
        (
            lambda: motor_point.motor_point(12.6, 10, 18, 1.2, **MOTOR),  # type: ignore[arg-type]
            "battery",
            motor_point.ASSUMED_BATTERY_OHM,
            1000,
        ),
        (
            lambda: motor_point.motor_point(12.6, 10, 18, 1.2, **MOTOR),  # type: ignore[arg-type]
            "fuse, switch",
            motor_point.ASSUMED_CONTACT_OHM,
            1000,
        ),
        (lambda: screw.screw(1820, 1.0, 5), "greased", screw.ASSUMED_FRICTION, 1),
    ],
    ids=["axles", "legs", "feet", "amps", "path feet", "path amps", "battery", "contacts", "friction"],
)
def test_assumed_range_is_the_one_that_is_told(result: object, start: str, span: Span, scale: float) -> None:
    assert callable(result)
    told = _figures(result(), start)
    assert told[:3] == pytest.approx([span.value * scale, span.low * scale, span.high * scale])


def test_assumed_height_of_the_weight_moves_the_range_on_a_slope() -> None:
    common = {"gross_lb": 14000.0, "pin_lb": 2800.0, "pin_to_axles_ft": 26.0, "pin_to_legs_ft": 6.0}
    open_ = legs.leg_load(**common, grade_percent=5)  # type: ignore[arg-type]
    told = _figures(open_, "centre of gravity")
    assert told == [5, 3, 7]
    middle = legs.leg_load(**common, grade_percent=5, cg_height_ft=5)  # type: ignore[arg-type]
    highest = legs.leg_load(**common, grade_percent=5, cg_height_ft=7)  # type: ignore[arg-type]
    assert open_.value("both legs") == pytest.approx(middle.value("both legs"))
    assert open_.high == pytest.approx(highest.high)


def test_gauge_that_was_not_given_ranges_from_12_to_8() -> None:
    told = _figures(wire.harness(None, 18, 30), "10 AWG")
    assert told == [10, 12, 8]
    known = {"stranded": False, "temp_f": 68.0}
    open_ = wire.harness(None, Span(18, 18, 18), Span(30, 30, 30), **known)  # type: ignore[arg-type]
    for gauge, end in ((12, open_.high), (10, open_.value("drop")), (8, open_.low)):
        exact = wire.harness(gauge, Span(18, 18, 18), Span(30, 30, 30), **known)  # type: ignore[arg-type]
        assert exact.value("drop") == pytest.approx(end)


def test_solid_and_stranded_both_count_where_it_was_not_said() -> None:
    same = {"gauge_awg": 10, "temp_f": 68.0}
    solid = wire.wire_ohm_per_ft(**same, stranded=False)[0]  # type: ignore[arg-type]
    open_ = wire.wire_ohm_per_ft(**same)[0]  # type: ignore[arg-type]
    assert open_.low == pytest.approx(solid.value)
    assert open_.value == pytest.approx(solid.value * 1.02)
    assert open_.high == pytest.approx(solid.value * 1.04)


def test_return_through_the_frame_halves_the_wire() -> None:
    there_and_back = wire.harness(10, 18, 30).value("drop")
    assert wire.harness(10, 18, 30, frame_return=True).value("drop") == pytest.approx(there_and_back / 2)


def test_feet_to_take_out_bring_the_run_to_the_loss_allowed() -> None:
    same = {"gauge_awg": 10, "amps": 30.0, "drop_percent": 5.0}
    out = wire.harness(one_way_ft=30, **same).value("feet to take out")  # type: ignore[arg-type]
    after = wire.harness(one_way_ft=30 - out, **same)  # type: ignore[arg-type]
    assert after.value("share of system") == pytest.approx(5.0)


@pytest.mark.parametrize(("feet", "word"), [(4, "clear"), (18, "close"), (40, "over")])
def test_loss_of_three_and_ten_per_cent_part_the_words(feet: float, word: str) -> None:
    assert wire.harness(10, feet, 30).verdict == word


def test_loss_allowed_by_the_person_replaces_the_bands() -> None:
    assert wire.harness(10, 18, 30, drop_percent=12).verdict == "clear"
    assert wire.harness(10, 18, 30, drop_percent=5).verdict == "over"


@pytest.mark.parametrize(
    ("fuse_a", "words"),
    [(30, "protects this"), (50, "above the 40 A"), (70, "too large"), (35, "name 30 A")],
)
def test_fuse_on_the_wire_is_judged(fuse_a: float, words: str) -> None:
    assert any(words in note for note in wire.harness(10, 18, 30, fuse_a=fuse_a).notes)


@pytest.mark.parametrize("missing", ["load_lb", "major_in", "threads_per_inch"])
def test_screw_without_one_of_its_three_is_refused(missing: str) -> None:
    inputs: dict[str, float] = {"load_lb": 1820.0, "major_in": 1.0, "threads_per_inch": 5.0}
    del inputs[missing]
    with pytest.raises(NotEnough, match="outside diameter"):
        screw.screw(**inputs)  # type: ignore[arg-type]


def test_washer_without_its_friction_ranges_over_the_textbook_examples() -> None:
    result = screw.screw(1820, 1.0, 5, friction=0.15, collar_dia_in=1.25)
    assert _figures(result, "thrust washer") == [0.12, 0.06, 0.15]
    plain = screw.screw(1820, 1.0, 5, friction=0.15).value("torque to raise")
    assert result.low == pytest.approx(plain + 1820 * 0.06 * 0.625)
    assert result.value("torque to raise") == pytest.approx(plain + 1820 * 0.12 * 0.625)
    assert result.high == pytest.approx(plain + 1820 * 0.15 * 0.625)


def test_worm_bands_end_where_the_note_says() -> None:
    assert [worm_holds(share) for share in (0.449, 0.45, 0.55, 0.551)] == [
        "holds",
        "uncertain",
        "uncertain",
        "runs back",
    ]


def test_column_may_carry_a_third_of_what_buckles_it() -> None:
    same = {"extended_in": 70.0, "tube_side_in": 1.0, "wall_in": 0.1}
    gives = foot(100, "rock", 9, **same).value("leg buckles at")
    assert foot(gives / 3 * 0.98, "rock", 60, **same).verdict == "clear"
    assert foot(gives / 3 * 1.03, "rock", 60, **same).verdict == "over"


def test_push_may_bend_a_leg_to_a_third_of_yield() -> None:
    same = {"extended_in": 30.0, "tube_side_in": 2.5, "wall_in": 0.25, "yield_psi": 46_000.0}
    # 1.5375 in3 of section: 46000 / 3 psi less 1000 lb on 2.25 in2, over 30 in.
    limit = (46_000 / 3 - 1010 / 2.25) * 1.5375 / 30
    assert foot(1000, "rock", 40, side_load_lb=limit * 0.999, **same).verdict == "clear"
    assert foot(1000, "rock", 40, side_load_lb=limit * 1.001, **same).verdict == "over"
    assert STEEL_PSI == 29e6


@pytest.mark.parametrize(
    ("seconds", "words"), [(90, "90 s"), (120, "2 min"), (7199, "120 min"), (7200, "2 h")]
)
def test_time_to_open_is_told_in_a_fitting_unit(seconds: float, words: str) -> None:
    from bot.sums.fuses import _time

    assert _time(seconds) == words


def test_fuse_loaded_above_three_quarters_is_told_what_it_carries_steadily() -> None:
    assert any("22.5 A" in note for note in fuse_time(27, 30, "large blade").notes)
    assert not any("22.5 A" in note for note in fuse_time(22, 30, "large blade").notes)


def test_breaker_holds_below_its_rating_and_cannot_be_told_above() -> None:
    assert fuse_time(28, 30, "breaker 2", 60).verdict == "holds"
    assert fuse_time(31, 30, "breaker 2", 60).verdict == "can't be told"


def test_battery_without_temperature_says_80_f() -> None:
    assert any("80 F" in text for text in battery(12.5).assumptions)
    assert not any("80 F" in text for text in battery(12.5, temp_f=40).assumptions)
    assert battery(12.5, temp_f=20).value("charge") > battery(12.5).value("charge")


def test_lifts_left_stop_at_half_charge_for_lead_and_later_for_lithium() -> None:
    same = {"amps": 30.0, "amp_hours": 80.0, "lift_s": 60.0}
    lead = battery(12.45, **same)  # type: ignore[arg-type]
    # A quarter of 80 Ah is 20 Ah; a lift takes 30 A x 60 s = 0.5 Ah.
    assert lead.value("lifts left") == pytest.approx(40)
    lithium = battery(13.2, "lithium", **same)
    assert lithium.value("lifts left") == pytest.approx((40 - 10) / 100 * 80 / 0.5)


def test_inner_resistance_is_held_against_the_cranking_rating() -> None:
    result = battery(12.6, volts_loaded=12.2, amps=30, cca_a=575, temp_f=50)
    assert result.value("inner resistance") == pytest.approx(0.4 / 30)
    assert result.value("most a sound one has cold") == pytest.approx(5.4 / 575)
    assert result.value("load test current") == 287.5
    assert result.value("load test passes at") == pytest.approx(9.4)


def test_bolts_share_the_load_and_a_third_of_breaking_is_allowed() -> None:
    one, four = bolts("1/2-13"), bolts("1/2-13", count=4)
    allowed = one.value("side load they may carry")
    assert allowed == pytest.approx(one.value("shear each, breaking") / 3)
    assert four.value("side load they may carry") == pytest.approx(4 * allowed)
    shank = bolts("1/2-13", threads_in_shear=False).value("shear each, breaking")
    assert shank / one.value("shear each, breaking") == pytest.approx(0.19635 / 0.1419, rel=1e-3)


def test_clamp_load_scatters_by_its_stated_share() -> None:
    found = bolts("1/2-13").found("clamp load")
    assert found.low == pytest.approx(0.7 * found.value)
    assert found.high == pytest.approx(1.3 * found.value)


def test_steel_that_was_not_named_is_mild_bar() -> None:
    assert shaft(600, 0.75).value("shaft yields at") == pytest.approx(1721, rel=1e-3)
    assert p.MILD_BAR_YIELD_PSI == 36_000
    assert shaft(600, 0.75, yield_psi=72_000).value("shaft yields at") == pytest.approx(3442, rel=1e-3)


def test_margin_of_the_shaft_is_against_the_weaker_part() -> None:
    assert shaft(600, 0.75).value("margin") == pytest.approx(1721 / 600, rel=1e-3)
    assert shaft(600, 0.75, pin_kind="slotted", pin_size_in=3 / 16).value("margin") == pytest.approx(
        1556.25 / 600
    )


def test_weight_of_a_part_may_be_off_by_five_per_cent() -> None:
    limit = carry(10).value("one person may lift")
    assert carry(limit / 1.06).verdict == "one person"
    assert carry(limit / 1.04).verdict == "two people"
    assert carry(2 * limit / 1.04).verdict == "jack"


def test_readings_carry_the_tolerance_that_is_told() -> None:
    weighed = legs.leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6)
    low, high = 2772 * 26.1 / (26.1 - 5.9), 2828 * 25.9 / (25.9 - 6.1)
    assert weighed.low == pytest.approx(low)
    assert weighed.high == pytest.approx(high)
    lost = path(12.0, 10.0, amps=30).found("lost in all")
    assert (lost.low, lost.high) == pytest.approx((1.9, 2.1))
    assert t.READ_OFF["amps share"] == 0.03


def test_names_in_the_catalogue_are_the_names_in_the_tables() -> None:
    def choices(name: str, option: str) -> set[str]:
        return set(next(one for one in CATALOGUE[name].inputs if one.option == option).choices)

    assert choices("fuse-time", "kind") == set(t.FUSE_WINDOWS) | set(t.BREAKERS)
    assert choices("screw", "nut") == set(p.SCREW_FRICTION)
    assert choices("screw", "form") == set(p.HALF_ANGLE_DEG)
    assert choices("foot", "ground") == set(p.SOIL_PSF) | {"asphalt", "concrete"}
    assert choices("bolts", "finish") == set(p.NUT_FACTOR)
    assert choices("bolts", "grade") == set(p.BOLT_GRADE)
    assert choices("carry", "grip") == set(p.COUPLING)
    assert choices("harness", "place") == set(t.PLACE_FACTOR)


def test_catalogue_tells_the_ranges_the_sums_assume() -> None:
    def told(name: str, option: str) -> list[float]:
        text = next(one for one in CATALOGUE[name].inputs if one.option == option).assumed
        return [float(figure) for figure in re.findall(r"\d+(?:\.\d+)?", text)]

    def as_told(span: Span, scale: float = 1) -> list[float]:
        return [span.value * scale, span.low * scale, span.high * scale]

    assert told("leg-load", "pin-to-axles") == as_told(legs.ASSUMED_AXLES_FT)
    assert told("leg-load", "pin-to-legs") == as_told(legs.ASSUMED_LEGS_FT)
    assert told("leg-load", "cg-height") == as_told(legs.ASSUMED_CG_FT)
    assert told("harness", "length") == as_told(wire.ASSUMED_FT)
    assert told("harness", "amps") == as_told(wire.ASSUMED_A)
    assert told("harness", "gauge") == [wire.ASSUMED_GAUGES[at] for at in (1, 0, 2)]
    assert told("harness", "wire-temp") == [one * 9 / 5 + 32 for one in (20, 0, 50)]
    assert as_told(wire.ASSUMED_TEMP_C) == [20, 0, 50]
    assert told("motor-point", "battery-ohm") == pytest.approx(as_told(motor_point.ASSUMED_BATTERY_OHM, 1000))
    assert told("motor-point", "contact-ohm") == pytest.approx(as_told(motor_point.ASSUMED_CONTACT_OHM, 1000))
    assert told("leg-load", "pin") == [100 * p.PIN_SHARE[at] for at in (1, 0, 2)]


def test_ten_per_cent_is_allowed_where_nothing_was_said() -> None:
    # 10.75 x 30 A x 36 ft / 1.2 V
    assert wire.harness(10, 18, 30).value("copper wanted") == pytest.approx(9675)
    assert wire.harness(10, 18, 30).value("wire may carry") == 40


def test_ticket_difference_carries_half_a_per_cent_of_both_weighings() -> None:
    found = legs.leg_load(
        truck_alone_lb=[4000, 3500], truck_coupled_lb=[4100, 6200], trailer_axles_lb=11200
    ).found("pin")
    # Half a per cent of the mean of 7500 and 10300 lb.
    assert found.high - found.value == pytest.approx(44.5)
    assert found.value - found.low == pytest.approx(44.5)


def test_weight_off_the_middle_wants_the_distance_between_the_legs() -> None:
    with pytest.raises(NotEnough, match="leg to leg"):
        legs.leg_load(pin_lb=2800, offset_in=3)
    found = legs.leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6, offset_in=-3, leg_spacing_in=72)
    assert found.value("near leg") == pytest.approx(1971.7, abs=0.1)


def test_move_without_its_places_is_refused() -> None:
    for given in ({"from_ft": 4.0}, {"to_ft": 22.0}):
        with pytest.raises(NotEnough, match="behind the pin"):
            legs.leg_load(pin_lb=2800, moved_lb=100, **given)  # type: ignore[arg-type]


def test_larger_fuse_is_warned_of_only_where_there_is_overload() -> None:
    def warned(amps: float) -> bool:
        return any("larger fuse" in note for note in fuse_time(amps, 30, "large blade", 400).notes)

    assert warned(62)
    assert warned(41)
    assert not warned(29)


def test_load_from_the_amps_is_the_load_of_those_amps() -> None:
    by_amps = motor_point.motor_point(12.6, 10, 18, amps=30, **MOTOR)  # type: ignore[arg-type]
    by_torque = motor_point.motor_point(12.6, 10, 18, 1.2, **MOTOR)  # type: ignore[arg-type]
    by_pounds = motor_point.motor_point(12.6, 10, 18, torque_lb_in=10.6209, **MOTOR)  # type: ignore[arg-type]
    assert by_amps.value("speed") == pytest.approx(by_torque.value("speed"))
    assert by_pounds.value("speed") == pytest.approx(by_torque.value("speed"), rel=1e-5)


def test_pin_kind_without_its_size_is_left_out() -> None:
    assert [one.name for one in shaft(600, 0.75, pin_kind="slotted").values][-1] == "margin"
    assert "pin shears at" not in {one.name for one in shaft(600, 0.75, pin_kind="slotted").values}


@pytest.mark.parametrize(
    ("rest", "loaded", "narrow"),
    [(12.5, None, "volts at the posts"), (12.5, 12.0, "the amps"), (12.5, 12.0, "volts at rest after 24")],
)
def test_battery_names_the_reading_that_would_narrow_it(
    rest: float, loaded: float | None, narrow: str
) -> None:
    amps = 30.0 if narrow.startswith("volts at rest") else None
    assert battery(rest, volts_loaded=loaded, amps=amps).narrow.startswith(narrow)


def test_crib_carries_half_of_its_printed_load() -> None:
    from bot.sums.stand import stand

    assert stand(3640, 2, crib_timber=4, crib_contacts=9).value("crib may carry") == 27_000
    assert stand(3640, 2, crib_timber=6).value("most height") == 72
    assert stand(3640, 2, crib_timber=6, crib_width_in=20).value("most height") == 60


def test_stands_further_back_carry_more() -> None:
    from bot.sums.stand import stand

    near = stand(pin_lb=2800, pin_to_axles_ft=26, pin_to_stands_ft=6, rating_each_lb=6000)
    far = stand(pin_lb=2800, pin_to_axles_ft=26, pin_to_stands_ft=13, rating_each_lb=6000)
    assert near.value("load in all") == pytest.approx(3640)
    assert far.value("load in all") == pytest.approx(5600)


def test_friction_and_nut_factor_bands_are_those_of_the_sources() -> None:
    # Textbook range with machine oil (memory), widened where the supplier table (read) lies outside it.
    assert [p.SCREW_FRICTION[f"greased {nut}"] for nut in ("steel", "bronze", "brass", "iron")] == [
        (0.11, 0.17), (0.10, 0.16), (0.10, 0.19), (0.11, 0.17),
    ]  # fmt: skip
    # Dry 0.18 and more, bare 0.30, zinc 0.17 to 0.35 in print.
    assert p.NUT_FACTOR["plain"] == (0.18, 0.20, 0.30)
    assert p.NUT_FACTOR["zinc"] == (0.17, 0.22, 0.35)


def test_far_leg_has_what_the_near_leg_has_not() -> None:
    found = legs.leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6, offset_in=3, leg_spacing_in=72)
    assert found.value("far leg") == pytest.approx(1668.3, abs=0.1)
    assert found.value("near leg") + found.value("far leg") == pytest.approx(3640)


def test_path_asks_for_the_wire_once_the_volts_and_amps_are_there() -> None:
    assert path(12, 10, 1, 30, 10).narrow == "gauge and length of the wire"
    assert path(12, 10, 1, 30, None, 18).narrow == "gauge and length of the wire"
    assert path(12, 10, 1, 30, 10, 18).narrow == ""
    assert path(12, 10, 1, None, 10, 18).narrow.startswith("amps")
    assert path(12, None, 1, 30, 10, 18).narrow.startswith("volts at the battery")


def test_harness_shows_the_ohms_of_a_thousand_feet() -> None:
    result = wire.harness(10, 18, 30, stranded=False, temp_f=68)
    # Printed tables: 0.9989 ohm per 1000 ft for 10 AWG at 20 C.
    shown = re.search(r"x ([\d.]+) ohm per 1000 ft", result.working[0])
    assert shown is not None
    assert float(shown.group(1)) == pytest.approx(0.9989, abs=0.0002)


def test_short_trailer_moves_from_the_front_storage_over_its_axles() -> None:
    result = legs.leg_load(pin_lb=2800, pin_to_axles_ft=12, pin_to_legs_ft=6, rating_each_lb=2500)
    note = next(text for text in result.notes if text.startswith("To get under"))
    over = result.found("each leg").high - 2500
    assert float(re.findall(r"about ([\d.]+) lb", note)[0]) == pytest.approx(2 * over * 6 / (12 - 4), abs=1)


def test_axles_are_told_only_where_the_gross_weight_is_known() -> None:
    assert "axles" not in {one.name for one in legs.leg_load(pin_lb=2800).values}
    assert "axles" in {one.name for one in legs.leg_load(14000, 2800).values}


def test_gauge_wanted_is_one_of_the_even_sizes_that_are_made() -> None:
    from bot.sums.copper import awg_cmil, gauge_for, gauge_name

    names = ["18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0"]
    numbers = [18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3]
    found = [gauge_for(awg_cmil(number) * 0.9999) for number in numbers]
    assert [gauge_name(number) for number in found if number is not None] == names
    assert gauge_for(awg_cmil(-3) * 1.01) is None
