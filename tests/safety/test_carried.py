"""What stays open from one step to the next: a control that was seen, until it is undone or made anew.

29 CFR 1910.147(e), from memory: a lock stays on until the step that takes it off. Weight on a part and a second pair of
hands have no lock: they are asked after again (common practice, no source).
"""

from __future__ import annotations

import pytest

from bot.corpus.model import Step
from bot.safety.holds import carried
from tests.safety.pages import step

HELD = [
    "raised nose",
    "rolling",
    "motor start",
    "live circuit",
    "hot part",
    "ground giving way",
    "person under the nose",
]
ONCE = ["pinch", "children and animals", "traffic", "bad light"]
AFRESH = ["stored energy", "heavy part", "overloaded stand"]
NEXT = step(hazards=("hot part",))


def _kept(done: Step, following: Step | None, *opened: str) -> set[str]:
    return set(carried(done, following, frozenset(opened)))


@pytest.mark.parametrize("hazard", [*HELD, *ONCE])
def test_what_was_seen_in_place_stays_so_at_a_step_that_does_not_list_it(hazard: str) -> None:
    assert _kept(step(), step(hazards=("heavy part",)), hazard) == {hazard}


@pytest.mark.parametrize("hazard", AFRESH)
def test_what_has_no_control_is_asked_again_once_a_step_went_without_it(hazard: str) -> None:
    assert _kept(step(hazards=(hazard,)), NEXT, hazard) == set()
    assert _kept(step(hazards=(hazard,)), step(hazards=("hot part", hazard)), hazard) == {hazard}


@pytest.mark.parametrize("hazard", [*HELD, *ONCE, *AFRESH])
def test_a_step_that_undoes_it_shuts_it_though_the_next_lists_it(hazard: str) -> None:
    assert _kept(step(undoes=(hazard,)), step(hazards=(hazard,)), hazard) == set()


@pytest.mark.parametrize("hazard", [*HELD, *ONCE, *AFRESH])
def test_a_step_that_makes_it_safe_anew_has_to_be_looked_at_again(hazard: str) -> None:
    assert _kept(step(makes_safe=(hazard,)), step(hazards=(hazard,)), hazard) == set()


def test_only_what_was_undone_or_made_anew_is_shut() -> None:
    done = step(undoes=("motor start",), makes_safe=("rolling",))
    opened = ("motor start", "rolling", "raised nose", "pinch")
    assert _kept(done, step(hazards=("rolling",)), *opened) == {"raised nose", "pinch"}


def test_a_yes_to_an_undoing_never_lasts_beyond_its_step() -> None:
    assert _kept(step(), NEXT, "undo 2 motor start", "motor start") == {"motor start"}


def test_what_was_never_opened_does_not_open_by_going_on() -> None:
    assert _kept(step(hazards=("rolling",)), step(hazards=("rolling", "pinch"))) == set()


def test_nothing_is_carried_beyond_the_last_step() -> None:
    assert carried(step(), None, frozenset(HELD)) == frozenset()
