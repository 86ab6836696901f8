"""The sum behind a danger, by tables that a hand can reckon."""

from array import array
from math import sqrt

import pytest

from bot.corpus.alarm import BITS, Alarm, pairs, pieces, place, signs
from bot.corpus.learned import Learned, features, packed, parsed

CLASSES = {"truck": ("truck",), "gone": ("away", "past"), "leg": ("body", "leg_part")}


def _alarm(weights: dict[str, int], bias: float = -1.0, scale: float = 0.5) -> Alarm:
    table = array("b", bytes(1 << BITS))
    for sign, weight in weights.items():
        table[place(sign)] = weight
    return Alarm(bias, scale, table)


def _signs(line: str) -> tuple[set[str], set[str], set[str]]:
    words = line.split()
    return signs(words, {name for name, _ in features(words, CLASSES)}, CLASSES)


def test_classes_count_wherever_they_stand_and_each_once() -> None:
    assert pairs(["the", "truck", "is", "gone"], CLASSES) == [
        "6away", "6past", "6truck", "6away&past", "6away&truck", "6past&truck",
    ]  # fmt: skip
    assert pairs(["gone", "gone", "truck"], CLASSES) == pairs(["truck", "is", "gone"], CLASSES)
    assert pairs(["nothing", "known", "here"], CLASSES) == []


def test_pieces_of_a_word_are_marked_at_its_ends() -> None:
    assert list(pieces(["leg"])) == ["7 le", "7leg", "7eg ", "7 leg", "7leg ", "7 leg "]
    assert list(pieces(["a"])) == ["7 a ", "7 a ", "7 a "]
    assert max(map(len, pieces(["x" * 500]))) == 6
    assert len(list(pieces(["x" * 500]))) < 80


def test_score_is_the_sum_that_a_hand_makes() -> None:
    ordered, both, parts = _signs("truck gone")
    alarm = _alarm({"1truck": 10, "6away&truck": -4, "7uck ": 3, "Pd": 20})
    # bias -1, step 0.5; ordered signs by their root, six class signs by the root of 6 and pieces by theirs; a pattern 0.3
    expected = 10 / sqrt(max(4, len(ordered))) - 0.7 * 4 / sqrt(6) + 0.7 * 3 / sqrt(len(parts)) + 0.3 * 20
    assert len(both) == 6
    assert len(parts) > 12
    assert alarm.score((ordered, both, parts), ["Pd"]) == pytest.approx(-1 + 0.5 * expected)


def test_a_short_word_is_not_counted_for_more_than_a_third_of_a_line() -> None:
    ordered, both, parts = _signs("leg")
    assert len(parts) == 6  # fewer than twelve: divided by the root of twelve
    assert _alarm({"7leg": 12}, bias=0, scale=1).score((ordered, both, parts)) == pytest.approx(
        0.7 * 12 / sqrt(12)
    )


def test_words_that_nobody_taught_leave_the_bias() -> None:
    assert _alarm({"1truck": 50}).score(_signs("over the hills")) == -1.0


def test_what_speaks_for_danger_is_named() -> None:
    alarm = _alarm({"1truck": 10, "6away&truck": 90, "1gone": -30})
    named = alarm.because(_signs("truck gone"))
    assert [name for name, _ in named] == ["6away&truck", "1truck"]
    assert sum(part for _, part in named) > alarm.score(_signs("truck gone")) + 1  # the rest speaks against


def test_a_table_of_another_size_is_refused() -> None:
    with pytest.raises(ValueError, match="size"):
        Alarm(0.0, 1.0, array("b", [1, 2, 3]))


def test_it_goes_with_the_weights_and_judges_danger_alone() -> None:
    alarm = _alarm({"1truck": 10})
    labels = ["danger", "danger: nose dropped", "fuse_ok=no"]
    raw = packed(labels, [0.25, 0.5, 0.75], [1.0, 1.0, 1.0], CLASSES, "mark", {}, alarm)
    read = parsed(raw)
    words = ["truck", "gone"]
    assert read.scores(words)[1:] == [0.5, 0.75]
    assert read.scores(words)[0] == pytest.approx(alarm.score(_signs("truck gone")))
    assert parsed(packed(labels, [0.25, 0.5, 0.75], [1.0] * 3, CLASSES, "mark", {})).scores(words)[0] == 0.25
    with pytest.raises(ValueError, match="size"):
        parsed(raw[:-5])


def test_without_a_label_for_danger_there_is_nothing_to_judge() -> None:
    assert Learned(["fuse_ok=no"], [0.5], [1.0], CLASSES, None, "", _alarm({})).scores(["truck"]) == [0.5]
