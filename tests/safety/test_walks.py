"""No reachable state shows a step whose hazards were not answered: proved by walking them all.

The search is our own (tests/safety/walking.py); its witness books what was shown and typed and never
looks at the program's own account. `pytest -s` prints the counts; `python scripts/walks.py` prints them
a procedure a line.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from bot.corpus.model import Procedure
from bot.safety.rules import RULES
from bot.talk.events import Event, Resumed, Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from bot.talk.turn import Turn, turn
from tests.safety.walking import (
    CONDITIONS,
    FIGURES,
    MOVES,
    SUMS,
    TAKEN_OFF,
    Walks,
    offered,
    remembered,
    search,
    walk_all,
)

HALVES = [pytest.param(n, marks=pytest.mark.xdist_group(f"walks {n}"), id=f"half {n + 1}") for n in (0, 1)]


def _half(knowledge: Knowledge, number: int) -> list[Procedure]:
    """Every second procedure: two processors walk a half each."""
    return list(knowledge.procedures.values())[number::2]


@pytest.fixture(scope="session", params=HALVES)
def half(request: pytest.FixtureRequest) -> int:
    """Which half is walked."""
    number: int = request.param
    return number


@pytest.fixture(scope="session")
def walks(half: int, knowledge: Knowledge) -> Walks:
    """Every walk of every procedure of that half with each gear it fits."""
    found = walk_all(_half(knowledge, half), knowledge)
    print(
        f"\n{found.states:,} states, {found.transitions:,} transitions,"
        f" {len(found.rows)} walks, {len(MOVES)} moves"
    )
    return found


@pytest.mark.parametrize(
    ("rule", "says"),
    [
        ("control", "a step whose control was not answered for with a typed yes since the last break"),
        ("question", "a step whose own question was not answered since the last break"),
        ("stand", "a step that leans on stands which do not bear the load by a hand sum"),
        ("children", "a step where something moves, without a word about children and animals"),
        ("undoing", "a step that takes a control away, without its question"),
        ("truck", "a leg, motor, gearbox or shaft coming off without a typed yes to the truck"),
        ("gears", "gears opened without a typed yes to the motor's circuit"),
        ("passed over", "a step counted as done that was never shown"),
        ("jump", "a step reached past its neighbour"),
        ("both", "a step shown beside a stop that is open"),
        ("silent", "a line without a reply"),
        ("support lost", "the truck gone while a part is off, and no emergency"),
        ("correction", "a step that goes on with its stops open after a correction"),
    ],
)
def test_no_walk_shows(rule: str, says: str, walks: Walks) -> None:
    against = walks.of(rule)
    assert not against, f"{len(against)} walks show {says}:\n" + "\n".join(str(v) for v in against[:8])


def test_every_step_of_every_procedure_was_reached(half: int, knowledge: Knowledge, walks: Walks) -> None:
    """A search that reached nothing would find nothing: each step was shown somewhere."""
    procedures = _half(knowledge, half)
    never = [
        f"{p.id}/{s.number}"
        for p in procedures
        if set(p.fits) - {"hydraulic"}
        for s in p.steps
        if not walks.shown[f"{p.id}/{s.number}"]
    ]
    assert never == []
    assert {(p, g) for p, g, _, _ in walks.rows} == {(p.id, g) for p in procedures for g in p.fits}


def test_the_two_halves_are_all_procedures(knowledge: Knowledge) -> None:
    both = [p.id for n in (0, 1) for p in _half(knowledge, n)]
    assert sorted(both) == sorted(knowledge.procedures)


def test_the_search_went_through_every_kind_of_state(walks: Walks) -> None:
    wanted = {
        Stage.OFFERED,
        Stage.HELD,
        Stage.REPAIRING,
        Stage.PROVING,
        Stage.DANGER,
        Stage.CLOSED,
        Stage.ASKING,
    }
    assert {s.value for s in wanted} <= set(walks.stages)
    assert walks.transitions > 10 * walks.states > 100_000


def _lead_leg(knowledge: Knowledge) -> Procedure:
    return next(p for p in knowledge.procedures.values() if any("leg" in s.removes for s in p.steps))


@pytest.mark.parametrize("page", ["take-the-lead-leg-off-and-put-it-back", "clean-the-ground"])
def test_sums_asked_for_on_the_way_open_nothing(page: str, knowledge: Knowledge) -> None:
    """A sum may be asked for at every stop and step where support or a live circuit goes, left open, answered yes to."""
    walks, procedure = Walks(), knowledge.procedures[page]
    said = ("yes", "done", "back", "put aside", "truck out")
    only = {name: MOVES[name] for name in said} | FIGURES | SUMS
    with remembered():
        search(procedure, "one_motor", knowledge, walks, supports=("legs",), only=only)
        open_sum = turn(offered(procedure, "one_motor", "legs"), SUMS["open sum"][0], knowledge)
    assert open_sum.state.sum is not None
    assert open_sum.state.sum.asking == "size"
    assert walks.violations == []
    assert all(walks.shown[f"{procedure.id}/{s.number}"] for s in procedure.steps)


@pytest.mark.parametrize("page", ["take-the-lead-leg-off-and-put-it-back", "replace-fuse-or-breaker"])
def test_where_it_is_dark_steep_and_by_the_road_each_step_that_could_hurt_is_asked_for_it(
    page: str, knowledge: Knowledge
) -> None:
    walks, procedure = Walks(), knowledge.procedures[page]
    only = (
        {name: MOVES[name] for name in ("yes", "done", "back", "put aside", "truck out")}
        | FIGURES
        | CONDITIONS
    )
    with remembered():
        search(procedure, "one_motor", knowledge, walks, supports=("legs",), only=only)
    assert walks.violations == []
    assert all(walks.shown[f"{procedure.id}/{s.number}"] for s in procedure.steps)


def _any_yes(state: State, event: Event, knowledge: Knowledge) -> Turn:
    """A broken program: any line with a yes in it opens a stop."""
    if isinstance(event, Said) and state.stage is Stage.HELD and "yes" in event.text:
        event = Said("yes")
    return turn(state, event, knowledge)


def _shut_late(state: State, event: Event, knowledge: Knowledge) -> Turn:
    """A broken program: after going back or a resumed case it takes the answers of before for granted."""
    done = turn(state, event, knowledge)
    while event in (Said("back"), Resumed()) and done.state.stage is Stage.HELD:
        done = turn(done.state, Said("yes"), knowledge)
    return done


def _forgets_the_truck(state: State, event: Event, knowledge: Knowledge) -> Turn:
    """A broken program: the truck counts as hitched without anybody having been asked."""
    done = turn(state, event, knowledge)
    asking = done.state.asking
    if done.state.stage is Stage.HELD and asking and RULES["raised nose"].hold in asking.finding:
        return turn(done.state, Said("yes"), knowledge)
    return done


@pytest.mark.parametrize(
    ("broken", "rules"),
    [
        (_any_yes, {"control", "question"}),
        (_shut_late, {"control"}),
        (_forgets_the_truck, {"control", "truck"}),
    ],
)
def test_the_search_finds_what_is_broken_on_purpose(
    broken: Callable[[State, Event, Knowledge], Turn], rules: set[str], knowledge: Knowledge
) -> None:
    walks = Walks()
    procedure = _lead_leg(knowledge)
    with remembered():
        search(procedure, procedure.fits[0], knowledge, walks, broken, ("legs",), until=frozenset(rules))
    assert rules <= {v.rule for v in walks.violations}


def test_the_moves_are_understood_as_meant(knowledge: Knowledge) -> None:
    """The alphabet means what the search takes it to mean; a changed word list must not empty the proof."""
    procedure = _lead_leg(knowledge)
    state = turn(offered(procedure, procedure.fits[0], "legs"), Said("yes"), knowledge).state
    for name in ("truck out", "hitched"):
        before = replace(
            state,
            found=offered(procedure, procedure.fits[0], "hitched" if name == "truck out" else "legs").found,
        )
        after = turn(before, MOVES[name][0], knowledge).state
        assert (before.support == "hitched") != (after.support == "hitched"), name
    corrected = turn(state, MOVES["correction"][0], knowledge).state
    assert corrected.value("volts_battery_resting") == 12.1
    assert turn(state, MOVES["put aside"][0], knowledge).wants == ("put aside",)
    assert any(TAKEN_OFF & set(s.removes) for s in procedure.steps)
