"""Chances against exact posteriors computed with pyAgrum 3.3.1 and pgmpy 1.1.2 (naive Bayes of ten findings).

The network, its evidence and the posteriors are copied into exact.json; both libraries agree to 9e-16.
"""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from bot.corpus.model import Cause, Check, Page
from bot.reason.chances import ELSE, Model, standing

NET = json.loads((Path(__file__).parent / "exact.json").read_text(encoding="utf-8"))


TESTS = [f"t{i}" for i in range(len(NET["naive_bayes"]["tests"]))]


def _page(name: str) -> Page:
    return Page(name, "causes", name, name, {}, {}, ())


def _model() -> Model:
    net = NET["naive_bayes"]
    causes = tuple(
        Cause(_page(f), f, ("manual",), 1.0, "none", "", 1.0, "no part", ()) for f in net["faults"]
    )
    names = (*net["faults"], ELSE)
    checks = {
        t: Check(
            _page(t),
            t,
            "yes_no",
            ("yes", "no"),
            "",
            0,
            0,
            ("manual",),
            "none",
            1,
            (),
            1,
            "",
            "outside",
            (),
            False,
            (),
            "",
            "",
            "",
        )
        for t in TESTS
    }
    rows: dict[str, Any] = {}
    for i, test in enumerate(TESTS):
        chances = net["p_positive_given_fault"][i]
        rows[test] = {"yes": (*chances, 0.5), "no": (*(1 - p for p in chances), 0.5)}
    return Model(
        causes,
        names,
        (*net["prior"], 0.0),
        checks,
        rows,
        (((0.0,) * 9,),),
        (0,) * len(names),
        {n: i for i, n in enumerate(names)},
    )


CASES = [c for c in NET["cases"] if c["net"] == "naive_bayes" and not c["likelihood"]]


@pytest.mark.parametrize("case", CASES, ids=[c["case"] for c in CASES])
def test_chances_equal_two_inference_libraries(case: dict[str, Any]) -> None:
    model = _model()
    findings = {t: "yes" if v == 1 or v is True else "no" for t, v in case["hard_evidence"].items()}
    now = standing(model, findings)
    for fault, wanted in case["posterior"]["fault"].items():
        assert now.chances[model.index[fault]] == pytest.approx(wanted, abs=1e-9)


def test_order_of_answers_does_not_matter() -> None:
    model = _model()
    tests = TESTS[:5]
    forward = standing(model, {t: "yes" for t in tests})
    backward = standing(model, {t: "yes" for t in reversed(tests)})
    assert forward.chances == pytest.approx(backward.chances, abs=1e-12)


def test_conflict_score_of_ten_positives_is_the_published_logarithm() -> None:
    model = _model()
    now = standing(model, {t: "yes" for t in TESTS})
    assert now.conflict == pytest.approx(
        5.307, abs=0.001
    )  # ln of the product of single chances over the joint one, computed with pyAgrum 3.3.1


def test_chances_sum_to_one(knowledge: Any) -> None:
    now = standing(
        knowledge.model, {"gear": "one_motor", "button_response": "clicks", "volts_motor_loaded": 6.8}
    )
    assert sum(now.chances) == pytest.approx(1.0, abs=1e-12)


def test_gear_strikes_out_what_cannot_be(knowledge: Any) -> None:
    now = standing(knowledge.model, {"gear": "manual"})
    for cause, chance in zip(knowledge.model.causes, now.chances, strict=False):
        assert (chance == 0.0) == ("manual" not in cause.fits), cause.name


def test_repair_in_vain_lowers_its_cause_and_forgets_none(knowledge: Any) -> None:
    findings = {"gear": "one_motor", "button_response": "clicks"}
    before, after = standing(knowledge.model, findings), standing(knowledge.model, findings, ("bad_ground",))
    at = knowledge.model.index["bad_ground"]
    assert 0 < after.chances[at] < before.chances[at] / 5


def test_ground_side_loss_settles_between_battery_and_ground(knowledge: Any) -> None:
    """The second reading decides: 9.4 V at the motor alone leaves it open."""
    model = knowledge.model
    base: dict[str, str | float] = {"gear": "one_motor", "volts_motor_loaded": 9.0}
    high = standing(model, {**base, "volts_ground_drop": 2.1})
    low = standing(model, {**base, "volts_ground_drop": 0.05})
    at = model.index["bad_ground"]
    assert high.chances[at] > 0.5
    assert low.chances[at] < 0.05


def test_impossible_reading_moves_nothing_by_much(knowledge: Any) -> None:
    """940 V is a slip: the prior stays."""
    plain, slipped = (
        standing(knowledge.model, {"gear": "one_motor"}),
        standing(knowledge.model, {"gear": "one_motor", "volts_motor_loaded": 940.0}),
    )
    assert slipped.chances == pytest.approx(plain.chances, abs=1e-9)


def test_model_survives_its_prepared_form(knowledge: Any) -> None:
    again = replace(knowledge.model)
    assert (
        standing(again, {"gear": "two_motor"}).chances
        == standing(knowledge.model, {"gear": "two_motor"}).chances
    )
