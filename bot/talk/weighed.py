"""What the learned weights add to the patterns: dangers and findings said in words that no pattern foresaw.

Patterns name what they saw; weights judge the whole line, the patterns' own finds among it. A danger stands on the
weights where there are any: they were learned from lines with the same words in a harmless sense. A finding of a
pattern falls where the whole line tells none, or where a short line speaks of another thing; one that only the weights
heard comes in where they are sure enough. But what holds the nose is taken from plain words alone, and a line with
readings is not heard twice. Bars were chosen on sets d, e and i of tests/lines before those were learned from; the one
of long lines on the recorded complaints.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from bot.corpus.learned import MOST_WORDS, Learned, flags, words_of
from bot.corpus.model import Check
from bot.corpus.patterns import Token
from bot.frozen import dataclass, field

if TYPE_CHECKING:
    from bot.talk.understand import Meaning

DANGER = 3.0  # scores from here on raise an emergency
LONG, LONG_DANGER = 20, 3.75  # ... of a line of more words: in a story some sound of danger by chance
READ = 1.0  # so much more where no pattern of danger matched and the line brings a reading: most of those only measure
SEEN_DANGER = 1.5  # ... or from here on where a pattern of danger matched as well
LIKELY, SEEN_LIKELY = (
    1.0,
    0.3,
)  # ... and from here on where it cannot be asked about: in the midst of a repair
DOUBT = -1.3  # from here on it is asked about; with a reading READ more
SEEN_DOUBT = -2.2  # ... or from here on where a pattern of danger matched as well
FINDING = 3.2  # scores from here on take a finding down that no pattern saw
SEEN_FINDING = -3.0  # below, one that a pattern saw falls: its words were of another thing
SHORT = 12  # ... in lines of so many words at most: in longer ones each fact is one voice among several
PARTED, MOST_PARTED = 5, 80  # lines of so many words are weighed by their parts as well
PART_FEWEST = 3  # words of a part
PART_FINDING = 4.8  # scores from here on take a finding down that one part of a longer line tells
SURE = 5.5  # ... or that stands where the piece seems to tell nothing
NOTHING = 1.0  # scores from here on say that a piece tells no finding: a guess, a question, past and mended
SEEN_NOTHING = 0.3  # ... and in the part where a pattern saw one; then it falls
FEWEST = 4  # words that a finding is heard in: shorter lines are answers, and patterns know those
_TRUCK = ("truck pulled out", "no truck")  # judged by what is off just then, not by weights
_PLAIN_WORDS_ONLY = {
    "support",
    "hitched",
    "kingpin_locked",
    "prop_kind",
}  # stops and their sums lean on these
_SHUTTING = {
    "hitched=no",
    "kingpin_locked=no",
    "support=unsure",
}  # ... but what shuts them is heard in any words
_OF_THEN = {
    "new_motor",
    "new_battery",
    "new_switch",
    "leg_knocked",
    "stood_unused_long",
}  # told of times past
_FULL_STOPS = set(".?!")
_STOPS = set(".,;:?!")
_JOINING = {"and", "but", "because", "so"}
_MENDING = {"fix", "fixing", "mend", "repair", "repairing", "drive", "tow"}  # what is to be mended is so
_OWN_CASE = "folk: own case"  # says only that the line tells of this trailer
_NO_FINDING = {"sum", "folk"}  # a line that asks for a sum or quotes a rule of thumb tells of no trouble


_NOBODY = {"nobody", "noone", "none", "nobodys"}
_BETWEEN = {"is", "was", "were", "are", "got", "gets", "has", "been", "of", "us", "them", "here", "else"}
_SMOKE = {
    "smoke",
    "smoking",
    "smell",
    "smells",
    "spark",
    "sparks",
    "fire",
    "flames",
    "burning",
    "hot",
    "melting",
}
_NOT = {"no", "not", "never", "without", "nor"}
_LOOKED = {
    "see",
    "seen",
    "any",
    "a",
    "an",
    "the",
    "sign",
    "signs",
    "of",
    "feel",
    "hear",
    "find",
    "notice",
    "noticed",
}  # between
_HARMED = {"hurt", "injured", "harmed", "trapped", "caught", "pinned", "bleeding", "underneath"}


@dataclass(frozen=True)
class Weighed:
    """Dangers that stand, one that is doubtful, and findings with their words."""

    dangers: tuple[str, ...] = ()
    doubtful: str = ""
    likely: bool = (
        False  # whether the doubtful one is likelier so than not: raised where it cannot be asked about
    )
    findings: Mapping[str, tuple[str, str]] = field(default_factory=dict)


def weigh(meaning: Meaning, learned: Learned, checks: Mapping[str, Check]) -> Weighed:
    """The dangers and findings of a line with the weights counted in; the patterns' own where there are none."""
    seen, findings = meaning.dangers, meaning.findings
    told = [t for t in meaning.line if words_of([t.text])][:MOST_WORDS]
    if not learned.labels or not told:
        return Weighed(seen, findings=findings)
    words = [t.text for t in told]
    values = {name: value for name, (value, _) in findings.items()}
    scores = learned.scores(words, flags(seen, values, meaning.outside, len(meaning.readings)))
    bar = (LONG_DANGER if len(words) > LONG else DANGER) + (READ if meaning.readings else 0.0)
    rest = _without_smoke(told, meaning)
    if rest != words and seen == ("smoke or runaway",) and not _SMOKE & set(rest):
        seen = ()  # smoke was named to say that there is none
    rest = words if seen else _denied(rest if rest != words else _without_truck(meaning))
    if rest == words:
        dangers, doubtful, likely = _dangers(seen, scores, learned, bar)
        if seen and not dangers and len(words) <= MOST_PARTED:
            dangers = _in_a_sentence(meaning, learned)
    elif len(rest) >= FEWEST:
        dangers, doubtful, likely = _dangers((), learned.scores(rest), learned, bar)
    else:
        dangers, doubtful, likely = (), "", False
    if len(words) < PART_FEWEST and not seen:
        doubtful = ""  # "second" answers something; a word or two of danger is known to patterns
    whole = Piece(told, scores)
    parts = (
        [_scored(part, meaning, learned) for part in _parts(meaning)]
        if PARTED < len(words) <= MOST_PARTED
        else []
    )
    if len(words) >= FEWEST and not meaning.readings:
        findings = {n: v for n, v in findings.items() if _stands(n, v[0], meaning, whole, parts, learned)}
    if meaning.supposed.whole or any(h.kind in _NO_FINDING and h.meaning != _OWN_CASE for h in meaning.heard):
        return Weighed(dangers, doubtful, likely, findings)
    found = {n: v for n, v in meaning.findings.items() if n not in findings}  # what fell is not heard again
    fallen = frozenset(found)
    found.update(findings)
    if len(words) >= FEWEST and not meaning.readings:
        _hear(found, whole, FINDING, meaning, learned, checks)
    for part in parts:
        if len(part.told) >= PART_FEWEST:
            _hear(found, part, PART_FINDING, meaning, learned, checks)
    return Weighed(dangers, doubtful, likely, {n: v for n, v in found.items() if n not in fallen})


@dataclass(frozen=True)
class Piece:
    """A line or a part of one: its words and the score of each label."""

    told: Sequence[Token]
    scores: Sequence[float]


def _hear(
    found: dict[str, tuple[str, str]],
    piece: Piece,
    bar: float,
    meaning: Meaning,
    learned: Learned,
    checks: Mapping[str, Check],
) -> None:
    """Adds to `found` what the weights hear in a piece beside it; nothing where it is a general question or a guess."""
    silent = _score("nothing told", piece.scores, learned) >= NOTHING
    told = piece.told
    for name, (value, label) in _likeliest(
        piece.scores, max(bar, SURE) if silent else bar, learned, checks
    ).items():
        if name not in found:
            first, last = learned.because([t.text for t in told], label)
            place = meaning.line.index
            if not meaning.supposed.leaves_out(name, place(told[first]), place(told[last - 1]) + 1):
                found[name] = (value, meaning.spelt[told[first].start : told[last - 1].end])


def _scored(part: Sequence[Token], meaning: Meaning, learned: Learned) -> Piece:
    """A part with its scores; of what the patterns saw, only what stands in it speaks for it."""
    here = {
        h.kind: h.value
        for h in meaning.heard
        if meaning.findings.get(h.kind, ("",))[0] == h.value
        and part[0].start <= meaning.line[h.start].start <= part[-1].start
    }
    return Piece(part, learned.scores([t.text for t in part], flags((), here, (), 0), danger=False))


def _parts(meaning: Meaning) -> Iterator[list[Token]]:
    """The parts of a line between stops, commas and joining words, of two words at least, without numbers."""
    parts: list[list[Token]] = []
    before: Token | None = None
    for token in meaning.line:
        parted = before is None or bool(_STOPS & set(meaning.spelt[before.end : token.start]))
        if (parted or token.text in _JOINING) and (not parts or len(parts[-1]) > 1):
            parts.append([])
        parts[-1].append(token)
        before = token
    for part in parts if len(parts) > 1 else []:
        told = [t for t in part if words_of([t.text])]
        if len(told) > 1 and not any(t.text[0].isdigit() for t in told):
            yield told


def _stands(
    name: str, value: str, meaning: Meaning, whole: Piece, parts: Sequence[Piece], learned: Learned
) -> bool:
    """Whether what a pattern saw stands when the part it stands in is weighed; where nobody gave examples, it does.

    "How do I fix a bent leg" tells of one, though most such questions tell nothing.
    """
    label = f"{name}={value}"
    if label not in learned.place or label in _SHUTTING or label == "support=legs":
        return True  # what shuts a stop stands, whatever the rest of the line sounds like
    hit = next((meaning.line[h.start].start for h in meaning.heard if h.kind == name), -1)
    piece = next((p for p in parts if p.told[0].start <= hit <= p.told[-1].start), whole)
    if any(t.text in _MENDING for t in piece.told):
        return True
    silent = (_score("nothing told", one.scores, learned) for one in (whole, piece))
    if name not in _OF_THEN and all(
        score >= bar for score, bar in zip(silent, (NOTHING, SEEN_NOTHING), strict=True)
    ):
        return False
    return bool(parts) or len(whole.told) > SHORT or _score(label, whole.scores, learned) >= SEEN_FINDING


def _score(label: str, scores: Sequence[float], learned: Learned) -> float:
    return scores[learned.place[label]] if label in learned.place else float("-inf")


def _in_a_sentence(meaning: Meaning, learned: Learned) -> tuple[str, ...]:
    """Dangers that a pattern saw in a sentence that sounds of one by itself, whatever else the line says."""
    found: list[str] = []
    ends = [i for i, t in enumerate(meaning.line) if _FULL_STOPS & set(meaning.spelt[t.end : t.end + 2])]
    starts = [0, *(i + 1 for i in ends)]
    if len(starts) < 2 + (starts[-1] >= len(meaning.line)):
        return ()
    for first, last in zip(starts, [*starts[1:], len(meaning.line)], strict=True):
        here = [
            h.value for h in meaning.heard if h.kind == "danger" and not h.negated and first <= h.start < last
        ]
        if here:
            words = words_of([t.text for t in meaning.line[first:last]])
            score = learned.scores(words, flags(tuple(dict.fromkeys(here)), {}, (), 0))[
                learned.place["danger"]
            ]
            if score >= DANGER:
                found += here
    return tuple(dict.fromkeys(found))


def _without_truck(meaning: Meaning) -> list[str]:
    """The words without those that tell of a truck that left: that is judged by what is off just then."""
    truck = (h for h in meaning.heard if h.kind == "intent" and h.value in _TRUCK and not h.negated)
    gone = {i for h in truck for i in range(h.start, h.end)}
    return words_of([t.text for i, t in enumerate(meaning.line) if i not in gone])


def _without_smoke(told: Sequence[Token], meaning: Meaning) -> list[str]:
    """The words without "no smoke", "isn't hot, I don't see smoke" and "smell? no"."""
    words = [t.text for t in told]
    left, i = [], 0
    while i < len(words):
        end = i + 1
        if words[i] in _NOT:
            while end < len(words) and words[end] in _LOOKED:
                end += 1
            through = meaning.spelt[told[i].end : told[end].start] if end < len(words) else ""
            if end < len(words) and words[end] in _SMOKE and not _STOPS & set(through):
                i = end + 1
                continue
        elif words[i] in _SMOKE and end < len(words) and words[end] in ("no", "nope", "none"):
            asked, said = meaning.spelt[told[i].end : told[end].start], meaning.spelt[told[end].end :]
            if "?" in asked and (not said or said[0] in ".,;!?"):  # not "smoke? no lights"
                i = end + 1
                continue
        left.append(words[i])
        i += 1
    return left


def _denied(words: Sequence[str]) -> list[str]:
    """The words without "nobody is hurt" and its like: who says so is asked no second time whether somebody is."""
    left, i = [], 0
    while i < len(words):
        if words[i] in _NOBODY:
            end = i + 1
            while end < len(words) and words[end] in _BETWEEN:
                end += 1
            if end < len(words) and words[end] in _HARMED:  # "nobody around, he is trapped" denies nothing
                i = end + 1
                continue
        left.append(words[i])
        i += 1
    return left


def _dangers(
    seen: tuple[str, ...], scores: Sequence[float], learned: Learned, bar: float = DANGER
) -> tuple[tuple[str, ...], str, bool]:
    """The dangers that stand, or one that is doubtful and whether it is likely; `seen` are those of the patterns, `bar`
    holds without them.
    """
    score = scores[learned.place["danger"]]
    kinds = [label for label in learned.labels if label.startswith("danger: ")]
    likeliest = max(kinds, key=lambda k: scores[learned.place[k]])[len("danger: ") :]
    if score >= (SEEN_DANGER if seen else bar):
        return seen or (likeliest,), "", False
    if score < (SEEN_DOUBT if seen else bar - DANGER + DOUBT):
        return (), "", False
    return (), seen[0] if seen else likeliest, score >= (SEEN_LIKELY if seen else bar - DANGER + LIKELY)


def _likeliest(
    scores: Sequence[float], bar: float, learned: Learned, checks: Mapping[str, Check]
) -> dict[str, tuple[str, str]]:
    """The value with the highest score of each finding that reaches the bar, with its label."""
    best: dict[str, tuple[float, str, str]] = {}
    for label, score in zip(learned.labels, scores, strict=True):
        name, _, value = label.partition("=")
        check = checks.get(name)
        if score < bar or check is None or value not in check.choices:
            continue
        if name in _PLAIN_WORDS_ONLY and label not in _SHUTTING:
            continue
        if score > best.get(name, (0.0, "", ""))[0]:
            best[name] = (score, value, label)
    return {name: (value, label) for name, (_, value, label) in best.items()}
