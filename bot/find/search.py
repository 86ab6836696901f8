"""Words -> pages: spelling, synonyms, rank, and the reason of each hit."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cached_property, lru_cache

from bot.corpus.model import Page
from bot.corpus.vocabulary import STEP_LABELS
from bot.find.index import words_of
from bot.frozen import dataclass

# Labels of a step are for the program: they are no sentence to show.
_LABEL = re.compile(
    rf"\s*(?:{'|'.join(label for label in STEP_LABELS if label != 'done when')})\b[^:]{{0,12}}:"
)
_SENTENCE = re.compile(r"\n\s*- |\n\d+\. |\n\n|(?<=[a-z])\. ")
_NOT_SHOWN = {
    "Also called",
    "Expect",
    "Circuit",
    "What is dangerous where",
    "Match",
}  # found by, but no sentence to show
_SYNONYM_WEIGHT = 0.2
# Who types two nouns wants a fault or its repair sooner than the check that tells it or the sheet to order by.
_KIND_WEIGHT = {"checks": 0.9, "parts": 0.8}
_LOOKED_AT = 8  # more pages than asked for, so that the kind can bring one up
_MOST_STEMS = 14  # the rarest stay when a line is long


@dataclass(frozen=True)
class Hit:
    """One page found: its id, score, the words that found it, and the sentence where most of them stand."""

    id: str
    title: str
    kind: str
    score: float
    matched: tuple[str, ...]
    sentence: str


def synonyms_of(groups: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """Stem -> stems that mean the same in this trade: the part groups of corpus/words and its `search …` groups."""
    wanted = ("leg", "shaft", "fuse", "battery", "ground", "terminal", "pin", "crank", "button")
    found: dict[str, set[str]] = {}
    for name in (*wanted, *(g for g in groups if g.startswith("search "))):
        stems = {w for entry in groups.get(name, ()) if " " not in entry for w in words_of(entry)}
        for stem in stems:
            found.setdefault(stem, set()).update(stems - {stem})
    return {stem: tuple(sorted(others)) for stem, others in found.items()}


class Search:
    """Ready to search: an index, the pages, synonyms, and the spelling repair."""

    def __init__(
        self,
        look: Callable[[list[tuple[str, float]], int], list[tuple[str, float]]],
        pages: Mapping[str, Page],
        synonyms: Callable[[], Mapping[str, tuple[str, ...]]],
        respell: Callable[[str], str],
        rarity: Callable[[], Mapping[str, int]],
    ) -> None:
        """`synonyms` and `rarity` are asked for at the first search."""
        self.look, self.pages, self.respell = look, pages, respell
        self._synonyms, self._rarity = synonyms, rarity
        # A keystroke finds the pages of the one before, as a rule: what they hold is taken apart once.
        self._apart = lru_cache(maxsize=512)(lambda id_: _apart(pages[id_]))

    @cached_property
    def synonyms(self) -> Mapping[str, tuple[str, ...]]:
        """Stem -> stems that mean the same in this trade."""
        return self._synonyms()

    @cached_property
    def rarity(self) -> Mapping[str, int]:
        """Stem -> pages that hold it."""
        return self._rarity()

    def ids(self, text: str, limit: int) -> tuple[str, ...]:
        """Page ids alone, best first: for the turn, which needs no reasons."""
        return tuple(id_ for id_, _ in self._found(text, limit)[1])

    def hits(self, text: str, limit: int = 8) -> list[Hit]:
        """Pages for what was typed, best first; an empty list where no word of it stands in the corpus."""
        stems, found = self._found(text, limit)
        return [self._hit(id_, score, set(stems)) for id_, score in found]

    def _found(self, text: str, limit: int) -> tuple[list[str], list[tuple[str, float]]]:
        stems = list(dict.fromkeys(words_of(self.respell(text))))
        stems = sorted(stems, key=lambda s: self.rarity.get(s, 10**6))[:_MOST_STEMS]
        weighted = {s: 1.0 for s in stems}
        for stem in stems:
            for other in self.synonyms.get(stem, ()):
                weighted.setdefault(other, _SYNONYM_WEIGHT)
        looked = self.look(list(weighted.items()), limit + _LOOKED_AT)
        found = [
            (id_, score * _KIND_WEIGHT.get(self.pages[id_].kind, 1.0))
            for id_, score in looked
            if id_ in self.pages
        ]
        return stems, sorted(found, key=lambda pair: -pair[1])[:limit]

    def _hit(self, id_: str, score: float, stems: set[str]) -> Hit:
        page = self.pages[id_]
        titled, unshown, sentences = self._apart(id_)
        matched = stems & titled
        best, most = page.title, len(matched) + 0.5
        matched = matched | (stems & unshown)
        for raw, held in sentences:
            common = stems & held
            if common:
                matched |= common
                if len(common) > most and not _LABEL.match(raw):
                    best, most = " ".join(raw.split()).strip(" -|"), len(common)
        return Hit(id_, page.title, page.kind, score, tuple(sorted(matched)), best[:160])


def _apart(page: Page) -> tuple[frozenset[str], frozenset[str], tuple[tuple[str, frozenset[str]], ...]]:
    """Stems of the title, stems of what is found by but not shown, and each sentence with its stems."""
    unshown: set[str] = set()
    sentences = []
    for section in page.sections:
        if section.title in _NOT_SHOWN:
            unshown.update(words_of(section.text))
            continue
        for raw in _SENTENCE.split("\n" + section.text):
            if held := frozenset(words_of(raw)):
                sentences.append((raw, held))
    return frozenset(words_of(page.title)), frozenset(unshown), tuple(sentences)
