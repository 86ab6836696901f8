"""What has to be so whatever the numbers are."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.problems import LeglineError, OutOfRange
from bot.sums import copper, fuses, motors, screws, statics
from bot.sums.battery import battery
from bot.sums.carry import carry, limit_lb
from bot.sums.catalogue import CATALOGUE, Input
from bot.sums.foot import foot
from bot.sums.legs import leg_load
from bot.sums.lift_margin import lift_margin
from bot.sums.path import path
from bot.sums.result import Result
from bot.sums.spans import Span, against, spread
from bot.sums.stand import stand
from bot.sums.wire import harness


def number(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


PIN = number(500, 6000)
AXLES = number(16, 40)
LEGS = number(0, 12)
GAUGES = st.sampled_from(copper.AWG_SIZES)


@given(pin=PIN, axles=AXLES, legs=LEGS, moved=number(0.01, 2000), start=number(-5, 40), back=number(0, 20))
def test_cargo_moved_back_never_raises_the_leg_load(
    pin: float, axles: float, legs: float, moved: float, start: float, back: float
) -> None:
    before = leg_load(pin_lb=pin, pin_to_axles_ft=axles, pin_to_legs_ft=legs)
    after = leg_load(
        pin_lb=pin,
        pin_to_axles_ft=axles,
        pin_to_legs_ft=legs,
        moved_lb=moved,
        from_ft=start,
        to_ft=start + back,
    )
    assert after.value("both legs") <= before.value("both legs") + 1e-9
    assert after.value("change by the move") <= 0


@given(pin=PIN, axles=AXLES, legs=LEGS)
def test_legs_never_carry_less_than_the_pin(pin: float, axles: float, legs: float) -> None:
    assert statics.legs_lb(pin, axles, legs) >= pin * (1 - 1e-12)


@given(pin=PIN, axles=AXLES, legs=LEGS, grade=number(0, 20), height=number(0, 10))
def test_nose_downhill_never_takes_load_off_the_legs(
    pin: float, axles: float, legs: float, grade: float, height: float
) -> None:
    gross = pin * 5
    common = {"gross_lb": gross, "pin_lb": pin, "pin_to_axles_ft": axles, "pin_to_legs_ft": legs}
    down = leg_load(**common, grade_percent=grade, cg_height_ft=height).value("both legs")  # type: ignore[arg-type]
    up = leg_load(**common, grade_percent=-grade, cg_height_ft=height).value("both legs")  # type: ignore[arg-type]
    assert down >= up - 1e-6


@given(total=number(0, 20000), spacing=number(40, 110), offset=number(-15, 15))
def test_both_legs_add_up_to_the_load(total: float, spacing: float, offset: float) -> None:
    near = statics.near_leg_lb(total, spacing, offset)
    far = statics.near_leg_lb(total, spacing, -offset)
    assert near + far == pytest.approx(total, abs=1e-6)


@given(gauge=st.integers(-3, 17), feet=number(1, 100), amps=number(1, 150))
def test_thicker_wire_loses_less(gauge: int, feet: float, amps: float) -> None:
    thick, thin = harness(gauge, feet, amps), harness(gauge + 1, feet, amps)
    assert thick.value("drop") < thin.value("drop")
    assert thick.high < thin.high


@given(gauge=GAUGES, feet=number(1, 100), more=number(0.1, 50), amps=number(1, 150))
def test_longer_wire_loses_more(gauge: int, feet: float, more: float, amps: float) -> None:
    assert harness(gauge, feet + more, amps).value("drop") > harness(gauge, feet, amps).value("drop")


@given(gauge=GAUGES, feet=number(1, 60), amps=number(1, 100), cold=number(-20, 80), warmer=number(1, 80))
def test_warmer_wire_loses_more(gauge: int, feet: float, amps: float, cold: float, warmer: float) -> None:
    at_cold = harness(gauge, feet, amps, temp_f=cold).value("drop")
    assert harness(gauge, feet, amps, temp_f=cold + warmer).value("drop") > at_cold


@given(feet=number(2, 100), amps=number(1, 100), percent=number(1, 15))
def test_gauge_wanted_loses_no_more_than_allowed_by_the_rule(
    feet: float, amps: float, percent: float
) -> None:
    volts = 12 * percent / 100
    gauge = copper.gauge_for(copper.cmil_wanted(amps, 2 * feet, volts))
    if gauge is not None:
        assert copper.rule_drop_v(amps, feet, copper.awg_cmil(gauge)) <= volts * (1 + 1e-12)


@given(amps=number(1, 200), feet=number(1, 100), shorter=number(0, 30))
def test_wire_shortened_never_changes_the_amps_under_constant_torque(
    amps: float, feet: float, shorter: float
) -> None:
    motor, torque = motors.Motor(0.04, 0.05), amps * 0.04
    far = motors.at_torque(motor, 12.6, 0.0005 * (feet + shorter), torque)
    near = motors.at_torque(motor, 12.6, 0.0005 * feet, torque)
    if far is not None:
        assert near is not None
        assert near.amps == far.amps
        assert near.speed_rad_s >= far.speed_rad_s


@given(
    percent=number(101, 900),
    more=number(0, 300),
    kind=st.sampled_from(["blade", "large blade", "supplementary"]),
)
def test_more_current_never_makes_a_fuse_last_longer(percent: float, more: float, kind: str) -> None:
    low, high = fuses.window_s(kind, percent)
    low_more, high_more = fuses.window_s(kind, percent + more)
    assert low <= high
    assert low_more <= low
    assert high_more <= high


@given(mean=number(0.3, 3), lead=number(0.05, 1), friction=number(0.02, 0.4))
def test_screw_holds_exactly_above_its_holding_friction(mean: float, lead: float, friction: float) -> None:
    holds = screws.holding_friction(mean, lead, 14.5)
    down = screws.lower_torque(1000, mean, lead, friction, 14.5)
    if abs(friction - holds) > 1e-9:
        assert (down > 0) == (friction > holds)


@given(rest=number(11, 13), lower=number(0, 1))
def test_less_rested_volts_never_tell_more_charge(rest: float, lower: float) -> None:
    assert battery(rest - lower).value("charge") <= battery(rest).value("charge") + 1e-9


@given(reach=number(5, 25), further=number(0, 10), height=number(0, 60), travel=number(1, 60))
def test_reaching_further_never_allows_more(
    reach: float, further: float, height: float, travel: float
) -> None:
    assert limit_lb(reach + further, height, travel) <= limit_lb(reach, height, travel)


@given(load=number(1, 20000), pad=number(6, 60), wider=number(0, 30))
def test_wider_pad_never_presses_harder(load: float, pad: float, wider: float) -> None:
    assert foot(load, "clay", 9, pad + wider).value("pressure") <= foot(load, "clay", 9, pad).value(
        "pressure"
    )


@given(low=number(0, 50), width=number(0, 20), limit=number(1, 80))
def test_verdict_is_clear_only_when_the_whole_range_is_within(low: float, width: float, limit: float) -> None:
    word = against(Span(low, low + width / 2, low + width), Span(limit, limit, limit))
    assert (word == "clear") == (low + width <= limit)
    assert (word == "over") == (low > limit)


@given(lost=number(0.4, 6), battery_v=number(11, 13), share=number(0, 1), amps=number(10, 60))
def test_sides_of_the_path_add_up(lost: float, battery_v: float, share: float, amps: float) -> None:
    result = path(battery_v, battery_v - lost, lost * share, amps, 10, 18)
    assert result.value("lost on the supply side") + result.value("lost on the ground side") == pytest.approx(
        result.value("lost in all"), abs=1e-9
    )


@given(
    a=number(0.1, 10), b=number(0.1, 10), c=number(0.1, 10), at=st.lists(number(0, 1), min_size=3, max_size=3)
)
def test_range_of_a_formula_holds_every_value_inside(a: float, b: float, c: float, at: list[float]) -> None:
    spans = [Span(one, one * 1.5, one * 2) for one in (a, b, c)]

    def formula(x: float, y: float, z: float) -> float:
        return x * y / z

    whole = spread(formula, *spans)
    inside = formula(*(one.low + (one.high - one.low) * part for one, part in zip(spans, at, strict=True)))
    assert whole.low - 1e-9 <= inside <= whole.high + 1e-9


@given(legs=number(500, 9000), rating=number(300, 9000))
def test_one_foot_first_is_never_easier(legs: float, rating: float) -> None:
    words = ["clear", "close", "over"]
    both = lift_margin(legs, rating_leg_lb=rating).verdict
    alone = lift_margin(legs, rating_leg_lb=rating, one_foot_first=True).verdict
    assert words.index(alone) >= words.index(both)


@given(load=number(100, 20000), rating=number(500, 20000), count=st.integers(1, 7))
def test_one_stand_more_never_raises_the_verdict(load: float, rating: float, count: int) -> None:
    words = ["clear", "close", "over"]
    few, more = stand(load, count, rating).verdict, stand(load, count + 1, rating).verdict
    assert words.index(more) <= words.index(few) or count >= 2


@given(weight=number(1, 200), more=number(0, 100))
def test_heavier_part_never_wants_fewer_hands(weight: float, more: float) -> None:
    words = ["one person", "two people", "jack"]
    assert words.index(carry(weight + more).verdict) >= words.index(carry(weight).verdict)


def _any_value(wanted: Input) -> st.SearchStrategy[object]:
    if wanted.choices:
        return st.sampled_from(wanted.choices)
    if wanted.kind == "yes_no":
        return st.booleans()
    if wanted.kind == "gauge":
        return st.sampled_from(["18", "10", "4", "1/0", "4/0", "40"])
    if wanted.kind == "text":
        return st.sampled_from(["1/2-13", "3/8-16 x 2", "1-8", "nonsense", "5/8", "1/0-13"])
    if wanted.kind == "numbers":
        return st.lists(number(0, 20000), min_size=0, max_size=6)
    return st.one_of(number(0, 100), number(0, 20000), number(-50, 50), st.just(float("nan")))


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_any_input_gives_a_result_or_a_refusal_with_fields(name: str) -> None:
    one = CATALOGUE[name]

    @settings(max_examples=150, deadline=None)
    @given(st.fixed_dictionaries({}, optional={wanted.name: _any_value(wanted) for wanted in one.inputs}))
    def hold(inputs: dict[str, object]) -> None:
        refusal = ""
        try:
            result = one.run(inputs)
        except LeglineError as refused:
            refusal = str(refused)
        else:
            _sound(result)
            return
        assert refusal.strip()

    hold()


def _sound(result: Result) -> None:
    assert result.verdict
    assert result.values
    assert result.sources
    for value in result.values:
        assert not math.isnan(value.value), value
        assert value.low <= value.value + 1e-9 * abs(value.value) + 1e-12, value
        assert value.value <= value.high + 1e-9 * abs(value.high) + 1e-12, value


def _refuses(call: Callable[[], object]) -> bool:
    try:
        call()
    except OutOfRange:
        return True
    return False


@given(amps=number(1001, 1e6))
def test_current_beyond_the_limit_is_refused(amps: float) -> None:
    assert _refuses(lambda: copper.drop_v(amps, 0.01))
