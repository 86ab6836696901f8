"""The table of hazards at the top of a page against its steps: runs of steps, and each way they may disagree.

Double entry is common practice, no source; the runs are counted by hand.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.corpus.model import Procedure
from bot.problems import Problem
from bot.safety.ledger import disagreements, ledger
from tests.safety.pages import FILE, FIRST_LINE, TABLE_LINE, of, page, step

ROLLING = step(hazards=("rolling",))
OTHER = step(hazards=("traffic",))


def _at(*numbers: int) -> Procedure:
    """Nine steps, of which these have the hazard."""
    return page(*(ROLLING if n in numbers else step(no_hazard_because="x") for n in range(1, 10)))


@pytest.mark.parametrize(
    ("numbers", "written"),
    [
        ((1,), "1"),
        ((2, 3), "2 to 3"),
        ((2, 4), "2, 4"),
        ((1, 3, 5), "1, 3, 5"),
        ((1, 2, 3, 4), "1 to 4"),
        ((3, 4, 6), "3 to 4, 6"),
        ((1, 3, 4), "1, 3 to 4"),
        ((1, 2, 4, 5), "1 to 2, 4 to 5"),
        ((1, 2, 3, 5, 6, 7), "1 to 3, 5 to 7"),
        ((1, 3, 4, 5, 6, 8, 9), "1, 3 to 6, 8 to 9"),
        ((1, 3, 5, 7, 8, 9), "1, 3, 5, 7 to 9"),
    ],
)
def test_steps_that_follow_each_other_are_written_as_a_run(numbers: tuple[int, ...], written: str) -> None:
    assert ledger(_at(*numbers)) == (f"rolling: at {written}",)


def test_a_line_says_where_it_is_where_it_is_made_safe_and_where_that_ends() -> None:
    made = page(
        step(makes_safe=("rolling",)),
        step(hazards=("rolling", "pinch")),
        step(hazards=("rolling",)),
        step(undoes=("rolling",)),
        step(makes_safe=("raised nose",)),
    )
    # In the order of the closed list of hazards, which begins with what holds the nose.
    assert ledger(made) == (
        "raised nose: safe from 5",
        "rolling: at 2 to 3; safe from 1; ends at 4",
        "pinch: at 2",
    )


def test_a_page_without_hazards_has_an_empty_table_and_none_is_missed() -> None:
    made = page(step(no_hazard_because="it is only looked at"), table=False)
    assert ledger(made) == ()
    assert disagreements(made) == []


def _found(*bullets: str) -> list[Problem]:
    """What disagrees where a page with one step of rolling and one of traffic has this table."""
    return disagreements(of(page(ROLLING, OTHER).steps, bullets))


def test_a_table_that_agrees_is_not_spoken_of() -> None:
    assert _found("rolling: at 1", "traffic: at 2") == []
    assert _found("traffic: at 2", "rolling: at 1") == []


def test_a_line_that_differs_is_named_at_its_own_line_with_both_accounts() -> None:
    (problem,) = _found("rolling: at 1", "traffic: at 1")
    assert (problem.file, problem.line) == (FILE, TABLE_LINE + 2)
    assert "the table says" in problem.what
    assert '"traffic: at 1"' in problem.what
    assert '"traffic: at 2"' in problem.what
    assert "scripts/hazard_table.py" in problem.fix


def test_a_line_that_agrees_does_not_hide_one_that_differs_after_it() -> None:
    found = _found("rolling: at 1", "traffic: at 1", "pinch: at 2")
    assert [problem.line for problem in found] == [TABLE_LINE + 2, TABLE_LINE + 3]


def test_a_hazard_that_the_table_lacks_is_named_at_the_heading_of_the_table() -> None:
    (problem,) = _found("traffic: at 2")
    assert (problem.line, problem.what) == (
        TABLE_LINE,
        'the table lacks "rolling: at 1", which the labels of the steps say.',
    )


def test_a_hazard_that_no_step_has_is_named_at_its_line() -> None:
    (problem,) = _found("rolling: at 1", "traffic: at 2", "hot part: at 2")
    assert (problem.line, problem.what) == (
        TABLE_LINE + 3,
        'the table says "hot part: at 2", but no step has such a label.',
    )


def test_a_blank_before_the_colon_does_not_make_it_another_hazard() -> None:
    (problem,) = _found("rolling : at 1", "traffic: at 2")
    assert 'the labels of the steps say "rolling: at 1"' in problem.what


def test_without_a_table_every_hazard_is_missed_at_the_first_step() -> None:
    made = page(ROLLING, OTHER, table=False)
    assert [(p.line, "the table lacks" in p.what) for p in disagreements(made)] == [(FIRST_LINE, True)] * 2


def test_a_table_over_no_steps_is_named_at_its_lines() -> None:
    (problem,) = disagreements(of((), ("rolling: at 1",)))
    assert problem.line == TABLE_LINE + 1


def test_a_page_whose_lines_were_not_kept_is_named_at_its_heading() -> None:
    made = of(page(ROLLING).steps, ("rolling: at 2", "hot part: at 1"))
    (section,) = made.page.sections
    kept = replace(made, page=replace(made.page, sections=(replace(section, bullet_lines=()),)))
    assert [problem.line for problem in disagreements(kept)] == [TABLE_LINE, TABLE_LINE]


def test_a_hazard_written_twice_is_refused_and_the_lines_after_it_are_still_their_own() -> None:
    found = _found("rolling: at 1", "rolling: at 1", "traffic: at 1")
    assert [(p.line, p.what) for p in found] == [
        (TABLE_LINE + 3, 'the table says "traffic: at 1", the labels of the steps say "traffic: at 2".'),
        (TABLE_LINE, "the table names a hazard twice."),
    ]
    assert "one line for each hazard" in found[1].fix


def test_of_two_lines_for_one_hazard_the_one_that_differs_is_named() -> None:
    found = _found("rolling: at 1", "rolling: at 2", "traffic: at 2")
    assert [p.line for p in found] == [TABLE_LINE + 2, TABLE_LINE]
    found = _found("rolling: at 2", "rolling: at 1", "traffic: at 2")
    assert [p.line for p in found] == [TABLE_LINE + 1, TABLE_LINE]
