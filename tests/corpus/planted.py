"""Mistakes planted in pages: a page read by itself, edits by line, and labels taken out one at a time."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from bot.corpus.model import Procedure
from bot.corpus.place import corpus_folder
from bot.corpus.reader import Reading
from bot.problems import Problem
from bot.safety.authoring import problems_of
from bot.safety.holds import Hold, holds_before

CORPUS = corpus_folder()


def lines_of(file: str) -> list[str]:
    """The lines of a shipped page; line n is at n - 1."""
    return (CORPUS / file).read_text(encoding="utf-8").split("\n")


def line_with(lines: list[str], pattern: str, after: int = 0) -> int:
    """The number of the first line from `after` on that the pattern is found in."""
    return next(n for n, line in enumerate(lines, 1) if n > after and re.search(pattern, line))


def read_one(kind: str, name: str, text: str | bytes, folder: Path) -> tuple[list[Problem], Reading]:
    """Every problem of one page by itself, hazards included."""
    place = folder / kind
    place.mkdir(exist_ok=True)
    file = place / name
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    reading = Reading()
    page = reading.page(kind, file)
    if page is not None and kind in ("causes", "checks", "procedures"):
        {"causes": reading.cause, "checks": reading.check, "procedures": reading.procedure}[kind](page)
    found = list(reading.problems)
    for procedure in reading.procedures:
        found += problems_of(procedure)
    return found, reading


def stops(procedure: Procedure) -> list[tuple[Hold, ...]]:
    """Every stop of every step: what a person meets."""
    return [holds_before(procedure, s.number) for s in procedure.steps]


@dataclass(frozen=True)
class Mutant:
    """A procedure page with one label, or one hazard of a label, taken out."""

    page: str
    line: int
    label: str
    lost: str
    text: str
    changes: str  # "line" or "hazard"

    def __str__(self) -> str:
        return f"{self.page}, line {self.line}: {self.label} without {self.lost}"


_LABEL = re.compile(r"^(\s+- )(hazard|makes safe|undoes): (.+)$")


def without_labels() -> Iterator[Mutant]:
    """Every hazard, makes safe and undoes label taken out in turn; then every single hazard of each."""
    for file in sorted((CORPUS / "procedures").glob("*.md")):
        lines = lines_of(f"procedures/{file.name}")
        for n, line in enumerate(lines, 1):
            match = _LABEL.match(line)
            if not match or match.group(3).startswith("none"):
                continue
            hazards = [h.strip() for h in match.group(3).split(",")]
            bare = "\n".join(lines[: n - 1] + lines[n:])
            yield Mutant(file.name, n, match.group(2), match.group(3), bare, "line")
            for hazard in hazards if len(hazards) > 1 else ():
                rest = ", ".join(h for h in hazards if h != hazard)
                shorter = [*lines[: n - 1], f"{match.group(1)}{match.group(2)}: {rest}", *lines[n:]]
                yield Mutant(file.name, n, match.group(2), hazard, "\n".join(shorter), "hazard")


Edit = Callable[[list[str]], int]


def swap(pattern: str, old: str, new: str, after: str = "") -> Edit:
    """An edit that puts `new` for `old` in the first line the pattern is found in; its line number."""

    def do(lines: list[str]) -> int:
        n = line_with(lines, pattern, line_with(lines, after) if after else 0)
        assert old in lines[n - 1], (old, lines[n - 1])
        lines[n - 1] = lines[n - 1].replace(old, new, 1)
        return n

    return do


def put_after(pattern: str, new: str, reported: int = 0) -> Edit:
    """An edit that adds a line behind the first one the pattern is found in; `reported` is added to
    its number.
    """

    def do(lines: list[str]) -> int:
        n = line_with(lines, pattern)
        lines.insert(n, new)
        return n + 1 + reported

    return do


def take_out(pattern: str, reported: Callable[[list[str], int], int] | None = None) -> Edit:
    """An edit that takes out the first line the pattern is found in; `reported` says where it is missed."""

    def do(lines: list[str]) -> int:
        n = line_with(lines, pattern)
        del lines[n - 1]
        return reported(lines, n) if reported else n

    return do
