"""Weights that cannot both be right, met at the stop of a stand: it says so, and a mended weight goes on."""

from __future__ import annotations

from bot.safety.holds import holds_before
from bot.talk.knowledge import Knowledge
from bot.talk.repair import show
from bot.talk.state import Found, Stage, State, Walk
from tests.talk.saying import said, text_of


def _before_the_stands(knowledge: Knowledge) -> State:
    """At a step whose stands are asked after, every other stop of it open, with a pin too heavy for its trailer."""
    procedure, step = next(
        (p, s) for p in knowledge.procedures.values() for s in p.steps if "overloaded stand" in s.hazards
    )
    opened = frozenset(h.key for h in holds_before(procedure, step.number)) - {"overloaded stand"}
    # 5500 lb of pin are 5500 x 26/20 = 7150 lb on the legs, of a trailer of 7000 lb.
    told = tuple(
        Found(name, pounds, "told", 1)
        for name, pounds in (("gross_weight_lb", 7000.0), ("pin_weight_lb", 5500.0))
    )
    walk = Walk(procedure.id, step.number, opened, digest=procedure.page.digest)
    return show(State(found=told, walk=walk, stage=Stage.REPAIRING), knowledge).state


def test_impossible_weights_are_said_to_be_so_and_not_asked_for_again(knowledge: Knowledge) -> None:
    state = _before_the_stands(knowledge)
    shown = show(state, knowledge)
    words = " ".join(line.text for line in shown.lines)
    assert "7150 lb, more than the whole trailer weighs (7000 lb)" in words
    assert "stop stays shut" in words
    assert shown.state.asking is not None
    assert shown.state.asking.kind == "hold"


def test_a_yes_does_not_open_it(knowledge: Knowledge) -> None:
    done = said(["yes"], knowledge, _before_the_stands(knowledge))
    assert done.state.stage is Stage.HELD
    assert done.state.walk is not None
    assert "overloaded stand" not in done.state.walk.opened
    assert "more than the whole trailer weighs" in text_of(done)


def test_a_mended_weight_shuts_every_stop_and_begins_with_the_truck(knowledge: Knowledge) -> None:
    done = said(["the pin weighs 1400 lb"], knowledge, _before_the_stands(knowledge))
    assert done.state.value("pin_weight_lb") == 1400
    assert done.state.walk is not None
    assert done.state.walk.opened == frozenset()
    assert done.state.asking is not None
    assert done.state.asking.finding == "hold: hitched to the truck"
    assert "more than the whole trailer weighs" not in text_of(done)
