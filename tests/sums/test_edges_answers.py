"""What a person types for a sum: samples that are themselves taken, ranges, lists, gauges, and refusals."""

from typing import Any

import pytest

from bot.problems import OutOfRange
from bot.sums.answers import Refused, Taken, by_name, read_answer, sample
from bot.sums.catalogue import CATALOGUE, limits_of
from bot.sums.inputs import Input, Sum
from bot.sums.motors import from_two_points
from bot.sums.spans import Span

EVERY = [(one, wanted) for one in CATALOGUE.values() for wanted in one.inputs]
NAMES = [f"{one.name} {wanted.option}" for one, wanted in EVERY]


def _wanted(name: str, option: str) -> tuple[Sum, Input]:
    one = CATALOGUE[name]
    return one, next(wanted for wanted in one.inputs if wanted.option == option)


def _read(name: str, option: str, text: str) -> Taken:
    found = read_answer(*_wanted(name, option), text)
    assert isinstance(found, Taken), found
    return found


def _refusal(name: str, option: str, text: str) -> str:
    found = read_answer(*_wanted(name, option), text)
    assert isinstance(found, Refused), found
    return found.reply


def _shown(name: str, option: str) -> str:
    one, wanted = _wanted(name, option)
    return sample(wanted, one)


def _typed(name: str, option: str) -> Any:
    return _read(name, option, _shown(name, option)).value


# --- samples ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("one", "wanted"), EVERY, ids=NAMES)
def test_sample_is_taken_when_typed_and_lies_within_the_limits(one: Sum, wanted: Input) -> None:
    text = sample(wanted, one)
    found = read_answer(one, wanted, text)
    assert isinstance(found, Taken), f"{text}: {found}"
    bounds = limits_of(one, wanted)
    if bounds is not None:
        low, high, _ = bounds
        for figure in found.value if isinstance(found.value, (list, tuple)) else [found.value]:
            assert isinstance(figure, (int, float))
            assert low <= figure <= high, f"{text} is shown as an answer and is not taken"


@pytest.mark.parametrize(("one", "wanted"), EVERY, ids=NAMES)
def test_sample_shows_the_unit_it_wants(one: Sum, wanted: Input) -> None:
    if wanted.unit and wanted.kind != "gauge":
        for part in sample(wanted, one).split(", "):
            assert part.split()[-1] == wanted.unit


@pytest.mark.parametrize(("one", "wanted"), EVERY, ids=NAMES)
def test_sample_is_that_of_the_example_where_it_has_one(one: Sum, wanted: Input) -> None:
    printed = dict(zip(one.example[::2], one.example[1::2], strict=True))
    option = f"--{wanted.option}"
    if option in printed:
        assert sample(wanted, one) == printed[option]
    elif wanted.kind == "yes_no":
        assert sample(wanted, one) == "yes"


@pytest.mark.parametrize("one", CATALOGUE.values(), ids=list(CATALOGUE))
def test_whoever_types_every_sample_gets_an_answer(one: Sum) -> None:
    given: dict[str, object] = {}
    for wanted in one.inputs:
        found = read_answer(one, wanted, sample(wanted, one))
        assert isinstance(found, Taken)
        given |= by_name(wanted, found.value)
    result = one.run(given)
    assert result.values
    assert result.verdict


def test_samples_are_one_trailer() -> None:
    # 14,000 lb, 2,800 lb of it on the pin; legs 6 ft and axles 26 ft behind the pin.
    for option in ("gross", "pin", "pin-to-axles", "pin-to-legs"):
        assert _shown("lift-margin", option) == _shown("leg-load", option), option
    assert _shown("stand", "pin-to-stands") == _shown("leg-load", "pin-to-legs")
    # The pin is what the truck gained; pin and axles together are the trailer.
    gained = sum(_typed("leg-load", "truck-coupled")) - sum(_typed("leg-load", "truck-alone"))
    assert gained == _typed("leg-load", "pin")
    assert gained + _typed("leg-load", "trailer-axles") == _typed("leg-load", "gross")
    assert _typed("leg-load", "from") < _typed("leg-load", "to") < _typed("leg-load", "pin-to-axles")
    assert _typed("leg-load", "moved") < _typed("leg-load", "pin")


def test_samples_are_parts_that_go_together() -> None:
    assert _typed("foot", "push") < _typed("foot", "load")
    assert 2 * _typed("foot", "wall") < _typed("foot", "tube")
    assert _typed("screw", "diameter") < _typed("screw", "washer") < 2 * _typed("screw", "diameter")
    # Two timbers side by side are the narrowest crib there is.
    assert _typed("stand", "width") >= 2 * _typed("stand", "timber")
    # "Count ten turns": and ten turns of the leg in the example, 6 to the inch, are 1.67 in.
    assert _typed("retime", "turns") == 10
    turns = _typed("retime", "turns") / _typed("retime", "inches")
    assert turns == pytest.approx(_typed("retime", "turns-per-inch"), rel=0.1)
    assert _typed("retime", "difference") == _typed("retime", "right") - _typed("retime", "left")


def test_samples_of_the_motor_are_one_motor() -> None:
    # The two points of the sample and its constants are the same machine: U = I R + k w.
    points = _typed("motor-point", "points")
    motor = from_two_points(tuple(points[:3]), tuple(points[3:]))
    assert motor.k == pytest.approx(_typed("motor-point", "constant"), rel=0.02)
    assert motor.ohm == pytest.approx(_typed("motor-point", "winding"), rel=0.02)
    # Free, it turns at U / k: 12 V / 0.04 x 30 / pi = 2865 rpm.
    assert _typed("motor-point", "no-load-rpm") == pytest.approx(2865, rel=0.01)
    assert _typed("motor-point", "rated-rpm") < _typed("motor-point", "no-load-rpm")
    # A lift takes from ten seconds to five minutes: common practice, no source.
    turns = _typed("motor-point", "stroke") * _typed("motor-point", "turns-per-inch")
    assert 10 < 60 * turns / _typed("motor-point", "rated-rpm") < 300


def test_sample_is_what_is_taken_otherwise_where_that_is_a_plain_number() -> None:
    plain = {
        (one.name, wanted.option): wanted.assumed
        for one, wanted in EVERY
        if wanted.assumed.isdigit() and wanted.assumed != "0" and f"--{wanted.option}" not in one.example
    }
    assert {option for _, option in plain} >= {"starts", "ratio", "contacts", "insulation", "motors"}
    for (name, option), assumed in plain.items():
        if not _wanted(name, option)[1].choices:
            assert _shown(name, option) == assumed, (name, option)
    # NIOSH 94-110 tabulates the twist in steps of 15 degrees.
    assert _typed("carry", "turn") in range(15, 136, 15)
    # A wire of the range that the sums take where none was named.
    assert _shown("path", "gauge") in ("12", "10", "8")


# --- what limits are told -----------------------------------------------------------------------------


def _with(one: Sum, wanted: Input, value: float) -> dict[str, object]:
    given: dict[str, object] = {}
    for each in one.inputs:
        if f"--{each.option}" in one.example:
            found = read_answer(one, each, sample(each, one))
            assert isinstance(found, Taken)
            given |= by_name(each, found.value)
    return {**given, wanted.name: value}


@pytest.mark.parametrize("name", ["motor-point", "leg-fit", "harness", "fuse-time", "battery"])
def test_beyond_the_limit_that_is_told_the_sum_refuses(name: str) -> None:
    one, told = CATALOGUE[name], 0
    for wanted in one.inputs:
        bounds = limits_of(one, wanted)
        if bounds is None:
            continue
        told += 1
        low, high, unit = bounds
        for beyond in (low - 0.1 * (high - low), high + 0.1 * (high - low)):
            if wanted.kind == "count":
                beyond = round(beyond)
            with pytest.raises(OutOfRange) as caught:
                one.run(_with(one, wanted, beyond))
            assert (caught.value.low, caught.value.high, caught.value.unit) == (low, high, unit)
    assert told >= 3


# --- one answer ---------------------------------------------------------------------------------------


def test_yes_and_no_are_read_back_as_such() -> None:
    for text, taken in (
        ("y", (True, "yes")),
        ("YES", (True, "yes")),
        ("n", (False, "no")),
        ("No", (False, "no")),
    ):
        assert _read("harness", "stranded", text) == taken


def test_range_is_kept_where_the_sum_takes_one_and_its_middle_where_not() -> None:
    assert _read("leg-load", "pin-to-axles", "25 to 27 ft").value == Span(25, 26, 27)
    assert _read("stand", "pin-to-axles", "25 to 27 ft").value == 26
    assert not isinstance(_read("stand", "pin-to-axles", "25 to 27 ft").value, Span)


def test_bare_reading_is_no_range_so_its_tolerance_is_still_added() -> None:
    bare = _read("leg-load", "pin", "2800 lb").value
    assert bare == 2800
    assert not isinstance(bare, Span)
    # A scale is right to 1 %: 2772 to 2828 lb.
    found = CATALOGUE["leg-load"].run({"pin_lb": bare}).found("pin")
    assert (found.low, found.high) == pytest.approx((2772, 2828))


def test_figure_without_a_unit_is_refused_with_one_that_is_taken() -> None:
    for name, option in (("screw", "friction"), ("screw", "threads"), ("bolts", "count")):
        reply = _refusal(name, option, "some")
        assert reply.endswith(f"type a plain number, like {_shown(name, option)}.")


def test_empty_answer_is_told_with_a_sample() -> None:
    assert f"Type {_shown('carry', 'weight')}, or leave it out." in _refusal("carry", "weight", "  ")


# --- lists --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "pounds"),
    [
        ("4200 lb, 3900 lb", [4200, 3900]), ("4200 and 3900 lb", [4200, 3900]), ("4,100 6,200", [4100, 6200]),
        ("4100; 6200 lb", [4100, 6200]),
        # Nothing between two signs is no reading, and what follows it still counts.
        ("; 4200 lb", [4200]), ("4200 lb; ; 3900 lb", [4200, 3900]),
        # NIST: 1 lb is 0.45359237 kg by definition.
        ("1905 kg, 3900 lb", [1905 / 0.45359237, 3900]), ("1905 kg; 3900", [1905 / 0.45359237, 3900]),
    ],
)  # fmt: skip
def test_weights_of_a_ticket_are_read_one_by_one(text: str, pounds: list[float]) -> None:
    assert _read("leg-load", "truck-alone", text).value == pytest.approx(pounds)


def test_list_that_holds_a_word_is_refused_and_not_cut_short() -> None:
    assert _refusal("leg-load", "truck-alone", "4200 lb, heavy").startswith("truck alone: ")
    assert _refusal("motor-point", "points", "12 5 2720 and many") == 'points: "many" is no plain number.'


def test_points_of_a_motor_are_six_plain_numbers() -> None:
    found = _read("motor-point", "points", "12, 5, 2720, 10.8, 30, 1712")
    assert found.value == [12, 5, 2720, 10.8, 30, 1712]
    assert found.echo == "12, 5, 2720, 10.8, 30, 1712"


# --- gauges -------------------------------------------------------------------------------------------


def test_area_and_sae_gauge_go_only_where_the_sum_knows_them() -> None:
    assert _read("harness", "gauge", "6 mm2") == (("mm2", 6.0), "6 mm2")
    assert _read("harness", "gauge", "10 SAE") == (("sae", "10"), "10 SAE gauge")
    for name in ("path", "motor-point", "fuse-time"):
        assert "The sum harness takes mm2" in _refusal(name, "gauge", "6 mm2")
        assert "The sum harness knows the SAE ones" in _refusal(name, "gauge", "10 SAE")


def test_gauge_is_read_back_as_american() -> None:
    for text, gauge in (("10", "10"), ("#8", "8"), ("10 awg", "10"), ("2/0", "2/0")):
        assert _read("path", "gauge", text) == (gauge, f"{gauge} AWG")
