"""The rules of the hazards against the standards they come from, and what stands in no standard.

Every expectation is written here from its source, never read off the table. "Common practice, no source" is
said where nothing printed asks for it.
"""

from __future__ import annotations

import pytest

from bot.corpus.vocabulary import HAZARDS
from bot.safety.holds import hazards_at, holds_before
from bot.safety.rules import RULES
from tests.safety.pages import page, step

#: Which hazards a step before has to make safe. The order of lockout wants a circuit isolated and tried before
#: hands go in (29 CFR 1910.147(d)); a raised load is secured at once (WAC 296-307-22509(3)); wheels are chocked
#: (29 CFR 1910.178(k)(1)); hot, soft ground, people below: common practice, no source.
CONTROLLED = {
    "raised nose": "WAC 296-307-22509(3)",
    "rolling": "29 CFR 1910.178(k)(1)",
    "motor start": "29 CFR 1910.147(d)",
    "live circuit": "29 CFR 1910.147(d)",
    "hot part": "ISO 13732-1",
    "ground giving way": "IBC",
    "person under the nose": "common practice, no source",
}
#: What a question at the step itself has to answer for: nothing before it can make it safe for good.
ASKED_AT_THE_STEP = {
    "overloaded stand": "29 CFR 1926.305(a), (c)",  # rating marked and kept, base blocked
    "stored energy": "29 CFR 1910.147(d)",  # released, and released again where it can gather
    "pinch": "common practice, no source",
    "heavy part": "NIOSH 94-110",
    "children and animals": "common practice, no source",
    "traffic": "common practice, no source",
    "bad light": "29 CFR 1926.56",
}


def test_every_hazard_a_page_may_name_has_a_rule_and_light_alone_is_told_not_written() -> None:
    assert set(RULES) - {"bad light"} == set(HAZARDS)
    assert [rule.hazard for rule in RULES.values()] == list(RULES)


@pytest.mark.parametrize("hazard", CONTROLLED)
def test_a_step_before_has_to_make_it_safe(hazard: str) -> None:
    assert RULES[hazard].needs_control is True


@pytest.mark.parametrize("hazard", ASKED_AT_THE_STEP)
def test_no_step_before_has_to_make_it_safe(hazard: str) -> None:
    assert RULES[hazard].needs_control is False


@pytest.mark.parametrize(("hazard", "source"), [*CONTROLLED.items(), *ASKED_AT_THE_STEP.items()])
def test_each_rule_names_its_source_or_says_that_it_has_none(hazard: str, source: str) -> None:
    assert RULES[hazard].source.startswith(source)


def test_only_the_raised_nose_wants_the_truck() -> None:
    """What holds the nose while legs are off is the hitch; the other controls need no truck (common practice)."""
    assert [hazard for hazard, rule in RULES.items() if rule.needs_truck] == ["raised nose"]


#: A bar in place of a finger, people elsewhere, off the road, a lamp: once seen it stays (common practice, no
#: source). The weight on a part and the second pair of hands are new at each new run of steps.
ONCE = {"pinch", "children and animals", "traffic", "bad light"}


@pytest.mark.parametrize("hazard", ASKED_AT_THE_STEP)
def test_what_stays_answered_and_what_is_asked_afresh(hazard: str) -> None:
    assert RULES[hazard].asked_once is (hazard in ONCE)


@pytest.mark.parametrize(
    ("hazard", "wanted"),
    [
        ("overloaded stand", "stand"),  # 29 CFR 1926.305(a): the rating is never exceeded
        ("ground giving way", "foot"),  # 29 CFR 1926.305(c): base blocked where footing is not firm
        ("heavy part", "carry"),  # NIOSH 94-110
    ],
)
def test_a_sum_stands_behind_what_a_figure_decides(hazard: str, wanted: str) -> None:
    assert RULES[hazard].sum == wanted
    assert [h for h, rule in RULES.items() if rule.sum == wanted] == [hazard]


def test_support_comes_before_power_and_power_before_what_is_stored() -> None:
    """The nose is secured first (WAC 296-307-22509(3)); isolate, then release, 29 CFR 1910.147(d), in this order."""
    mixed = page(step(hazards=("stored energy", "live circuit", "motor start", "rolling", "raised nose")))
    asked = [hold.hazard for hold in holds_before(mixed, 1)]
    assert asked[:5] == ["raised nose", "rolling", "motor start", "live circuit", "stored energy"]


#: What is dangerous to a child or a dog beside the trailer. Common practice, no source.
MOVES = ["raised nose", "rolling", "motor start", "pinch", "stored energy"]


@pytest.mark.parametrize("hazard", MOVES)
def test_children_and_animals_are_asked_after_beside_what_moves(hazard: str) -> None:
    assert "children and animals" in hazards_at(page(step(hazards=(hazard,))), 1)


@pytest.mark.parametrize("hazard", ["live circuit", "hot part", "ground giving way", "heavy part", "traffic"])
def test_children_and_animals_are_not_asked_after_beside_what_stands_still(hazard: str) -> None:
    assert hazards_at(page(step(hazards=(hazard,))), 1) == (hazard,)


def test_people_sent_away_covers_children_and_animals() -> None:
    """Its own question names child and animal; asked twice it would be typed through. Common practice, no source."""
    sent = page(
        step(hazards=("rolling",)), step(makes_safe=("person under the nose",)), step(hazards=("rolling",))
    )
    assert "children and animals" in hazards_at(sent, 1)
    assert hazards_at(sent, 3) == ("rolling",)
    listed = page(step(hazards=("rolling", "person under the nose")), step(hazards=("rolling",)))
    assert hazards_at(listed, 1) == ("rolling", "person under the nose")
    assert hazards_at(listed, 2) == ("rolling",)


def test_people_who_may_come_back_are_asked_after_with_children_and_animals() -> None:
    """What covered them ends where a step undoes it, and not where one undoes something else."""
    people, rolls = "person under the nose", step(hazards=("rolling",))
    back = page(
        step(makes_safe=(people,)),
        rolls,
        step(undoes=(people,), hazards=("rolling",)),
        rolls,
        step(hazards=(people,)),
        rolls,
    )
    asked = ["children and animals" in hazards_at(back, number) for number in range(1, 7)]
    assert asked == [False, False, False, True, False, False]
    other = page(step(makes_safe=(people, "motor start")), step(undoes=("motor start",)), rolls)
    assert hazards_at(other, 3) == ("rolling",)
    at_once = page(
        step(makes_safe=(people,)), step(undoes=(people,)), step(hazards=("rolling",), makes_safe=(people,))
    )
    assert hazards_at(at_once, 3) == ("rolling",)


#: Where one stands -> the stop that it brings beside a step of any hazard. Common practice, no source.
BRINGS = [
    ("dark", "bad light"),
    ("slope", "rolling"),
    ("traffic", "traffic"),
]


@pytest.mark.parametrize(("told", "hazard"), BRINGS)
def test_where_one_stands_brings_its_stop_to_every_step_with_a_hazard(told: str, hazard: str) -> None:
    made = page(step(hazards=("hot part",)), step(makes_safe=("hot part",)))
    assert hazards_at(made, 1, (told,)) == tuple(sorted(("hot part", hazard), key=list(RULES).index))
    assert hazards_at(made, 1, ("no stands",)) == ("hot part",)
    assert hazards_at(made, 2, (told,)) == ()


@pytest.mark.parametrize("told", ["soft ground", "rain"])
@pytest.mark.parametrize(
    "hazard", ["raised nose", "overloaded stand", "person under the nose", "heavy part", "stored energy"]
)
def test_ground_that_may_give_is_asked_after_where_weight_leans_on_it(told: str, hazard: str) -> None:
    assert "ground giving way" in hazards_at(page(step(hazards=(hazard,))), 1, (told,))
    assert "ground giving way" not in hazards_at(page(step(hazards=(hazard,))), 1)


@pytest.mark.parametrize("told", ["soft ground", "rain"])
@pytest.mark.parametrize("hazard", ["live circuit", "hot part", "traffic", "motor start"])
def test_ground_that_may_give_is_not_asked_after_where_nothing_leans_on_it(told: str, hazard: str) -> None:
    assert "ground giving way" not in hazards_at(page(step(hazards=(hazard,))), 1, (told,))
