"""The pages of the corpus as frozen values, and their plain form for the prepared copy on disk."""

from __future__ import annotations

import marshal
from collections.abc import Mapping
from typing import Any, ClassVar

from bot.frozen import dataclass, field


class Late:
    """A value whose fields named in `late` may still lie as kept bytes; they are read when first looked at."""

    late: ClassVar[frozenset[str]] = frozenset()

    def __getattr__(self, name: str) -> Any:
        if name[:1] == "_" or name not in type(self).late:
            raise AttributeError(f"{type(self).__name__} has no {name}")
        from bot.corpus.kept import from_plain

        raw = self.__dict__.get("~" + name)
        if raw is not None:
            self.__dict__[name] = from_plain(marshal.loads(raw))
            self.__dict__.pop("~" + name, None)
        return self.__dict__[name]


@dataclass(frozen=True)
class Section(Late):
    """One `## heading` of a page: its text as written and its bullets."""

    title: str
    line: int
    text: str
    bullets: tuple[str, ...] = ()
    bullet_lines: tuple[int, ...] = ()


@dataclass(frozen=True)
class Page(Late):
    """What every page has: id (the file's stem), kind (its folder), title, head, sections."""

    late = frozenset({"sections"})

    id: str
    kind: str
    title: str
    file: str
    head: Mapping[str, str]
    head_lines: Mapping[str, int]
    sections: tuple[Section, ...]
    role: str = "shipped"  # of the folder it came from: shipped, own, alone
    digest: str = ""  # SHA-256 of the file as it was read

    def section(self, title: str) -> Section | None:
        """The section of that heading, or None."""
        return next((s for s in self.sections if s.title == title), None)

    def bullets(self, title: str) -> tuple[str, ...]:
        """The bullets under that heading; none where the heading is missing."""
        section = self.section(title)
        return section.bullets if section else ()


@dataclass(frozen=True)
class Expectation(Late):
    """What a cause says of one finding.

    `chances` holds (answer, chance) pairs; for a quantity the answers are "over X" or "under X".
    """

    finding: str
    chances: tuple[tuple[str, float], ...]
    line: int


@dataclass(frozen=True)
class CircuitRange(Late):
    """One element of the circuit that a cause changes, drawn between low and high in its unit."""

    element: str
    low: float
    high: float
    line: int


@dataclass(frozen=True)
class Cause(Late):
    """A fault that may be behind a complaint, with what it makes likely."""

    page: Page
    name: str
    fits: tuple[str, ...]
    weight: float
    link: str
    mends: str
    minutes_if_wrong: float
    part: str
    expect: tuple[Expectation, ...]
    circuit: tuple[CircuitRange, ...] = ()
    breaks: tuple[str, ...] = ()
    motor: str = ""
    motor_low: float = 1.0
    motor_high: float = 1.0

    def says(self, finding: str) -> Expectation | None:
        """What this cause expects of that finding, or None where it says nothing."""
        return next((e for e in self.expect if e.finding == finding), None)


@dataclass(frozen=True)
class Check(Late):
    """How to get one finding, what it costs, and how to ask for it."""

    page: Page
    finding: str
    kind: str  # yes_no, choice, quantity
    choices: tuple[str, ...]
    unit: str
    low: float
    high: float
    fits: tuple[str, ...]
    link: str
    minutes: float
    tools: tuple[str, ...]
    people: int
    button: str
    reach: str
    hazards: tuple[str, ...]
    needs_weight_off: bool
    otherwise: tuple[tuple[str, float], ...]
    ask_owner: str
    ask_phone: str
    ask_tech: str
    choice_words: tuple[tuple[str, str], ...] = ()
    standstill: tuple[tuple[str, float], ...] = ()  # chances of the answers while the motor stands

    @property
    def id(self) -> str:
        """The page's id."""
        return self.page.id


@dataclass(frozen=True)
class Step(Late):
    """One action of a procedure with its labels."""

    number: int
    line: int
    text: str
    hazards: tuple[str, ...] = ()
    makes_safe: tuple[str, ...] = ()
    undoes: tuple[str, ...] = ()
    done_when: str = ""
    tools: tuple[str, ...] = ()
    torque: str = ""
    removes: tuple[str, ...] = ()
    opens_gears: bool = False
    no_hazard_because: str = ""
    photograph: str = ""
    measure: str = ""
    label_lines: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Procedure(Late):
    """What to do about a cause, step by step."""

    late = frozenset({"steps"})

    page: Page
    fits: tuple[str, ...]
    mends: tuple[str, ...]
    link: str
    audience: str
    needs_leg_off: bool
    needs_truck: bool
    people: int
    minutes: float
    tools: tuple[str, ...]
    steps: tuple[Step, ...]

    @property
    def id(self) -> str:
        """The page's id."""
        return self.page.id


@dataclass(frozen=True)
class WordRule(Late):
    """One meaning and the patterns that carry it, as a technician wrote them."""

    meaning: str  # "button_response: clicks", "danger: person hurt", "group: leg", …
    patterns: tuple[str, ...]
    unless: tuple[str, ...]
    examples: tuple[str, ...]
    counter_examples: tuple[str, ...]
    notes: tuple[tuple[str, str], ...]
    file: str
    line: int
    pattern_lines: tuple[int, ...] = ()
    role: str = "shipped"


@dataclass(frozen=True)
class Point(Late):
    """One thing to know of a part before it is ordered: a finding with a check page, or plain words."""

    name: str
    how: str
    line: int


@dataclass(frozen=True)
class Match(Late):
    """How a column of a parts list is held against the case: "same as" or "at least" findings, "leg load", "by hand"."""

    column: str
    rule: str
    findings: tuple[str, ...]
    line: int


@dataclass(frozen=True)
class Sheet(Late):
    """What a part is ordered by, point by point, and the causes whose mending orders it."""

    page: Page
    part: str
    causes: tuple[str, ...]
    points: tuple[Point, ...]
    matches: tuple[Match, ...] = ()


@dataclass(frozen=True)
class Corpus(Late):
    """Every page of a corpus, its words, and the fingerprint of the files it was read from.

    `layers` names each folder it was read from: role, fingerprint of its files, how many there were.
    """

    causes: tuple[Cause, ...]
    checks: tuple[Check, ...]
    procedures: tuple[Procedure, ...]
    guides: tuple[Page, ...]
    words: tuple[WordRule, ...]
    fingerprint: str
    sheets: tuple[Sheet, ...] = ()
    layers: tuple[tuple[str, str, int], ...] = ()

    def pages(self) -> tuple[Page, ...]:
        """Every page a person can read, in a fixed order."""
        return (
            *(c.page for c in self.causes),
            *(c.page for c in self.checks),
            *(p.page for p in self.procedures),
            *self.guides,
            *(s.page for s in self.sheets),
        )


# Every type of a page, in the order the kept form numbers them by.
TYPES: tuple[Any, ...] = (
    Section,
    Page,
    Expectation,
    CircuitRange,
    Cause,
    Check,
    Step,
    Procedure,
    WordRule,
    Point,
    Match,
    Sheet,
    Corpus,
)
