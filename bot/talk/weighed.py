"""What the learned weights add to the patterns: dangers and findings said in words that no pattern foresaw.

Patterns name what they saw; weights judge the whole line, the patterns' own finds among it. A danger stands on the
weights where there are any: they were learned from lines with the same words in a harmless sense. A finding of a
pattern stays unless the weights speak plainly for its opposite; one that only the weights heard comes in where they
are sure enough. Bars were chosen on lines that were not learned from (tests/lines, set d).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bot.corpus.learned import Learned, flags, words_of
from bot.corpus.model import Check
from bot.corpus.patterns import Token
from bot.frozen import dataclass, field

DANGER = 1.5  # scores from here on raise an emergency
SEEN_DANGER = -0.3  # ... or from here on where a pattern of danger matched as well
DOUBT = 0.0  # from here on the line is answered with a word of caution
FINDING = 0.6  # scores from here on take a finding down
PIECE = 1.2  # ... heard in one sentence of several
STEERED = (
    3.0  # ... where a short line says what the program takes as steering ("no truck", "pulled the truck out")
)
FEWEST = 4  # words that a finding is heard in: shorter lines are answers, and patterns know those
OPPOSITE = 2.5  # a pattern's finding gives way to another value from here on
_STOPS = set(".;!?\n")
_SHORT = 7
_SHORTEST = 3  # words of a sentence worth a score of its own
_PIECES = 6


@dataclass(frozen=True)
class Weighed:
    """Dangers that stand, one that is doubtful, findings with their words, and what each score was."""

    dangers: tuple[str, ...] = ()
    doubtful: str = ""
    findings: Mapping[str, tuple[str, str]] = field(default_factory=dict)


def weigh(
    line: tuple[Token, ...], spelt: str, dangers: tuple[str, ...], findings: Mapping[str, tuple[str, str]],
    outside: tuple[str, ...], intents: tuple[str, ...], readings: int, learned: Learned,
    checks: Mapping[str, Check],
) -> Weighed:  # fmt: skip
    """The dangers and findings of a line with the weights counted in; the patterns' own where there are none."""
    words = words_of([t.text for t in line])
    if not learned.labels or not words:
        return Weighed(dangers, "", findings)
    matched = flags(dangers, {n: v for n, (v, _) in findings.items()}, outside, readings)
    scores = learned.scores(words, matched)
    bar = STEERED if intents and len(words) <= _SHORT else DANGER
    raised, doubtful = _dangers(dangers, scores, learned, bar)
    if len(words) < FEWEST:
        return Weighed(raised, doubtful, findings)
    return Weighed(raised, doubtful, _findings(line, spelt, words, findings, scores, learned, checks))


def _dangers(
    dangers: tuple[str, ...], scores: Sequence[float], learned: Learned, bar: float
) -> tuple[tuple[str, ...], str]:
    score = scores[learned.place["danger"]]
    kinds = [label for label in learned.labels if label.startswith("danger: ")]
    likeliest = max(kinds, key=lambda k: scores[learned.place[k]], default="")[len("danger: ") :]
    if score >= bar or (dangers and score >= SEEN_DANGER):
        return (dangers or (likeliest,)), ""
    return (), (dangers[0] if dangers else likeliest if score >= DOUBT and bar == DANGER else "")


def _findings(
    line: tuple[Token, ...], spelt: str, words: list[str], findings: Mapping[str, tuple[str, str]],
    scores: Sequence[float], learned: Learned, checks: Mapping[str, Check],
) -> dict[str, tuple[str, str]]:  # fmt: skip
    best: dict[str, tuple[float, str, tuple[Token, ...]]] = {}

    def hear(heard: Sequence[float], part: tuple[Token, ...], bar: float) -> None:
        for label, score in zip(learned.labels, heard, strict=True):
            name, _, value = label.partition("=")
            if value and score - bar > best.get(name, (0.0, "", ()))[0] and name in checks:
                best[name] = (score - bar, value, part)

    hear(scores, line, FINDING)
    for part in _sentences(line):
        hear(learned.scores(words_of([t.text for t in part])), part, PIECE)
    found = dict(findings)
    for name, (over, value, part) in best.items():
        own = found.get(name)
        if own is None or (own[0] != value and over + FINDING >= OPPOSITE):
            if value not in checks[name].choices:
                continue
            found[name] = (value, _words(part, spelt, f"{name}={value}", learned))
    return found


def _sentences(line: tuple[Token, ...]) -> list[tuple[Token, ...]]:
    parts: list[list[Token]] = [[]]
    for token in line:
        if token.text in _STOPS:
            parts.append([])
        else:
            parts[-1].append(token)
    kept = [tuple(p) for p in parts if len(p) >= _SHORTEST]
    return kept[:_PIECES] if len(kept) > 1 else []


def _words(part: tuple[Token, ...], spelt: str, label: str, learned: Learned) -> str:
    """The stretch of the line that speaks for it, as it was typed."""
    told = [t for t in part if words_of([t.text])]
    first, last = learned.because([t.text for t in told], label)
    return spelt[told[first].start : told[last - 1].end] if told and last > first else spelt
