"""Markdown pages -> frozen pages, with the exact line of everything that cannot be read.

A head of `label: value` lines between two `---`, then `## Section`s. Read with markdown-it-py for the structure
and pydantic for the types of the head; both only here, because a prepared copy is used at run time.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path
from typing import Annotated, Any, Literal

from markdown_it import MarkdownIt
from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError

from bot.corpus import vocabulary as words
from bot.corpus.grammar import (
    GrammarError,
    read_answer,
    read_circuit,
    read_expectation,
    read_match,
    read_otherwise,
    read_wrong_cost,
)
from bot.corpus.model import (
    Cause,
    Check,
    Corpus,
    Page,
    Point,
    Procedure,
    Section,
    Sheet,
    Step,
    WordRule,
)
from bot.corpus.place import Layer, corpus_files
from bot.problems import Problem

_LABEL = re.compile(r"^([a-z][a-z ]*?):\s+(.*)$", re.S)
_SHOUT = re.compile(r"\b(STOP|HOLD|WARNING|CAUTION|DANGER)\b")


_FIX = " -> "  # parts what was found from how to mend it, inside pydantic's one message


def nearest(word: str, known: tuple[str, ...] | list[str]) -> str:
    """A hint that names the closest known word, or lists them all."""
    import difflib

    close = difflib.get_close_matches(word, known, n=1, cutoff=0.6)
    return f'Did you mean "{close[0]}"?' if close else "Known here: " + ", ".join(known) + "."


def _listed(known: tuple[str, ...]) -> Any:
    def split(value: object) -> tuple[str, ...]:
        found = tuple(part.strip() for part in str(value).split(",") if part.strip())
        for part in found:
            if part not in known:
                raise ValueError(f'"{part}" is no word here.{_FIX}{nearest(part, known)}')
        if not found:
            raise ValueError(f"nothing is named.{_FIX}Known here: {', '.join(known)}.")
        return found

    return split


def _yes_or_no(value: object) -> bool:
    if value not in ("yes", "no"):
        raise ValueError(f'"{value}" stands here.{_FIX}Write yes or no.')
    return value == "yes"


def _one_of(known: tuple[str, ...]) -> Any:
    def pick(value: object) -> str:
        if value not in known:
            raise ValueError(f'"{value}" is no word here.{_FIX}{nearest(str(value), known)}')
        return str(value)

    return pick


def _number(value: object) -> float:
    match = re.match(r"^\s*(\d+(?:\.\d+)?)", str(value))
    if not match:
        raise ValueError(f'"{value}" stands here.{_FIX}Write a number.')
    return float(match.group(1))


def _part(value: object) -> str:
    if not re.fullmatch(r"[a-z]+(?:[ -][a-z]+)*", str(value)):
        raise ValueError(f'"{value}" stands here.{_FIX}Name the part in small letters, like leg.')
    return str(value)


def _hazards(value: object) -> tuple[str, ...]:
    return () if value == "none" else _listed(words.HAZARDS)(value)


Gears = Annotated[tuple[str, ...], BeforeValidator(_listed(words.GEARS))]
Link = Annotated[str, BeforeValidator(_one_of(words.LINKS))]
Number = Annotated[float, BeforeValidator(_number)]
Tools = Annotated[tuple[str, ...], BeforeValidator(_listed(words.TOOLS))]
YesNo = Annotated[bool, BeforeValidator(_yes_or_no)]


class _Head(BaseModel):
    model_config = ConfigDict(extra="ignore", frozen=True)
    title: str
    fits: Gears = words.GEARS
    link: Link = "none"


class _CauseHead(_Head):
    cause: str
    weight: Annotated[str, BeforeValidator(_one_of(tuple(words.HOW_COMMON)))]
    mends: str


class _CheckHead(_Head):
    finding: str
    minutes: Number
    tool: Tools
    people: Number
    button: Annotated[str, BeforeValidator(_one_of(words.BUTTON))]
    reach: Annotated[str, BeforeValidator(_one_of(words.REACHES))]
    hazard: Annotated[tuple[str, ...], BeforeValidator(_hazards)]
    needs_weight_off: YesNo


class _ProcedureHead(_Head):
    audience: str
    needs_leg_off: YesNo
    needs_truck: YesNo
    people: Number
    minutes: Number
    tool: str


class _SheetHead(_Head):
    part: Annotated[str, BeforeValidator(_part)]
    causes: str


_FIELD_OF_LABEL = {"how common": "weight", "for": "audience"}
_LABEL_OF_FIELD = {field: label for label, field in _FIELD_OF_LABEL.items()}


class Reading:
    """One run over a corpus folder: pages as they are read, and every problem met on the way."""

    def __init__(self, layer: Layer | None = None) -> None:
        """`layer` None reads pages of a folder that stands by itself."""
        self.layer = layer
        self.raw: list[tuple[str, bytes]] = []  # what the fingerprint is made of
        self.problems: list[Problem] = []
        self.markdown = MarkdownIt("commonmark", {"html": False})
        self.causes: list[Cause] = []
        self.checks: list[Check] = []
        self.procedures: list[Procedure] = []
        self.guides: list[Page] = []
        self.words: list[WordRule] = []
        self.sheets: list[Sheet] = []

    def problem(self, file: str, line: int, what: str, fix: str = "") -> None:
        """Notes one mistake and goes on."""
        self.problems.append(Problem(file, line, what, fix))

    # --- the common part of every page ---------------------------------------------------------------

    def page(self, kind: str, path: Path) -> Page | None:
        """The page in that file, or None where it has no head to speak of."""
        name = self.layer.name(path) if self.layer else f"{kind}/{path.name}"
        try:
            raw = path.read_bytes()
            self.raw.append((path.name, raw))
            text = raw.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
        except UnicodeDecodeError as fault:
            self.problem(name, 1, f"byte {fault.start} is not UTF-8.", "Save the file as UTF-8.")
            return None
        except OSError as fault:
            self.problem(name, 1, f"the file cannot be read: {fault.strerror}.", "See who may read it.")
            return None
        if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", path.stem):
            self.problem(
                name, 1, f'the file is named "{path.name}".', "Use lower-case words joined by dashes."
            )
        lines = text.split("\n")
        if lines[0].strip() != "---" or "---" not in [line.strip() for line in lines[1:]]:
            self.problem(
                name, 1, "the head is missing.", "Begin with a line ---, then label: value lines, then ---."
            )
            return None
        end = next(i for i in range(1, len(lines)) if lines[i].strip() == "---")
        head: dict[str, str] = {}
        head_lines: dict[str, int] = {}
        known = words.HEADS[kind]
        other = _other_kind(kind, lines[1:end])
        if other:
            self.problem(name, 1, f"the page is one of {other}/, by its head, and lies in {kind}/.",
                         f"Move it to {other}/, or give it the head of {kind}/.")  # fmt: skip
            return None
        for number, line in enumerate(lines[1:end], 2):
            if not line.strip():
                continue
            label, colon, value = line.partition(":")
            label, value = label.strip(), value.strip()
            if not colon or not value:
                self.problem(
                    name,
                    number,
                    f'"{line.strip()}" is no "label: value" line.',
                    "Write a label, a colon, a value.",
                )
            elif label not in known:
                self.problem(name, number, f'"{label}" is no label here.', nearest(label, tuple(known)))
            elif label in head:
                self.problem(name, number, f'"{label}" stands twice in the head.', "Keep one.")
            else:
                head[label], head_lines[label] = value, number
        missing = [label for label, needed in known.items() if needed and label not in head]
        for label in missing:
            self.problem(name, end + 1, f'the head has no "{label}".', f"Add a line {label}: …")
        sections = self.sections(name, "\n".join(lines[end + 1 :]), end + 1)
        wanted = words.SECTIONS.get(kind)
        if wanted is not None:
            titles = [s.title for s in sections]
            for section in sections:
                if section.title not in wanted:
                    self.problem(
                        name,
                        section.line,
                        f'"## {section.title}" is no section here.',
                        nearest(section.title, tuple(wanted)),
                    )
                elif titles.count(section.title) > 1 and titles.index(section.title) != sections.index(
                    section
                ):
                    self.problem(name, section.line, f'"## {section.title}" stands twice.', "Join the two.")
            for title, needed in wanted.items():
                if needed and title not in titles:
                    self.problem(name, len(lines), f'the section "## {title}" is missing.', "Add it.")
        if missing:
            return None
        role = self.layer.role if self.layer else "shipped"
        digest = hashlib.sha256(raw).hexdigest()
        return Page(path.stem, kind, head["title"], name, head, head_lines, tuple(sections), role, digest)

    def sections(self, name: str, body: str, offset: int) -> list[Section]:
        """The `##` sections of a body; `offset` is the number of lines above it."""
        lines = body.split("\n")
        tokens = self.markdown.parse(body)
        marks: list[tuple[int, str]] = []
        for i, token in enumerate(tokens):
            if token.type == "heading_open" and token.map:
                if token.tag != "h2":
                    self.problem(
                        name,
                        token.map[0] + 1 + offset,
                        f"a {token.tag} heading.",
                        "Only ## headings are used.",
                    )
                marks.append((token.map[0], tokens[i + 1].content.strip()))
        above = lines[: marks[0][0]] if marks else lines
        first = next((i for i, line in enumerate(above) if line.strip()), None)
        if first is not None:
            self.problem(
                name,
                first + 1 + offset,
                "text stands before the first ## heading.",
                "Put it under a heading.",
            )
        if not marks:
            return []
        found = []
        for (start, title), (stop, _) in zip(marks, [*marks[1:], (len(lines), "")], strict=True):
            bullets, bullet_lines = self.bullets(tokens, start, stop)
            text = "\n".join(lines[start + 1 : stop]).rstrip()
            found.append(
                Section(
                    title, start + 1 + offset, text, tuple(bullets), tuple(n + offset for n in bullet_lines)
                )
            )
        return found

    @staticmethod
    def bullets(tokens: list[Any], start: int, stop: int) -> tuple[list[str], list[int]]:
        """Top-level bullets between two lines, each as one line of text, with its line number in the body."""
        bullets: list[str] = []
        lines: list[int] = []
        for i, token in enumerate(tokens):
            bullet = token.type == "list_item_open" and token.level == 1 and token.markup == "-"
            if bullet and token.map and start <= token.map[0] < stop:
                end = next(
                    j
                    for j in range(i, len(tokens))
                    if tokens[j].type == "list_item_close" and tokens[j].level == 1
                )
                inline = next((t.content for t in tokens[i:end] if t.type == "inline"), "")
                bullets.append(" ".join(inline.split()))
                lines.append(token.map[0] + 1)
        return bullets, lines

    def typed(self, page: Page, model: type[BaseModel]) -> Any | None:
        """The page's head as that model, or None after naming each label that does not fit."""
        values = {
            _FIELD_OF_LABEL.get(label, label.replace(" ", "_")): value for label, value in page.head.items()
        }
        try:
            return model.model_validate(values)
        except ValidationError as faults:
            for fault in faults.errors():
                field = str(fault["loc"][0])
                label = _LABEL_OF_FIELD.get(field, field.replace("_", " "))
                said, _, fix = str(fault["msg"]).removeprefix("Value error, ").partition(_FIX)
                self.problem(
                    page.file,
                    page.head_lines.get(label, 1),
                    f"{label}: {said}",
                    fix or "See corpus/README.md.",
                )
            return None

    # --- each kind ------------------------------------------------------------------------------------

    def cause(self, page: Page) -> None:
        """Reads a cause page and its model."""
        head = self.typed(page, _CauseHead)
        cost = self.grammar(
            page, page.head_lines["costs if wrong"], read_wrong_cost, page.head["costs if wrong"]
        )
        expect, circuit, breaks, motor = [], [], [], ("", 1.0, 1.0)
        section = page.section("Expect")
        for text, line in zip(section.bullets, section.bullet_lines, strict=True) if section else ():
            said = self.grammar(page, line, read_expectation, text, line)
            if said is not None:
                expect.append(said)
        section = page.section("Circuit")
        for text, line in zip(section.bullets, section.bullet_lines, strict=True) if section else ():
            change = self.grammar(page, line, read_circuit, text, line)
            if change is not None:
                circuit += change.ranges
                breaks += change.breaks
                motor = change.motor or motor
        if page.head["cause"].replace("_", "-") != page.id:
            self.problem(
                page.file,
                page.head_lines["cause"],
                f'the cause is "{page.head["cause"]}", the file "{page.id}.md".',
                "Use one name.",
            )
        if head and cost:
            self.causes.append(
                Cause(
                    page, head.cause, head.fits, words.HOW_COMMON[head.weight], head.link, head.mends, cost[0], cost[1],
                    tuple(expect), tuple(circuit), tuple(breaks), *motor,
                )
            )  # fmt: skip

    def check(self, page: Page) -> None:
        """Reads a check page."""
        head = self.typed(page, _CheckHead)
        answer = self.grammar(page, page.head_lines["answer"], read_answer, page.head["answer"])
        low, high = 0.0, 0.0
        if answer and answer.kind == "quantity":
            match = re.fullmatch(r"(-?[\d.]+) to (-?[\d.]+)", page.head.get("plausible", ""))
            if match:
                low, high = float(match.group(1)), float(match.group(2))
            else:
                self.problem(
                    page.file,
                    page.head_lines.get("plausible", page.head_lines["answer"]),
                    "a quantity has no plausible range.",
                    "Add a line plausible: LOW to HIGH",
                )
        usual: dict[str, tuple[tuple[str, float], ...]] = {}
        for label in ("otherwise", "at a standstill"):
            if answer and label in page.head:
                read = self.grammar(page, page.head_lines[label], read_otherwise, page.head[label], answer)
                usual[label] = read or ()
        if page.head["finding"].replace("_", "-") != page.id:
            self.problem(
                page.file,
                page.head_lines["finding"],
                f'the finding is "{page.head["finding"]}", the file "{page.id}.md".',
                "Use one name.",
            )
        if not head or not answer:
            return
        asks = [
            " ".join((page.section(t) or Section(t, 0, "")).text.split())
            for t in ("Ask the owner", "Ask the caller", "Ask a tech")
        ]
        owner, phone, tech = asks
        choice_words = []
        section = page.section("Choices")
        for text, line in zip(section.bullets, section.bullet_lines, strict=True) if section else ():
            choice, _, said = text.partition(":")
            if choice.strip() not in answer.choices:
                self.problem(
                    page.file,
                    line,
                    f'"{choice.strip()}" is no choice of this check.',
                    nearest(choice.strip(), answer.choices),
                )
            choice_words.append((choice.strip(), said.strip()))
        self.checks.append(
            Check(
                page, head.finding, answer.kind, answer.choices, answer.unit, low, high, head.fits, head.link,
                head.minutes, head.tool, int(head.people), head.button, head.reach, head.hazard,
                head.needs_weight_off, usual.get("otherwise", ()), owner, phone, tech, tuple(choice_words),
                usual.get("at a standstill", ()),
            )
        )  # fmt: skip

    def procedure(self, page: Page) -> None:
        """Reads a procedure page and its numbered steps."""
        head = self.typed(page, _ProcedureHead)
        steps = self.steps(page)
        mends = tuple(m.strip() for m in page.head["mends"].split(",") if m.strip() != "none")
        tools = tuple(t.strip() for t in page.head["tool"].split(",") if t.strip() != "none")
        if head:
            self.procedures.append(
                Procedure(
                    page, head.fits, mends, head.link, head.audience, head.needs_leg_off, head.needs_truck,
                    int(head.people), head.minutes, tools, tuple(steps),
                )
            )  # fmt: skip

    def steps(self, page: Page) -> list[Step]:
        """The numbered steps of a procedure page with their labels."""
        section = page.section("Steps")
        if section is None:
            return []
        tokens = self.markdown.parse(section.text)
        found: list[Step] = []
        for i, token in enumerate(tokens):
            if token.type == "list_item_open" and token.level == 1 and token.markup == "." and token.map:
                line = section.line + 1 + token.map[0]
                labels: list[tuple[str, int]] = []
                for j in range(i + 1, len(tokens)):
                    if tokens[j].type == "list_item_close" and tokens[j].level == 1:
                        break
                    at = tokens[j].map
                    if tokens[j].type == "list_item_open" and tokens[j].level == 3 and at:
                        inline = next(t for t in tokens[j:] if t.type == "inline")
                        labels.append((" ".join(inline.content.split()), line - token.map[0] + at[0]))
                text = " ".join(next(t for t in tokens[i:] if t.type == "inline").content.split())
                found.append(self.step(page, len(found) + 1, line, text, labels))
        if not found:
            self.problem(page.file, section.line, "no numbered step stands here.", "Write steps as 1. 2. 3.")
        return found

    def step(self, page: Page, number: int, line: int, text: str, labels: list[tuple[str, int]]) -> Step:
        """One step from its text and its labelled bullets."""
        values: dict[str, Any] = {}
        label_lines: dict[str, int] = {}
        because = ""
        for bullet, at in labels:
            match = _LABEL.match(bullet)
            if not match:
                self.problem(
                    page.file,
                    at,
                    f'"{bullet[:40]}" has no label.',
                    "Known here: " + ", ".join(words.STEP_LABELS) + ".",
                )
                continue
            label, value = match.group(1), match.group(2).strip()
            if label not in words.STEP_LABELS:
                self.problem(page.file, at, f'"{label}" is no label here.', nearest(label, words.STEP_LABELS))
                continue
            if label in label_lines and label != "tool":
                self.problem(
                    page.file,
                    at,
                    f'"{label}" stands twice in step {number}.',
                    "Join the two lines with a comma.",
                )
            label_lines[label] = at
            if label == "hazard" and value.startswith("none"):
                because = value.partition("because")[2].strip()
                if not because:
                    self.problem(
                        page.file, at, "hazard: none without a reason.", "Write hazard: none, because …"
                    )
            elif label in ("hazard", "makes safe", "undoes"):
                hazards = [h.strip() for h in value.split(",")]
                for hazard in hazards:
                    if hazard not in words.HAZARDS:
                        self.problem(
                            page.file, at, f'"{hazard}" is no hazard here.', nearest(hazard, words.HAZARDS)
                        )
                values.setdefault(label, []).extend(h for h in hazards if h in words.HAZARDS)
            elif label == "removes":
                parts = [p.strip() for p in value.split(",")]
                for part in parts:
                    if part not in words.REMOVABLE:
                        self.problem(
                            page.file, at, f'"{part}" is no part here.', nearest(part, words.REMOVABLE)
                        )
                values.setdefault(label, []).extend(parts)
            elif label == "tool":
                values.setdefault(label, []).append(value)
            else:
                values[label] = value
        if _SHOUT.search(text) or re.match(r"(?i)(stop|hold|warning|caution|danger)\b[:!]", text):
            self.problem(
                page.file,
                line,
                "a step shouts a warning of its own.",
                "Say it with the labels hazard, makes safe, undoes; the stop is derived.",
            )
        return Step(
            number, line, text, tuple(values.get("hazard", ())), tuple(values.get("makes safe", ())),
            tuple(values.get("undoes", ())), values.get("done when", ""), tuple(values.get("tool", ())),
            values.get("torque", ""), tuple(values.get("removes", ())), values.get("opens gears") == "yes",
            because, values.get("photograph", ""), values.get("measure", ""), label_lines,
        )  # fmt: skip

    def word_page(self, page: Page) -> None:
        """Reads a page of words: each section is a meaning, each bullet a pattern or a labelled line."""
        for section in page.sections:
            patterns, pattern_lines, unless, examples, counter, notes = [], [], [], [], [], []
            for text, line in zip(section.bullets, section.bullet_lines, strict=True):
                label, colon, value = text.partition(": ")
                if colon and label == "unless":
                    unless += [part.strip() for part in value.split(", ")]
                elif colon and label == "example":
                    examples.append(value)
                elif colon and label == "not example":
                    counter.append(value)
                elif colon and re.fullmatch(r"[a-z ]+", label):
                    notes.append((label, value))
                else:
                    patterns.append(text)
                    pattern_lines.append(line)
            self.words.append(
                WordRule(
                    section.title, tuple(patterns), tuple(unless), tuple(examples), tuple(counter), tuple(notes),
                    page.file, section.line, tuple(pattern_lines), page.role,
                )
            )  # fmt: skip

    def sheet(self, page: Page) -> None:
        """Reads a page of what a part is ordered by: each bullet of Points is `name: how to get it`."""
        head = self.typed(page, _SheetHead)
        points = []
        section = page.section("Points")
        for text, line in zip(section.bullets, section.bullet_lines, strict=True) if section else ():
            name, colon, how = text.partition(": ")
            if colon and name.strip() and how.strip():
                points.append(Point(name.strip(), how.strip(), line))
            else:
                self.problem(page.file, line, f'"{text[:40]}" says not how to get it.', "Write name: how.")
        if section and not points:
            self.problem(page.file, section.line, "no point stands here.", "Write a bullet name: how.")
        section = page.section("Match")
        matches = [
            rule
            for text, line in (zip(section.bullets, section.bullet_lines, strict=True) if section else ())
            if (rule := self.grammar(page, line, read_match, text, line)) is not None
        ]
        causes = tuple(c.strip() for c in page.head["causes"].split(",") if c.strip() not in ("", "none"))
        if head:
            self.sheets.append(Sheet(page, head.part, causes, tuple(points), tuple(matches)))

    def grammar(self, page: Page, line: int, rule: Any, *args: Any) -> Any | None:
        """What a closed grammar makes of a line, or None after naming what it could not read."""
        try:
            return rule(*args)
        except GrammarError as fault:
            self.problem(page.file, line, fault.what, fault.fix)
            return None

    def corpus(self, fingerprint: str) -> Corpus:
        """Everything read so far as one frozen value."""
        return Corpus(
            tuple(self.causes),
            tuple(self.checks),
            tuple(self.procedures),
            tuple(self.guides),
            tuple(self.words),
            fingerprint,
            tuple(self.sheets),
            ((self.layer.role if self.layer else "shipped", fingerprint, len(self.raw)),),
        )


def _other_kind(kind: str, head: list[str]) -> str:
    """The kind whose head this is where it is surely not one of `kind`, else ""."""
    labels = {line.partition(":")[0].strip() for line in head if line.strip()}

    def fits(which: str) -> bool:
        known = words.HEADS[which]
        return labels <= set(known) and {label for label, needed in known.items() if needed} <= labels

    if fits(kind):
        return ""
    fitting = [k for k in words.HEADS if k not in (kind, "words") and fits(k)]
    return fitting[0] if fitting else ""


def fingerprint(texts: list[tuple[str, bytes]]) -> str:
    """A short name for exactly these texts: SHA-256 over names and contents, first 16 hex digits."""
    digest = hashlib.sha256()
    for name, raw in texts:
        digest.update(name.encode() + b"\0" + raw + b"\0")
    return digest.hexdigest()[:16]


def read_corpus(folder: Path | Layer) -> tuple[Corpus, list[Problem]]:
    """The corpus of a folder and every problem of reading it (cross-page rules are in `corpus.check`)."""
    reading = Reading(folder if isinstance(folder, Layer) else None)
    files = corpus_files(folder.folder if isinstance(folder, Layer) else folder)
    by_kind: dict[Literal["causes", "checks", "procedures", "guides", "parts", "words"] | str, Any] = {
        "causes": reading.cause,
        "checks": reading.check,
        "procedures": reading.procedure,
        "guides": reading.guides.append,
        "parts": reading.sheet,
        "words": reading.word_page,
    }
    for path in files:
        kind = path.parent.name
        page = reading.page(kind, path)
        if page is not None:
            by_kind[kind](page)
    return reading.corpus(fingerprint(reading.raw)), reading.problems
