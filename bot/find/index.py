"""The page index. The one door to whoosh.

Which fork: whoosh3, pinned. Measured beside the others on 3.11 to 3.13: imports clean under -W error, half the
import time of whoosh-reloaded (whose last release is of 2024), same ranking as 2.7.4 on 100 queries, BSD-2. Its upkeep
is by an openly disclosed program, which is why it sits behind this one module: words in, ranked ids out.

User text is never a query language: queries are built from our own words as a plain OR.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from bot.corpus.patterns import tokens

# Words that carry nothing in a search. Small on purpose: "not", "up", "down", "in", "out" stay.
_EMPTY = frozenset(
    [
        "i",
        "my",
        "we",
        "he",
        "she",
        "they",
        "it",
        "is",
        "are",
        "was",
        "were",
        "am",
        "be",
        "been",
        "to",
        "of",
        "and",
        "or",
        "so",
        "do",
        "does",
        "did",
        "have",
        "has",
        "had",
        "that",
        "this",
        "there",
        "here",
        "what",
        "which",
        "when",
        "with",
        "for",
        "me",
        "you",
        "your",
        "our",
    ]
)
FIELDS = ("title", "called", "asked", "head", "body")
# Chosen on sets d and e of tests/lines. `asked` holds what people typed for a page, which says more than its body.
_BOOST = {"title": 1.0, "called": 1.0, "asked": 3.0, "head": 1.0, "body": 0.2}


def words_of(text: str) -> list[str]:
    """Our own analyzer: stems in order, direction and negation kept."""
    return [t.stem for t in tokens(text) if t.text not in _EMPTY]


def build(folder: Path, documents: Iterable[dict[str, str]]) -> None:
    """Writes the index of the documents (id and FIELDS, each plain text) into the folder."""
    from whoosh import index
    from whoosh.analysis.tokenizers import SpaceSeparatedTokenizer
    from whoosh.fields import ID, TEXT, Schema

    folder.mkdir(parents=True, exist_ok=True)
    schema = Schema(
        id=ID(stored=True),
        **{name: TEXT(analyzer=SpaceSeparatedTokenizer(), phrase=False) for name in FIELDS},
    )
    writer = index.create_in(str(folder), schema).writer()
    for document in documents:
        writer.add_document(
            id=document["id"], **{name: " ".join(words_of(document[name])) for name in FIELDS}
        )
    writer.commit()


class Index:
    """An index opened for reading; whoosh is imported on the first search, not before."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._searcher: Any = None

    def search(self, weighted: Sequence[tuple[str, float]], limit: int) -> list[tuple[str, float]]:
        """(page id, score) for weighted stems, best first; nothing for no stems."""
        if not weighted:
            return []
        from whoosh import index
        from whoosh.query.compound import Or
        from whoosh.query.terms import Term

        if self._searcher is None:
            self._searcher = index.open_dir(str(self.folder)).searcher()
        # The weight of a field belongs here: in the schema it would count words, which BM25 soon has enough of.
        terms = [
            Term(field, stem, boost=weight * _BOOST[field]) for stem, weight in weighted for field in FIELDS
        ]
        hits = self._searcher.search(Or(terms), limit=limit)
        return [(hit["id"], float(hit.score)) for hit in hits]
