"""Dark, rain, slope, soft ground, traffic, no stands: what still goes, and the stops that they add."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.corpus.model import Procedure, Step
from bot.safety.holds import holds_before
from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from bot.talk.turn import turn
from tests.safety.walking import offered
from tests.talk.saying import said, text_of

# Written here, none of them in corpus/words. Common practice, no source.
TOLD = {
    "dark": ["pitch black out here and the legs are stuck", "the sun has gone down on us"],
    "rain": ["it's pouring and the legs only click", "we are stuck out in the rain with it"],
    "slope": ["we are parked on a steep hill", "our driveway slopes toward the road"],
    "soft ground": ["the ground is real soft where we are", "it's parked on boggy grass"],
    "traffic": ["we broke down on the shoulder of the interstate", "trucks flying past inches from us"],
    "no stands": ["don't have any jack stands along", "no cribbing here"],
}
NOT_TOLD = [
    "the switch quits when it rains", "battery went dark last winter", "clunks going up a hill when towing",
    "the ground strap is loose and dirty", "my shoulder hurts from cranking", "it is on stands now", "legs only click",
    "grease turned dark brown", "no light on the panel", "soft click from the relay", "light again flickers when i press",
]  # fmt: skip


@pytest.mark.parametrize(("name", "line"), [(n, line) for n, lines in TOLD.items() for line in lines])
def test_where_one_stands_is_heard(name: str, line: str, knowledge: Knowledge) -> None:
    assert name in said([line], knowledge).state.conditions


@pytest.mark.parametrize("line", NOT_TOLD)
def test_other_things_are_no_condition(line: str, knowledge: Knowledge) -> None:
    assert said([line], knowledge).state.conditions == ()


@pytest.mark.parametrize("name", list(TOLD))
def test_each_says_what_still_goes_what_does_not_and_whom_to_call(name: str, knowledge: Knowledge) -> None:
    done = turn(State(conditions=(name,)), Said("what can I do here"), knowledge)
    notes = [line.text for line in done.replies if line.role == "note"]
    assert [line.split(":")[0] for line in notes[:3]] == [f"Still goes ({name})", "Does not", "Call"]
    assert all(len(line) < 220 for line in notes)


def test_told_among_other_things_it_makes_no_wall(knowledge: Knowledge) -> None:
    done = said(["dark and raining on the side of the highway, left leg only clicks"], knowledge)
    assert [f.name for f in done.state.found] != []
    assert len([line for line in done.replies if line.role == "note"]) <= 2


def test_it_ends_when_it_is_said_to_be_over(knowledge: Knowledge) -> None:
    done = said(["it is getting dark", "it's raining here", "the rain has stopped"], knowledge)
    assert done.state.conditions == ("dark",)
    assert said(["got a headlamp on"], knowledge, done.state).state.conditions == ()


def test_a_change_shuts_what_was_open(knowledge: Knowledge) -> None:
    procedure = knowledge.procedures["take-the-lead-leg-off-and-put-it-back"]
    done = said(["yes", "yes", "yes"], knowledge, offered(procedure, "one_motor", "hitched"))
    assert done.state.walk is not None
    assert done.state.walk.opened
    after = said(["it's pitch dark now"], knowledge, done.state)
    assert after.state.walk is not None
    assert after.state.walk.opened == frozenset()
    assert after.state.stage is Stage.HELD


@pytest.mark.parametrize("gone", ["changed", "taken away"])
def test_a_page_that_changes_under_a_walk_begins_again(gone: str, knowledge: Knowledge) -> None:
    """Two steps swapped, or the page taken away, between two lines of the same case."""
    procedure = knowledge.procedures["take-the-lead-leg-off-and-put-it-back"]
    done = said(["yes"] * 6 + ["done", "yes", "yes"], knowledge, offered(procedure, "one_motor", "hitched"))
    assert done.state.walk is not None
    others = {k: v for k, v in knowledge.procedures.items() if k != procedure.id}
    pages = {k: v for k, v in knowledge.pages.items() if k != procedure.id}
    if gone == "changed":
        page = replace(procedure.page, digest="another")
        others[procedure.id] = replace(procedure, page=page, steps=_swapped(procedure))
        pages[procedure.id] = page
    after = turn(done.state, Said("done"), replace(knowledge, procedures=others, pages=pages))
    assert "changed since" in text_of(after) or "gone" in text_of(after)
    if gone == "taken away":
        assert after.state.walk is None
        assert not any(line.role == "step" for line in after.replies)
        return
    assert after.state.walk is not None
    assert after.state.walk.step == 1
    assert after.state.walk.opened == frozenset()
    shown = [line.text for line in after.replies if line.role in ("step", "hold")]
    assert shown != []
    assert after.state.stage is (Stage.HELD if holds_before(others[procedure.id], 1) else Stage.REPAIRING)


def test_a_truck_that_leaves_is_heard_though_the_page_changed(knowledge: Knowledge) -> None:
    """With the leg coming off it is an emergency, whatever became of the page in between."""
    procedure = knowledge.procedures["take-the-lead-leg-off-and-put-it-back"]
    done = said(
        ["yes"], knowledge, replace(offered(procedure, "one_motor", "hitched"), off=frozenset({"leg"}))
    )
    page = replace(procedure.page, digest="another")
    changed = {**knowledge.procedures, procedure.id: replace(procedure, page=page)}
    after = turn(done.state, Said("just pulled the truck out"), replace(knowledge, procedures=changed))
    assert after.state.alert == "emergency"


def test_a_page_that_is_gone_ends_no_danger(knowledge: Knowledge) -> None:
    procedure = knowledge.procedures["take-the-lead-leg-off-and-put-it-back"]
    done = said(
        ["yes", "my dad is pinned under the nose"], knowledge, offered(procedure, "one_motor", "hitched")
    )
    assert done.state.stage is Stage.DANGER
    others = {k: v for k, v in knowledge.procedures.items() if k != procedure.id}
    after = turn(done.state, Said("ok"), replace(knowledge, procedures=others))
    assert after.state.stage is Stage.DANGER
    assert after.state.alert == "emergency"


def _swapped(procedure: Procedure) -> tuple[Step, ...]:
    first, second, *rest = procedure.steps
    return (replace(second, number=1), replace(first, number=2), *rest)
