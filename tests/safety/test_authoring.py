"""What `corpus check` says of a page whose hazards are left without their control: where, what, and the mend.

Each page is sound but for one slip, planted here. The order of lockout is 29 CFR 1910.147(d); nothing that holds
the nose comes off before it is secured: WAC 296-307-22509(3).
"""

from __future__ import annotations

from typing import Any

import pytest

from bot.corpus.model import Procedure, Step
from bot.corpus.vocabulary import TRIGGER_WORDS
from bot.problems import Problem
from bot.safety.authoring import problems_of
from tests.safety.pages import FILE, FIRST_LINE, HEAD_LINES, TABLE_LINE, controls, page, step

HITCHED, OPENED = controls("raised nose", "motor start")


def _said(procedure: Procedure) -> list[Problem]:
    """All but what the words of a step and the steps beside it would make one expect: that has tests of its own."""
    return [problem for problem in problems_of(procedure) if " lacks " not in problem.what]


def _line(number: int, label: str = "") -> int:
    """The line of a step, or of one of its labels."""
    return FIRST_LINE + 10 * (number - 1) + ("", "hazard", "undoes", "removes", "opens gears").index(label)


CONTROLLED = ["raised nose", "rolling", "motor start", "live circuit", "hot part", "ground giving way"]
ASKED = ["stored energy", "pinch", "heavy part", "overloaded stand", "traffic", "children and animals"]


@pytest.mark.parametrize("hazard", [*CONTROLLED, "person under the nose"])
def test_a_hazard_without_a_step_before_that_makes_it_safe_is_named_at_its_label(hazard: str) -> None:
    assert _said(page(*controls(hazard), step(hazards=(hazard,)))) == []
    (problem,) = _said(page(step(hazards=(hazard,))))
    assert (problem.file, problem.line) == (FILE, _line(1, "hazard"))
    assert problem.what == f'step 1 has the hazard "{hazard}", but no earlier step makes it safe.'
    assert f'"makes safe: {hazard}"' in problem.fix
    assert '"done when"' in problem.fix


@pytest.mark.parametrize("hazard", ASKED)
def test_a_hazard_that_no_step_can_make_safe_for_good_wants_none(hazard: str) -> None:
    assert _said(page(step(hazards=(hazard,)))) == []


def test_the_step_that_makes_it_safe_may_list_it() -> None:
    assert _said(page(step(hazards=("rolling",), makes_safe=("rolling",)))) == []


def test_a_control_of_another_hazard_or_one_that_comes_later_does_not_count() -> None:
    for made in (
        page(*controls("live circuit"), step(hazards=("motor start",))),
        page(step(hazards=("motor start",)), *controls("motor start")),
        page(*controls("motor start"), step(undoes=("motor start",)), step(hazards=("motor start",))),
    ):
        (problem,) = _said(made)
        assert "no earlier step makes it safe" in problem.what


def test_each_hazard_without_control_is_named_by_itself() -> None:
    found = _said(page(*controls("rolling"), step(hazards=("hot part", "rolling", "motor start"))))
    assert [problem.what.split('"')[1] for problem in found] == ["hot part", "motor start"]
    assert {problem.line for problem in found} == {_line(2, "hazard")}


def test_a_control_without_a_sign_that_it_took_is_refused() -> None:
    """Lockout ends with a try (verify): 29 CFR 1910.147(d)."""
    (problem,) = _said(page(step(makes_safe=("motor start",), done_when="")))
    assert (problem.line, problem.what) == (
        _line(1),
        'step 1 makes "motor start" safe, but has no "done when".',
    )
    assert "what a person sees" in problem.fix
    assert _said(page(step(hazards=("pinch",), done_when=""))) == []


@pytest.mark.parametrize(
    ("text", "done_when"),
    [
        ("The jaws close round the kingpin.", "it is seen"),
        ("Back under.", "the jaw is shut behind the kingpin"),
        ("Look at the kingpin: the jaws hold it.", "it is seen"),
        ("Look at the kingpin.", "the Jaws hold it"),
    ],
)
def test_a_nose_held_by_closed_jaws_is_safe(text: str, done_when: str) -> None:
    assert _said(page(step(text, makes_safe=("raised nose",), done_when=done_when))) == []


@pytest.mark.parametrize(
    "text", ["Hitch the truck.", "The jaws are shut.", "The kingpin sits deep.", "jawsome kingpin"]
)
def test_a_nose_without_jaws_round_its_kingpin_is_not(text: str) -> None:
    (problem,) = _said(page(step(text, makes_safe=("raised nose",), done_when="it holds")))
    assert problem.line == _line(1)
    assert "without the jaws closed round the kingpin" in problem.what
    assert "jaws and kingpin" in problem.fix
    assert _said(page(step(text, makes_safe=("rolling",), done_when="it holds"))) == []


def test_undoing_what_nothing_made_safe_is_refused_at_that_label() -> None:
    (problem,) = _said(page(*controls("motor start"), step(undoes=("live circuit",))))
    assert (problem.line, problem.what) == (
        _line(2, "undoes"),
        'step 2 undoes "live circuit", which nothing made safe.',
    )
    assert "Take the label out" in problem.fix


def test_undoing_counts_what_any_step_before_made_safe_and_none_after() -> None:
    assert _said(page(*controls("motor start"), step(undoes=("motor start",)))) == []
    assert _said(page(*controls("motor start", "rolling"), step(undoes=("motor start",)))) == []
    for late in (
        page(step(undoes=("motor start",)), *controls("motor start")),
        page(step(undoes=("motor start",), makes_safe=("motor start",))),
    ):
        assert [(p.line, "nothing made safe" in p.what) for p in _said(late)] == [(_line(1, "undoes"), True)]


def _taking_off(part: str, *hazards: str, truck: bool = True) -> Procedure:
    return page(HITCHED, OPENED, step(hazards=hazards, removes=(part,)), truck=truck)


@pytest.mark.parametrize("part", ["leg", "motor", "gearbox", "shaft"])
def test_what_holds_or_turns_comes_off_behind_truck_and_open_circuit(part: str) -> None:
    assert _said(_taking_off(part, "raised nose", "motor start")) == []
    found = _said(_taking_off(part, "pinch"))
    assert [(p.line, p.what) for p in found] == [
        (_line(3, "removes"), f'step 3 takes off the {part} without the hazard "{hazard}".')
        for hazard in ("raised nose", "motor start")
    ]
    assert [p.fix for p in found] == [
        'Add "raised nose" to its hazards.',
        'Add "motor start" to its hazards.',
    ]
    assert ['"motor start"' in p.what for p in _said(_taking_off(part, "raised nose"))] == [True]


def test_a_pin_comes_off_without_them_and_of_two_parts_both_are_named() -> None:
    assert _said(_taking_off("pin", "pinch")) == []
    (problem,) = _said(page(HITCHED, OPENED, step(hazards=("raised nose",), removes=("pin", "shaft"))))
    assert "takes off the pin, shaft without" in problem.what


def test_gears_are_opened_behind_an_open_circuit() -> None:
    made = page(OPENED, step(hazards=("pinch",), opens_gears=True))
    (problem,) = _said(made)
    assert (problem.line, problem.what) == (
        _line(2, "opens gears"),
        'step 2 opens gears without the hazard "motor start".',
    )
    assert problem.fix == 'Add "motor start" to its hazards.'
    assert _said(page(OPENED, step(hazards=("motor start",), opens_gears=True))) == []


BARE = "carries no hazard, makes safe or undoes"


@pytest.mark.parametrize("word", TRIGGER_WORDS)
def test_a_word_of_danger_in_a_step_without_labels_is_named(word: str) -> None:
    found = _said(page(step(f"Take the {word.capitalize()} now.")))
    assert [(p.line, p.what) for p in found][:1] == [(_line(1), f'step 1 says "{word}" and {BARE}.')]
    assert "hazard: none, because" in found[0].fix


@pytest.mark.parametrize(
    "text", ["Understand the standard.", "Take the refused jacket off the spindle.", "Do it."]
)
def test_such_a_word_inside_another_is_none(text: str) -> None:
    assert [p.what.split(":")[0] for p in _said(page(step(text)))] == [f"step 1 {BARE}"]  # of any bare step


@pytest.mark.parametrize(
    "labels",
    [
        {"hazards": ("pinch",)},
        {"makes_safe": ("hot part",)},
        {"no_hazard_because": "it lies on the bench"},
    ],
)
def test_one_label_is_enough_for_a_word_of_danger(labels: dict[str, Any]) -> None:
    assert _said(page(step("Take the fuse.", **labels))) == []


def test_an_undoing_is_enough_for_a_word_of_danger() -> None:
    assert _said(page(OPENED, step("Take the fuse.", undoes=("motor start",)))) == []


def test_a_part_comes_off_only_with_a_truck() -> None:
    (problem,) = _said(_taking_off("pin", "pinch", truck=False))
    assert (problem.line, problem.what) == (
        HEAD_LINES["needs truck"],
        "a part comes off, but the head says needs truck: no.",
    )
    assert problem.fix == "Write needs truck: yes."
    assert _said(page(step(hazards=("pinch",)), truck=False)) == []


def test_a_head_that_says_a_leg_comes_off_wants_the_step_that_takes_it_off() -> None:
    def leg_off(*removes: str) -> list[Problem]:
        parts: tuple[Step, ...] = (step(hazards=("raised nose", "motor start"), removes=removes),)
        return _said(page(HITCHED, OPENED, *parts, leg_off=True))

    assert leg_off("leg") == []
    assert leg_off("pin", "leg") == []
    for removes in ((), ("motor",)):
        (problem,) = leg_off(*removes)
        assert (problem.line, problem.what) == (
            HEAD_LINES["needs leg off"],
            "the head says a leg comes off, but no step removes it.",
        )
        assert problem.fix == "Label the step: removes: leg"


def test_what_other_checks_find_is_told_with_it_in_the_order_of_the_lines() -> None:
    made = page(
        OPENED,
        step("Two people lift it.", ("traffic",)),
        step("Put the fuse back.", ("traffic",)),
        step(hazards=("rolling",)),
        step(hazards=("hot part",)),
        table=False,
    )
    found = problems_of(made)
    assert [p.line for p in found] == sorted(p.line for p in found)
    words = " ".join(p.what for p in found)
    assert 'step 2 lacks "hazard: heavy part": it says "Two people".' in words
    assert "step 3 brings power back without undoes." in words
    assert 'step 4 has the hazard "rolling"' in words
    assert 'step 5 has the hazard "hot part"' in words
    assert 'the table lacks "motor start: safe from 1"' in words


def test_a_message_names_file_line_fault_and_mend_in_one_line() -> None:
    made = page(step(hazards=("motor start",)))
    assert str(problems_of(made)[0]) == (
        'procedures/made-up.md, line 102: step 1 has the hazard "motor start", but no earlier step makes it safe. '
        'Add a step before it with "makes safe: motor start" and "done when".'
    )
    assert TABLE_LINE < FIRST_LINE
