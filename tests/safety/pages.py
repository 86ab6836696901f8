"""Procedures written out in a test: only the labels that the test is about, lines as on a page."""

from __future__ import annotations

from typing import Any

from bot.corpus.model import Page, Procedure, Section, Step
from bot.safety.ledger import SECTION, ledger

FILE = "procedures/made-up.md"
#: Line of the first step; the next ones follow ten lines apart, a label some lines below its step.
FIRST_LINE, APART = 101, 10
HEAD_LINES = {"needs leg off": 7, "needs truck": 8}
TABLE_LINE = 20
#: Words that no rule knows.
PLAIN = "Do what comes next."


def step(
    text: str = PLAIN,
    hazards: tuple[str, ...] = (),
    makes_safe: tuple[str, ...] = (),
    undoes: tuple[str, ...] = (),
    done_when: str = "it is seen to be so",
    **other: Any,
) -> Step:
    """A step; its number and line are given by the page."""
    return Step(0, 0, text, hazards, makes_safe, undoes, done_when, **other)


def page(*steps: Step, truck: bool = True, leg_off: bool = False, table: bool = True) -> Procedure:
    """A procedure of these steps; `table` adds the second account of their hazards, as the labels stand."""
    numbered = tuple(
        Step(
            number,
            FIRST_LINE + APART * (number - 1),
            one.text,
            one.hazards,
            one.makes_safe,
            one.undoes,
            one.done_when,
            removes=one.removes,
            opens_gears=one.opens_gears,
            no_hazard_because=one.no_hazard_because,
            label_lines={
                label: FIRST_LINE + APART * (number - 1) + below
                for below, label in enumerate(("hazard", "undoes", "removes", "opens gears"), 1)
            },
        )
        for number, one in enumerate(steps, 1)
    )
    bare = of(numbered, (), truck=truck, leg_off=leg_off)
    return of(numbered, ledger(bare), truck=truck, leg_off=leg_off) if table else bare


def of(
    steps: tuple[Step, ...], bullets: tuple[str, ...], *, truck: bool = True, leg_off: bool = False
) -> Procedure:
    """A procedure of steps that are numbered already, with these lines as its table of hazards."""
    lines = tuple(range(TABLE_LINE + 1, TABLE_LINE + 1 + len(bullets)))
    sections = (Section(SECTION, TABLE_LINE, "", bullets, lines),) if bullets else ()
    made = Page("made-up", "procedures", "Made up", FILE, {}, HEAD_LINES, sections)
    return Procedure(made, ("one_motor",), (), "leg", "owner", leg_off, truck, 1, 5, (), steps)


def controls(*hazards: str) -> tuple[Step, ...]:
    """Steps that make these safe, one each, in plain words that the check of a page takes."""
    return tuple(
        step("Back under until the jaws are closed round the kingpin.", makes_safe=(h,))
        if h == "raised nose"
        else step(makes_safe=(h,))
        for h in hazards
    )
