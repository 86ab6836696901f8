"""The ceiling's classifier on rows whose best possible share is known beforehand."""

from random import Random  # noqa: TID251  (rows are drawn)

import pytest

from scripts.simulate.ceiling import Guess, Row, guesses, mends, row_of, shares
from scripts.simulate.pages import Repair, Repairs, needs_of
from scripts.simulate.play import Options, make_case
from tests.reason.test_libraries import library
from tests.reason.test_simulator import CORPUS

REPAIRS = Repairs({"one": Repair("one", ("a", "b"), ("manual",), 30.0)}, {})


def _drawn(count: int, seed: int) -> list[Row]:
    """Cause a is told by its look; b and c look alike, b three times as common."""
    rng = Random(seed)
    rows = []
    for _ in range(count):
        cause = rng.choices("abc", (4, 3, 1))[0]
        rows.append(Row(cause, "manual", {"look": "yes" if cause == "a" else "no", "noise": rng.random()}))
    return rows


def test_reaches_what_can_be_reached_and_no_more() -> None:
    library("sklearn")
    score = _drawn(400, 2)
    alike = sum(r.cause == "c" for r in score) / len(score)
    for some in guesses(_drawn(600, 1), score).values():
        first, two, _ = shares(some, 0, REPAIRS)
        assert first == pytest.approx(1.0 - alike, abs=0.04)
        assert two > 0.97


def test_shares_by_hand() -> None:
    row = Row("a", "manual", {})
    other = Row("a", "one_motor", {})
    found = [Guess(row, "a", "b"), Guess(row, "b", "a"), Guess(other, "b", "c"), Guess(row, "c", "b")]
    # One first, two within two, of four and one outside: 2 and 3 of 5. Page "one" mends a and b on manual gear alone.
    assert shares(found, 1, REPAIRS) == pytest.approx((2 / 5, 3 / 5, 3 / 5))
    assert not mends(REPAIRS, "one_motor")("b", "a")


def test_a_row_holds_only_what_this_person_can_say() -> None:
    needs = needs_of(CORPUS)
    for number in range(40):
        case = make_case(Options(seed=6), number, needs)
        known = row_of(case, needs).known
        for finding, need in needs.items():
            lacking = case.person.lacks(finding)
            if need.asked and f"told {finding}" not in known:
                assert (known[f"missing {finding}"] == "True") == (finding not in known)
                assert not (lacking and finding in known)
