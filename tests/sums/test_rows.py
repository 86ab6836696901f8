"""Every outside row a sum can be asked, one test a row; the source stands in rows.json beside it."""

from typing import Any

import pytest

from bot.sums import battery as b
from bot.sums import copper as c
from bot.sums import motors, screws, shafts
from bot.sums import tables as t
from bot.sums import tables_parts as p
from bot.sums.foot import foot
from bot.sums.fuses import fuse_time

from . import ask_motor, ask_parts, ask_wire
from .compare import ROWS, differences

ASK = {**ask_wire.ASK, **ask_motor.ASK, **ask_parts.ASK}
LEFT_OUT = {**ask_wire.LEFT_OUT, **ask_motor.LEFT_OUT, **ask_parts.LEFT_OUT}

#: Rows whose tolerance is no number; each has its own test below.
IN_WORDS = {
    "W-23",
    "F-12",
    "F-13",
    "B-12",
    "B-13",
    "B-16",
    "B-17",
    "S-13",
    "S-14",
    "T-13",
    "G-08",
    "X-03",
    "K-01",
}

#: Rows whose own tolerance is finer than the digits they print: the tolerance used, and why.
AS_PRINTED = {
    "W-12": ("rel 0.005", "1.21 has three figures; the neighbouring row W-11 allows half a per cent"),
    "C-01": ("rel 0.004", "15.6 has three figures and stands for 15.55"),
}


@pytest.mark.parametrize("row_id", sorted(set(ASK) - IN_WORDS))
def test_row_from_outside_is_met(row_id: str) -> None:
    row = ROWS[row_id]
    expected: Any = row["expected"]
    if row_id in LEFT_OUT:
        expected = {name: value for name, value in expected.items() if name not in LEFT_OUT[row_id]}
    words = AS_PRINTED.get(row_id, (row["tolerance"],))[0]
    missed = differences(ASK[row_id](row["inputs"]), expected, words)
    assert not missed, f"{row_id} ({row['source']}, {row['status']}): {missed}"


def test_every_row_in_the_file_is_asked() -> None:
    assert set(ROWS) == set(ASK) | IN_WORDS
    assert len(ROWS) >= 150


def test_every_row_keeps_its_source_and_status() -> None:
    for row in ROWS.values():
        assert row["source"], row["id"]
        assert row["status"].startswith(("found", "computed", "memory")), row["id"]


def test_constants_that_disagree_are_told_with_their_gap() -> None:
    row = ROWS["M-08"]
    gap = motors.torque_constant_gap_percent(row["inputs"]["Kt_Nm_per_A"], row["inputs"]["Ke_V_per_krpm"])
    assert round(gap, 1) == row["expected"]["mismatch_percent"]


def test_printed_loss_table_is_met_in_37_of_39_places() -> None:
    row = ROWS["W-23"]
    i = row["inputs"]
    lost = i["V"] * i["percent"] / 100
    wrong = []
    for feet in i["round_trip_ft"]:
        for amps, printed in zip(i["amps"], row["expected"][str(feet)], strict=True):
            if c.printed_gauge(amps, feet, lost) != printed:
                wrong.append((feet, amps))
                wanted = c.cmil_wanted(amps, feet, lost)
                nearest = min(abs(area / wanted - 1) for area in t.SAE_CMIL.values())
                assert nearest <= 0.024, (feet, amps)
    assert len(wrong) == 2, wrong


def test_breaker_kinds_are_named_as_the_standard_names_them() -> None:
    for number, words in ROWS["F-12"]["expected"].items():
        ours = set(t.BREAKERS[f"breaker {number}"].replace(":", "").replace(",", "").split())
        theirs = set(words.replace("(", "").replace(")", "").replace(",", "").split())
        assert ours == theirs


def test_type_1_breaker_that_cycles_is_told_as_overload() -> None:
    assert ROWS["F-13"]["expected"] == "intermittent on/off"
    result = fuse_time(40, 30, "breaker 1", 60)
    assert any("overload" in note for note in result.notes)


def test_lithium_chart_is_met_but_for_the_charging_voltage() -> None:
    row = ROWS["B-12"]
    pairs = list(zip(row["inputs"]["soc_percent"], row["expected"], strict=True))
    assert pairs[0] == (100, 14.6)
    for percent, volts in pairs[1:]:
        assert t.between(t.LITHIUM_V, percent) == pytest.approx(volts, abs=1e-9)
        found = b.lithium_charge_percent(volts)
        assert found.low <= percent <= found.high


def test_lithium_cell_model_stays_within_the_chart() -> None:
    row = ROWS["B-13"]
    for share, volts in zip(row["inputs"]["soc"], row["expected"], strict=True):
        gap = abs(t.between(t.LITHIUM_V, 100 * share) - volts)
        assert round(gap, 1) <= 0.2, share


def test_competing_lead_acid_tables_lie_within_the_range_told() -> None:
    row = ROWS["B-16"]
    for ours, name in zip(t.LEAD_V_OTHERS, ("a", "b"), strict=True):
        assert ours == dict(zip(row["inputs"]["soc_percent"], row["expected"][name], strict=True))
    for table in row["expected"].values():
        for percent, volts in zip(row["inputs"]["soc_percent"], table, strict=True):
            found = b.lead_charge_percent(volts)
            assert found.low <= percent <= found.high, (percent, volts)


def test_rest_before_a_reading_is_told_with_its_hours() -> None:
    hours = ROWS["B-17"]["expected"]
    note = " ".join(b.battery(12.5).notes)
    assert f"{hours['hours_min']} hours" in note
    assert f"better {hours['hours_better']}" in note


def test_screw_that_holds_never_passes_half_efficiency() -> None:
    most = ROWS["S-13"]["expected"]
    for step in range(1, 60):
        lead, friction = 0.05 * step, 0.12
        share = screws.efficiency(1000, lead, screws.raise_torque(1000, 1.0, lead, friction))
        if share > most:
            assert screws.lower_torque(1000, 1.0, lead, friction) < 0
        if screws.lower_torque(1000, 1.0, lead, friction) >= 0:
            assert share <= most


def test_tangent_form_and_fraction_form_of_the_screw_agree() -> None:
    from math import atan, pi, tan

    for mean, lead, friction in ((0.9, 0.2, 0.15), (2.0, 0.5, 0.2), (36.0, 7.0, 0.08)):
        tangent = 500 * mean / 2 * tan(atan(lead / (pi * mean)) + atan(friction))
        gap = screws.raise_torque(500, mean, lead, friction) - tangent
        assert gap == pytest.approx(ROWS["S-14"]["expected"], abs=1e-9 * tangent)


def test_pin_goes_before_the_shaft_in_the_ordering_row() -> None:
    i = ROWS["T-13"]["inputs"]
    pin = shafts.pin_torque(shafts.pin_strength_lbf("slotted", 3 / 16), i["shaft_d_in"])
    gives = shafts.yield_torque(i["Sy_psi"], i["shaft_d_in"])
    assert ROWS["T-13"]["expected"] == f"pin ({pin:.0f} lb-in) before shaft yield (1721 lb-in)"
    assert gives == pytest.approx(1721, rel=1e-3)
    assert pin < gives


def test_hot_asphalt_gets_a_caution_and_no_figure() -> None:
    assert ROWS["G-08"]["inputs"]["surface"] == "asphalt in summer"
    result = foot(1820, "asphalt", 9)
    assert result.verdict == "no limit printed"
    assert any("concrete" in note and "pads" in note for note in result.notes)


def test_current_at_constant_torque_does_not_follow_the_wire() -> None:
    assert ROWS["X-03"]["expected"] == {"I": "T/k", "dI_dR": 0, "dw_dR": "-T/k^2"}
    motor, torque = motors.Motor(0.05, 0.1), 1.1
    near = motors.at_torque(motor, 12.6, 0.020, torque)
    far = motors.at_torque(motor, 12.6, 0.021, torque)
    assert near is not None
    assert far is not None
    assert near.amps == far.amps == pytest.approx(torque / motor.k)
    slope = (far.speed_rad_s - near.speed_rad_s) / 0.001
    assert slope == pytest.approx(-torque / motor.k**2, rel=1e-9)


def test_grade_strengths_are_met_but_for_the_doubtful_one() -> None:
    row = ROWS["K-01"]
    got = ASK["K-01"](row["inputs"])
    assert got["proof_psi"] == row["expected"]["proof_psi"]
    assert got["tensile_psi"][1:] == row["expected"]["tensile_psi"][1:]
    assert got["tensile_psi"][0] == ROWS["K-12"]["expected"]


def test_friction_bands_of_the_two_sources_stay_apart() -> None:
    assert p.SCREW_FRICTION["dry steel"][1] / p.SCREW_FRICTION["dry steel"][0] > 4
