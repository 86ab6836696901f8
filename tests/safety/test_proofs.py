"""The sums a stop leans on: what they ask first, when a stand counts, and the figures they give, worked by hand.

By hand, for a pin of 2800 lb read to 1 %: 2772 to 2828 lb. The legs stand 4 to 8 ft behind the pin (6 as a rule),
the axles 20 to 32 ft (26 as a rule), and carry pin x L / (L - a) (moments about the axles):
2800 x 26/20 = 3640; least 2772 x 32/28 = 3168; most 2828 x 20/12 = 4713.3 lb. On each of two: 1584 to 2356.7 lb.
A gross weight alone puts 15 to 25 % on the pin (20 as a rule; common practice): 14000 lb, 13860 to 14140, gives
2079, 2800, 3535 lb on the pin: 2079 x 32/28 = 2376, 3640, 3535 x 20/12 = 5891.7 lb on both.
"""

from __future__ import annotations

import re

import pytest

from bot.problems import Contradiction
from bot.safety.proofs import INPUTS, Findings, Proof, load_on_legs, proof

PIN = {"pin_weight_lb": 2800.0}
STANDS: dict[str, str | float] = {**PIN, "prop_kind": "stands"}
NONE: frozenset[str] = frozenset()


def _stand(findings: Findings, *unknown: str, units: str = "us") -> Proof:
    return proof("stand", findings, frozenset(unknown), units)


def _rated(pounds: float, units: str = "us") -> Proof:
    return _stand({**STANDS, "stand_rating_lb": pounds}, units=units)


def _crib(kind: str, pin_lb: float) -> Proof:
    return _stand({"pin_weight_lb": pin_lb, "prop_kind": kind})


# --- the load ------------------------------------------------------------------------------------------


def test_the_load_comes_from_the_pin_weight_as_worked_above() -> None:
    assert load_on_legs(PIN) == pytest.approx((3168, 3640, 4713.333), abs=0.001)


def test_without_a_pin_weight_it_comes_from_a_share_of_the_gross_weight() -> None:
    assert load_on_legs({"gross_weight_lb": 14000}) == pytest.approx((2376, 3640, 5891.667), abs=0.001)


def test_a_pin_that_was_weighed_counts_before_a_share_of_the_gross_weight() -> None:
    """2000 lb weighed is 2000 x 26/20 = 2600 lb on the legs, whatever a fifth of 14000 lb may be."""
    both = load_on_legs({"gross_weight_lb": 14000.0, "pin_weight_lb": 2000.0})
    assert both is not None
    assert both.value == pytest.approx(2600)


def test_no_weight_and_a_weight_in_words_give_no_load() -> None:
    assert load_on_legs({}) is None
    assert load_on_legs({"pin_weight_lb": "heavy"}) is None


IMPOSSIBLE: Findings = {"gross_weight_lb": 3000.0, "pin_weight_lb": 2900.0}  # 2900 x 26/20 = 3770 lb, of 3000


def test_weights_that_cannot_both_be_right_give_no_load_and_open_no_stop() -> None:
    with pytest.raises(Contradiction):
        load_on_legs(IMPOSSIBLE)
    for name in ("stand", "foot"):
        says = proof(name, {**IMPOSSIBLE, "prop_kind": "crib_6x6"}, NONE)
        assert (says.wants, says.passes) == ("", False)
        assert "3770 lb, more than the whole trailer weighs (3000 lb)" in says.lines[0]


@pytest.mark.parametrize("name", ["stand", "foot"])
def test_a_weight_beyond_what_the_sum_holds_for_opens_no_stop(name: str) -> None:
    says = proof(name, {"gross_weight_lb": 60000.0, "prop_kind": "crib_6x6"}, NONE)
    assert (says.wants, says.passes) == ("", False)
    assert "60000 lb" in says.lines[0]


# --- what is asked first -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("findings", "unknown", "wanted"),
    [
        ({}, (), "gross_weight_lb"),
        ({}, ("gross_weight_lb",), "pin_weight_lb"),
        ({}, ("pin_weight_lb",), "gross_weight_lb"),
        (PIN, (), "prop_kind"),
        (PIN, ("gross_weight_lb",), "prop_kind"),
        (STANDS, (), "stand_rating_lb"),
        ({**PIN, "prop_kind": "bricks"}, (), "prop_kind"),
    ],
)
def test_what_is_not_known_yet_is_asked_in_order_and_the_stop_stays_shut(
    findings: Findings, unknown: tuple[str, ...], wanted: str
) -> None:
    assert _stand(findings, *unknown) == Proof(wanted, False, ())


@pytest.mark.parametrize(
    ("findings", "unknown", "says"),
    [
        ({}, ("gross_weight_lb", "pin_weight_lb"), "so no stand counts"),
        (PIN, ("prop_kind",), "Without knowing what stands under it, it does not count."),
        # "Rating marked": 29 CFR 1926.305(a)(1). What cannot be read is not marked.
        (STANDS, ("stand_rating_lb",), "A stand whose rating cannot be read does not count."),
    ],
)
def test_what_cannot_be_known_keeps_the_stop_shut_and_says_why(
    findings: Findings, unknown: tuple[str, ...], says: str
) -> None:
    answer = _stand(findings, *unknown)
    assert (answer.wants, answer.passes) == ("", False)
    assert len(answer.lines) == 1
    assert says in answer.lines[0]


def test_a_crib_is_asked_for_no_rating() -> None:
    assert _stand({**PIN, "prop_kind": "crib_4x4"}) == _stand(
        {**PIN, "prop_kind": "crib_4x4"}, "stand_rating_lb"
    )
    assert _stand({**PIN, "prop_kind": "crib_4x4"}).passes is True


# --- stands --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("marked", "word", "opens"),
    [
        # 29 CFR 1926.305(a)(1): never above the rating. A marking may be for the pair, so half of it counts:
        # 2356.7 lb at most on each asks for 4713.3 lb.
        (4714, "clear", True),
        (4713, "close", False),
        # Over where the least load, 1584 lb on each, is above the marking taken for one stand.
        (1584, "close", False),
        (1583, "over", False),
        (12000, "clear", True),
        (2, "over", False),
    ],
)
def test_a_stand_counts_only_where_half_its_marking_is_above_the_highest_load(
    marked: float, word: str, opens: bool
) -> None:
    says = _rated(marked)
    assert (says.wants, says.passes, len(says.lines)) == ("", opens, 2)
    assert says.lines[1].startswith(f"That is {word}")
    assert ("this stop does not open" in says.lines[1]) is not opens


def test_the_words_of_a_stand_show_load_share_and_marking() -> None:
    assert _rated(12000).lines == (
        "Sum (stand): the nose puts 3640 lb on both, from 3168 lb to 4713 lb; each of two carries up to 2357 lb, "
        "against 12000 lb marked (6000 lb if that is for the pair).",
        "That is clear, on two of them, upright and square under the frame rails.",
    )


def test_the_stand_that_is_asked_for_instead_is_one_that_passes() -> None:
    """4713.3 lb rounded to the nearest is 4713 lb, and a stand of 4713 lb does not pass."""
    assert _rated(4713).lines[1].endswith("Use two that are marked 4714 lb or more each, or a crib.")
    for pin in range(1000, 6000, 37):
        told = proof("stand", {**STANDS, "pin_weight_lb": pin, "stand_rating_lb": 500.0}, NONE).lines[1]
        wanted = float(re.findall(r"marked (\d+) lb", told)[0])
        assert proof("stand", {**STANDS, "pin_weight_lb": pin, "stand_rating_lb": wanted}, NONE).passes
        assert not proof(
            "stand", {**STANDS, "pin_weight_lb": pin, "stand_rating_lb": wanted - 1}, NONE
        ).passes


def test_in_kilograms_the_same_stand_is_asked_for() -> None:
    """1 lb = 0.45359237 kg: 3640 lb is 1651.1 kg, 4713.3 lb is 2137.9 kg, 6000 lb is 2721.6 kg, half 1360.8 kg."""
    told = _rated(6000, "metric")
    assert (
        "the nose puts 1651 kg on both, from 1437 kg to 2138 kg; each of two carries up to 1069 kg"
        in told.lines[0]
    )
    assert "against 2722 kg marked (1361 kg if that is for the pair)" in told.lines[0]
    assert "marked 2138 kg or more each" in _rated(4713, "metric").lines[1]
    # 4762 lb x 0.45359237 = 2160.007 kg: a stand of 2160 kg would carry too little by a hand's weight.
    high = 4762 * 0.6 / 1.01  # pin whose legs carry 4762 lb at most: x 1.01 x 20/12
    short = proof("stand", {**STANDS, "pin_weight_lb": high, "stand_rating_lb": 500.0}, NONE, "metric")
    assert "marked 2161 kg or more each" in short.lines[1]


def test_a_rating_beyond_what_the_sum_holds_for_opens_no_stop() -> None:
    says = _rated(0.5)
    assert (says.wants, says.passes) == ("", False)
    assert "1 to 100000 lb" in says.lines[0]


# --- cribs ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "pin_lb", "opens"),
    [
        # Two by two of 4x4 carries 24000 lb, half of it counts: 12000 lb (fire-service figures; factor 2).
        # On each at most pin x 1.01 x 20/12 / 2: 14257 lb of pin give 11999.6 lb, 14258 lb give 12000.5 lb.
        ("crib_4x4", 14257, True),
        ("crib_4x4", 14258, False),
        # Of 6x6 60000 lb, half: 30000 lb; the same pin is far below.
        ("crib_6x6", 14258, True),
    ],
)
def test_a_crib_counts_up_to_half_of_what_its_timber_carries(kind: str, pin_lb: float, opens: bool) -> None:
    assert _crib(kind, pin_lb).passes is opens


def test_the_words_of_a_crib_show_what_its_timber_may_carry() -> None:
    assert _crib("crib_4x4", 2800).lines == (
        "Sum (stand): the nose puts 3640 lb on both, from 3168 lb to 4713 lb; each of two carries up to 2357 lb; "
        "a crib of 4x4, two timbers a layer, may carry 12000 lb, half of what its wood stands.",
        "That is clear, on two of them, upright and square under the frame rails.",
    )
    assert "a crib of 6x6, two timbers a layer, may carry 30000 lb" in _crib("crib_6x6", 2800).lines[0]


def test_a_crib_in_kilograms_is_in_kilograms_throughout() -> None:
    """12000 lb x 0.45359237 = 5443.1 kg."""
    told = _stand({**PIN, "prop_kind": "crib_4x4"}, units="metric").lines[0]
    assert "carries up to 1069 kg; a crib of 4x4" in told
    assert "may carry 5443 kg" in told
    assert "lb" not in told


def test_a_crib_that_is_too_weak_wants_thicker_timber() -> None:
    assert _crib("crib_4x4", 14258).lines[1] == (
        "That is close: this stop does not open. Build the crib of thicker timber."
    )


def test_a_crib_is_held_against_its_timber_though_a_rating_was_told() -> None:
    with_rating = _stand({**PIN, "prop_kind": "crib_4x4", "stand_rating_lb": 500.0})
    assert with_rating == _crib("crib_4x4", 2800)


# --- pad, lifting, none --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pin_lb", "pounds", "side"),
    [
        # 1500 lb a square foot (24 CFR 3285.202(e)): side = 12 x root of (load / 1500), up to the next half inch.
        (2800, "2357 lb", "15.5 in"),  # 2356.7 lb: 12 x 1.2534 = 15.04 in
        (2784, "2343 lb", "15 in"),  # 2343.2 lb: 14.998 in; 15 in carry 2343.75 lb
        (2785, "2344 lb", "15.5 in"),  # 2344.04 lb: 15.001 in
    ],
)
def test_the_pad_is_worked_out_for_the_highest_load_on_one_foot(
    pin_lb: float, pounds: str, side: str
) -> None:
    says = proof("foot", {"pin_weight_lb": pin_lb}, NONE)
    assert (says.wants, says.passes, len(says.lines)) == ("", True, 1)
    assert says.lines[0].startswith(
        f"Sum (pad): up to {pounds} on one foot asks for a pad {side} square or more"
    )
    assert "mud and fresh fill carry nothing" in says.lines[0]  # IBC table 1806.2


def test_the_pad_in_kilograms_and_millimetres() -> None:
    """2356.7 lb is 1069 kg; 15.5 in x 25.4 = 393.7 mm."""
    (line,) = proof("foot", PIN, NONE, "metric").lines
    assert "up to 1069 kg on one foot asks for a pad 393.7 mm square" in line


def test_without_a_weight_the_pad_is_left_to_the_yes_and_says_what_would_work_it_out() -> None:
    assert proof("foot", {}, NONE) == Proof(
        "", True, ("Sum (pad): tell the trailer's gross weight and the pad is worked out here.",)
    )


def test_one_person_lifts_what_the_equation_allows_and_two_at_most_twice_that() -> None:
    """Hands 20 in out and 6 in up: 18.5 lb by NIOSH 94-110 (51 x 0.5 x 0.82 x 0.93 x 0.95), within 0.1 lb."""
    says = proof("carry", {}, NONE)
    assert (says.wants, says.passes, len(says.lines)) == ("", True, 1)
    one, two = (float(text) for text in re.findall(r"([\d.]+) lb", says.lines[0]))
    assert one == pytest.approx(18.5, abs=0.1)
    assert two == pytest.approx(2 * one, abs=0.01)
    (metric,) = proof("carry", {}, NONE, "metric").lines
    one, two = (float(text) for text in re.findall(r"([\d.]+) kg", metric))
    assert one == pytest.approx(18.5 * 0.45359237, abs=0.05)
    assert two == pytest.approx(2 * one, abs=0.01)


def test_a_stop_without_a_sum_opens_on_a_yes_alone() -> None:
    assert proof("", {}, NONE) == Proof("", True, ())
    assert proof("", IMPOSSIBLE, NONE) == Proof("", True, ())


@pytest.mark.parametrize("finding", INPUTS)
def test_every_finding_that_decides_over_a_stop_is_named(finding: str) -> None:
    """Each changes what some sum says; nothing else that could be told does."""
    whole: dict[str, str | float] = {
        "gross_weight_lb": 14000.0,
        "prop_kind": "stands",
        "stand_rating_lb": 3000.0,
    }
    other: dict[str, str | float] = {"gross_weight_lb": 9000.0, "pin_weight_lb": 1000.0, "prop_kind": "crib_6x6",
                                     "stand_rating_lb": 9999.0}  # fmt: skip
    assert _stand({**whole, finding: other[finding]}) != _stand(whole)
    more: Findings = {**whole, "amps": 30.0, "support": "legs", "hitched": "yes", "gear": "manual"}
    assert _stand(more) == _stand(whole)
