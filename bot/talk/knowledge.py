"""Everything the conversation knows, as one frozen value that `assemble` builds."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bot.corpus.model import Cause, Check, Corpus, Page, Procedure
from bot.frozen import dataclass
from bot.reason.chances import Model
from bot.talk.understand import Reader


@dataclass(frozen=True)
class Knowledge:
    """The corpus, its model, the reader of lines and the search, each ready to use."""

    corpus: Corpus
    model: Model
    reader: Reader
    causes: Mapping[str, Cause]
    checks: Mapping[str, Check]
    procedures: Mapping[str, Procedure]
    pages: Mapping[str, Page]
    search: Callable[[str, int], tuple[str, ...]]  # words, how many -> page ids, best first

    def procedure_for(self, cause: str, gear: str | None) -> Procedure | None:
        """The procedure that mends the cause in that gear: the one its page names, else one that fits."""
        page = self.causes[cause]
        named = self.procedures.get(page.mends)
        if named and (gear is None or gear in named.fits):
            return named
        fitting = [
            p for p in self.procedures.values() if cause in p.mends and (gear is None or gear in p.fits)
        ]
        return fitting[0] if fitting else named
