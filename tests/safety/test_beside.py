"""Labels that a step lacks because of what stands beside them: each rule, and each condition that silences it.

What goes together on this job is common practice, no source, but for the order of lockout (29 CFR 1910.147(d)).
In a row: the label left out, the controls in force, the hazards the step lists, what it makes safe itself.
"""

from __future__ import annotations

import pytest

from bot.corpus.model import Step
from bot.problems import Problem
from bot.safety.expected import expected_labels
from tests.safety.pages import FILE, PLAIN, controls, page, step

RN, ROLL, MS, LC = "raised nose", "rolling", "motor start", "live circuit"
PUN, GGW, HP, PINCH, STORED = (
    "person under the nose",
    "ground giving way",
    "heavy part",
    "pinch",
    "stored energy",
)
Labels = tuple[str, ...]

HANGS = "the nose hangs on the truck as long as this goes on"
OPEN = "the circuit is held open because hands are at the gear"
LEAD = "the lead is off because bare metal is touched"
BOTH_MOVE = "where the nose can come down the trailer can roll too"
CLEAR = "who has to stay out from below the nose has to stay clear of a trailer that rolls"
MOVES = "the gear or the hitch can move here"
LETS_GO = "what lets go moves something here"
LEGS_ONLY = "nothing but its own legs holds the nose"
DRIVEN = "the legs can be driven here"


def _lacks(force: Labels, listed: Labels, makes: Labels, text: str = PLAIN) -> list[Problem]:
    made = page(*controls(*force), step(text, listed, makes))
    last = made.steps[-1]
    found = [p for p in expected_labels(made) if p.line == last.line and p.file == FILE]
    assert all(p.what.startswith(f"step {last.number} ") for p in found)
    return found


def _speaks(also: str, why: str, force: Labels, listed: Labels, makes: Labels, text: str = PLAIN) -> bool:
    wanted = f'lacks "hazard: {also}": {why}.'
    named = [p for p in _lacks(force, listed, makes, text) if p.what.endswith(wanted)]
    assert all(p.fix == f"Add the label hazard: {also}" for p in named)
    return bool(named)


SPEAKS: list[tuple[str, str, Labels, Labels, Labels]] = [
    # The trailer rolls where its nose can come down, and where people are kept from below it.
    (ROLL, BOTH_MOVE, (ROLL,), (RN,), ()),
    (ROLL, BOTH_MOVE, (ROLL, MS), (RN, MS), (GGW,)),
    (ROLL, CLEAR, (ROLL,), (PUN,), ()),
    # Hitched: the nose hangs on the truck while things roll, while the circuit matters, while any step has a hazard.
    (RN, HANGS, (RN,), (ROLL, PINCH), ()),
    (RN, HANGS, (RN,), (MS, HP), ()),
    (RN, HANGS, (RN,), (GGW,), ()),
    (RN, HANGS, (RN, PUN, MS), (STORED,), (ROLL,)),
    # The circuit was opened because hands are at the gear: 29 CFR 1910.147(d).
    (MS, OPEN, (MS,), (RN,), ()),
    (MS, OPEN, (MS,), (PINCH, GGW), ()),
    (MS, OPEN, (MS, LC), (LC,), ()),
    # The lead was taken off because bare metal is touched.
    (LC, LEAD, (MS, LC), (MS,), ()),
    # Gear or hitch can move; what is let off moves something.
    (PINCH, MOVES, (), (RN, ROLL), ()),
    (PINCH, LETS_GO, (), (ROLL, STORED), ()),
    # The trailer stands on its own legs, or the legs can be driven: nobody below.
    (PUN, LEGS_ONLY, (PUN,), (ROLL,), ()),
    (PUN, DRIVEN, (PUN,), (RN, ROLL), ()),
    (PUN, DRIVEN, (PUN, RN), (RN, ROLL), ()),
]


@pytest.mark.parametrize(("also", "why", "force", "listed", "makes"), SPEAKS)
def test_a_label_that_belongs_beside_the_others_is_missed(
    also: str, why: str, force: Labels, listed: Labels, makes: Labels
) -> None:
    assert _speaks(also, why, force, listed, makes)
    assert not _speaks(also, why, force, (*listed, also), makes)
    assert not _speaks(also, why, force, listed, (*makes, also))  # the step is how it becomes safe


SILENT: list[tuple[str, str, Labels, Labels, Labels]] = [
    (ROLL, BOTH_MOVE, (), (RN,), ()),  # nothing is chocked yet
    (ROLL, BOTH_MOVE, (RN,), (RN,), ()),
    (ROLL, BOTH_MOVE, (ROLL,), (PINCH,), ()),  # the nose cannot come down here
    (ROLL, BOTH_MOVE, (ROLL,), (RN,), (ROLL,)),  # it is being chocked anew
    (ROLL, CLEAR, (), (PUN,), ()),
    (ROLL, CLEAR, (ROLL,), (PINCH,), ()),
    (RN, HANGS, (), (ROLL, PINCH), ()),  # not hitched
    (RN, HANGS, (), (MS, HP), ()),
    (RN, HANGS, (), (GGW,), ()),
    (RN, HANGS, (RN,), (PINCH,), ()),  # fingers at a part, nothing rolls
    (RN, HANGS, (RN,), (HP,), ()),
    (RN, HANGS, (RN,), (GGW, PINCH), ()),
    (RN, HANGS, (RN,), (GGW, HP), ()),
    (RN, HANGS, (RN,), (GGW,), (PUN,)),  # people are sent out first
    (RN, HANGS, (RN,), (GGW,), (MS,)),  # the circuit is opened first
    (MS, OPEN, (ROLL,), (RN,), ()),  # the circuit is not open
    (MS, OPEN, (MS,), (HP,), ()),
    (MS, OPEN, (MS,), (RN,), (ROLL,)),  # chocks are set, hands are not at the gear
    (MS, OPEN, (GGW,), (PINCH, GGW), ()),
    (MS, OPEN, (MS,), (PINCH,), ()),
    (MS, OPEN, (MS,), (GGW,), ()),
    (MS, OPEN, (LC,), (LC,), ()),
    (MS, OPEN, (MS,), (LC,), ()),
    (MS, OPEN, (MS, LC), (HP,), ()),
    (LC, LEAD, (MS,), (MS,), ()),  # the fuse alone was taken
    (LC, LEAD, (LC,), (MS,), ()),
    (LC, LEAD, (MS, LC, RN), (MS,), ()),  # hitched: the work is at the legs
    (LC, LEAD, (MS, LC), (HP,), ()),
    (LC, LEAD, (MS, LC), (MS, GGW), ()),  # wood and pads, no bare metal
    (PINCH, MOVES, (), (RN,), ()),
    (PINCH, MOVES, (), (ROLL,), ()),
    (PINCH, MOVES, (), (RN, ROLL, GGW), ()),  # the ground is looked at, nothing is driven
    (PINCH, MOVES, (), (RN, ROLL), (PUN,)),
    (PINCH, LETS_GO, (), (ROLL,), ()),
    (PINCH, LETS_GO, (), (STORED,), ()),
    (PUN, LEGS_ONLY, (), (ROLL,), ()),
    (PUN, LEGS_ONLY, (PUN, RN), (ROLL,), ()),  # the truck holds it
    (PUN, LEGS_ONLY, (PUN,), (PINCH,), ()),
    (PUN, DRIVEN, (), (RN, ROLL), ()),
    (PUN, DRIVEN, (PUN, MS), (RN, ROLL), ()),  # the circuit is open
    (PUN, DRIVEN, (PUN,), (RN,), ()),
    (PUN, DRIVEN, (PUN,), (ROLL,), ()),
]


@pytest.mark.parametrize(("also", "why", "force", "listed", "makes"), SILENT)
def test_a_label_is_not_missed_where_its_reason_is_gone(
    also: str, why: str, force: Labels, listed: Labels, makes: Labels
) -> None:
    assert not _speaks(also, why, force, listed, makes)


def test_a_look_along_the_side_needs_nobody_clear_of_the_wheels() -> None:
    assert not _speaks(ROLL, CLEAR, (ROLL,), (PUN,), (), "Look along the wire from the side.")
    assert _speaks(ROLL, CLEAR, (ROLL,), (PUN,), (), "Look at the wire from the side.")


def test_a_step_without_hazards_lacks_none_beside_them() -> None:
    assert _lacks((RN, ROLL, MS), (), ("hot part",)) == []


def _undone(*undoes: str, force: Labels = (MS, LC)) -> list[str]:
    made = page(*controls(*force), step(undoes=undoes))
    return [p.what for p in expected_labels(made)]


@pytest.mark.parametrize(("power", "other"), [(MS, LC), (LC, MS)])
def test_one_fuse_or_lead_that_held_both_circuits_ends_both(power: str, other: str) -> None:
    """What isolates two things gives both back: 29 CFR 1910.147(d), isolation by the energy's own source."""
    assert _undone(power) == [
        f'step 3 lacks "undoes: {other}": it ends the control of "{power}", and the same lead or fuse held both.'
    ]
    assert _undone(power, other) == []
    assert _undone(power, force=(power,)) == []
    assert _undone("rolling", force=(MS, LC, "rolling")) == []


def test_controls_add_up_over_the_steps_and_end_where_they_are_undone() -> None:
    made = page(*controls(RN, PUN), step(undoes=(PUN,)), step(hazards=(ROLL, RN, PINCH)), step(undoes=(RN,)),
                step(hazards=(ROLL, PINCH)))  # fmt: skip
    assert expected_labels(made) == []
    still = page(*controls(RN, PUN), step(hazards=(ROLL, PINCH)))
    assert ['"hazard: raised nose"' in p.what for p in expected_labels(still)] == [True]


def test_a_control_counts_from_the_step_after_it() -> None:
    made = page(step(hazards=(RN,), makes_safe=(ROLL,)), step(hazards=(RN,)))
    assert [p.what.split(" lacks")[0] for p in expected_labels(made)] == ["step 2"]


BARE: list[tuple[Step, bool]] = [
    (step(), True),
    (step(hazards=("traffic",)), False),
    (step(makes_safe=("hot part",)), False),
    (step(undoes=("traffic",)), False),
    (step(no_hazard_because="it is read off a label"), False),
]


@pytest.mark.parametrize(("bare", "named"), BARE)
def test_a_step_says_whether_it_can_hurt(bare: Step, named: bool) -> None:
    found = expected_labels(page(*controls("traffic"), bare, table=False))
    assert [p.what for p in found] == [
        "step 2 carries no hazard, makes safe or undoes: no label says whether it can hurt."
    ] * named
    assert all("hazard: none, because" in p.fix for p in found)
