"""Spelling repair, word by word, against the words the corpus knows. The one door to rapidfuzz.

Only words nobody knows are touched, never short ones, never numbers: rapidfuzz flatters short words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

_WORD = re.compile(r"[A-Za-z][a-z]{3,}")
_CUTOFF = 82.0  # share of letters in common that two spellings must have; measured in tests/find


class Speller:
    """Repairs words against two lists: `meant` (words worth landing on) and `known` (real words left alone)."""

    def __init__(self, meant: Iterable[str], known: Iterable[str]) -> None:
        self.meant = sorted({w for w in meant if len(w) > 3 and w.isalpha()})
        self.known = {w.lower() for w in known} | set(self.meant)
        self.by_length: dict[int, list[str]] = {}
        for word in self.meant:
            self.by_length.setdefault(len(word), []).append(word)
        self._repair = lru_cache(maxsize=4096)(self._look)

    def _look(self, word: str) -> str:
        from rapidfuzz.distance import DamerauLevenshtein
        from rapidfuzz.process import extract

        near = [
            w
            for n in range(len(word) - 1, len(word) + 2)
            for w in self.by_length.get(n, ())
            if w[0] == word[0] or w[1:3] == word[1:3]
        ]
        if not near:
            return word
        limit = 1 if len(word) < 7 else 2
        best = extract(word, near, scorer=DamerauLevenshtein.distance, score_cutoff=limit, limit=2)
        if not best or (len(best) > 1 and best[1][1] == best[0][1] and best[0][0][0] != word[0]):
            return word
        same_start = [b for b in best if b[0][0] == word[0] and b[1] == best[0][1]]
        return str((same_start or best)[0][0])

    def word(self, word: str) -> str:
        """The word meant: itself where it is known, short or like nothing, else the closest known one."""
        lowered = word.lower()
        if len(lowered) < 4 or lowered in self.known:
            return word
        return self._repair(lowered)

    def line(self, text: str) -> str:
        """The line with unknown words repaired; everything else stays as typed, so places of words may shift."""
        return _WORD.sub(lambda m: self.word(m.group()), text)
