"""The pages worked by hand: each answer of each page, to the digits the page has."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from bot.sums.legs import leg_load
from bot.sums.motor_point import motor_point
from bot.sums.path import path
from bot.sums.result import Result
from bot.sums.statics import pin_load_lb
from bot.sums.wire import harness

PAGES = Path(__file__).parent / "by_hand"


def _answers(page: str) -> dict[str, str]:
    text = (PAGES / f"{page}.md").read_text(encoding="utf-8").partition("Answers")[2]
    return dict(re.findall(r"^- ([^:]+): ([\d.]+)$", text, re.MULTILINE))


def _meets(got: float, printed: str) -> bool:
    """Equal to the printed figure within one half of its last digit (and a hair for the half itself)."""
    places = len(printed.partition(".")[2])
    return bool(abs(got - float(printed)) <= 0.5 * 10**-places * 1.001)


def _legs() -> dict[str, float]:
    pin = pin_load_lb(12_000, 25, 20)
    level = leg_load(12_000, pin, 25, 5)
    moved = leg_load(12_000, pin, 25, 5, moved_lb=400, from_ft=5, to_ft=15)
    slope = leg_load(12_000, pin, 25, 5, grade_percent=10, cg_height_ft=4)
    return {
        "pin": pin,
        "both legs": level.value("both legs"),
        "each leg": level.value("each leg"),
        "axles": level.value("axles"),
        "after the move": moved.value("both legs"),
        "downhill": slope.value("both legs"),
    }


def _named(result: Result) -> dict[str, float]:
    return {one.name: one.value for one in result.values}


GOT: dict[str, Callable[[], dict[str, float]]] = {
    "drop": lambda: _named(harness(12, 25, 20, stranded=False, temp_f=68)),
    "path": lambda: _named(path(12.0, 9.0, 0.6, 40)),
    "legs": _legs,
    "motor": lambda: _named(
        motor_point(
            12.0, 10, 0.0, 1.0, k_nm_per_a=0.05, motor_ohm=0.1, battery_ohm=0.05, contact_ohm=0.0,
            stroke_in=10, turns_per_inch=200,
        )
    ),
}  # fmt: skip


@pytest.mark.parametrize("page", sorted(GOT))
def test_page_worked_by_hand_is_met(page: str) -> None:
    answers = _answers(page)
    assert len(answers) >= 3
    got = GOT[page]()
    missed = {
        name: (got[name], printed) for name, printed in answers.items() if not _meets(got[name], printed)
    }
    assert not missed


def test_every_page_is_asked() -> None:
    assert {page.stem for page in PAGES.glob("*.md")} == set(GOT)
