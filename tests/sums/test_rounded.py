"""How fine a figure is told: no finer than its range (GUM, JCGM 100:2008, 7.2.6: at most two digits of it)."""

from math import floor, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.sums.convert import both_ranged, rounded
from bot.sums.result import Value

VALUES = st.floats(-1e7, 1e7, allow_nan=False)
HALVES = st.floats(1e-4, 1e6, allow_nan=False)


@given(VALUES, HALVES)
def test_what_is_told_is_off_by_less_than_an_eighth_of_the_range(value: float, half: float) -> None:
    low, high = value - half, value + half
    told = rounded(value, low, high)
    if told[0] == told[1] == told[2]:
        return  # a range under the fourth figure is none to a reader
    for text, true in zip(told, (value, low, high), strict=True):
        assert abs(float(text) - true) <= half / 8 + 1e-9 * max(abs(true), 1)


@given(VALUES, st.floats(1e-3, 0.5))
def test_the_range_is_told_with_two_digits_at_most(value: float, share: float) -> None:
    half = abs(value) * share
    if half < 1e-6:
        return
    last = [
        text.rstrip("0") if "." not in text else text for text in rounded(value, value - half, value + half)
    ]
    finest = min(10.0 ** -len(text.partition(".")[2]) for text in last)
    if "." in "".join(last):
        assert finest >= 10.0 ** (floor(log10(half)) - 1) * 0.999


@given(VALUES)
def test_ends_keep_their_order(value: float) -> None:
    low, middle, high = (float(t) for t in (rounded(value, value - 3, value + 3)[i] for i in (1, 0, 2)))
    assert low <= middle <= high


@pytest.mark.parametrize(
    ("value", "low", "high", "told"),
    [
        (0.05, -0.4, 0.4, "0.05"),
        (-0.004, -0.4, 0.4, "0.0"),  # no minus before nothing
        (12.04, 12.04, 12.04, "12"),
        (5000.0, 5000.0, 5000.0, "5000"),
        (0.0, 0.0, 0.0, "0"),
        (float("inf"), float("inf"), float("inf"), "no limit"),
        (99.96, 98.0, 102.0, "100"),
        (12345.0, 9000.0, 15000.0, "12300"),  # half is 3000: two digits of it are hundreds
        (12345.0, 6000.0, 18000.0, "12000"),  # half is 6000: one digit of it is thousands
        (1234.5, 1229.5, 1239.5, "1234"),  # half is 5: one digit; halves go to the even neighbour
        (15.25, 10.25, 20.25, "15"),
        (4.403, 4.345, 4.445, "4.40"),  # half is 0.05: hundredths
    ],
)
def test_edges(value: float, low: float, high: float, told: str) -> None:
    assert rounded(value, low, high)[0] == told


def test_an_open_end_leaves_the_other_as_it_is() -> None:
    assert rounded(5.0, 0.0, float("inf")) == ("5", "0", "no limit")
    assert rounded(float("inf"), 0.0, 5.0) == ("no limit", "0", "5")


def test_each_family_is_rounded_by_its_own_range() -> None:
    # 1 lbf is 4.448 N (NIST SP 811): half of 1.04 lbf is 0.52, half of 4.63 N is 2.3.
    assert both_ranged(24.59, 24.08, 25.12, "lbf", "metric")[0] == "109.4 N (24.6 lbf)"
    assert both_ranged(12.344, 12.0, 12.7, "V") == ("12.34 V", "12.00 V", "12.70 V")
    assert both_ranged(4.4, 4.35, 4.45, "V") == ("4.40 V", "4.35 V", "4.45 V")
    assert both_ranged(68.0, 68.0, 68.0, "F") == ("68 F (20 C)",) * 3


def test_a_range_is_told_only_where_it_shows() -> None:
    assert Value("amps", 30.0, 30.0, 30.0, "A").text() == "amps: 30 A"
    assert Value("amps", 30.0, 29.0, 31.0, "A").text() == "amps: 30 A, from 29 A to 31 A"
    assert Value("amps", 30.0, 29.9999, 30.0001, "A").text() == "amps: 30 A"
