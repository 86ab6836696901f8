"""Weights of words learned from the examples in corpus/examples: what a line tells that no pattern foresaw.

A score is a sum, one number for each word, pair of words or classes of words in the line, and one for each pattern
that matched; so what it went by can always be named (`because`). No network, no hidden state: the file holds a table
of weights, made by scripts/learn.py from examples that people wrote, and checked against them there.

File: one line of JSON (what each label is, its threshold, the fingerprint of the examples), then the table: the
CRC-32 of each feature in rising order, where its weights begin, and pairs of label and weight; at the end the table
of `bot/corpus/alarm`, which judges danger alone by more signs than findings need.
"""

from __future__ import annotations

import json
import re
import sys
from array import array
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from math import sqrt
from pathlib import Path
from zlib import crc32

from bot.corpus.alarm import PATTERN, Alarm, Classes, signs

FILE = "examples/learned.bin"
FEWEST = 4  # a short line counts as one of so many features, so that a single word does not decide alone
_WORD = re.compile(r"[a-z0-9]")
REACH = 3  # classes of words so far apart are still read together
MOST_WORDS = 400
_MANY = 10  # labels that a feature speaks to, from which on its weights are added all at once
_KEPT = 4_000  # features of many labels whose weights stay side by side: common words come again and again


def words_of(texts: Sequence[str]) -> list[str]:
    """The words of a line's tokens, without stops and signs, at most 400."""
    return [t for t in texts if _WORD.match(t)][:MOST_WORDS]


def features(words: Sequence[str], classes: Classes) -> Iterator[tuple[str, int]]:
    """Each feature with the place of its first word: words, pairs of neighbours, and the same for their classes."""
    line = ["<", *words, ">"]
    kinds = [classes.get(w) or ("=" + w,) for w in line]
    for i, word in enumerate(line):
        yield "1" + word, i - 1
        for kind in kinds[i]:
            yield "3" + kind, i - 1
        if i + 1 < len(line):
            yield f"2{word} {line[i + 1]}", i - 1
        for far in range(1, REACH + 1):
            if i + far < len(line):
                for kind in kinds[i]:
                    for other in kinds[i + far]:
                        yield f"{3 + min(far, 2)}{kind} {other}", i - 1


def flags(
    dangers: Sequence[str], findings: Mapping[str, str], outside: Sequence[str], readings: int
) -> list[str]:
    """What the patterns made of the line, as features: the weights say how far each is to be believed."""
    found = [f"Pd:{kind}" for kind in dangers] + [f"Pf:{name}={value}" for name, value in findings.items()]
    found += ["Pd"] * bool(dangers) + ["Po"] * bool(outside) + ["Pr"] * bool(readings)
    return list(dict.fromkeys(found))


class Learned:
    """The table of weights and the classes of words. Made by `read_learned`, or empty."""

    def __init__(
        self,
        labels: Sequence[str] = (),
        bias: Sequence[float] = (),
        scale: Sequence[float] = (),
        classes: Classes | None = None,
        table: tuple[array[int], array[int], array[int], array[int]] | None = None,
        examples: str = "",
        alarm: Alarm | None = None,
    ) -> None:
        """`table`: hashes in rising order, where the weights of each begin, their labels, the weights."""
        self.labels = tuple(labels)
        self.bias, self.scale = tuple(bias), tuple(scale)
        self.classes: Classes = classes or {}
        empty = array("I"), array("I", [0]), array("B"), array("b")
        self.hashes, self.starts, self.label_of, self.weight = table or empty
        self.examples = examples  # fingerprint of the examples it was learned from
        self.place = {label: i for i, label in enumerate(self.labels)}
        self.alarm = alarm if "danger" in self.place else None
        self._wide = lru_cache(_KEPT)(self._widened)

    def _rows(self, names: Iterable[str]) -> Iterator[tuple[int, int, int]]:
        """Number of each feature that is in the table, and where its weights begin and end."""
        hashes, starts = self.hashes, self.starts
        for name in names:
            code = crc32(name.encode("utf-8", "replace"))
            at = bisect_left(hashes, code)
            if at < len(hashes) and hashes[at] == code:
                yield at, starts[at], starts[at + 1]

    def _widened(self, number: int) -> int:
        """The weights of a feature for all labels side by side in one long number, four bytes a label, each raised by 128.

        Adding such numbers adds all labels at once, ten times as fast as label by label. No label runs over into the
        next: 400 words have fewer than 2 ** 24 features.
        """
        wide = bytearray(b"\x80\0\0\0" * len(self.labels))
        for i in range(self.starts[number], self.starts[number + 1]):
            wide[4 * self.label_of[i]] = 128 + self.weight[i]
        return int.from_bytes(wide, "little")

    def _sums(self, names: Iterable[str]) -> list[int]:
        """The sum of the features' weights for each label."""
        label_of, weight = self.label_of, self.weight
        sums, wide, raised = [0] * len(self.labels), 0, 0
        for number, start, end in self._rows(names):
            if end - start < _MANY:
                for i in range(start, end):
                    sums[label_of[i]] += weight[i]
            else:
                wide += self._wide(number)
                raised += 128
        beside = array("I", wide.to_bytes(4 * len(sums), "little"))
        if sys.byteorder == "big":
            beside.byteswap()
        return [one + other - raised for one, other in zip(sums, beside, strict=True)]

    def scores(self, words: Sequence[str], matched: Sequence[str] = (), danger: bool = True) -> list[float]:
        """A score for each label; above zero means that the examples speak for it. Without `danger` that one label
        is left at its bias, which is quicker.
        """
        if not self.labels:
            return []
        seen = {name for name, _ in features(words, self.classes)}
        share = 1 / sqrt(max(FEWEST, len(seen)))
        parts = zip(self.bias, self.scale, self._sums(seen), self._sums(matched), strict=True)
        scores = [bias + scale * (share * said + PATTERN * met) for bias, scale, said, met in parts]
        if self.alarm is not None and danger:
            scores[self.place["danger"]] = self.alarm.score(signs(words, seen, self.classes), matched)
        return scores

    def because(self, words: Sequence[str], label: str) -> tuple[int, int]:
        """First and last place of the words that speak most for the label; (0, len) where none do."""
        at = self.place[label]
        speaks = [0.0] * (len(words) + 1)
        for name, place in features(words, self.classes):
            for _, start, end in self._rows([name]):
                for i in range(start, end):
                    if self.label_of[i] == at and place >= 0:
                        speaks[min(place, len(words))] += self.weight[i]
        best = sorted(range(len(words)), key=lambda i: -speaks[i])[:3]
        best = [i for i in best if speaks[i] > 0]
        return (min(best), max(best) + 1) if best else (0, len(words))


def read_learned(folder: Path) -> Learned:
    """The weights beside the corpus; empty, so that patterns alone decide, where the file is missing or spoilt."""
    try:
        raw = (folder / FILE).read_bytes()
        return parsed(raw)
    except (OSError, ValueError, KeyError, IndexError, TypeError):
        return Learned()


def parsed(raw: bytes) -> Learned:
    """The table in those bytes. Raises ValueError, KeyError or TypeError where they are no such table."""
    cut = raw.index(b"\n") + 1
    head = json.loads(raw[:cut])
    features_, weights = int(head["features"]), int(head["weights"])
    arrays = [array("I"), array("I"), array("B"), array("b")]
    for one, count in zip(arrays, (features_, features_ + 1, weights, weights), strict=True):
        size = count * one.itemsize
        one.frombytes(raw[cut : cut + size])
        if len(one) != count:
            raise ValueError("the table is cut short")
        if sys.byteorder == "big":
            one.byteswap()
        cut += size
    classes = {word: tuple(kinds.split()) for word, kinds in head["classes"].items()}
    hashes, starts, label_of, weight = arrays
    table = hashes, starts, label_of, weight
    alarm = None
    if "alarm" in head:
        bias, scale = head["alarm"]
        alarm = Alarm(float(bias), float(scale), array("b", raw[cut:]))
    return Learned(head["labels"], head["bias"], head["scale"], classes, table, head["examples"], alarm)


def packed(
    labels: Sequence[str], bias: Sequence[float], scale: Sequence[float], classes: Classes, examples: str,
    table: Mapping[int, Sequence[tuple[int, int]]], alarm: Alarm | None = None,
) -> bytes:  # fmt: skip
    """The file for that table (CRC-32 of a feature -> pairs of label number and weight -127 to 127), and of signs."""
    hashes, starts = array("I", sorted(table)), array("I", [0])
    label_of, weight = array("B"), array("b")
    for code in hashes:
        for label, value in table[code]:
            label_of.append(label)
            weight.append(value)
        starts.append(len(weight))
    head = {
        "labels": list(labels), "bias": [round(b, 4) for b in bias], "scale": [round(s, 6) for s in scale],
        "classes": {w: " ".join(k) for w, k in classes.items()}, "examples": examples,
        "features": len(hashes), "weights": len(weight),
    } | ({"alarm": [round(alarm.bias, 4), round(alarm.scale, 6)]} if alarm is not None else {})  # fmt: skip
    parts = [json.dumps(head, separators=(",", ":"), ensure_ascii=True).encode() + b"\n"]
    for one in (hashes, starts, label_of, weight):
        if sys.byteorder == "big":
            one.byteswap()
        parts.append(one.tobytes())
    return b"".join([*parts, alarm.weight.tobytes() if alarm is not None else b""])
