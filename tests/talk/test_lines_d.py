"""Set d: 680 lines by somebody who had read neither words nor program. Spent: bars were chosen on it, then it was learned from.

The floors hold what was reached; a change that hears less fails here. `python scripts/score_lines.py d` prints it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from bot.talk.knowledge import Knowledge
from bot.talk.understand import understand

LINES = Path(__file__).resolve().parents[1] / "lines"


def _rows(name: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in (LINES / f"{name}_d.jsonl").read_text(encoding="utf-8").splitlines()]


@pytest.fixture(scope="module")
def raised(knowledge: Knowledge) -> dict[str, int]:
    return {
        name: sum(bool(understand(row["line"], None, knowledge.reader).dangers) for row in _rows(name))
        for name in ("emergencies", "near_misses", "findings", "quantities", "offtopic")
    }


def test_danger_in_words_nobody_foresaw_is_heard(raised: dict[str, int]) -> None:
    assert raised["emergencies"] >= 186  # of 200; 154 by patterns alone


def test_near_misses_are_left_alone(raised: dict[str, int]) -> None:
    assert raised["near_misses"] <= 8  # of 100; 17 by patterns alone


def test_ordinary_lines_are_no_danger(raised: dict[str, int]) -> None:
    assert raised["findings"] + raised["quantities"] + raised["offtopic"] <= 8  # of 240


def test_findings_in_words_nobody_foresaw_are_heard(knowledge: Knowledge) -> None:
    right = wanted = 0
    for row in _rows("findings"):
        got = {n: v for n, (v, _) in understand(row["line"], None, knowledge.reader).findings.items()}
        for name, value in row["want"].items():
            wanted += 1
            right += got.get(name) == (
                {True: "yes", False: "no"}[value] if isinstance(value, bool) else value
            )
    assert wanted == 140
    assert right >= 100  # 91 by patterns alone
