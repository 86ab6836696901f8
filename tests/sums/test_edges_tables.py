"""Tables and factors against the figures of their sources, place by place; nothing interpolated."""

import pytest

from bot.problems import NotEnough
from bot.sums import convert, copper
from bot.sums import tables as t
from bot.sums import tables_parts as p
from bot.sums.battery import at_80f_v
from bot.sums.bolts import bolts, grade_psi, read_thread, stress_area_in2, with_thread
from bot.sums.foot import foot
from bot.sums.fuses import window_s
from bot.sums.leg_fit import Leg, leg_fit

from .compare import ROWS

#: NIST SP 811 (2008) appendix B: pound, foot and inch exact by definition, the rest follow from them and g.
NIST = {
    "lb": ("kg", 0.45359237),
    "lbf": ("N", 4.4482216152605),
    "ft": ("m", 0.3048),
    "in": ("mm", 25.4),
    "lb-ft": ("N.m", 1.3558179483314),
    "lb-in": ("N.m", 0.1129848290276),
    "psi": ("MPa", 0.006894757293168),
    "psf": ("kPa", 0.04788025898034),
    "in2": ("mm2", 645.16),
    "ft2": ("m2", 0.09290304),
    "cmil": ("mm2", 5.067074790975e-4),
    "ohm/1000ft": ("ohm/km", 1 / 0.3048),
}


def test_every_unit_goes_to_the_other_family_by_the_printed_factor() -> None:
    assert set(convert.OTHER) == set(NIST)
    for unit, (other, factor) in NIST.items():
        name, ours = convert.OTHER[unit]
        assert name == other
        assert ours == pytest.approx(factor, rel=1e-10), unit


def test_other_factors_are_the_printed_ones() -> None:
    # NIST SP 811: short and long ton, horsepower of 550 ft lbf/s, mile, US gallon.
    assert pytest.approx(907.18474) == convert.SHORT_TON_KG
    assert pytest.approx(1016.0469088) == convert.LONG_TON_KG
    assert pytest.approx(2204.62262185) == convert.TONNE_LB
    assert pytest.approx(745.69987158) == convert.HP_W
    assert pytest.approx(1.609344) == convert.MILE_KM
    assert pytest.approx(3.785411784) == convert.GALLON_L
    assert convert.STANDARD_GRAVITY == 9.80665


def test_gauges_are_the_even_ones_and_the_four_aughts() -> None:
    names = [copper.gauge_name(size) for size in copper.AWG_SIZES]
    assert names == ["18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0"]


@pytest.mark.parametrize(
    ("row_id", "table"),
    [("B-01", t.LEAD_V), ("B-02", t.LEAD_GRAVITY), ("B-03", t.LEAD_FREEZES_F)],
    ids=["volts", "gravity", "freezing"],
)
def test_battery_table_has_the_printed_places_and_no_others(row_id: str, table: dict[int, float]) -> None:
    row = ROWS[row_id]
    assert table == dict(zip(row["inputs"]["soc_percent"], row["expected"], strict=True))


def test_load_test_has_the_printed_places_and_no_others() -> None:
    row = ROWS["B-06"]
    assert dict(zip(row["inputs"]["t_C"], row["expected"], strict=True)) == t.LOAD_TEST_V


def test_lithium_chart_has_the_printed_places_but_for_the_charging_voltage() -> None:
    row = ROWS["B-12"]
    printed = dict(zip(row["inputs"]["soc_percent"], row["expected"], strict=True))
    assert printed.pop(100) == 14.6
    assert printed == t.LITHIUM_V


def test_fuse_windows_begin_at_the_printed_point() -> None:
    # Between two points the earliest time is that of the higher and the latest that of the lower one.
    assert window_s("blade", 110.5) == (0.75, t.INF)
    assert window_s("large blade", 100.5) == (60, t.INF)
    # UL 248-14: 110 % for 4 h at least; 1 h at most at 135 %, 2 min at 200 %; no least time is given for these.
    assert window_s("supplementary", 110) == (4 * 3600, t.INF)
    assert window_s("supplementary", 110.5) == (0, t.INF)
    assert [window_s("supplementary", percent) for percent in (135, 200)] == [(0, 3600), (0, 120)]


def test_rested_volts_change_by_the_measured_slope() -> None:
    # 12.65 V at 75 F and 12.52 V at 0 F: 0.13 V over 75 F, so 0.13 x 80 / 75 = 0.138667 V over 80 F.
    assert at_80f_v(12.52, 0) == pytest.approx(12.658667, abs=1e-6)


def test_dry_friction_spans_both_sources() -> None:
    # The widest of the supplier's table and the textbook's dry range, nut by nut.
    for at, nut in enumerate(("steel", "bronze", "brass", "iron")):
        single, low_high = ROWS["S-18"]["expected"][at], ROWS["S-26"]["expected"][at]
        assert p.SCREW_FRICTION[f"dry {nut}"] == (min(single, *low_high), max(single, *low_high)), nut


def test_half_angles_are_half_of_the_threads_full_angle() -> None:
    # By definition: square 0, Acme 29, trapezoidal 30, V 60 degrees.
    full = {"square": 0, "acme": 29, "trapezoidal": 30, "v": 60}
    assert {form: angle / 2 for form, angle in full.items()} == p.HALF_ANGLE_DEG


@pytest.mark.parametrize(
    ("grade", "size_in", "proof_psi"),
    [
        # SAE J429: grade 2 to 3/4 in and to 1 1/2 in, grade 5 to 1 in and to 1 1/2 in, grade 8 to 1 1/2 in.
        ("2", 0.75, 55_000), ("2", 0.8, 33_000), ("2", 1.5, 33_000), ("5", 1.0, 85_000), ("5", 1.05, 74_000),
        ("5", 1.5, 74_000), ("8", 1.5, 120_000),
    ],
)  # fmt: skip
def test_strength_of_a_grade_ends_at_its_largest_size(grade: str, size_in: float, proof_psi: float) -> None:
    assert grade_psi(grade, size_in)[0] == proof_psi
    with pytest.raises(NotEnough):
        grade_psi(grade, 1.55)


def test_grip_factors_are_those_of_the_lifting_equation() -> None:
    # NIOSH 94-110 table 7: good, fair, poor, hands below 30 in and from 30 in up. Memory but for one.
    assert p.COUPLING == {"good": (1.00, 1.00), "fair": (0.95, 1.00), "poor": (0.90, 0.90)}


def test_smallest_sae_2_gauge_has_62450_circular_mils() -> None:
    # SAE wire area table, as boat wiring standards repeat it; recalled, not read.
    assert copper.cmil_of(2, "sae") == 62_450


def test_two_wire_constant_is_10_75_where_none_is_given() -> None:
    # W-21: 2 x 10.75 x 30 A x 18 ft / 10383 cmil = 1.118 V.
    assert copper.rule_drop_v(30, 18, 10_383) == pytest.approx(1.118, abs=0.0005)
    assert copper.cmil_wanted(30, 36, 0.36) == pytest.approx(32_250)


def test_soil_table_has_the_printed_pressures_in_their_order() -> None:
    # IBC table 1806.2 for the first five, the Chicago code for the rest.
    assert [p.SOIL_PSF[name] for name in ("rock", "soft rock", "gravel", "sand", "clay")] == ROWS["G-01"][
        "expected"
    ]
    assert [p.SOIL_PSF[name] for name in ("very soft clay", "soft clay", "fill", "organic")] == ROWS["G-04"][
        "expected"
    ]
    assert len(p.SOIL_PSF) == 9
    assert ROWS["G-03"]["expected"] == p.SOIL_UNKNOWN_PSF


def test_tube_of_which_nothing_is_known_yields_at_36000_psi() -> None:
    # Mild steel (ASTM A36: 36 ksi), the mildest tube in use: common practice, said in the answer.
    found = foot(1820, "rock", 9, extended_in=30, tube_side_in=2.5, wall_in=0.25)
    assert any(text.startswith("tube yields at 36000 psi") for text in found.assumptions)


def test_leg_of_which_nothing_was_measured_is_compared_with_nothing() -> None:
    assert Leg() == (0, 0, 0, 0, 0, 0)
    with pytest.raises(NotEnough):
        leg_fit(old=Leg(), new=Leg(outer_in=3.0))


@pytest.mark.parametrize(
    ("size", "threads", "area_in2"),
    [
        # ASME B1.1, unified coarse (UNC): threads an inch and tensile stress area.
        ("1/4", 20, 0.0318), ("5/16", 18, 0.0524), ("3/8", 16, 0.0775), ("7/16", 14, 0.1063), ("1/2", 13, 0.1419),
        ("9/16", 12, 0.182), ("5/8", 11, 0.226), ("3/4", 10, 0.334), ("7/8", 9, 0.462), ("1", 8, 0.606),
    ],
)  # fmt: skip
def test_thread_that_was_not_told_is_the_coarse_one(size: str, threads: int, area_in2: float) -> None:
    name, said = with_thread(size)
    assert name == f"{size}-{threads}"
    assert f"{threads} an inch" in said
    diameter, read, _ = read_thread(name)
    assert stress_area_in2(diameter, read) == pytest.approx(area_in2, rel=0.003)
    assert said in bolts(size).assumptions
    assert not any("coarse" in text for text in bolts(name).assumptions)
    assert bolts(size).value("torque") == bolts(name).value("torque")


def test_oiled_and_waxed_threads_have_the_printed_torque_and_a_fifth_either_way() -> None:
    # Rows K-08 and K-09, 1/2-13 grade 5: 57 lb-ft at K 0.15, 68 at 0.18, and K 0.10 for wax (half of 75 at 0.20).
    found = bolts("1/2-13", "5", "oiled").found("torque, by the finish's range of K")
    assert found.value == pytest.approx(57, abs=0.6)
    assert found.high == pytest.approx(68, abs=0.6)
    assert bolts("1/2-13", "5", "waxed").value("torque") == pytest.approx(75 / 2, abs=0.3)
    # A fifth either way: common practice, no source.
    for finish in ("oiled", "waxed"):
        found = bolts("1/2-13", "5", finish).found("torque, by the finish's range of K")
        assert found.low / found.value == pytest.approx(0.8)
        assert found.high / found.value == pytest.approx(1.2)
