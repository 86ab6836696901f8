"""Reads the corpus, builds the model, the words and the index, and returns one frozen Knowledge.

The prepared form is kept in the person's cache folder under the fingerprint of the files it was made from, and is
made anew by itself when a page changes. Where the cache cannot be written the program runs without it, slower.
"""

from __future__ import annotations

import gc
import hashlib
import marshal
import os
import re
import shutil
import struct
import sys
import tempfile
from collections import Counter
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from bot import __version__
from bot.corpus.kept import Kept, Spoilt, from_plain, to_plain, written
from bot.corpus.learned import read_learned
from bot.corpus.lexicon import Lexicon, Words, alternations, words_of_rules
from bot.corpus.model import Corpus, Page
from bot.corpus.overlay import Overlay, lay, overlay_of, replacing_problems, without_replaced
from bot.corpus.place import CorpusRefused, Layer, Wanted, corpus_files, layers_of, strays
from bot.find.index import Index, build, words_of
from bot.find.search import Hit, Search, synonyms_of
from bot.find.spelling import Speller, every_word
from bot.frozen import dataclass, replace
from bot.problems import Problem
from bot.reason.chances import Model, build_model
from bot.talk.knowledge import Knowledge
from bot.talk.understand import Reader
from bot.units.convert import all_factors, use_factors

_FORM = 16
_SEARCHES = "examples/searches.txt"
_KEPT = 4  # prepared copies: the shipped pages, and a few folders laid over them
_COMMON = "group: common words"  # left alone by the spelling repair, never landed on


def cache_folder() -> Path:
    """Where prepared copies are kept; LEGLINE_CACHE in the environment moves it."""
    named = os.environ.get("LEGLINE_CACHE")
    if named:
        return Path(named)
    base = os.environ.get("XDG_CACHE_HOME")
    if os.name == "posix":
        return (Path(base) if base else Path.home() / ".cache") / "legline"
    import platformdirs

    return Path(platformdirs.user_cache_dir("legline", False))


def _stamp(layers: tuple[Layer, ...]) -> str:
    """A cheap name for the files as they lie: names, sizes and times, and the program's version.

    The time of change counts beside the time of writing: a copy that keeps the latter still changes the former.
    """
    digest = hashlib.sha256(f"{_FORM} {__version__} {sys.implementation.cache_tag}".encode())
    here = Path(__file__).parent  # the code that prepares counts too: a changed reader makes the copy anew
    makers = [
        *sorted((here / "corpus").glob("*.py")),
        here / "find" / "index.py",
        here / "reason" / "model.py",
        here / "reason" / "circuit.py",
        here / "units" / "convert.py",
        here / "units" / "table.py",
    ]
    for layer in layers:
        digest.update(f"{layer.role} {layer.folder.resolve()}\n".encode())
    searches = [layers[0].folder / _SEARCHES] if (layers[0].folder / _SEARCHES).exists() else []
    for file in [*(f for layer in layers for f in corpus_files(layer.folder)), *makers, *searches]:
        stat = os.stat(file)  # noqa: PTH116 -- two hundred files at every start
        digest.update(f"{file} {stat.st_size} {stat.st_mtime_ns} {stat.st_ctime_ns}\n".encode())
    return digest.hexdigest()[:20]


def _prepare(layers: tuple[Layer, ...]) -> tuple[Corpus, bytes]:
    """The corpus, and everything that takes time as one file: corpus, model, words with their anchors, rarity of stems.

    Raises CorpusRefused where pages of one's own do not pass the check: what it refuses is not walked by anybody.
    """
    if [layer.role for layer in layers] != ["shipped"]:
        checked = _checked(layers)
        if checked.new:
            first = checked.new[0]
            option = "--corpus" if layers[-1].role == "own" else "--corpus-alone"
            raise CorpusRefused(
                f"{len(checked.new)} to mend in the pages of {layers[-1].folder}, so they are not used. The first: {first}"
                f" All of them: legline corpus check {option} {layers[-1].folder}"
            )
        corpus = checked.corpus
    else:
        from bot.corpus.reader import read_corpus

        corpus, _ = read_corpus(layers[0])
    model = build_model(corpus)
    words = words_of_rules(corpus.words, _COMMON)
    known = {w for r in corpus.words if r.meaning == _COMMON for p in r.patterns for w in p.split(", ")}
    rarity: dict[str, int] = {}
    for page in corpus.pages():
        text = _body(page)
        known.update(w for w in text.lower().replace("/", " ").split() if w.isalpha())
        for stem in set(words_of(text)):
            rarity[stem] = rarity.get(stem, 0) + 1
    columns = len(model.draws[0][0])
    sections = {
        "corpus": to_plain(_without_lines(corpus)),
        "model": (
            model.priors, dict(model.rows), dict(model.still), dict(model.turns), model.draws_of_cause, columns,
            tuple(struct.pack(f"<{columns * len(s)}d", *(v for d in s for v in d)) for s in model.draws),
        ),
        "words": (
            words.groups, tuple(map(marshal.dumps, words.entries)), words.anchors,
            {m: tuple(map(marshal.dumps, g)) for m, g in words.guards.items()}, words.guard_anchors, words.words,
        ),
        "heads": {text: marshal.dumps(heads) for text, heads in alternations(corpus.words).items()},
        "known": every_word(words.words, known),
        "weight": _uses(corpus),
        "rarity": rarity,
        "factors": all_factors(),
    }  # fmt: skip
    return corpus, written(sections)


def _uses(corpus: Corpus) -> dict[str, int]:
    """How often each word of corpus/words is used there in patterns: what a mistyped word most likely is."""
    counted: Counter[str] = Counter()
    for rule in corpus.words:
        if rule.meaning != _COMMON:
            for text in rule.patterns:
                counted.update(re.findall(r"[a-z]{4,}", text.lower()))
    return dict(counted)


def _without_lines(corpus: Corpus) -> Corpus:
    """The corpus as a conversation needs it: no line numbers, and of the words only groups and what has notes."""

    def slim(page: Page) -> Page:
        sections = tuple(replace(s, bullet_lines=()) for s in page.sections)
        return replace(page, sections=sections, head_lines={})

    words = tuple(
        replace(r, patterns=r.patterns if r.meaning.startswith("group:") else (), unless=(), examples=(),
                counter_examples=(), pattern_lines=())
        for r in corpus.words
        if r.notes or (r.meaning.startswith("group:") and r.meaning != _COMMON)
    )  # fmt: skip
    return replace(
        corpus,
        causes=tuple(replace(c, page=slim(c.page)) for c in corpus.causes),
        checks=tuple(replace(c, page=slim(c.page)) for c in corpus.checks),
        procedures=tuple(
            replace(p, page=slim(p.page), steps=tuple(replace(s, label_lines={}) for s in p.steps))
            for p in corpus.procedures
        ),
        guides=tuple(slim(g) for g in corpus.guides),
        sheets=tuple(replace(s, page=slim(s.page)) for s in corpus.sheets),
        words=words,
    )


def _body(page: Page) -> str:
    return page.title + "\n" + "\n".join(f"{s.title}\n{s.text}" for s in page.sections)


def _typed(folder: Path) -> dict[str, list[str]]:
    """What people typed to find a page, by page: corpus/examples/searches.txt, a page's name and the words in a line."""
    found: dict[str, list[str]] = {}
    try:
        lines = (folder / _SEARCHES).read_text(encoding="utf-8").splitlines()
    except OSError:
        return found
    for line in lines:
        name, _, words = line.partition("\t")
        found.setdefault(name, []).append(words)
    return found


def _document(page: Page, typed: Mapping[str, list[str]]) -> dict[str, str]:
    # A page of one's own has no such lines: its names stand for them.
    asked = "\n".join(typed.get(page.id) or (page.title, *page.bullets("Also called")))
    if page.kind == "parts":  # its points stand in full in the guides; here it is found by its name
        part = page.head.get("part", "")
        called = f"{page.title}\norder sheet {part}\nwhat to order {part}"
        return {
            "id": page.id,
            "title": page.title,
            "called": called,
            "head": "",
            "body": page.title,
            "asked": asked,
        }
    called = "\n".join(page.bullets("Also called"))
    head = " ".join(page.head.get(label, "") for label in ("link", "fits", "tool", "mends"))
    skip = {"Also called", "Expect", "Circuit", "What is dangerous where"}
    body = "\n".join(f"{s.title}\n{s.text}" for s in page.sections if s.title not in skip)
    return {
        "id": page.id,
        "title": page.title,
        "called": called,
        "head": head.replace("_", " "),
        "body": body,
        "asked": asked,
    }


def _ready(layers: tuple[Layer, ...]) -> tuple[Kept, Path]:
    """The prepared data and the folder of its index, from the cache or made now."""
    stamp = _stamp(layers)
    place = cache_folder() / f"prepared-{stamp}"
    try:
        return Kept((place / "prepared").read_bytes()), place / "index"
    except Spoilt:
        shutil.rmtree(place, ignore_errors=True)
    except OSError:
        pass
    corpus, prepared = _prepare(layers)
    target = cache_folder()
    try:
        target.mkdir(parents=True, exist_ok=True)
        work = Path(tempfile.mkdtemp(prefix="making-", dir=target))
    except OSError:
        work = Path(tempfile.mkdtemp(prefix="legline-"))
        place = work
    typed = _typed(layers[0].folder)
    build(work / "index", (_document(p, typed) for p in corpus.pages()))
    (work / "prepared").write_bytes(prepared)
    if place is not work:
        try:
            work.replace(place)
            kept = sorted(target.glob("prepared-*"), key=lambda p: p.stat().st_mtime, reverse=True)
            for old in kept[_KEPT:]:
                if old != place:
                    shutil.rmtree(old, ignore_errors=True)
        except OSError:  # somebody else finished first
            if (place / "prepared").exists():
                shutil.rmtree(work, ignore_errors=True)
            else:
                place = work
    return Kept(prepared), place / "index"


def _words(plain: Any, heads: dict[str, bytes]) -> Words:
    groups, entries, anchors, guards, guard_anchors, words = plain
    return Words(groups, entries, anchors, guards, guard_anchors, words, heads)


def _model(plain: Any, corpus: Corpus) -> Model:
    priors, rows, still, turns, which, columns, draws = plain
    causes = corpus.causes
    names = (*(c.name for c in causes), "something_else")
    return Model(
        causes, names, priors, {c.finding: c for c in corpus.checks}, rows,
        tuple(tuple(struct.iter_unpack(f"<{columns}d", s)) for s in draws), which,
        {n: i for i, n in enumerate(names)}, still, turns,
    )  # fmt: skip


def assemble(wanted: Wanted | str | None = None) -> tuple[Knowledge, Search]:
    """The knowledge of the shipped pages and its search, with a folder of one's own laid over them where one is named.

    Raises CorpusNotFound where there is no corpus, CorpusRefused where a folder named cannot be used.
    """
    collecting = gc.isenabled()
    gc.disable()  # a hundred thousand small things are made here and all of them stay: nothing to collect
    try:
        layers = layers_of(wanted)
        kept, index_folder = _ready(layers)
        corpus: Corpus = from_plain(kept["corpus"])
        lexicon = Lexicon(corpus.words, _words(kept["words"], kept["heads"]))
        model = _model(kept["model"], corpus)
        use_factors(kept["factors"])
        speller = Speller(lexicon.words, (), lambda: kept["weight"], kept["known"])
    finally:
        if collecting:
            gc.enable()
    checks = {c.finding: c for c in corpus.checks}
    pages = {p.id: p for p in corpus.pages()}
    index = Index(index_folder)
    search = Search(
        index.search, pages, lambda: synonyms_of(lexicon.groups), speller.line, lambda: kept["rarity"]
    )
    knowledge = Knowledge(
        corpus, model, Reader(lexicon, checks, speller.line, cache(lambda: read_learned(layers[0].folder))),
        {c.name: c for c in corpus.causes}, checks, {p.id: p for p in corpus.procedures}, pages,
        search.ids,
    )  # fmt: skip
    return knowledge, search


@dataclass(frozen=True)
class Checked:
    """What a check of a corpus found. `new` are the problems that pages of one's own bring, in their files or by
    what shipped pages then no longer find; `overlay` is None where one folder stands by itself.
    """

    corpus: Corpus
    problems: tuple[Problem, ...]
    new: tuple[Problem, ...]
    overlay: Overlay | None = None

    def unlinked(self) -> tuple[Problem, ...]:
        """Problems that stand in shipped pages and come from what is laid over them."""
        own = {p.file for p in self.corpus.pages() if p.role == "own"}
        own |= {r.file for r in self.corpus.words if r.role == "own"}
        shipped = {p.file for p in self.corpus.pages()} | {r.file for r in self.corpus.words}
        return tuple(p for p in self.new if p.file in shipped - own)


def _faults(corpus: Corpus, read: list[Problem]) -> list[Problem]:
    from bot.corpus.check import cross_check
    from bot.corpus.lexicon import word_problems
    from bot.safety.authoring import problems_of

    problems = read + cross_check(corpus)
    for procedure in corpus.procedures:
        problems += problems_of(procedure)
    answers = {c.finding: c.choices for c in corpus.checks}
    from bot.sums.catalogue import CATALOGUE

    sums = {name: {one.option: one.choices for one in found.inputs} for name, found in CATALOGUE.items()}
    problems += word_problems(corpus.words, answers, sums)
    return sorted(set(problems), key=lambda p: (p.file, p.line, p.what))


@lru_cache(maxsize=1)
def _base(layer: Layer, stamp: str) -> tuple[Corpus, list[Problem], list[Problem]]:
    """A folder by itself: its corpus, the problems of reading it, and all its problems. Kept while `stamp` holds."""
    from bot.corpus.reader import read_corpus

    base, read = read_corpus(layer)
    return base, read, _faults(base, read + (strays(layer) if layer.role == "alone" else []))


def _checked(layers: tuple[Layer, ...]) -> Checked:
    from bot.corpus.reader import read_corpus

    base, read, found = _base(layers[0], _stamp(layers[:1]))
    if len(layers) == 1:
        return Checked(base, tuple(found), tuple(found))
    own, own_read = read_corpus(layers[1])
    corpus = lay(base, own)
    both = _faults(
        corpus,
        [*without_replaced(read, own), *own_read, *strays(layers[1]), *replacing_problems(base, own)],
    )
    before = set(found)
    return Checked(
        corpus, tuple(both), tuple(p for p in both if p not in before), overlay_of(base, own)
    )  # fmt: skip


def check(wanted: Wanted | str | None = None) -> Checked:
    """Everything a check of these pages finds. Raises as `assemble` does where a folder cannot be read at all."""
    return _checked(layers_of(wanted))


def check_corpus(wanted: Wanted | str | None = None) -> tuple[list[Problem], int]:
    """Every problem of a corpus, sorted by file and line, and how many pages were read."""
    checked = check(wanted)
    return list(checked.problems), len(checked.corpus.pages())


__all__ = ["Checked", "Hit", "assemble", "cache_folder", "check", "check_corpus"]
