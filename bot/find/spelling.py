"""Spelling repair, word by word, against the words the corpus knows. The one door to rapidfuzz.

Only words nobody knows are touched, never short ones: rapidfuzz flatters short words. A word whose ending alone is
unknown (traded, where trade is known) counts as known. Of numbers only a bare leading point is filled in (.25 -> 0.25),
because a point ends a sentence.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cached_property, lru_cache

from bot.corpus.patterns import _CONTRACTIONS, stem

_WORD = re.compile(r"(?<![^\W\d_])[A-Za-z][a-z']{3,}(?![^\W\d_])")
_BARE_POINT = re.compile(r"(?<![\d.\w])\.(?=\d)")
# Sounds typed as they are heard: "tickatickaticka", "clickclickclick", "ratatatat".
_SOUND = re.compile(
    r"(?:cl[iau]n?c?k|t[iau]c?k)[a-z]{0,3}(?:(?:cl[iau]n?c?k|t[iau]c?k)[a-z]{0,3})+|rat?a?(?:ta?t)+"
)
_DRAWN_OUT = re.compile(r"([a-z])\1{2,}")
# Endings a known word may carry besides those that `stem` takes off.
_ENDINGS = ("ly", "er", "ers", "est", "ness", "y", "ish", "able", "less", "ful", "ier", "in")


_FOREIGN = frozenset((
    "les", "des", "une", "est", "pas", "dans", "sur", "avec", "mais", "mon", "ma", "ne", "je", "il",
    "elle", "qui", "que", "et", "la", "le", "du", "au", "aux", "ca", "ça", "el", "los", "las",
    "un", "con", "por", "pero", "esta", "mi", "se", "del", "al", "yo", "y", "es", "muy", "cuando",
))  # fmt: skip


def _is_foreign(text: str) -> bool:
    """Whether a line reads as French or Spanish: then no word of it is repaired into an English one."""
    words = re.findall(r"[^\W\d_]+", text.lower())
    return sum(w in _FOREIGN for w in words) >= max(2, len(words) // 6)


def every_word(meant: Iterable[str], known: Iterable[str]) -> frozenset[str]:
    """All words that are left as they are."""
    landed = {w for w in meant if len(w) > 3 and w.isalpha()}
    return frozenset({w.lower() for w in known} | landed | {w for w in _CONTRACTIONS if w.isalpha()})


class Speller:
    """Repairs words against two lists: `meant` (words worth landing on) and `known` (real words left alone)."""

    def __init__(
        self,
        meant: Iterable[str],
        known: Iterable[str],
        weight: Callable[[], Mapping[str, int]] = dict,
        ready: frozenset[str] | None = None,
    ) -> None:
        """`weight` says how often the corpus uses a word; between words as near as each other the more used wins.

        `ready` is what `every_word` made of the first two in an earlier run.
        """
        self._meant, self._weigh = meant, weight
        self.known = every_word(meant, known) if ready is None else ready
        self._repair = lru_cache(maxsize=4096)(self._look)

    @cached_property
    def weight(self) -> Mapping[str, int]:
        """How often the corpus uses a word."""
        return self._weigh()

    @cached_property
    def by_length(self) -> dict[int, list[str]]:
        """The words worth landing on, by their length."""
        found: dict[int, list[str]] = {}
        for word in sorted({w for w in self._meant if len(w) > 3 and w.isalpha()}):
            found.setdefault(len(word), []).append(word)
        return found

    @cached_property
    def stems(self) -> set[str]:
        """The stems of every known word; made when the first word is not known as typed."""
        return {stem(w) for w in self.known}

    def _real(self, word: str) -> bool:
        """Whether the word, or the word without an ordinary ending, is known."""
        if word in self.known or stem(word) in self.stems:
            return True
        for ending in _ENDINGS:
            base = word.removesuffix(ending)
            if (
                base != word
                and len(base) > 2
                and (base in self.known or base + "e" in self.known or base + "g" in self.known)
            ):
                return True
        # Two known words run together are left as typed: "footpad", "nosecone".
        return any(word[:i] in self.known and word[i:] in self.known for i in range(4, len(word) - 3))

    def _look(self, word: str) -> str:
        drawn = _DRAWN_OUT.sub(r"\1", word)
        if drawn != word:
            twice = _DRAWN_OUT.sub(r"\1\1", word)
            return next((w for w in (drawn, twice) if w in self.known), word)
        if _SOUND.fullmatch(word):
            return "click click"
        if self._real(word):
            return word
        return self._nearest(word)

    def _nearest(self, word: str) -> str:
        from rapidfuzz.distance import DamerauLevenshtein
        from rapidfuzz.process import extract

        swapped = word[1] + word[0]
        near = [
            w
            for n in range(len(word) - 1, len(word) + 2)
            for w in self.by_length.get(n, ())
            # The first letter is rarely the wrong one; in short words another first letter is another word.
            if (w[0] == word[0] or w[:2] == swapped or (len(word) > 6 and w[1:3] == word[1:3]))
            # A letter exchanged in a word of four makes another word as a rule; one left out does not.
            and not (len(word) == 4 and len(w) == 4 and sorted(w) != sorted(word))
        ]
        if not near:
            return word
        limit = 1 if len(word) < 7 else 2
        best = extract(word, near, scorer=DamerauLevenshtein.distance, score_cutoff=limit, limit=6)
        tied = [str(b[0]) for b in best if b[1] == best[0][1]]
        same_start = [w for w in tied if w[0] == word[0]]
        if not tied or (not same_start and len(tied) > 1):
            return word
        # Two letters exchanged are likelier than one left out: "silde" is slide, not side.
        return max(
            same_start or tied,
            key=lambda w: (sorted(w) == sorted(word), self.weight.get(w, 0), w),
        )

    def word(self, word: str) -> str:
        """The word meant: itself where it is known, short or like nothing, else the closest known one."""
        lowered = word.lower()
        if len(lowered) < 4 or lowered in self.known or "'" in lowered:
            return word
        found = self._repair(lowered)
        return word if found == lowered else found

    def line(self, text: str) -> str:
        """The line with unknown words repaired; everything else stays as typed, so places of words may shift."""
        text = _BARE_POINT.sub("0.", text)
        return text if _is_foreign(text) else _WORD.sub(lambda m: self.word(m.group()), text)
