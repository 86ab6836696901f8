"""A step that brings power back has to say so: the lock comes off in a step of its own, with people clear.

29 CFR 1910.147(e), from memory. The ways of saying it are our own, none of them out of a page.
"""

from __future__ import annotations

import pytest

from bot.corpus.model import Procedure
from bot.safety.authoring import forgotten_undos
from tests.safety.pages import FILE, FIRST_LINE, controls, page, step

BRINGS_BACK = [
    *("Put the fuse back.", "Put both fuses back.", "Plug the fuse in.", "Push the fuse in.", "Fit the fuse again."),
    *("Connect the minus lead again.", "Connect the battery lead again.", "Turn the power on."),
    *("Switch the power on.", "Turn the breaker on.", "Turn the circuit on.", "Fit the new fuse, same rating, in its place."),
    *("Put back the fuse.", "Plug in the fuse.", "Push in the breaker.", "Turn on the power.", "Switch on the circuit."),
    *("Put in both fuses.", "Put back the minus lead.", "Refit the fuse.", "Refit both fuses.", "Reconnect the lead."),
    *("Reconnect the power.", "Refit the breaker.", "Reconnect the circuit.", "put on the lead"),
]  # fmt: skip
LEAVES_IT_OFF = [
    *("Take the fuse out and keep it.", "Put the cover back.", "Turn the shaft on by hand.", "Look at the fuse again."),
    *("The input of the fuse was inspected.", "Reputed power, back to front.", "Turn the handle, refuse in hand."),
    *("Push the powerful spring back.", "Fit the fused parts in.", "Plug the hole in the floor.", "Outfit the truck."),
    # More words between verb and thing, or thing and direction, than one act has: 40 and 20 signs.
    "Put the cover aside, somewhere dry and clean, and look whether the fuse is in.",
    "Put the fuse by the big bench beside the tools and come back.",
]  # fmt: skip


def _after(control: str, text: str, undoes: tuple[str, ...] = ()) -> Procedure:
    return page(*controls(control), step(text, ("traffic",), undoes=undoes))


@pytest.mark.parametrize("text", BRINGS_BACK)
def test_power_that_comes_back_unsaid_is_named_with_its_step(text: str) -> None:
    (problem,) = forgotten_undos(_after("motor start", text))
    assert (problem.file, problem.line) == (FILE, FIRST_LINE + 10)
    assert problem.what == "step 2 brings power back without undoes."
    assert '"undoes: motor start"' in problem.fix
    assert '"undoes: live circuit"' in problem.fix


@pytest.mark.parametrize("text", LEAVES_IT_OFF)
def test_words_that_bring_no_power_back_are_let_be(text: str) -> None:
    assert forgotten_undos(_after("motor start", text)) == []


def test_the_lead_counts_as_the_fuse_does() -> None:
    assert len(forgotten_undos(_after("live circuit", "Put the fuse back."))) == 1


@pytest.mark.parametrize("undone", ["motor start", "live circuit"])
def test_a_step_that_says_what_it_undoes_is_let_be(undone: str) -> None:
    assert forgotten_undos(_after(undone, "Put the fuse back.", (undone,))) == []


def test_a_step_that_undoes_something_else_is_named() -> None:
    made = page(*controls("rolling", "motor start"), step("Put the fuse back.", undoes=("rolling",)))
    assert [problem.line for problem in forgotten_undos(made)] == [FIRST_LINE + 20]


def test_nothing_is_forgotten_where_the_circuit_was_not_opened() -> None:
    assert forgotten_undos(_after("rolling", "Put the fuse back.")) == []
    assert forgotten_undos(page(step("Put the fuse back.", makes_safe=("motor start",)))) == []


def test_nothing_is_forgotten_once_an_earlier_step_gave_the_circuit_back() -> None:
    made = page(
        *controls("motor start"),
        step(undoes=("motor start",)),
        step("Put the fuse back.", ("traffic",)),
    )
    assert forgotten_undos(made) == []


def test_the_circuit_stays_open_over_steps_that_say_nothing_of_it() -> None:
    made = page(
        *controls("motor start", "rolling"),
        step(undoes=("rolling",)),
        step("Put the fuse back.", ("traffic",)),
    )
    assert [problem.line for problem in forgotten_undos(made)] == [FIRST_LINE + 30]


def test_of_both_controls_one_may_stay() -> None:
    """Whether the other control ended with it is asked elsewhere: what is said here is that power comes."""
    made = page(
        *controls("motor start", "live circuit"),
        step("Turn the power on.", undoes=("live circuit",)),
        step("Put the fuse back.", ("traffic",)),
    )
    assert [problem.line for problem in forgotten_undos(made)] == [FIRST_LINE + 30]
