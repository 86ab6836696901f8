"""Mistakes planted in copies of the pages: each is refused, with its file, its line and how to mend it.

The lines expected come from the edit that planted the mistake, never from the program's own messages.
"""

from __future__ import annotations

import shutil
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from bot.assemble import check_corpus
from bot.corpus.model import Procedure, Step
from bot.corpus.place import Wanted
from bot.problems import Problem
from bot.safety.authoring import problems_of
from bot.talk.knowledge import Knowledge
from tests.corpus.planted import (
    CORPUS,
    Edit,
    Mutant,
    line_with,
    lines_of,
    put_after,
    read_one,
    stops,
    swap,
    take_out,
    without_labels,
)
from tests.safety.test_dominates import uncontrolled

LEG = "procedures/take-the-lead-leg-off-and-put-it-back.md"
GROUND = "procedures/clean-the-ground.md"
STEP_OF_LABEL = r"^\d+\. "


def _last(lines: list[str], n: int) -> int:
    return len(lines)


def _end_of_head(lines: list[str], n: int) -> int:
    return line_with(lines, "^---$", 1)


# name, file, edit, words of the message: each page read by itself
ONE_PAGE: list[tuple[str, str, Edit, str]] = [
    ("misspelt label in a head", LEG, swap("^second reading:", "second", "secnd"), "is no label here"),
    ("misspelt label of a step", LEG, swap("- done when:", "done when", "done wen"), "is no label here"),
    ("misspelt hazard label", LEG, swap("- hazard:", "hazard", "hazrd"), "is no label here"),
    (
        "unknown hazard",
        LEG,
        swap("- hazard: .*raised nose", "raised nose", "raised noze"),
        "is no hazard here",
    ),
    ("unknown hazard made safe", LEG, swap("- makes safe:", "rolling", "roling"), "is no hazard here"),
    ("unknown part", LEG, swap("- removes:", "removes: ", "removes: wheel, "), "is no part here"),
    ("bullet without a label", LEG, swap("- tool:", "tool: ", ""), "no label"),
    ("label twice in a head", LEG, put_after("^people:", "people: 3"), "stands twice"),
    ("label twice in a step", LEG, put_after("- done when:", "   - done when: it looks fine"), "twice"),
    ("no value", LEG, swap("^people:", "people: 2", "people:"), "label: value"),
    (
        "no colon",
        LEG,
        swap("^people:", "people: 2", "people 2"),
        "label: value",
    ),
    ("head label missing", LEG, take_out("^minutes:", _end_of_head), 'no "minutes"'),
    ("section missing", LEG, take_out("^## Prove it", _last), 'section "## Prove it" is missing'),
    ("section misspelt", LEG, swap("^## What to order", "order", "oder"), "is no section here"),
    ("section twice", LEG, put_after("^## Also called", "## Use when"), "stands twice"),
    ("heading of another size", LEG, swap("^## Also called", "##", "###"), "h3 heading"),
    ("shouting step", LEG, swap(STEP_OF_LABEL + "Lower", "Lower", "STOP. Lower"), "shouts"),
    ("word of warning in front", LEG, swap(STEP_OF_LABEL + "Lower", "Lower", "Warning: lower"), "shouts"),
    ("unknown gear", LEG, swap("^fits:", "one_motor", "one_moter"), "is no word here"),
    ("unknown link", LEG, swap("^link:", "link: ", "link: big "), "is no word here"),
    ("not yes or no", LEG, swap("^needs truck:", "yes", "maybe"), "yes or no"),
    ("not a number", LEG, swap("^people:", "people: ", "people: about "), "stands here"),
    (
        "no reason for no hazard",
        GROUND,
        swap("hazard: none, because", "none, because", "none, becuase"),
        "without a reason",
    ),
    (
        "bad scale word",
        "causes/bad-ground.md",
        swap("- ground_clean:", "nearly always", "mostly"),
        "word of chance",
    ),
    (
        "expectation without a finding",
        "causes/bad-ground.md",
        swap("- motor_slow:", "motor_slow: ", ""),
        "names no finding",
    ),
    (
        "unknown part of the circuit",
        "causes/bad-ground.md",
        swap("- ground path:", "ground path", "earth path"),
        "no part of the circuit",
    ),
    (
        "range the wrong way round",
        "causes/bad-ground.md",
        swap("- ground path:", "60 to 10000", "10000 to 60"),
        "is no range",
    ),
    ("bad cost", "causes/bad-ground.md", swap("^costs if wrong:", "no part", "no parts"), "is no cost"),
    (
        "unknown weight",
        "causes/bad-ground.md",
        swap("^how common:", "very common", "verry common"),
        "is no word here",
    ),
    (
        "cause and file differ",
        "causes/bad-ground.md",
        swap("^cause:", "bad_ground", "poor_ground"),
        "Use one name|the file",
    ),
    ("bad answer", "checks/wire-warm.md", swap("^answer:", "yes_no", "yesno"), "no kind of answer"),
    (
        "unit unknown",
        "checks/volts-motor-loaded.md",
        swap("^answer:", "quantity V", "quantity kV"),
        "no kind of answer",
    ),
    (
        "no plausible range",
        "checks/volts-motor-loaded.md",
        swap("^plausible:", "0 to 16", "0 and 16"),
        "plausible",
    ),
    ("bad reach", "checks/wire-warm.md", swap("^reach:", "outside", "outsyde"), "is no word here"),
    ("bad button word", "checks/wire-warm.md", swap("^button:", "at rest", "resting"), "is no word here"),
    ("unknown tool", "checks/wire-warm.md", swap("^tool:", "none", "spanner wrench"), "is no word here"),
    (
        "unknown hazard of a check",
        "checks/wire-warm.md",
        swap("^hazard:", "hot part", "hot parts"),
        "is no word here",
    ),
    ("answer that is none", "checks/wire-warm.md", swap("^otherwise:", "yes", "perhaps"), "is no answer"),
    (
        "finding and file differ",
        "checks/wire-warm.md",
        swap("^finding:", "wire_warm", "wire_hot"),
        "the file",
    ),
    (
        "choice that is none",
        "checks/gear.md",
        swap("^- one_motor:", "one_motor", "one_moter", "^## Choices"),
        "is no choice",
    ),
]


@pytest.mark.parametrize(("name", "file", "edit", "says"), ONE_PAGE, ids=[m[0] for m in ONE_PAGE])
def test_a_planted_mistake_is_refused_where_it_stands(
    name: str, file: str, edit: Edit, says: str, tmp_path: Path
) -> None:
    kind, _, page = file.partition("/")
    assert read_one(kind, page, "\n".join(lines_of(file)), tmp_path)[0] == []
    lines = lines_of(file)
    line = edit(lines)
    found, _ = read_one(kind, page, "\n".join(lines), tmp_path)
    here = [
        p
        for p in found
        if (p.file, p.line) == (file, line) and any(s in p.what + p.fix for s in says.split("|"))
    ]
    assert here, f"{name}: expected {file}, line {line}, got {[str(p) for p in found]}"
    assert all(p.fix for p in here), f"{name}: no mend: {here}"


def test_files_that_are_no_page(tmp_path: Path) -> None:
    whole = "\n".join(lines_of("guides/which-gear-do-i-have.md"))
    cases: list[tuple[str, str | bytes, int, str]] = [
        ("not-utf8.md", whole.encode().replace(b"title: ", b"title: \xb5 ", 1), 1, "UTF-8"),
        ("no-head.md", whole.split("---\n")[2], 1, "head is missing"),
        ("head-not-closed.md", "---\ntitle: x\n\n## A\ntext\n", 1, "head is missing"),
        ("Bad Name.md", whole, 1, "lower-case"),
        ("empty.md", "", 1, "head is missing"),
    ]
    for name, text, line, says in cases:
        found, _ = read_one("guides", name, text, tmp_path)
        assert [(p.file, p.line) for p in found] == [(f"guides/{name}", line)], name
        assert says in found[0].what + found[0].fix
        assert found[0].fix


def test_what_trips_other_formats_is_plain_text_here(tmp_path: Path) -> None:
    """A colon in a sentence, no, 3.10, quotes, a hash, a percent sign, a tab, a brace: text as it stands."""
    for title in (
        'Fuse: which one, and why: "no" is an answer',
        "no",
        "3.10",
        "'single' and \"double\"",
        "# not a comment",
        "{a: b}",
        "[x]",
        "100 % of it",
        "- dash",
        "yes: no: maybe",
        "*star* & anchor",
        "tab\there",
        "1e3",
        "2024-01-01",
        "null",
        "~",
        "|",
        "> folded",
        "on",
        "0x1F",
        "!tag",
    ):
        lines = lines_of(LEG)
        lines[line_with(lines, "^title:") - 1] = f"title: {title}"
        found, reading = read_one("procedures", LEG.split("/")[1], "\n".join(lines), tmp_path)
        assert found == [], title
        assert reading.procedures[0].page.title == title


# --- mistakes that only show beside other pages: all planted in one copy, checked once ----------------

BESIDE_OTHERS: list[tuple[str, str, Edit, str]] = [
    (
        "unknown finding expected",
        "causes/bad-ground.md",
        swap("- wire_warm:", "wire_warm", "wire_worm"),
        "no check yields",
    ),
    (
        "answer that the check does not take",
        "causes/motor-failed.md",
        swap("- button_response:", "button_response: ", "button_response: sings often, "),
        "is no answer of",
    ),
    (
        "finding expected twice",
        "causes/leg-bent.md",
        put_after("^- leg_visibly_bent:", "- leg_visibly_bent: yes often"),
        "expected twice",
    ),
    (
        "unknown procedure",
        "causes/switch-failed.md",
        swap("^mends:", "replace-the-switch", "replace-the-swich"),
        "there is no procedure",
    ),
    (
        "unknown cause in mends",
        "procedures/tighten-the-leg-mounting.md",
        swap("^mends:", "mounting_loose", "mounting_loose, mounting_lose"),
        "there is no cause",
    ),
    (
        "unknown finding told",
        "causes/leg-binding.md",
        put_after("^link:", "told by: gear, squeels"),
        "no check yields",
    ),
    (
        "answer of words that is none",
        "words/movement.md",
        swap("^## button_response: clicks", "clicks", "clickz"),
        "is no answer of",
    ),
    (
        "pattern that cannot be read",
        "words/electrics.md",
        put_after("^## fuse_ok: no", "- <no such group> popped"),
        "cannot be read",
    ),
    (
        "example that is not understood",
        "words/mechanics.md",
        put_after("^## gear: one_motor", "- example: the moon is made of cheese", -1),
        "is not understood as",
    ),
    (
        "counter-example that is understood",
        "words/mechanics.md",
        put_after("^## gear: two_motor", "- not example: a motor on each leg", -1),
        "is understood as",
    ),
]


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> tuple[list[Problem], dict[str, tuple[str, int]]]:
    """All problems of one copy with every mistake of the list in it, and where each was planted."""
    folder = tmp_path_factory.mktemp("planted") / "corpus"
    shutil.copytree(CORPUS, folder)
    where: dict[str, tuple[str, int]] = {}
    edited: dict[str, list[str]] = {}
    for name, file, edit, _ in BESIDE_OTHERS:
        lines = edited.setdefault(file, lines_of(file))
        before = len(lines)
        line = edit(lines)
        grown = len(lines) - before
        if grown:  # what was planted further down in the same file moved
            where.update({k: (f, n + grown) for k, (f, n) in where.items() if f == file and n >= line})
        where[name] = (file, line)
    for file, lines in edited.items():
        (folder / file).write_text("\n".join(lines), encoding="utf-8")
    guide = lines_of("guides/which-gear-do-i-have.md")
    (folder / "guides" / "bad-ground.md").write_text("\n".join(guide), encoding="utf-8")
    where["id taken"] = ("guides/bad-ground.md", 1)
    return check_corpus(Wanted(alone=str(folder)))[0], where


@pytest.mark.parametrize(
    ("name", "says"),
    [*((m[0], m[3]) for m in BESIDE_OTHERS), ("id taken", "is taken by")],
    ids=lambda v: str(v),
)
def test_a_mistake_beside_other_pages_is_refused(
    name: str, says: str, planted: tuple[list[Problem], dict[str, tuple[str, int]]]
) -> None:
    problems, where = planted
    here = [p for p in problems if (p.file, p.line) == where[name] and says in p.what]
    assert here, (
        f"{name}: expected at {where[name]}, got {[str(p) for p in problems if p.file == where[name][0]]}"
    )
    assert all(p.fix for p in here)


def test_nothing_else_is_refused(planted: tuple[list[Problem], dict[str, tuple[str, int]]]) -> None:
    """A mistake in one page does not drown the list in others' pages, beyond what names the missing thing."""
    problems, where = planted
    files = {f for f, _ in where.values()}
    shipped = set(check_corpus()[0])  # the shipped pages have a test of their own
    assert {p.file for p in problems if p not in shipped} <= files


# --- labels taken out one at a time -------------------------------------------------------------------


@pytest.fixture(scope="module")
def mutants(
    tmp_path_factory: pytest.TempPathFactory,
) -> tuple[list[tuple[Mutant, list[Problem]]], list[Mutant]]:
    """Every mutant with its problems; those whose stops are the same as before are set apart."""
    folder = tmp_path_factory.mktemp("mutants")
    before: dict[str, list[object]] = {}
    tried, same = [], []
    for mutant in without_labels():
        if mutant.page not in before:
            problems, whole = read_one(
                "procedures", mutant.page, "\n".join(lines_of(f"procedures/{mutant.page}")), folder
            )
            assert problems == []
            before[mutant.page] = list(stops(whole.procedures[0]))
        found, reading = read_one("procedures", mutant.page, mutant.text, folder)
        if not found and list(stops(reading.procedures[0])) == before[mutant.page]:
            same.append(mutant)
        else:
            tried.append((mutant, found))
    return tried, same


@pytest.mark.parametrize("changes", ["line", "hazard"])
@pytest.mark.parametrize("label", ["hazard", "makes safe", "undoes"])
def test_labels_taken_out_are_refused(
    label: str, changes: str, mutants: tuple[list[tuple[Mutant, list[Problem]]], list[Mutant]]
) -> None:
    """At least 98 of 100; whole labels of makes safe and undoes always."""
    tried = [(m, p) for m, p in mutants[0] if m.label == label and m.changes == changes]
    missed = [m for m, p in tried if not p]
    assert len(tried) > 10
    share = 1 - len(missed) / len(tried)
    print(f"\n{label}, {changes}: {len(tried) - len(missed)} of {len(tried)} refused")
    assert share >= (0.98 if label == "hazard" else 1.0), "\n".join(map(str, missed))


def test_refused_mutants_name_their_page_and_a_mend(
    mutants: tuple[list[tuple[Mutant, list[Problem]]], list[Mutant]],
) -> None:
    for mutant, problems in mutants[0]:
        for problem in problems:
            assert problem.file == f"procedures/{mutant.page}"
            assert problem.fix
            assert problem.line > 0


def test_a_label_taken_out_is_named_at_its_own_step_or_where_it_is_missed(
    mutants: tuple[list[tuple[Mutant, list[Problem]]], list[Mutant]],
) -> None:
    """A hazard is named at the very step or in its line of the table; a control or an undoing at that step or at a later one that
    needs it.
    """
    for mutant, problems in mutants[0]:
        if not problems:
            continue
        lines = mutant.text.split("\n")
        start = max(n for n in range(1, mutant.line) if lines[n - 1][:1].isdigit())
        following = [
            n
            for n in range(mutant.line, len(lines))
            if lines[n - 1][:1].isdigit() or lines[n - 1][:2] == "##"
        ]
        end = following[0] if following else len(lines)
        if mutant.label == "hazard":
            assert any(
                start <= p.line < end
                or lines[p.line - 1].startswith(tuple(f"- {h}:" for h in mutant.lost.split(", ")))
                for p in problems
            ), (str(mutant), [str(p) for p in problems])
        else:
            assert any(p.line >= start for p in problems), (str(mutant), [str(p) for p in problems])


def test_few_labels_change_nothing(
    mutants: tuple[list[tuple[Mutant, list[Problem]]], list[Mutant]],
) -> None:
    """Mutants that leave every stop as it was are no mistakes; each stands at a step that makes the
    hazard safe.
    """
    tried, same = mutants
    print("\nno stop changed: " + ", ".join(str(m) for m in same))
    print("not refused: " + "; ".join(str(m) for m, p in tried if not p))
    assert len(same) < len(tried) / 50
    assert {m.label for m in same} <= {"hazard"}


# --- order ---------------------------------------------------------------------------------------------


def _renumbered(procedure: Procedure, steps: list[Step]) -> Procedure:
    return replace(procedure, steps=tuple(replace(s, number=n) for n, s in enumerate(steps, 1)))


def test_steps_swapped_so_that_a_control_comes_late_are_refused(knowledge: Knowledge) -> None:
    """Every pair of neighbours swapped; whether a control is broken is told by the dominators, not by
    the check.
    """
    counted: Counter[str] = Counter()
    for procedure in knowledge.procedures.values():
        for at in range(len(procedure.steps) - 1):
            steps = list(procedure.steps)
            steps[at], steps[at + 1] = steps[at + 1], steps[at]
            swapped = _renumbered(procedure, steps)
            if uncontrolled(swapped):
                counted["broken"] += 1
                found = problems_of(swapped)
                assert found, (procedure.id, at + 1)
                assert all(p.fix and p.file == procedure.page.file for p in found)
            else:
                counted["harmless"] += 1
    print(f"\n{counted['broken']} swaps break a control and are refused; {counted['harmless']} break none")
    assert counted["broken"] > 50


def test_a_control_moved_to_the_end_is_refused(knowledge: Knowledge) -> None:
    for procedure in knowledge.procedures.values():
        for at, step in enumerate(procedure.steps):
            steps = [*procedure.steps[:at], *procedure.steps[at + 1 :], step]
            moved = _renumbered(procedure, steps)
            if step.makes_safe and uncontrolled(moved):
                assert problems_of(moved), (procedure.id, step.number)
