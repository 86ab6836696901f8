"""The list of sums at its edges: what counts as not given, what is of the wrong kind, ranges for plain inputs."""

import pytest

from bot.problems import NotEnough
from bot.sums.catalogue import CATALOGUE
from bot.sums.result import Result
from bot.sums.spans import Span


def _run(name: str, **inputs: object) -> Result:
    return CATALOGUE[name].run(inputs)


def _refusal(name: str, **inputs: object) -> str:
    with pytest.raises(NotEnough) as caught:
        CATALOGUE[name].run(inputs)
    return caught.value.needs


def test_nothing_and_an_empty_answer_count_as_not_given() -> None:
    assert _run("carry", weight_lb=20.0, reach_in=None, grip="") == _run("carry", weight_lb=20.0)


def test_word_that_is_no_choice_is_refused_with_the_choices() -> None:
    assert _refusal("carry", weight_lb=20.0, grip="loose") == "grip as one of: good, fair, poor"


def test_yes_and_no_are_told_apart_in_words_and_as_truth_values() -> None:
    # 3640 lb on one foot is over 2500 lb, half of it is clear.
    for value, verdict in (("yes", "over"), ("no", "clear"), (True, "over"), (False, "clear")):
        found = _run("lift-margin", legs_lb=3640.0, rating_leg_lb=2500.0, one_foot_first=value)
        assert found.verdict == verdict, value
    assert _refusal("lift-margin", legs_lb=3640.0, one_foot_first="maybe") == "one-foot-first as yes or no"


@pytest.mark.parametrize("value", [True, "twenty", [20.0]])
def test_what_is_no_number_is_refused_with_its_unit(value: object) -> None:
    assert _refusal("carry", weight_lb=value) == "weight as a number in lb"


def test_what_is_no_number_is_refused_without_a_unit_where_there_is_none() -> None:
    assert _refusal("carry", weight_lb=20.0, turn_deg="some") == "turn as a number"


def test_number_without_end_is_refused() -> None:
    for value in (float("nan"), float("inf"), Span(1, 2, float("inf"))):
        assert _refusal("carry", weight_lb=value) == "weight as a number that is written out"


def test_range_for_an_input_that_takes_none_counts_as_its_middle() -> None:
    ranged = _run("lift-margin", legs_lb=3640.0, rating_leg_lb=Span(2000, 2500, 3000))
    assert ranged == _run("lift-margin", legs_lb=3640.0, rating_leg_lb=2500.0)


def test_range_for_a_count_is_its_middle_as_a_whole_number() -> None:
    # Bolts are counted: 3.6 of them are 4.
    ranged = _run("bolts", size="1/2-13", count=Span(2, 3.6, 5))
    assert ranged == _run("bolts", size="1/2-13", count=4)
    assert _run("bolts", size="1/2-13", count=3.6) == _run("bolts", size="1/2-13", count=4)


def test_range_for_a_quantity_is_kept() -> None:
    found = _run("lift-margin", legs_lb=Span(3000, 3640, 4000), rating_leg_lb=2500.0)
    load = found.found("load on the legs")
    assert (load.low, load.value, load.high) == (3000, 3640, 4000)


def test_list_is_wanted_where_a_ticket_has_several_axles() -> None:
    assert _refusal("leg-load", truck_alone_lb=4000.0) == "truck-alone as a list of numbers"


def test_two_points_as_six_numbers_are_the_motor_of_the_two_points() -> None:
    # U = I R + k w with R = 0.12 ohm, k = 0.04: 30 A at 179.28 rad/s and 5 A at 285 rad/s (rpm x pi / 30).
    points = [10.7713, 30.0, 1712.0, 12.0, 5.0, 2721.6]
    found = _run("motor-point", volts_rest=12.6, torque_nm=1.2, points_flat=points)
    assert found.value("amps") == pytest.approx(30, rel=1e-3)
    assert found.working[0].startswith("from two measured points: k = 0.04 N.m/A, R = 0.12 ohm")
    for wrong in (points[:5], [*points, 1.0], []):
        needs = _refusal("motor-point", volts_rest=12.6, torque_nm=1.2, points_flat=wrong)
        assert needs.startswith("six numbers")


def test_measures_of_two_legs_go_to_the_right_leg() -> None:
    found = _run("leg-fit", old_outer_in=3.0, new_outer_in=3.5)
    assert [one.name for one in found.values] == ["outer, new less old"]
    assert found.value("outer, new less old") == pytest.approx(0.5)
    assert found.verdict == "does not fit"


def test_one_leg_alone_is_compared_with_nothing() -> None:
    found = _run("leg-fit", lowest_in=14.0, highest_in=26.0, new_stroke_in=13.0)
    assert [one.name for one in found.values] == ["stroke wanted"]
    assert found.verdict == "fits"
    assert "outer tube" in found.narrow


@pytest.mark.parametrize(
    ("name", "inputs"),
    [("carry", {"weight_lb": 30.0}), ("foot", {"load_lb": 1820.0}), ("leg-load", {"pin_lb": 2800.0})],
)
def test_result_as_data_has_its_ten_parts(name: str, inputs: dict[str, object]) -> None:
    result = CATALOGUE[name].run(inputs)
    data = result.as_data()
    assert set(data) == {
        "sum", "values", "verdict", "low", "high", "working", "assumptions", "narrow", "notes", "sources",
    }  # fmt: skip
    assert (data["low"], data["high"]) == (result.low, result.high)
    for part in ("working", "assumptions", "notes", "sources"):
        assert data[part] == list(getattr(result, part))
    assert data["narrow"] == result.narrow


def test_limit_that_is_not_there_becomes_nothing_in_the_data() -> None:
    # 26 in is beyond the 25 in of the lifting equation: one person may lift 0 lb, the index has no end.
    data = _run("carry", weight_lb=30.0, reach_in=26.0).as_data()
    values = data["values"]
    assert isinstance(values, list)
    assert [(one["name"], one["value"]) for one in values] == [
        ("one person may lift", 0.0),
        ("lifting index", None),
    ]


#: What no answer is possible without, by the formula itself: a load over an area wants the load, and so on.
WANTED = {
    "motor-point": ("battery",),
    "fuse-time": ("amps", "rating"),
    "battery": ("rest",),
    "foot": ("load",),
    "carry": ("weight",),
    "screw": ("load", "diameter", "threads"),
    "shaft": ("diameter",),
    "bolts": ("size",),
}


@pytest.mark.parametrize(("name", "option"), [(name, one) for name, found in WANTED.items() for one in found])
def test_sum_without_what_it_wants_names_that_and_how_to_type_it(
    name: str, option: str, capsys: pytest.CaptureFixture[str]
) -> None:
    from bot.shells.sum_command import run

    one = CATALOGUE[name]
    at = one.example.index(f"--{option}")
    assert run([name, *one.example[:at], *one.example[at + 2 :]]) == 2
    said = capsys.readouterr().err
    prompt = next(wanted.prompt for wanted in one.inputs if wanted.option == option)
    assert said.splitlines() == [
        f"{name} wants what is missing here:",
        f'  --{option} "{one.example[at + 1]}"   {prompt}',
    ]
    # Who runs the sum from a program hears the same option.
    from bot.sums.answers import Taken, by_name, read_answer

    given: dict[str, object] = {}
    for wanted in one.inputs:
        if f"--{wanted.option}" in one.example and wanted.option != option:
            found = read_answer(one, wanted, one.example[one.example.index(f"--{wanted.option}") + 1])
            assert isinstance(found, Taken)
            given |= by_name(wanted, found.value)
    assert _refusal(name, **given) == f"{prompt} (--{option})"


def test_nothing_else_is_wanted_of_everyone() -> None:
    wanted = {name: tuple(i.option for i in one.inputs if i.required) for name, one in CATALOGUE.items()}
    assert {name: options for name, options in wanted.items() if options} == WANTED
