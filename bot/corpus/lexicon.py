"""The words of the corpus made ready to find meanings in a line."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Mapping, Sequence

from bot.corpus.model import WordRule
from bot.corpus.patterns import (
    Entry,
    Heads,
    Match,
    Matcher,
    Memo,
    PatternError,
    Token,
    by_anchor,
    read_pattern,
    stem,
    tokens,
)  # fmt: skip
from bot.frozen import dataclass
from bot.problems import Problem

KINDS = (
    "group",
    "danger",
    "doubt",
    "outside",
    "intent",
    "place",
    "state",
    "sum",
    "input",
    "pick",
    "folk",
    "condition",
)

#: Sums as the check of words needs them: name -> option -> the choices it takes (empty where it is a figure).
Sums = Mapping[str, Mapping[str, tuple[str, ...]]]


@dataclass(frozen=True)
class Heard:
    """One meaning found in a line: what it says, the words it came from, and whether a "not" turned it round."""

    meaning: str
    words: str
    start: int
    end: int
    negated: bool
    pattern: str

    @property
    def kind(self) -> str:
        """The part before the colon: danger, intent, place, … or the name of a finding."""
        return self.meaning.partition(":")[0]

    @property
    def value(self) -> str:
        """The part after the colon."""
        return self.meaning.partition(":")[2].strip()


@dataclass(frozen=True)
class Words:
    """What a Lexicon starts from, made of the rules of corpus/words once and kept; entries and heads may be kept bytes."""

    groups: Mapping[str, tuple[str, ...]]
    entries: Sequence[Entry | bytes]
    anchors: Mapping[str, Sequence[int]]
    guards: Mapping[str, Sequence[Entry | bytes]]
    guard_anchors: Mapping[str, Mapping[str, Sequence[int]]]
    words: frozenset[str]
    heads: Mapping[str, bytes]


def words_of_rules(rules: tuple[WordRule, ...], left_out: str = "") -> Words:
    """Every pattern and every unless with its anchor words, and every word they know; `left_out` is a meaning."""
    groups = groups_of(tuple(r for r in rules if r.meaning != left_out))
    memo = Memo()
    entries: list[Entry] = []
    guards: dict[str, list[Entry]] = {}
    words: set[str] = set()
    for rule in rules:
        if rule.meaning == left_out:
            continue
        for text in (*rule.patterns, *rule.unless, *rule.examples, *rule.counter_examples):
            words.update(re.findall(r"[a-z]+", text.lower()))
        if rule.meaning.startswith("group:"):
            continue
        for unless, texts in ((False, rule.patterns), (True, rule.unless)):
            for text in texts:
                try:
                    read = read_pattern(text, rule.meaning, groups, memo)
                except PatternError:
                    continue  # corpus check names it; a conversation goes on without it
                others = tuple(tuple(sorted(part.anchor)) for part in read.also)
                entry = (rule.meaning, text, tuple(sorted(read.anchor)), others)
                (guards.setdefault(rule.meaning, []) if unless else entries).append(entry)
    return Words(
        groups, entries, by_anchor(entries), guards, {m: by_anchor(g) for m, g in guards.items()},
        frozenset(words), {},
    )  # fmt: skip


def alternations(rules: tuple[WordRule, ...]) -> dict[str, Heads]:
    """Every alternation of every pattern as plain dicts, tuples and text: the slow part of reading patterns."""
    groups = groups_of(rules)
    memo = Memo()
    for rule in rules:
        if rule.meaning.startswith("group:"):
            continue
        for text in (*rule.patterns, *rule.unless):
            for part in (text, *text.split(" & ")[1:]):
                with contextlib.suppress(PatternError):
                    read_pattern(part.strip().lstrip("!+"), rule.meaning, groups, memo)
    return dict(memo)


class Lexicon:
    """Every rule of corpus/words, indexed; reads a line into meanings."""

    def __init__(self, rules: tuple[WordRule, ...], ready: Words | None = None) -> None:
        """`ready` is what `words_of_rules` made of the same rules, perhaps in an earlier run."""
        self.rules = rules
        ready = words_of_rules(rules) if ready is None else ready
        self.groups, self.words = ready.groups, ready.words
        self.memo = Memo()
        self.memo.kept = ready.heads
        self.matcher = Matcher(self.groups, ready.entries, self.memo, ready.anchors)
        self._ready = ready
        self._unless: dict[str, Matcher] = {}

    def _guard(self, meaning: str) -> Matcher | None:
        """What forbids a meaning; None where nothing does."""
        if meaning not in self._unless and meaning in self._ready.guards:
            self._unless[meaning] = Matcher(
                self.groups, self._ready.guards[meaning], self.memo, self._ready.guard_anchors[meaning]
            )
        return self._unless.get(meaning)

    def notes(self, meaning: str) -> Mapping[str, str]:
        """The labelled lines of a meaning's section that are neither pattern, example nor unless."""
        return {k: v for rule in self.rules if rule.meaning == meaning for k, v in rule.notes}

    def read(self, text: str, line: tuple[Token, ...] | None = None) -> list[Heard]:
        """Every meaning in the line that its own `unless` does not forbid, in order of place."""
        line = tokens(text) if line is None else line
        forbidden: dict[str, bool] = {}
        found: list[Heard] = []
        for match in self.matcher.find(line):
            meaning = match.meaning
            if meaning not in forbidden:
                guard = self._guard(meaning)
                forbidden[meaning] = bool(guard and any(not m.negated for m in guard.find(line)))
            if not forbidden[meaning]:
                found.append(_heard(match, text, line))
        return found


def _heard(match: Match, text: str, line: tuple[Token, ...]) -> Heard:
    words = text[line[match.start].start : line[match.end - 1].end]
    return Heard(match.meaning, words, match.start, match.end, match.negated, match.pattern)


def groups_of(rules: tuple[WordRule, ...]) -> dict[str, tuple[str, ...]]:
    """The named groups: each entry one or more words; an entry may be another <group>."""
    found: dict[str, tuple[str, ...]] = {}
    for rule in rules:
        if rule.meaning.startswith("group:"):
            entries = [e.strip() for p in rule.patterns for e in p.split(",") if e.strip()]
            name = rule.meaning.partition(":")[2].strip()
            found[name] = tuple(
                dict.fromkeys((*found.get(name, ()), *entries))
            )  # one's own add to the shipped
    return found


def sum_problem(rule: WordRule, sums: Sums) -> tuple[str, str]:
    """What is wrong with a meaning about sums, and its mend; two empty texts where nothing is.

    ``sum: NAME``, ``input: OPTION`` or ``input: NAME OPTION``, ``pick: NAME OPTION CHOICE``, with the options in
    ``asks`` and ``verdict needs``; a ``folk`` rule wants ``says`` and ``do``.
    """
    kind, _, value = rule.meaning.partition(": ")
    notes = dict(rule.notes)
    words = value.split()
    if kind == "sum":
        if value not in sums:
            return f'there is no sum "{value}".', "Sums: " + ", ".join(sums) + "."
        named = re.split(r",\s*|\s+or\s+|\s+unless\s+", notes.get("asks", "")) + [
            notes.get("verdict needs", "")
        ]
        wrong = [one for one in named if one and one not in sums[value]]
        if wrong:
            return f'{value} has no input "{wrong[0]}".', "Inputs: " + ", ".join(sums[value]) + "."
    if kind == "input":
        known = {option for options in sums.values() for option in options}
        if not (
            (len(words) == 1 and value in known)
            or (len(words) == 2 and words[0] in sums and words[1] in sums[words[0]])
        ):
            return f'no sum has the input "{value}".', "Write input: OPTION, or input: SUM OPTION."
    if kind == "pick":
        if len(words) < 3 or words[1] not in sums.get(words[0], {}):
            return f'"{value}" picks nothing.', "Write pick: SUM OPTION CHOICE."
        choices = sums[words[0]][words[1]]
        if choices and " ".join(words[2:]) not in choices:
            return f'"{" ".join(words[2:])}" is no choice of {words[1]}.', "Choices: " + ", ".join(
                choices
            ) + "."
    if kind == "folk" and value != "own case" and not {"says", "do"} <= set(notes):
        return f'"{rule.meaning}" lacks says or do.', "Say what is true, and what to do."
    return "", ""


def word_problems(
    rules: tuple[WordRule, ...], findings: Mapping[str, tuple[str, ...]], sums: Sums | None = None
) -> list[Problem]:
    """Every rule of corpus/words that cannot be read, means nothing known, or misses its own examples."""
    found: list[Problem] = []
    groups = groups_of(rules)
    readable: list[WordRule] = []
    seen: dict[str, WordRule] = {}
    for rule in rules:
        kind, colon, value = rule.meaning.partition(":")
        value = value.strip()
        if not colon or not value:
            found.append(
                Problem(rule.file, rule.line, f'"## {rule.meaning}" is no meaning.', "Write kind: value.")
            )
            continue
        if kind not in KINDS and kind not in findings:
            found.append(Problem(rule.file, rule.line, f'"{kind}" is neither a kind of words nor a finding with a check page.',
                                 "Kinds: " + ", ".join(KINDS) + "."))  # fmt: skip
        elif kind in findings and value not in findings[kind]:
            found.append(
                Problem(
                    rule.file,
                    rule.line,
                    f'"{value}" is no answer of {kind}.',
                    "Answers: " + ", ".join(findings[kind]) + ".",
                )
            )
        wrong, mend = sum_problem(rule, sums) if sums is not None else ("", "")
        if wrong:
            found.append(Problem(rule.file, rule.line, wrong, mend))
        if rule.meaning in seen and seen[rule.meaning].role == rule.role:
            found.append(
                Problem(
                    rule.file,
                    rule.line,
                    f'"{rule.meaning}" has a section in {seen[rule.meaning].file} already.',
                    "Join the two.",
                )
            )
        if rule.role == "own" and kind == "danger" and rule.unless:
            found.append(
                Problem(
                    rule.file,
                    rule.line,
                    f'"{rule.meaning}" would be heard less often: an unless over a shipped danger.',
                    "Words of your own add to a danger and take nothing from it. Take the unless out.",
                )
            )
        added_only = rule.role == "own" and rule.meaning in seen
        seen[rule.meaning] = rule
        good = True
        if kind != "group":
            for text, line in [
                *zip(rule.patterns, rule.pattern_lines, strict=True),
                *((u, rule.line) for u in rule.unless),
            ]:
                try:
                    read_pattern(text, rule.meaning, groups)
                    for part in text.split(" & ")[1:]:  # what forbids is read late: a fault in it shows here
                        read_pattern(part.strip().lstrip("!+"), rule.meaning, groups)
                except PatternError as fault:
                    good = False
                    found.append(
                        Problem(
                            rule.file,
                            line,
                            f'the pattern "{text}" cannot be read: {fault}.',
                            "See the page on words in DEVELOPERS.md.",
                        )
                    )
            if not rule.patterns and not added_only:
                found.append(
                    Problem(
                        rule.file, rule.line, f'"{rule.meaning}" has no pattern.', "Add a bullet of words."
                    )
                )
        if good:
            readable.append(rule)
    lexicon = Lexicon(tuple(readable))
    for rule in readable:
        for example, wanted in [
            *((e, True) for e in rule.examples),
            *((e, False) for e in rule.counter_examples),
        ]:
            said = any(h.meaning == rule.meaning and not h.negated for h in lexicon.read(example))
            if said != wanted:
                words = "is not understood as" if wanted else "is understood as"
                found.append(
                    Problem(
                        rule.file,
                        rule.line,
                        f'the example "{example}" {words} {rule.meaning}.',
                        "Mend a pattern or an unless.",
                    )
                )
    return found


__all__ = ["Heard", "Lexicon", "Words", "groups_of", "stem", "word_problems", "words_of_rules"]
