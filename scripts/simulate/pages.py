"""What the corpus says checks and repairs cost, read from the heads of its pages by this simulator itself.

Parts are counted in minutes: a cheap part 30 (the drive to fetch it), a dear one 180. Common practice, no source.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from scripts.simulate.draws import Random
from scripts.simulate.person import Need

PART_MINUTES = {"no part": 0.0, "cheap part": 30.0, "dear part": 180.0}
MOST_VERDICTS = 5  # repairs a person tries before calling somebody
CALL_OUT_MINUTES = 300.0  # somebody has to come: what it costs when no repair helped


def head(file: Path) -> dict[str, str]:
    """The label: value lines between the two dashes of a page."""
    lines = file.read_text(encoding="utf-8").split("---", 2)[1].strip().splitlines()
    return {
        k.strip(): v.strip()
        for k, _, v in (line.partition(":") for line in lines if not line.startswith(" "))
    }


def _list(text: str) -> tuple[str, ...]:
    return tuple(w.strip() for w in text.split(",") if w.strip() and w.strip() != "none")


def needs_of(corpus: Path) -> dict[str, Need]:
    """What each finding's check needs."""
    needs = {}
    for file in sorted((corpus / "checks").glob("*.md")):
        h = head(file)
        needs[h["finding"]] = Need(
            float(h["minutes"]), _list(h["tool"]), int(h["people"]), h["needs weight off"] == "yes", h["reach"],
            _list(h["hazard"]), h["answer"].partition("quantity")[2].strip(), h.get("asked", "yes") != "no",
        )  # fmt: skip
    return needs


@dataclass(frozen=True)
class Repair:
    """One procedure: which causes it mends on which gear, and what it takes."""

    document: str
    mends: tuple[str, ...]
    gears: tuple[str, ...]
    minutes: float


@dataclass(frozen=True)
class Repairs:
    """All procedures, and the part class of each cause."""

    procedures: dict[str, Repair]
    parts: dict[str, float]

    def cost(self, cause: str, gear: str, document: str | None = None) -> float:
        """Minutes of doing the repair of a cause, its part counted in minutes."""
        found = self.procedures.get(document or "")
        if found is None:
            fitting = [r for r in self.procedures.values() if cause in r.mends and gear in r.gears]
            found = min(fitting, key=lambda r: r.minutes) if fitting else None
        minutes = found.minutes if found else 30.0
        return minutes + self.parts.get(cause, 30.0)


def repairs_of(corpus: Path) -> Repairs:
    """What each repair takes: minutes from the procedures' heads, part class from the causes'."""
    procedures = {}
    for file in sorted((corpus / "procedures").glob("*.md")):
        h = head(file)
        procedures[file.stem] = Repair(file.stem, _list(h["mends"]), _list(h["fits"]), float(h["minutes"]))
    parts = {}
    for file in sorted((corpus / "causes").glob("*.md")):
        h = head(file)
        parts[h["cause"]] = PART_MINUTES[h["costs if wrong"].partition(",")[2].strip()]
    return Repairs(procedures, parts)


_COMMON = ["rare", "uncommon", "common", "very common"]  # each step is a factor of two
_WORDS = ["never", "rarely", "sometimes", "often", "nearly always"]
# One step of the scale is a factor of about six in odds. Moving a word with this chance makes the mean error of the
# log odds that of a factor of two: ln 2 / ln 6.
_STEP_CHANCE = 0.39


def distorted(corpus: Path, target: Path, factor: float, seed: int) -> Path:
    """Pages over the corpus whose priors are off by that factor up or down (two: one step of "how common") and whose
    scale words are moved a step with the chance that makes their odds off by two on average."""
    rng = Random(f"distort {seed}")
    shutil.copytree(corpus / "causes", target / "causes")  # a layer of its own over the shipped pages
    steps = 1 if factor < 3 else 2
    for file in sorted((target / "causes").glob("*.md")):
        lines, in_expect = [], False
        for line in file.read_text(encoding="utf-8").splitlines():
            if line.startswith("## "):
                in_expect = line == "## Expect"
            if line.startswith("how common: "):
                at = _COMMON.index(line.partition(": ")[2])
                moved = at + rng.choice((-steps, steps))
                line = "how common: " + _COMMON[min(3, max(0, moved))]
            elif in_expect and line.startswith("- "):
                line = _moved(line, rng)
            lines.append(line)
        file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return target


def _moved(line: str, rng: Random) -> str:
    name, _, rest = line.partition(": ")
    parts = []
    for part in rest.split(", "):
        word = next(w for w in sorted(_WORDS, key=len, reverse=True) if part.endswith(w))
        at = _WORDS.index(word)
        if rng.random() < _STEP_CHANCE:
            at = min(4, max(0, at + rng.choice((-1, 1))))
        parts.append(part[: -len(word)] + _WORDS[at])
    return f"{name}: {', '.join(parts)}"
