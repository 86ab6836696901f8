"""``legline sum`` as a person calls it: the words, the answer, the exit code, where each goes."""

import json
import shlex

import pytest

from bot.shells.sum_command import run
from bot.sums.catalogue import CATALOGUE, Sum

LEG_LOAD = [
    "leg-load",
    "--gross",
    "14000 lb",
    "--pin",
    "2800 lb",
    "--pin-to-axles",
    "26 ft",
    "--pin-to-legs",
    "6 ft",
]


def _out(capsys: pytest.CaptureFixture[str], argv: list[str], code: int = 0) -> tuple[str, str]:
    got = run(argv)
    captured = capsys.readouterr()
    assert got == code, (captured.out, captured.err)
    return captured.out, captured.err


def test_list_names_every_sum(capsys: pytest.CaptureFixture[str]) -> None:
    out, err = _out(capsys, [])
    for name in CATALOGUE:
        assert f"\n{name} " in f"\n{out}"
    assert err == ""


@pytest.mark.parametrize("one", CATALOGUE.values(), ids=list(CATALOGUE))
def test_example_of_the_help_runs_as_it_is_printed(one: Sum, capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = _out(capsys, [one.name, "--help"])
    printed = out.strip().splitlines()[-1].strip()
    assert printed.startswith(f"legline sum {one.name} ")
    answer, err = _out(capsys, shlex.split(printed)[2:])
    assert "verdict: " in answer
    assert "working:" in answer
    assert err == ""


@pytest.mark.parametrize("one", CATALOGUE.values(), ids=list(CATALOGUE))
def test_help_names_every_option_and_what_is_assumed(one: Sum, capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = _out(capsys, [one.name, "--help"])
    flat = " ".join(out.split())
    for wanted in one.inputs:
        assert f"--{wanted.option} [" in flat
        assert wanted.prompt
        assert not wanted.assumed or f"(else: {wanted.assumed})" in flat


@pytest.mark.parametrize("one", CATALOGUE.values(), ids=list(CATALOGUE))
def test_json_is_one_object_with_the_same_figures(one: Sum, capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = _out(capsys, [one.name, *one.example, "--json"])
    assert out.count("\n") == 1
    data = json.loads(out)
    assert data["sum"] == one.name
    assert data["values"]
    assert all({"name", "value", "low", "high", "unit"} <= set(value) for value in data["values"])
    assert data["verdict"]


def test_leg_load_gives_3640_on_both_and_1820_on_each(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = _out(capsys, LEG_LOAD)
    assert "both legs: 3640 lb (1651 kg)" in out
    assert "each leg: 1820 lb" in out
    assert "26 / 20" in out


def test_metric_in_gives_metric_first_and_the_same_load(capsys: pytest.CaptureFixture[str]) -> None:
    metric = ["leg-load", "--pin", "1270.0586 kg", "--pin-to-axles", "7.9248 m", "--pin-to-legs", "1.8288 m"]
    out, _ = _out(capsys, metric)
    assert "both legs: 1651 kg (3640 lb)" in out
    data = json.loads(_out(capsys, [*metric, "--json"])[0])
    assert data["values"][0]["value"] == pytest.approx(3640, rel=1e-6)


@pytest.mark.parametrize(
    ("spelled", "same"),
    [
        ("18 ft", "216 in"),
        ("18 ft", "6 yd"),
        ("18 ft", "18 feet"),
        ("18 ft", "5.4864 m"),
        ("18 ft", "548.64 cm"),
    ],
)
def test_length_in_any_spelling_gives_the_same_drop(
    spelled: str, same: str, capsys: pytest.CaptureFixture[str]
) -> None:
    rest = ["harness", "--gauge", "10", "--amps", "30 A", "--json", "--length"]
    one = json.loads(_out(capsys, [*rest, spelled])[0])["values"][0]["value"]
    other = json.loads(_out(capsys, [*rest, same])[0])["values"][0]["value"]
    assert other == pytest.approx(one, rel=1e-9)


def test_sae_gauge_and_mm2_are_taken_at_the_gauge_option(capsys: pytest.CaptureFixture[str]) -> None:
    rest = ["harness", "--length", "18 ft", "--amps", "30 A", "--json", "--gauge"]
    awg = json.loads(_out(capsys, [*rest, "10 AWG"])[0])["values"][0]["value"]
    sae = json.loads(_out(capsys, [*rest, "10 SAE"])[0])["values"][0]["value"]
    assert sae / awg == pytest.approx(10383.02 / 9343, rel=1e-4)
    metric = json.loads(_out(capsys, [*rest, "6 mm2"])[0])
    assert metric["inputs"]["mm2"] == 6


def test_pin_is_found_by_inches_or_millimetres(capsys: pytest.CaptureFixture[str]) -> None:
    rest = ["shaft", "--torque", "60 N.m", "--diameter", "20 mm", "--pin"]
    out, _ = _out(capsys, [*rest, "slotted metric", "--pin-size", "5 mm"])
    assert "pin shears at: 175 N.m" in out
    _, err = _out(capsys, [*rest, "slotted", "--pin-size", "5 mm"], 1)
    assert "which is made" in err


def test_yes_or_no_option_may_stand_alone(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = _out(capsys, ["lift-margin", "--one-foot-first", "--legs", "3640 lb", "--leg-rating", "2500 lb"])
    assert "verdict: over" in out


def test_scale_tickets_are_read_as_lists(capsys: pytest.CaptureFixture[str]) -> None:
    out, _ = _out(
        capsys,
        [
            "leg-load",
            "--truck-alone",
            "4000 lb, 3500 lb",
            "--truck-coupled",
            "4,100 6,200",
            "--trailer-axles",
            "11200 lb",
        ],
    )
    assert "pin: 2800 lb" in out


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (["leg-lod"], "Did you mean leg-load?"),
        (["harness", "--guage", "10"], "Did you mean --gauge?"),
        (["harness", "--gauge"], "wants a value after it"),
        (["harness", "10"], "stands alone"),
        (["harness", "--gauge", "ten"], "type a gauge"),
        (["harness", "--gauge", "10", "--gauge", "12"], "given twice"),
        (["fuse-time", "--amps", "40 A"], "--rating"),
        (["fuse-time", "--amps", "40 A", "--rating", "30 A", "--kind", "blad"], "Did you mean blade?"),
        (["screw", "--load", "1820 lb", "--diameter", "1 in", "--threads", "five"], "plain number"),
        (["lift-margin", "--legs", "3640 lb", "--one-foot-first", "maybe"], "yes or no"),
        (["carry", "--weight", "30 V"], "--weight"),
        (["carry", "--weight", ""], "is empty"),
    ],
)
def test_wrong_words_are_told_on_standard_error_with_what_to_type(
    argv: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out, err = _out(capsys, argv, 2)
    assert out == ""
    assert words in err


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (["path", "--battery", "12.1 V"], "volts at the battery and at the motor"),
        (["path", "--battery", "11 V", "--motor", "12.5 V"], "more than the battery"),
        (["harness", "--amps", "900 A", "--gauge", "10"], "from 0 to 500 A"),
        (
            ["foot", "--load", "1820 lb", "--ground", "organic", "--foot", "9 in"],
            "nothing that could be counted on",
        ),
        (["leg-load"], "leg-load"),
    ],
)
def test_refusal_goes_to_standard_error_with_exit_1(
    argv: list[str], words: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    out, err = _out(capsys, argv, 1)
    assert out == ""
    assert words in err


def test_person_at_the_keyboard_is_asked_for_what_is_missing(capsys: pytest.CaptureFixture[str]) -> None:
    asked: list[str] = []
    answers = iter(["not a rating", "30 A"])

    def ask(question: str) -> str:
        asked.append(question)
        return next(answers)

    code = run(["fuse-time", "--amps", "45 A"], ask)
    captured = capsys.readouterr()
    assert code == 0
    assert len(asked) == 2, "the first answer could not be read, so it is asked again"
    assert "rating printed on the fuse" in asked[0]
    assert "share of rating: 150.0 %, from 145.5 % to 154.5 %" in captured.out


def test_every_question_may_be_left_out_that_has_an_assumption(capsys: pytest.CaptureFixture[str]) -> None:
    def ask(question: str) -> str:
        return "2800 lb" if question.startswith("pin weight") else ""

    assert run(["leg-load"], ask) == 0
    assert "pin: 2800 lb" in capsys.readouterr().out
