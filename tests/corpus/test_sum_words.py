"""Mistakes in the words about sums are found with file, line and mend; the sums are handed in, not imported."""

from __future__ import annotations

import pytest

from bot.corpus.lexicon import word_problems
from bot.corpus.model import WordRule

SUMS = {"tea": {"water": (), "leaf": ("black", "green")}}


def _rule(meaning: str, *notes: tuple[str, str]) -> WordRule:
    return WordRule(meaning, ("a word",), (), (), (), notes, "words/x.md", 7, (8,))


@pytest.mark.parametrize(
    ("rule", "wrong"),
    [
        (_rule("sum: coffee"), 'there is no sum "coffee"'),
        (_rule("sum: tea", ("asks", "water, sugar")), 'tea has no input "sugar"'),
        (_rule("sum: tea", ("asks", "leaf unless bag")), 'tea has no input "bag"'),
        (_rule("sum: tea", ("verdict needs", "milk")), 'tea has no input "milk"'),
        (_rule("input: sugar"), 'no sum has the input "sugar"'),
        (_rule("input: coffee water"), 'no sum has the input "coffee water"'),
        (_rule("pick: tea leaf"), "picks nothing"),
        (_rule("pick: tea leaf red"), '"red" is no choice of leaf'),
        (_rule("folk: long steep", ("says", "no")), "lacks says or do"),
    ],
    ids=lambda value: value.meaning if isinstance(value, WordRule) else "",
)
def test_a_mistake_in_the_words_of_a_sum_is_named(rule: WordRule, wrong: str) -> None:
    found = word_problems((rule,), {}, SUMS)
    assert len(found) == 1
    assert wrong in found[0].what
    assert (found[0].file, found[0].line) == ("words/x.md", 7)
    assert found[0].fix


@pytest.mark.parametrize(
    "rule",
    [
        _rule("sum: tea", ("asks", "water or leaf, leaf unless water"), ("verdict needs", "leaf")),
        _rule("input: water"),
        _rule("input: tea water"),
        _rule("pick: tea leaf green"),
        _rule("folk: long steep", ("says", "no"), ("do", "taste it")),
    ],
    ids=lambda rule: rule.meaning,
)
def test_sound_words_of_a_sum_are_let_through(rule: WordRule) -> None:
    assert word_problems((rule,), {}, SUMS) == []
