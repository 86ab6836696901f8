"""Where the corpus lies: the shipped folder, one's own laid over it, or one used alone; and what is refused there."""

from __future__ import annotations

import os
from pathlib import Path

from bot.frozen import dataclass
from bot.problems import LeglineError, Problem

KINDS = ("causes", "checks", "procedures", "guides", "parts", "words")
MOST_BYTES = 1_000_000  # of one page; the longest shipped one is under a fiftieth of it
SETTING = "LEGLINE_CORPUS"
_TEXTS = {".md", ".markdown", ".mdown", ".mkd", ".txt", ".rst"}


class CorpusNotFound(LeglineError):
    """Neither the installed copy nor the checkout's folder is there, or a folder named is missing."""


class CorpusRefused(CorpusNotFound):
    """A folder is there and its pages are not used: empty, unreadable, leading elsewhere, or faulty."""


@dataclass(frozen=True)
class Wanted:
    """Which pages a person asked for: a folder laid over the shipped ones, or one used alone."""

    own: str | None = None
    alone: str | None = None


@dataclass(frozen=True)
class Layer:
    """One folder of pages and its role: "shipped", "own" (laid over the shipped one) or "alone"."""

    folder: Path
    role: str

    def name(self, file: Path) -> str:
        """A file as problems name it: by its kind where it is the only folder, else from the folder as typed."""
        return str(file) if self.role == "own" else f"{file.parent.name}/{file.name}"


def corpus_folder(wanted: str | None = None) -> Path:
    """The folder of a whole corpus.

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


def layers_of(wanted: Wanted | str | None = None) -> tuple[Layer, ...]:
    """The folders to read, lowest first. A bare text is a folder to lay over the shipped one.

    Without a word from the person, LEGLINE_CORPUS in the environment names the folder to lay over.
    Raises CorpusNotFound or CorpusRefused with what is wrong and what to do.
    """
    if not isinstance(wanted, Wanted):
        wanted = Wanted(own=wanted)
    if wanted.own and wanted.alone:
        raise CorpusRefused("Pages are either laid over the shipped ones (--corpus) or used alone, not both.")
    if wanted.alone:
        _guard(Path(wanted.alone), "--corpus-alone")
        return (Layer(corpus_folder(wanted.alone), "alone"),)
    shipped = Layer(corpus_folder(), "shipped")
    named = wanted.own or os.environ.get(SETTING)
    if not named:
        return (shipped,)
    own = Path(named)
    _guard(own, "--corpus" if wanted.own else SETTING)
    return (shipped, Layer(own, "own"))


def stands_alone(folder: str) -> bool:
    """Whether a folder holds pages of every kind a conversation needs, so that it can be read by itself."""
    needed = ("causes", "checks", "procedures", "guides", "words")
    return all(any((Path(folder) / kind).glob("*.md")) for kind in needed)


def corpus_files(folder: Path) -> list[Path]:
    """Every page file of the corpus, in a fixed order."""
    return [file for kind in KINDS for file in sorted((folder / kind).glob("*.md"))]


def _guard(folder: Path, asked_by: str) -> None:
    """Raises where a folder of one's own cannot be used as it lies."""
    leave = f"Mend it, or leave out {asked_by}."
    if not folder.exists():
        raise CorpusNotFound(
            f"There is no folder {folder}. {asked_by} takes a folder with pages in {', '.join(KINDS)}."
        )
    if not folder.is_dir():
        raise CorpusRefused(f"{folder} is a file. {asked_by} takes the folder that the pages lie in.")
    home = folder.resolve()
    pages = 0
    for kind in KINDS:
        place = folder / kind
        _stays_inside(place, home, leave)
        try:
            found = sorted(place.iterdir()) if place.is_dir() else []
            next(folder.iterdir(), None)
        except OSError as fault:
            raise CorpusRefused(f"{fault.filename} cannot be read: {fault.strerror}. {leave}") from fault
        for file in found:
            if file.name.startswith("."):
                continue
            _stays_inside(file, home, leave)
            if file.suffix == ".md" and file.exists() and not file.is_file():
                raise CorpusRefused(f"{file} is no file with text. {leave}")
            if file.is_file() and file.stat().st_size > MOST_BYTES:
                raise CorpusRefused(
                    f"{file} is {file.stat().st_size:,} bytes long; a page takes up to {MOST_BYTES:,}. {leave}"
                )
            pages += file.suffix == ".md"
    if not pages:
        loose = sorted(p.name for p in folder.iterdir() if p.suffix == ".md" and p.name != "README.md")
        hint = f' "{loose[0]}" lies beside those folders.' if loose else ""
        raise CorpusRefused(
            f"{folder} holds no page: a page lies in its folder {', '.join(KINDS[:-1])} or {KINDS[-1]}, and its name ends in .md.{hint}"
        )


def _stays_inside(path: Path, home: Path, leave: str) -> None:
    """Raises where a path, its links followed, leads out of the folder or nowhere."""
    if path.is_symlink() and not path.exists():
        raise CorpusRefused(f"{path} is a link that leads nowhere. {leave}")
    if not path.resolve().is_relative_to(home):
        raise CorpusRefused(f"{path} leads out of the folder. Copy what it points to into {home}. {leave}")


def strays(layer: Layer) -> list[Problem]:
    """Texts in a folder of one's own that look like pages and are not read, each with where it would be."""
    found = []
    for file in sorted(layer.folder.iterdir()):
        if file.is_file() and file.suffix == ".md" and file.name != "README.md":
            found.append(
                Problem(str(file), 1, "the page lies in no folder of a kind.",
                        f"Put it into {', '.join(KINDS)}, whichever it is.")
            )  # fmt: skip
        if file.is_dir() and file.name not in KINDS and not file.name.startswith("."):
            found += [
                Problem(str(p), 1, f'"{file.name}" is no kind of page.', f"Kinds: {', '.join(KINDS)}.")
                for p in sorted(file.glob("*.md"))
            ]
    for kind in KINDS:
        place = layer.folder / kind
        for file in sorted(place.iterdir()) if place.is_dir() else ():
            if file.name.startswith(".") or file.name.endswith("~"):
                continue
            if file.is_dir():
                inside = sorted(file.glob("*.md"))
                found += [
                    Problem(str(p), 1, "a folder inside a kind is not read.", f"Move it up into {kind}/.")
                    for p in inside
                ]
            elif file.suffix != ".md" and file.suffix.lower() in _TEXTS:
                found.append(Problem(str(file), 1, "the file is not read.", "End its name in .md."))
    return found
