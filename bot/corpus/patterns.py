"""The little pattern language of corpus/words, and its matcher over what people type.

A pattern is words in order. `a|b_c` takes either (`b_c` stands for two words), `<group>` any entry of that group,
`word?` may be missing, `=word` wants exactly that spelling (else endings are ignored), `..` is a gap of up to three
words inside one clause, `...` one of up to eight that may cross a comma or a "but", never a full stop.
`one & two` wants both in the line, in any order, within 14 words, neither turned round by a "not"; `& !three`
forbids a third anywhere.
`& +four` wants (and `& !+four` forbids) a fourth whether or not a "not" stands before it.
A group may also list whole patterns with gaps (`not .. hitched`); such a group stands alone as a part: `one & <loose>`.
Matching looks at tokens, never at letters, so it is fast and a technician can see why something matched.
"""

from __future__ import annotations

import marshal
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from bot.frozen import dataclass, replace

_CONTRACTIONS = {
    "wont": "will not", "won't": "will not", "cant": "can not", "can't": "can not", "cannot": "can not",
    "dont": "do not", "doesnt": "does not", "didnt": "did not", "isnt": "is not", "wasnt": "was not",
    "arent": "are not", "werent": "were not", "aint": "is not", "ain't": "is not", "wouldnt": "would not",
    "couldnt": "could not", "shouldnt": "should not", "hasnt": "has not", "havent": "have not", "hadnt": "had not",
    "its": "it is", "thats": "that is", "theres": "there is", "whats": "what is", "hes": "he is", "shes": "she is",
    "im": "i am", "ive": "i have", "id": "i would", "ill": "i will", "theyre": "they are", "youre": "you are",
    "gonna": "going to", "gotta": "got to", "wanna": "want to", "lemme": "let me", "dunno": "do not know",
    "dont't": "do not", "doesn": "does not", "nope": "no", "nah": "no", "yep": "yes", "yeah": "yes", "yup": "yes",
}  # fmt: skip
_HARD = set(".;!?\n")
# Words that carry nothing here; left out of lines and patterns alike, so that gaps count words that matter.
_FILLERS = {
    "the",
    "a",
    "an",
    "very",
    "really",
    "quite",
    "kinda",
    "sorta",
    "literally",
    "damn",
    "darn",
    "bloody",
    "basically",
}
_BREAKERS = {
    "but",
    "because",
    "cause",
    "cuz",
    "although",
    "though",
    "except",
    "whereas",
    "however",
    "then",
    "while",
    "when",
    "if",
}
_SPAN = 14  # words that parts joined by `&` may lie apart
NEGATORS = {
    "not",
    "no",
    "never",
    "without",
    "neither",
    "nor",
    "none",
    "nothing",
    "nobody",
    "hardly",
    "zero",
    "zilch",
    "nada",
}
_TOKEN = re.compile(r"[a-z]+(?:'[a-z]+)?|\d+(?:[.,/]\d+)*|[.;!?\n:,()\"]|[^\sa-z0-9]", re.I)
# Accents are dropped from lines and patterns alike; one letter for one, so that places in the line stay true.
_PLAIN = str.maketrans("áàâäãéèêëíìîïóòôöõúùûüñç’‘`", "aaaaaeeeeiiiiooooouuuunc'''")
_FRENCH_HEADS = {"l", "d", "s", "n", "j", "c", "m", "t", "qu"}
_VOWEL = re.compile(r"[aeiouy]")


def stem(word: str) -> str:
    """The word without its ending, so that click, clicks, clicked and clicking are one.

    Rough on purpose: patterns go through the same function, so only collisions matter, not beauty.
    """
    if len(word) <= 3 or not word.isalpha():
        return word
    if word.endswith("ies") and len(word) > 4:
        word = word[:-3] + "y"
    for ending in ("ing", "ed"):
        if word.endswith(ending) and len(word) - len(ending) >= 3 and _VOWEL.search(word[: -len(ending)]):
            word = word[: -len(ending)]
            break
    else:
        if word.endswith("es") and word[:-2].endswith(("s", "x", "z", "ch", "sh")):
            word = word[:-2]
        elif word.endswith("s") and not word.endswith("ss") and not word.endswith("us"):
            word = word[:-1]
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "aeiou":
        word = word[:-1]
    if len(word) > 3 and word.endswith("e"):
        word = word[:-1]
    return word


@dataclass(frozen=True)
class Token:
    """One word of a line: as typed in lower case, its stem, where it stood, and its clause."""

    text: str
    stem: str
    start: int
    end: int
    clause: int
    comma: int


def tokens(text: str) -> tuple[Token, ...]:
    """The words of a line with contractions opened; punctuation and joining words start new clauses."""
    found: list[Token] = []
    clause = comma = 0
    lowered = text.lower().translate(_PLAIN)
    for match in _TOKEN.finditer(lowered):
        word = match.group()
        if word in _HARD:
            clause += 1
            comma += 1
            continue
        if word in ',()"' or not (word[0].isalnum()):
            if word in ',()":—–':
                comma += 1
            continue
        if word in _FILLERS:
            continue
        if word in _BREAKERS:
            comma += 1
        if word in _CONTRACTIONS:
            parts = _CONTRACTIONS[word].split()
        elif word.endswith("n't"):
            parts = [word[:-3], "not"]
        elif "'" in word:
            head, _, tail = word.partition("'")
            if head in _FRENCH_HEADS and len(tail) > 2:
                found.append(Token(head, head, match.start(), match.end(), clause, comma))
                head, tail = tail, ""
            parts = [head] + {
                "re": ["are"],
                "ve": ["have"],
                "ll": ["will"],
                "d": [],
                "m": ["am"],
                "s": [],
            }.get(tail, [])
            if head in ("it", "that", "there", "what", "he", "she", "here") and tail == "s":
                parts.append("is")
        else:
            parts = [word]
        for part in parts:
            found.append(Token(part, stem(part), match.start(), match.end(), clause, comma))
    return tuple(found)


@dataclass(frozen=True)
class Item:
    """One place of a pattern: runs of stems or =words that fill it, by their first word; or a gap."""

    heads: Mapping[str, tuple[tuple[str, ...], ...]]  # first word -> the runs that begin with it
    optional: bool = False
    gap: int = -1  # words a gap may skip; -1 where this is no gap
    commas: bool = False


@dataclass(frozen=True)
class Pattern:
    """A read pattern and the meaning it carries; `also` and `never` are the parts joined by `&`
    (those that forbid stay text until the rest is found: most lines never need them).

    `ways` are the whole patterns of a group that stands alone; then `items` is empty. `head` is the text of the
    first part, by which what was found for it in a line is kept. `either`: a "not" before it does not matter.
    """

    items: tuple[Item, ...]
    meaning: str
    text: str
    anchor: frozenset[str]
    also: tuple[Pattern, ...] = ()
    never: tuple[str, ...] = ()
    ways: tuple[Pattern, ...] = ()
    head: str = ""
    either: bool = False


class PatternError(ValueError):
    """A pattern that cannot be read."""


Heads = dict[str, tuple[tuple[str, ...], ...]]


class Memo(dict[str, Heads]):
    """Alternations already read, and in `parts` the parts already read: many patterns share their `&` parts.

    `kept` holds alternations of an earlier run as bytes; one is read when it is first asked for.
    """

    def __init__(self) -> None:
        super().__init__()
        self.parts: dict[str, Pattern] = {}
        self.kept: Mapping[str, bytes] = {}

    def __missing__(self, text: str) -> Heads:
        found: Heads = marshal.loads(self.kept[text])
        self[text] = found
        return found


def _heads(
    text: str, groups: Mapping[str, tuple[str, ...]], memo: dict[str, Heads], seen: tuple[str, ...] = ()
) -> Heads:
    """The runs of an alternation by first word. `memo` keeps groups and alternations already read."""
    if text in memo or (isinstance(memo, Memo) and text in memo.kept):
        return memo[text]
    found: dict[str, dict[tuple[str, ...], None]] = {}

    def add(runs: Iterable[tuple[str, ...]]) -> None:
        for run in runs:
            if run:
                found.setdefault(run[0], {})[run] = None

    for part in text.split("|"):
        if part.startswith("<") and part.endswith(">"):
            name = part[1:-1].replace("_", " ")
            if name not in groups:
                raise PatternError(f"there is no group <{name}>")
            if name in seen:
                raise PatternError(f"the group <{name}> leads back to itself")
            if part != text:
                add(r for runs in _heads(part, groups, memo, seen).values() for r in runs)
                continue
            for entry in groups[name]:
                if _is_whole(entry):
                    raise PatternError(
                        f"the group <{name}> lists whole patterns, so it has to stand alone between &"
                    )
                if entry.startswith("<"):
                    add(r for runs in _heads(entry, groups, memo, (*seen, name)).values() for r in runs)
                else:
                    add([_run(entry)])
        elif part:
            add([_run(part)])
    if not found:
        raise PatternError(f'"{text}" names no word')
    memo[text] = {head: tuple(runs) for head, runs in found.items()}
    return memo[text]


@lru_cache(maxsize=8192)
def _stems(word: str) -> tuple[str, ...]:
    """The stems of one word of a pattern: what `tokens` makes of it."""
    if word.isalpha() and word not in _CONTRACTIONS:
        return () if word in _FILLERS else (stem(word),)
    return tuple(t.stem for t in tokens(word)) or (word,)


def _run(text: str) -> tuple[str, ...]:
    run: list[str] = []
    for word in text.replace("_", " ").split():
        if word.startswith("="):
            run.append(word)
        else:
            run += _stems(word.lower())
    return tuple(run)


def _split(text: str) -> list[str]:
    """A pattern's words without fillers; a group's name may have spaces between its angle brackets."""
    parts = re.sub(r"<[^<>]*>", lambda m: m.group().replace(" ", "_"), text).split()
    return [part for part in parts if part not in _FILLERS]


def _is_whole(entry: str) -> bool:
    """Whether an entry of a group is a pattern of its own: it has a gap, a choice or a group among other words."""
    return (
        "|" in entry
        or " & " in entry
        or " .. " in entry
        or " ... " in entry
        or ("<" in entry and len(_split(entry)) > 1)
    )


def _shared(
    part: str, groups: Mapping[str, tuple[str, ...]], memo: dict[str, Heads], seen: tuple[str, ...] = ()
) -> Pattern:
    """A part between `&`, read once for all patterns that share it; it takes the meaning of its pattern."""
    kept = memo.parts if isinstance(memo, Memo) else {}
    if part not in kept:
        read = read_pattern(part.lstrip("+"), "", groups, memo, seen)
        kept[part] = replace(read, either=True) if part.startswith("+") else read
    return kept[part]


def read_pattern(
    text: str,
    meaning: str,
    groups: Mapping[str, tuple[str, ...]],
    memo: dict[str, Heads] | None = None,
    seen: tuple[str, ...] = (),
) -> Pattern:
    """The pattern of one line of corpus/words; `seen` names the groups being read, so that none leads back to itself.

    Raises PatternError with what cannot be read.
    """
    memo = Memo() if memo is None else memo

    def read_part(part: str) -> Pattern:
        return _shared(part, groups, memo, seen)

    first, *others = [part.strip() for part in text.split(" & ")]
    also = tuple(read_part(part) for part in others if not part.startswith("!"))
    never = tuple(part[1:].strip() for part in others if part.startswith("!"))
    words = _split(first)
    choices = words[0].split("|") if len(words) == 1 else []
    names = [c[1:-1].replace("_", " ") for c in choices if c.startswith("<") and c.endswith(">")]
    if any(_is_whole(entry) for name in names for entry in groups.get(name, ())):
        again = next((name for name in names if name in seen), "")
        if again:
            raise PatternError(f"the group <{again}> leads back to itself")
        entries = [
            e
            for c in choices
            for e in (groups.get(c[1:-1].replace("_", " "), ()) if c.startswith("<") else (c,))
        ]
        ways = tuple(read_pattern(entry, meaning, groups, memo, (*seen, *names)) for entry in entries)
        return Pattern(
            (), meaning, text, frozenset(w for way in ways for w in way.anchor), also, never, ways, first
        )
    items: list[Item] = []
    for part in words:
        if part == "..":
            items.append(Item({}, gap=3))
        elif part == "...":
            items.append(Item({}, gap=8, commas=True))
        else:
            optional = part.endswith("?") and len(part) > 1
            items.append(Item(_heads(part[:-1] if optional else part, groups, memo), optional))
    firm = [i for i in items if i.gap < 0 and not i.optional]
    if not firm:
        raise PatternError("a pattern needs at least one word that must be there")
    anchor = min((i.heads for i in firm), key=len)
    return Pattern(
        tuple(items), meaning, text, frozenset(w.lstrip("=") for w in anchor), also, never, (), first
    )


def _one(run: tuple[str, ...], line: tuple[Token, ...], at: int) -> bool:
    if at + len(run) > len(line):
        return False
    comma = line[at].comma
    for i, want in enumerate(run):
        token = line[at + i]
        if token.comma != comma or (
            token.text != want[1:] if want[0] == "=" else token.stem != want and token.text != want
        ):
            return False
    return True


def _ends(
    items: tuple[Item, ...], line: tuple[Token, ...], at: int, used: tuple[int, ...], loose: bool = False
) -> Iterator[tuple[int, ...]]:
    """Every way to fill the items from `at` on, as the positions that were filled.

    `loose` says that a gap which may cross a comma was just passed, even by no word at all.
    """
    if not items:
        yield used
        return
    head, rest = items[0], items[1:]
    if head.gap >= 0:
        for skip in range(head.gap + 1):
            if at + skip > len(line):
                return
            if used and skip and at + skip <= len(line):
                crossed, last = line[min(at + skip, len(line)) - 1], line[used[-1]]
                if crossed.clause != last.clause or (not head.commas and crossed.comma != last.comma):
                    return
            if used and at + skip < len(line):
                landed, last = line[at + skip], line[used[-1]]
                if landed.clause != last.clause or (not head.commas and landed.comma != last.comma):
                    return
            yield from _ends(rest, line, at + skip, used, head.commas)
        return
    if at < len(line):
        near = loose or not used or at != used[-1] + 1 or line[at].comma == line[used[-1]].comma
        token = line[at]
        for word in {token.stem, token.text, "=" + token.text} if near else ():
            for run in head.heads.get(word, ()):
                if len(run) == 1 or _one(run, line, at):
                    yield from _ends(rest, line, at + len(run), (*used, *range(at, at + len(run))))
    if head.optional:
        yield from _ends(rest, line, at, used, loose)


@dataclass(frozen=True)
class Match:
    """A pattern found in a line: its meaning, which tokens it used, and whether a "not" turned it round."""

    meaning: str
    start: int
    end: int
    used: tuple[int, ...]
    negated: bool
    pattern: str


_NO_DOUBT = ("problem", "longer", "matter", "doubt")  # "no problem" denies nothing
_ANEW = (
    "it",
    "they",
    "i",
    "now",
    "we",
    "that",
    "there",
    "each",
    "both",
    "you",
    "he",
    "she",
    "wait",
    "my",
    "this",
)


def _denies(line: tuple[Token, ...], at: int, first: int) -> bool:
    """Whether the negator at `at` reaches the words from `first` on."""
    word = line[at]
    if word.clause != line[first].clause or word.comma != line[first].comma:
        return False
    following = line[at + 1].text if at + 1 < len(line) else ""
    if word.text == "no" and (following in _NO_DOUBT or (at == 0 and following in _ANEW)):
        return False  # "no its two motors" answers no and says something else
    return not any(line[j].text in ("and", "or") and line[j + 1].text in _ANEW for j in range(at, first - 1))


def _negated(line: tuple[Token, ...], used: tuple[int, ...]) -> bool:
    """Whether an unused negator stands inside the match, just before it in the same clause, or ends the line."""
    first, taken = used[0], set(used)
    inside = [i for i in range(first, used[-1]) if i not in taken and line[i].text in NEGATORS]
    near = range(max(0, first - 4), first)
    before = any(line[i].text in NEGATORS and _denies(line, i, first) for i in near)
    after = used[-1] + 1
    trailing = after < len(line) and line[after].text == "not" and after + 1 == len(line)
    return (len(inside) + before + trailing) % 2 == 1


# A pattern as it is kept: its meaning, its text, its anchor words, and the anchor words of each `&` part it needs.
Entry = tuple[str, str, tuple[str, ...], tuple[tuple[str, ...], ...]]


def by_anchor(entries: Iterable[Entry]) -> dict[str, list[int]]:
    """Anchor word -> places of the patterns that it anchors."""
    found: dict[str, list[int]] = {}
    for number, entry in enumerate(entries):
        for word in entry[2]:
            found.setdefault(word, []).append(number)
    return found


class Matcher:
    """All patterns of a set of rules, found through their rarest word; a pattern is read when first needed."""

    def __init__(
        self,
        groups: Mapping[str, tuple[str, ...]],
        entries: Sequence[Entry | bytes],
        memo: Memo | None = None,
        anchors: Mapping[str, Sequence[int]] | None = None,
    ) -> None:
        """`memo` is shared by the matchers of one lexicon. Entries may be kept bytes where `anchors` come with them."""
        self.groups = groups
        self.entries = entries
        self.ready: dict[int, Pattern] = {}
        self.memo = Memo() if memo is None else memo
        self.anchors = by_anchor(map(_entry, entries)) if anchors is None else anchors

    def _shared(self, part: str) -> Pattern:
        return _shared(part, self.groups, self.memo)

    def _pattern(self, number: int, words: set[str]) -> Pattern | None:
        """The pattern, or None where one of its other parts has no word in the line: most need not be read to say no."""
        if number not in self.ready:
            meaning, text, _, others = _entry(self.entries[number])
            if any(words.isdisjoint(other) for other in others):
                return None
            self.ready[number] = read_pattern(text, meaning, self.groups, self.memo)
        return self.ready[number]

    def find(self, line: tuple[Token, ...]) -> list[Match]:
        """Every meaning found in the line; the longest match of each pattern, in order of place."""
        words = {token.text for token in line} | {token.stem for token in line}
        sought = Sought(line, _where(line), words, {}, self._shared)
        found: list[Match] = []
        seen: set[int] = set()
        for word in words:
            for number in self.anchors.get(word, ()):
                if number not in seen:
                    seen.add(number)
                    pattern = self._pattern(number, words)
                    if pattern is not None:
                        found += _found(pattern, sought)
        return sorted(found, key=lambda m: (m.start, m.end, m.meaning, m.pattern))


def _entry(kept: Entry | bytes) -> Entry:
    if isinstance(kept, bytes):
        read: Entry = marshal.loads(kept)
        return read
    return kept


Shared = Callable[[str], Pattern]
Where = dict[str, list[int]]


class Sought(NamedTuple):
    """A line that patterns are looked for in: its tokens, the places of each word, its words and stems, what parts that
    many patterns share were found to match, and how such a part is read.
    """

    line: tuple[Token, ...]
    where: Where
    words: set[str]
    kept: dict[str, list[Match]]
    shared: Shared


def _found(pattern: Pattern, sought: Sought) -> list[Match]:
    """The matches of a pattern; one with `&` parts has one, where each part is found and nothing forbidden is."""
    if not (pattern.also or pattern.never):
        return _part(pattern, sought)
    if pattern.anchor.isdisjoint(sought.words) or any(
        part.anchor.isdisjoint(sought.words) for part in pattern.also
    ):
        return []
    found: list[list[Match]] = []
    for part in (pattern, *pattern.also):
        plain = [m for m in _part(part, sought) if part.either or not m.negated]
        if not plain:
            return []
        found.append(plain)
    places = _together(found)
    if not places:
        return []
    if any(
        part.either or not m.negated
        for part in map(sought.shared, pattern.never)
        for m in _part(part, sought)
    ):
        return []
    used = tuple(sorted({i for m in places for i in m.used}))
    return [Match(pattern.meaning, used[0], used[-1] + 1, used, False, pattern.text)]


def _together(found: list[list[Match]]) -> list[Match]:
    """One match of each part, as close together as they come; none where they are too far apart to be one thing.

    In a long story words of a danger stand far from each other by chance; said of one thing they stand close.
    """
    best: list[Match] = []
    least = _SPAN + 1
    for first in found[0]:
        chosen = [first]
        for others in found[1:]:
            chosen.append(min(others, key=lambda m: max(m.end, first.end) - min(m.start, first.start)))
        span = max(m.end for m in chosen) - min(m.start for m in chosen)
        if span < least:
            best, least = chosen, span
    return best


def _part(pattern: Pattern, sought: Sought) -> list[Match]:
    """The matches of a pattern's first part alone; parts that many patterns share are looked for once a line."""
    kept = sought.kept
    if pattern.anchor.isdisjoint(sought.words):
        return []
    if pattern.head not in kept:
        if pattern.ways:
            kept[pattern.head] = [m for way in pattern.ways for m in _found(way, sought)]
        else:
            kept[pattern.head] = _all(pattern, sought)
    return [replace(m, meaning=pattern.meaning, pattern=pattern.text) for m in kept[pattern.head]]


def _where(line: tuple[Token, ...]) -> Where:
    """The places of each word, as it is spelt and by its stem, so that a pattern need not walk the line for its first."""
    found: Where = {}
    for at, token in enumerate(line):
        for word in {token.text, token.stem, "=" + token.text}:
            found.setdefault(word, []).append(at)
    return found


def _all(pattern: Pattern, sought: Sought) -> list[Match]:
    line, where = sought.line, sought.where
    found: list[Match] = []
    free = 0
    first = pattern.items[0]
    starts: Iterable[int] = range(len(line))
    if first.gap < 0 and not first.optional:
        starts = sorted({at for word in first.heads & where.keys() for at in where[word]})
    for at in starts:
        if at < free:
            continue
        best: tuple[int, ...] | None = None
        for used in _ends(pattern.items, line, at, ()):
            if used and used[0] == at and (best is None or _negations(line, used) < _negations(line, best)):
                best = used
        if best:
            found.append(
                Match(pattern.meaning, best[0], best[-1] + 1, best, _negated(line, best), pattern.text)
            )
            free = best[-1] + 1
    return found


def _negations(line: tuple[Token, ...], used: tuple[int, ...]) -> tuple[int, int]:
    taken = set(used)
    inside = sum(1 for i in range(used[0], used[-1]) if i not in taken and line[i].text in NEGATORS)
    return inside, used[-1] - used[0]
