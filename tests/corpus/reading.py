"""Reading grades of what an owner reads, by textstat (Flesch-Kincaid grade; Kincaid and others, 1975).

textstat counts syllables from the CMU pronouncing dictionary; the formula is
0.39 words a sentence + 11.8 syllables a word - 15.59. Steps of pages that are made for owners are measured
as well, since an owner reads those too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import textstat

from bot.talk.knowledge import Knowledge

GRADE = 8.0  # nine in ten owner wordings are at this grade or below


@dataclass(frozen=True)
class Wording:
    """One text an owner reads: the page, where on it, the text, and its grade."""

    page: str
    place: str
    text: str
    grade: float


def grade(text: str) -> float:
    """Flesch-Kincaid grade of a text; code spans and list marks are no words."""
    plain = re.sub(r"\s+", " ", text.replace("`", "").replace("_", " ")).strip()
    return float(textstat.flesch_kincaid_grade(plain))


def questions(knowledge: Knowledge) -> Iterator[Wording]:
    """Every question as an owner is asked it."""
    for check in knowledge.checks.values():
        yield Wording(check.page.id, "Ask the owner", check.ask_owner, grade(check.ask_owner))


def steps(knowledge: Knowledge) -> Iterator[Wording]:
    """Every step of a procedure that an owner may walk."""
    for procedure in knowledge.procedures.values():
        if "owner" not in procedure.page.head["for"]:
            continue
        for step in procedure.steps:
            yield Wording(procedure.page.id, f"step {step.number}", step.text, grade(step.text))


def share_within(wordings: list[Wording]) -> float:
    """Share of the wordings at the grade or below."""
    return sum(w.grade <= GRADE for w in wordings) / len(wordings)
