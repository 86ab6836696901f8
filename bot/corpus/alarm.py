"""How much a line sounds like danger: one sum over many small signs, wider than what findings are heard by.

Three kinds of signs count: words and classes of words in their order, as for findings; every two classes of words that
stand anywhere in the same line ("truck gone" at its start, "under it" at its end); and pieces of words of three to
five letters, so that a slip of the finger or another ending is not a new word. Each kind is scaled by how many signs of
it the line has. A sign's weight lies at its CRC-32 in a table of one byte each; two signs may share a place, and the
weights were learned with that. Signs have names, so what a score was made of can be told (`Alarm.because`).
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Mapping, Sequence
from math import sqrt
from zlib import crc32

BITS = 20  # places of the table: about as many as there are different signs in the examples
PATTERN = 0.3  # what a matching pattern counts for beside words, before its weight
KINDS = ((1.0, 4), (0.7, 4), (0.7, 12))  # share of each kind of signs, and the fewest it is divided by
PIECES = (3, 4, 5)
MOST_LETTERS = 24  # of a word
MOST_CLASSES = 40  # of a line, in pairs

Classes = Mapping[str, Sequence[str]]


def pairs(words: Sequence[str], classes: Classes) -> list[str]:
    """Classes of words in the line, and every two of them, each once, by name."""
    found = sorted({kind for word in words for kind in classes.get(word) or ()})[:MOST_CLASSES]
    return [f"6{a}" for a in found] + [f"6{a}&{b}" for i, a in enumerate(found) for b in found[i + 1 :]]


def pieces(words: Sequence[str]) -> Iterator[str]:
    """Pieces of three to five letters of each word, its ends marked by a blank."""
    for word in words:
        marked = f" {word[:MOST_LETTERS]} "
        for size in PIECES:
            for at in range(max(1, len(marked) - size + 1)):
                yield f"7{marked[at : at + size]}"


def signs(words: Sequence[str], ordered: set[str], classes: Classes) -> tuple[set[str], set[str], set[str]]:
    """The signs of a line, a kind each; `ordered` are those that findings are heard by too."""
    return ordered, set(pairs(words, classes)), set(pieces(words))


def place(sign: str) -> int:
    """Where the weight of a sign lies."""
    return crc32(sign.encode("utf-8", "replace")) & ((1 << BITS) - 1)


def shares(kinds: Sequence[set[str]]) -> list[float]:
    """What one sign of each kind counts for before its weight: less the more there are of its kind."""
    return [share / sqrt(max(fewest, len(kind))) for (share, fewest), kind in zip(KINDS, kinds, strict=True)]


class Alarm:
    """The table of signs. `score` is above zero where the examples speak for danger."""

    def __init__(self, bias: float, scale: float, weight: array[int]) -> None:
        """`weight`: one signed byte for each of 2 ** BITS places. Raises ValueError where there are more or fewer."""
        if len(weight) != 1 << BITS:
            raise ValueError("the table of signs has another size")
        self.bias, self.scale, self.weight = bias, scale, weight

    def score(self, kinds: Sequence[set[str]], matched: Sequence[str] = ()) -> float:
        """The score of a line with these signs; `matched` are what the patterns made of it."""
        total = PATTERN * sum(self.weight[place(name)] for name in matched)
        for kind, share in zip(kinds, shares(kinds), strict=True):
            total += share * sum(self.weight[place(name)] for name in kind)
        return self.bias + self.scale * total

    def because(self, kinds: Sequence[set[str]], most: int = 5) -> list[tuple[str, float]]:
        """The signs that speak most for danger, with what each adds to the score."""
        found = [
            (name, self.scale * share * self.weight[place(name)])
            for kind, share in zip(kinds, shares(kinds), strict=True)
            for name in kind
        ]
        return [one for one in sorted(found, key=lambda s: (-s[1], s[0]))[:most] if one[1] > 0]
