"""Where the corpus lies: inside the installed package, or in the checkout beside it."""

from __future__ import annotations

from pathlib import Path

from bot.problems import LeglineError


class CorpusNotFound(LeglineError):
    """Neither the installed copy nor the checkout's folder is there."""


def corpus_folder(wanted: str | None = None) -> Path:
    """The folder of the corpus.

    wanted : a folder named by the person; None looks in the package, then in the checkout.
    Raises CorpusNotFound naming every place that was looked at.
    """
    package = Path(__file__).resolve().parent.parent
    places = [Path(wanted)] if wanted else [package / "_corpus", package.parent / "corpus"]
    for place in places:
        if (place / "causes").is_dir():
            return place
    looked = " and ".join(str(p) for p in places)
    raise CorpusNotFound(
        f"No corpus at {looked}: a corpus is a folder with causes, checks, procedures, guides and words in it."
    )


def corpus_files(folder: Path) -> list[Path]:
    """Every page file of the corpus, in a fixed order."""
    kinds = ("causes", "checks", "procedures", "guides", "words")
    return [file for kind in kinds for file in sorted((folder / kind).glob("*.md"))]
