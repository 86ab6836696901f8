"""One corpus laid over another: pages added, pages replaced by kind and id, words added. Pure."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from typing import TypeVar

from bot.corpus.model import Corpus, Page
from bot.frozen import dataclass
from bot.problems import Problem

T = TypeVar("T")


@dataclass(frozen=True)
class Overlay:
    """What one's own folder does to the shipped one; each entry is `kind/id`, words are `meaning: how many`."""

    added: tuple[str, ...]
    replaced: tuple[str, ...]
    words: tuple[str, ...]

    def lines(self) -> list[str]:
        """What is added and replaced, one line each."""
        out = []
        for name, entries in (("added", self.added), ("replaced", self.replaced), ("words", self.words)):
            out += [f"{name}: {entry}" for entry in entries] or [f"{name}: none"]
        return out


def _named(page: Page) -> str:
    return f"{page.kind}/{page.id}"


def lay(base: Corpus, own: Corpus) -> Corpus:
    """The base with the pages of `own` added or in place of those with the same kind and id, and its words added.

    The order is by id within a kind, so that it does not hang on which folder a page came from. The fingerprint
    is new; `layers` keeps those of both folders.
    """
    mark = hashlib.sha256(f"{base.fingerprint} {own.fingerprint}".encode()).hexdigest()[:16]
    return Corpus(
        _merged(base.causes, own.causes, lambda c: c.page.id),
        _merged(base.checks, own.checks, lambda c: c.page.id),
        _merged(base.procedures, own.procedures, lambda p: p.page.id),
        _merged(base.guides, own.guides, lambda g: g.id),
        (*base.words, *own.words),
        mark,
        _merged(base.sheets, own.sheets, lambda s: s.page.id),
        (*base.layers, *own.layers),
    )


def _merged(base: Iterable[T], own: Iterable[T], key: Callable[[T], str]) -> tuple[T, ...]:
    found = {key(one): one for one in base} | {key(one): one for one in own}
    return tuple(found[name] for name in sorted(found))


def overlay_of(base: Corpus, own: Corpus) -> Overlay:
    """What is added and what is replaced."""
    shipped = {_named(p) for p in base.pages()}
    mine = [_named(p) for p in own.pages()]
    patterns: dict[str, int] = {}
    for rule in own.words:
        parts = [
            e for p in rule.patterns for e in (p.split(",") if rule.meaning.startswith("group:") else (p,))
        ]
        patterns[rule.meaning] = patterns.get(rule.meaning, 0) + sum(1 for e in parts if e.strip())
    return Overlay(
        tuple(n for n in mine if n not in shipped),
        tuple(n for n in mine if n in shipped),
        tuple(f"{meaning}, {count} added" for meaning, count in patterns.items()),
    )


def replacing_problems(base: Corpus, own: Corpus) -> list[Problem]:
    """Pages of one's own that take a shipped page's place and not its part, or an id of another kind."""
    found = []
    checks = {c.page.id: c for c in base.checks}
    for check in own.checks:
        before = checks.get(check.page.id)
        if before is None:
            continue
        line = check.page.head_lines.get("answer", 1)
        if (check.kind, check.unit) != (before.kind, before.unit):
            was = f"{before.kind} {before.unit}".strip()
            found.append(
                Problem(check.page.file, line, f"the shipped check of that name answers {was}, this one does not.",
                        "Keep the answer, or give the finding another name.")
            )  # fmt: skip
        missing = [c for c in before.choices if c not in check.choices]
        if missing:
            found.append(
                Problem(check.page.file, line, f"the shipped check also has: {', '.join(missing)}.",
                        "Keep every choice; add yours behind them.")
            )  # fmt: skip
    kinds = {p.id: p for p in base.pages()}
    for page in own.pages():
        shipped = kinds.get(page.id)
        if shipped is not None and shipped.kind != page.kind:
            found.append(
                Problem(page.file, 1, f'the id "{page.id}" is taken by the shipped {shipped.file}.',
                        "A page is replaced by one of its own kind only. Rename the file.")
            )  # fmt: skip
    return found


def without_replaced(problems: Iterable[Problem], own: Corpus) -> list[Problem]:
    """Problems of reading the base, less those of pages that are replaced."""
    shipped = {_named(p) for p in own.pages()}
    return [p for p in problems if p.file.removesuffix(".md") not in shipped]
