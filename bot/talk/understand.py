"""What one line means, given what was asked: findings, readings, steering, danger. Pure, and explainable by words."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping

from bot.corpus.learned import Learned
from bot.corpus.lexicon import Heard, Lexicon
from bot.corpus.model import Check
from bot.corpus.patterns import Token, tokens
from bot.frozen import dataclass, field, replace
from bot.talk.readings import Taken, assign
from bot.talk.state import Asking
from bot.talk.supposed import Supposed, supposed
from bot.talk.weighed import weigh
from bot.units import Unread, read, scan

_FLIP = {"yes": "no", "no": "yes"}
MOST_CHARACTERS = 2000
_BIDI = {chr(c) for c in (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C)}


def clean(text: str) -> str:
    """The line without control characters, escape sequences and direction overrides, at most 2,000 characters."""
    text = text[: MOST_CHARACTERS * 4]
    text = re.sub(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)?|.)", "", text)
    kept = (
        c if c not in "\t\r\n" else " "
        for c in text
        if c in "\t\r\n" or (unicodedata.category(c)[0] != "C" and c not in _BIDI)
    )
    return "".join(kept).strip()[:MOST_CHARACTERS]


@dataclass(frozen=True)
class Meaning:
    """Everything a line says."""

    text: str
    findings: Mapping[str, tuple[str, str]] = field(default_factory=dict)  # name -> (value, words)
    clashes: Mapping[str, tuple[str, ...]] = field(
        default_factory=dict
    )  # name -> values that contradict each other
    readings: tuple[Taken, ...] = ()
    intents: tuple[str, ...] = ()
    dangers: tuple[str, ...] = ()
    doubtful: str = ""  # a danger that the line may tell of
    likely: bool = False  # whether that is likelier so than not
    by_weight: frozenset[str] = (
        frozenset()
    )  # findings that no pattern saw: they add, and change nothing told before
    outside: tuple[str, ...] = ()
    unread: str = ""  # why a quantity could not be taken
    doubt: str = ""  # a question back about a reading
    answer: str = ""  # the choice made for the open question
    spelt: str = ""  # the line with its spelling repaired, as the words below stand in it
    line: tuple[Token, ...] = ()
    heard: tuple[Heard, ...] = ()
    supposed: Supposed = Supposed()  # words that only ask or guess

    def said(self, kind: str) -> tuple[Heard, ...]:
        """What the line says of that kind, not turned round by a "not"."""
        return tuple(h for h in self.heard if h.kind == kind and not h.negated)

    def wants(self, *intents: str) -> bool:
        """Whether one of these was said."""
        return any(i in self.intents for i in intents)

    @property
    def facts(self) -> int:
        """How many findings and readings the line brought."""
        return len(self.findings) + len(self.readings)


@dataclass(frozen=True)
class Reader:
    """What is needed to read a line: the words, the checks, and a spelling repair (a word -> the word meant)."""

    lexicon: Lexicon
    checks: Mapping[str, Check]
    respell: Callable[[str], str]
    learned: Callable[[], Learned] = Learned

    @property
    def units(self) -> dict[str, str]:
        """The unit of each quantity finding."""
        return {c.finding: c.unit for c in self.checks.values() if c.kind == "quantity"}


def understand(text: str, asking: Asking | None, reader: Reader) -> Meaning:
    """The meaning of a line. Never raises on any text; what it cannot read it leaves out."""
    respelt = reader.respell(text)
    line = tokens(respelt)
    heard = reader.lexicon.read(respelt, line)
    only = supposed(line, respelt)
    findings, clashes = _findings(_found_here(heard, only), reader.checks)
    quantities = scan(respelt)
    readings = assign(line, quantities, heard, reader.units, respelt)
    intents = _intents(heard, line)
    dangers = tuple(dict.fromkeys(h.value for h in heard if h.kind == "danger" and not h.negated))
    outside = tuple(dict.fromkeys(h.value for h in heard if h.kind == "outside" and not h.negated))
    patterns = Meaning(
        text, findings, clashes, tuple(readings), intents, dangers, outside=outside, spelt=respelt, line=line,
        heard=tuple(heard), supposed=only,
    )  # fmt: skip
    weighed = weigh(patterns, reader.learned(), reader.checks)
    doubts = (h.value for h in heard if h.kind == "doubt" and not h.negated)
    doubtful = weighed.doubtful or ("" if weighed.dangers else next(doubts, ""))
    by_weight = frozenset(weighed.findings) - frozenset(findings)
    findings = dict(weighed.findings)
    clashes = {
        name: both for name, both in clashes.items() if name not in by_weight
    }  # the whole line settles it
    for one in readings:
        if one.finding == "volts_relay_out" and one.other_way is not None and one.value < one.other_way / 2:
            findings.setdefault("one_direction_only_at_relay", ("yes", one.words))
    unread = doubt = answer = ""
    if asking is not None and asking.kind in ("yes_no", "choice"):
        answer = _chosen(respelt, line, asking, findings, intents, bool(readings), reader)
        if answer and asking.finding in reader.checks:
            findings[asking.finding] = (answer, text)
            if asking.finding == "prop_kind":
                findings.pop("support", None)  # what will go under it does not hold the nose yet
            clashes.pop(asking.finding, None)
    if (
        asking is not None
        and asking.kind == "quantity"
        and not any(t.finding == asking.finding for t in readings)
    ):
        taken, unread = _quantity(respelt, asking, readings, heard, len(quantities))
        if taken is not None:
            readings = [*(t for t in readings if t.finding not in _same_number(taken, readings)), taken]
    if not readings and not unread and any(q.kind == "volt" for q in quantities):
        unread = "Volts measured where, and when? Say: battery at rest, battery with the button held, or motor with the button held."
    doubt = next((t.doubt for t in readings if t.doubt), "")
    return replace(
        patterns, findings=findings, readings=tuple(readings), dangers=weighed.dangers, doubtful=doubtful, likely=weighed.likely and bool(doubtful),
        unread=unread, doubt=doubt, answer=answer, by_weight=by_weight, clashes=clashes,
    )  # fmt: skip


def _same_number(taken: Taken, readings: list[Taken]) -> set[str]:
    """Readings that used the very words now taken as the answer."""
    return {t.finding for t in readings if t.words.strip() == taken.words.strip()}


_KEPT = ("prop_kind",)  # "could I use jack stands" says what is there to use


def _found_here(heard: list[Heard], only: Supposed) -> list[Heard]:
    """What was heard of this trailer, without what a line only asks in general or guesses."""
    return [h for h in heard if h.kind in _KEPT or not only.leaves_out(h.kind, h.start, h.end)]


def _findings(
    heard: list[Heard], checks: Mapping[str, Check]
) -> tuple[dict[str, tuple[str, str]], dict[str, tuple[str, ...]]]:
    """Findings said in the line; where a line says two values of one, neither is taken and both are kept to ask."""
    said: dict[str, dict[str, str]] = {}
    for h in heard:
        check = checks.get(h.kind)
        if check is None:
            continue
        value = h.value
        if h.negated:
            if check.kind != "yes_no":
                continue
            value = _FLIP[value]
        said.setdefault(h.kind, {}).setdefault(value, h.words)
    findings = {name: next(iter(v.items())) for name, v in said.items() if len(v) == 1}
    clashes = {name: tuple(v) for name, v in said.items() if len(v) > 1}
    return findings, clashes


_SHORT = 7  # a steering word counts when the line is about nothing else


def _intents(heard: list[Heard], line: tuple[Token, ...]) -> tuple[str, ...]:
    """Steering in the line. Words like "back" or "how" steer only in a short line that they lead or fill."""
    found: list[str] = []
    for h in heard:
        if h.kind != "intent" or h.negated:
            continue
        share = (h.end - h.start) / max(1, len(line))
        leads = h.start <= 1
        if (
            h.value in _ANYWHERE
            or (len(line) <= _SHORT and (leads or share >= 0.5))
            or (leads and h.value in ("yes", "no"))
        ):
            found.append(h.value)
    return tuple(dict.fromkeys(found))


_ANYWHERE = {
    "not fixed", "already did", "no tool", "no helper", "no truck", "truck pulled out", "what do you know", "other causes",
    "put aside", "person", "danger over", "unsafe", "partly", "has meter",
}  # fmt: skip


def _chosen(
    text: str,
    line: tuple[Token, ...],
    asking: Asking,
    findings: Mapping[str, tuple[str, str]],
    intents: tuple[str, ...],
    has_readings: bool,
    reader: Reader,
) -> str:
    """The choice a line makes for the open question, or "" where it makes none."""
    plain = text.strip().strip(".!?\"' ").lower()
    if plain in asking.choices or plain.replace(" ", "_") in asking.choices:
        return plain.replace(" ", "_") if plain not in asking.choices else plain
    if asking.finding in findings:
        return findings[asking.finding][0]
    if asking.kind == "yes_no":
        words = {t.text for t in line}
        first = line[0].text if line else ""
        if "dont know" in intents:
            return ""
        if first in (
            "yes",
            "yea",
            "ya",
            "yup",
            "sure",
            "correct",
            "right",
            "true",
            "si",
            "oui",
            "aye",
            "affirmative",
            "y",
        ):
            return "yes"
        if first in ("no", "nope", "nah", "negative", "n", "none", "never") and not (
            _other_correction(findings, asking) or has_readings or _puts_right(line)
        ):
            return "no"
        if len(line) <= 5 and not has_readings and not findings:
            if "yes" in intents and "no" not in intents:
                return "yes"
            if ("no" in intents or words & {"not"}) and "yes" not in intents:
                return "no"
        return ""
    named = [
        c
        for c in asking.choices
        if re.search(rf"\b{re.escape(c.replace('_', ' '))}\b", plain.replace("_", " "))
    ]
    if len(named) == 1 and len(line) <= 6:
        return named[0]
    return ""


def _puts_right(line: tuple[Token, ...]) -> bool:
    """Whether the "no" a line begins with takes something back ("no wait, …") instead of answering."""
    return len(line) > 1 and line[1].text in ("wait", "sorry", "actually", "hold", "scratch")


def _other_correction(findings: Mapping[str, tuple[str, str]], asking: Asking) -> bool:
    """Whether a line that begins with "no" goes on to say something else: then the no belongs to that."""
    return any(name != asking.finding for name in findings)


def _quantity(
    text: str, asking: Asking, readings: list[Taken], heard: list[Heard], quantities: int
) -> tuple[Taken | None, str]:
    """The answer to a quantity question, or why it cannot be taken ("" where the line is no answer at all)."""
    if (
        len(readings) == 1
        and readings[0].assumed
        and readings[0].finding == "gross_weight_lb" != asking.finding
    ):
        # A weight that names nothing weighed is the one that was asked for.
        return (replace(readings[0], finding=asking.finding), "") if asking.unit == "lb" else (None, "")
    named_elsewhere = {t.finding for t in readings}
    if quantities > 1 or (
        named_elsewhere
        and any(h.kind in ("place", "state") for h in heard)
        and _other_place(asking, readings)
    ):
        return None, ""
    got = read(text, asking.unit)
    if isinstance(got, Unread):
        return None, got.reply if any(c.isdigit() for c in text) else ""
    return Taken(
        asking.finding, got.value, got.low, got.high, text.strip(), getattr(got, "doubtful", "") or ""
    ), ""


def _other_place(asking: Asking, readings: list[Taken]) -> bool:
    """Whether the one reading of the line was said of another place than the one asked."""
    return all(t.finding != asking.finding for t in readings)
