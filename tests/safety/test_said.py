"""A step that says an act of danger carries its label: a page is planted for each word, with the label left out."""

from __future__ import annotations

import pytest

from bot.problems import Problem
from bot.safety.expected import expected_labels
from tests.safety.pages import FILE, controls, page, step
from tests.safety.said_lines import ACTS, NOT_SAID, Acts

ONE_BY_ONE = [pytest.param(acts, line, id=f"{acts.hazard}: {line}") for acts in ACTS for line in acts.lines]


def _heard(
    acts: Acts, text: str, listed: tuple[str, ...], makes: tuple[str, ...] = (), reason: str = ""
) -> list[Problem]:
    """What is said of the last step's words, for the label of these acts."""
    made = page(*controls(*acts.force), step(text, listed, makes, no_hazard_because=reason))
    return [
        problem
        for problem in expected_labels(made)
        if problem.line == made.steps[-1].line
        and f'lacks "{acts.label}: {acts.hazard}": it says' in problem.what
    ]


def _with_label(acts: Acts) -> tuple[tuple[str, ...], tuple[str, ...]]:
    if acts.label == "hazard":
        return (*acts.listed, acts.hazard), ()
    return acts.listed, (acts.hazard,)


@pytest.mark.parametrize(("acts", "line"), ONE_BY_ONE)
def test_an_act_without_its_label_is_named_by_its_words(acts: Acts, line: str) -> None:
    before, words, after = line.split("*")
    text = before + words + after
    number = len(acts.force) + 1
    (problem,) = _heard(acts, text, acts.listed)
    assert problem.file == FILE
    assert problem.what == f'step {number} lacks "{acts.label}: {acts.hazard}": it says "{words}".'
    assert problem.fix == f"Add the label {acts.label}: {acts.hazard}"
    assert _heard(acts, text, *_with_label(acts)) == []
    assert _heard(acts, before + "…" + after, acts.listed) == []


@pytest.mark.parametrize("acts", NOT_SAID, ids=lambda acts: acts.hazard)
def test_words_near_an_act_are_none(acts: Acts) -> None:
    for text in acts.lines:
        assert _heard(acts, text, acts.listed) == [], text


#: One line of each list, with the list.
FIRST = [
    pytest.param(acts, acts.lines[0].replace("*", ""), id=f"{n} {acts.hazard}") for n, acts in enumerate(ACTS)
]


@pytest.mark.parametrize(("acts", "text"), FIRST)
def test_an_act_is_heard_only_while_every_control_it_leans_on_is_in_force(acts: Acts, text: str) -> None:
    for gone in acts.force:
        assert _heard(acts._replace(force=tuple(h for h in acts.force if h != gone)), text, acts.listed) == []


@pytest.mark.parametrize(
    ("acts", "line"),
    [(acts, line) for acts in ACTS for line in acts.lines if acts.label == "hazard" and acts.force],
)
def test_no_act_is_heard_before_its_control_is_in_force(acts: Acts, line: str) -> None:
    assert _heard(acts._replace(force=()), line.replace("*", ""), acts.listed) == []


@pytest.mark.parametrize(("acts", "line"), [(acts, line) for acts in ACTS for line in acts.lines])
def test_at_a_step_said_to_hurt_nobody_only_some_acts_are_heard(acts: Acts, line: str) -> None:
    """A control that is put on counts at any step; of the hazards those that stay while the nose is held up."""
    expected = acts.alone or acts.label == "makes safe"
    assert bool(_heard(acts, line.replace("*", ""), (), reason="it is only looked at")) is expected


@pytest.mark.parametrize(("acts", "text"), FIRST)
def test_a_step_that_makes_the_hazard_safe_lacks_no_label_for_it(acts: Acts, text: str) -> None:
    assert _heard(acts, text, acts.listed, (acts.hazard,)) == []


def test_pinch_by_these_words_wants_something_that_rolls() -> None:
    acts = next(acts for acts in ACTS if acts.listed == ("rolling",))
    for line in acts.lines:
        assert _heard(acts, line.replace("*", ""), ("traffic",)) == []


def test_each_line_holds_one_act_between_two_stars() -> None:
    assert all(line.count("*") == 2 for acts in ACTS for line in acts.lines)
    assert sum(len(acts.lines) for acts in ACTS) > 130
