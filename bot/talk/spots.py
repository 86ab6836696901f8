"""The quantities of a line in their places among its words, and the cues of place and state round them."""

from __future__ import annotations

import re
from bisect import bisect_left

from bot.corpus.lexicon import Heard
from bot.corpus.patterns import Token
from bot.frozen import dataclass, replace
from bot.units import Found

FAR = 99
COMPONENTS = ("place: switch", "place: relay")
# A place named by more words than another one inside it is the one meant: "case of motor to battery minus".
_WHOLE = frozenset("place: " + p for p in ("ground side", "switch in", "switch out", "relay in", "relay out"))
_PLAIN = ("place: battery", "place: motor")
# "relay output to motor", "minus post to frame at the motor": the second name says which one the first is.
_OF = frozenset(("to", "of", "at", "for", "post", "negative", "minus", "side", "lead", "terminal"))
# After "12 volt" one of these is no thing that runs on 12 volts.
_NO_NOUN = frozenset(
    [
        "at",
        "on",
        "in",
        "with",
        "when",
        "while",
        "and",
        "or",
        "to",
        "across",
        "from",
        "resting",
        "rest",
        "under",
        "there",
        "now",
        "but",
        "if",
        "is",
        "was",
        "as",
        "during",
    ]
)
_OF_SYSTEM = frozenset(("system", "motor", "setup", "circuit", "gear", "rig", "trailer", "unit", "supply"))


def _inside(inner: Heard, outer: Heard) -> bool:
    """Whether a cue lies within a longer one."""
    return (
        outer.start <= inner.start
        and inner.end <= outer.end
        and outer.end - outer.start > inner.end - inner.start
    )


@dataclass(frozen=True)
class Spot:
    """A quantity with its place among the words of the line."""

    found: Found
    first: int
    last: int
    clause: int
    comma: int


class Cues:
    """The words of a line, the quantities in it and the cues round them."""

    def __init__(
        self, line: tuple[Token, ...], quantities: tuple[Found, ...], heard: list[Heard], text: str = ""
    ) -> None:
        """`text` is the line as typed, for the colons between a label and its number."""
        self.line = line
        self.colons = {
            i
            for i, (a, b) in enumerate(zip(line, line[1:], strict=False), start=1)
            if set(text[a.end : b.start]) & {":", "="}
        }
        self.spots = [s for q in quantities if (s := self._spot(q))]
        self.cues: dict[str, list[Heard]] = {}
        self.volt_sentences: set[int] = set()
        # "nothing at the motor" still names the place.
        cues = [h for h in heard if h.kind in ("place", "state")]
        rests = [h for h in cues if h.meaning == "state: resting"]
        wholes = [
            h
            for h in cues
            if h.meaning in _WHOLE and not any(h.start < s.first < h.end - 1 for s in self.spots)
        ]
        for h in cues:
            # "before i press anything" holds the words of the other state; the longer cue is the one meant.
            if h.meaning == "state: held" and any(
                (r.start <= h.start or self._joins(h.start, r.start)) and h.end <= r.end for r in rests
            ):
                continue  # as does "when nothing is running"
            if h.kind == "place" and any(_inside(h, w) and h.meaning != w.meaning for w in wholes):
                continue
            self.cues.setdefault(h.meaning, []).append(h)
        # "battery stays at 12.1 with the motor running": the motor says when, not where.
        when = [
            h
            for h in self.cues.get("state: held", ())
            if line[h.start].text in ("when", "while", "with", "as")
        ]
        self.cues["place: motor"] = [
            c for c in self.cues.get("place: motor", ()) if not any(_inside(c, h) for h in when)
        ]
        self._drop_second_names()
        spots = [self._no_inches(s) for s in self.spots]
        for spot in filter(self._of_system, spots):
            if spot.first in self.colons:
                self.colons.add(spot.last + 1)  # "nameplate: 12 VDC 30 A"
        self.spots = [s for s in spots if not self._of_system(s)]
        self._firsts, self._lasts = [s.first for s in self.spots], [s.last for s in self.spots]

    def _drop_second_names(self) -> None:
        """Takes out a battery or motor that only says which end of a longer place is meant."""
        for whole in (h for m in _WHOLE for h in self.cues.get(m, ())):
            for meaning in _PLAIN:
                self.cues[meaning] = [
                    c for c in self.cues.get(meaning, ()) if not self._second_name(whole, c)
                ]

    def _second_name(self, whole: Heard, cue: Heard) -> bool:
        between = {t.text for t in self.line[whole.end : cue.start]}
        return (
            whole.end <= cue.start <= whole.end + 2
            and self.line[cue.start].comma == self.line[whole.end - 1].comma
            and (between <= _OF if between else self.line[cue.start].text in _OF)
            and not any(whole.end <= s.first < cue.start for s in self.spots)
        )

    def _joins(self, start: int, end: int) -> bool:
        """Whether nothing but words such as "when" stands in front of the place `end`."""
        return all(self.line[i].text in ("when", "while", "with", "as") for i in range(start, end))

    def _no_inches(self, spot: Spot) -> Spot:
        """In "12.3 in, 8.1 out" of a switch or relay: the "in" is its side, no inches."""
        found = spot.found
        if found.unit != "in" or found.value > 16 or not re.search(r"\sin$", found.text.lower()):
            return spot
        if not self.components():
            return spot
        bare = found._replace(unit=None, kind="bare", end=found.end - 3, text=found.text[:-3], doubtful=None)
        return replace(spot, found=bare, last=spot.last - 1)

    def _of_system(self, spot: Spot) -> bool:
        """Whether volts name the system or stand on a label: a 12 V motor, nameplate 12 VDC 30 A."""
        found = spot.found
        if found.unit != "V" or found.value not in (12, 24) or "." in found.text or found.low != found.high:
            return False
        behind = spot.last + 1
        following = next((s for s in self.spots if s.first >= behind), None)
        near = following.first - behind if following and following.clause == spot.clause else FAR
        if following and near == 0 and following.found.kind == "amp":
            return True
        if behind >= len(self.line) or self.line[behind].comma != spot.comma:
            return False
        before = [c for m in _PLAIN for c in self.cues.get(m, ()) if c.end == spot.first]
        follows = self.line[behind].text
        noun = found.text.lower().endswith("volt") and follows not in _NO_NOUN
        return (noun or follows in _OF_SYSTEM) and near > 1 and not before

    def _spot(self, q: Found) -> Spot | None:
        inside = [i for i, t in enumerate(self.line) if t.start < q.end and t.end > q.start]
        if not inside:
            return None
        return Spot(q, inside[0], inside[-1], self.line[inside[0]].clause, self.line[inside[0]].comma)

    def distance(self, spot: Spot, cue: Heard, before_only: bool = False) -> int:
        """Words between a quantity and a cue of the same sentence; a comma counts three, another number five."""
        if self.line[cue.start].clause != spot.clause:
            return FAR
        if cue.start > spot.last:
            gap, after, before = cue.start - spot.last, spot.last + 1, cue.start
            edge = self.line[cue.start].comma - spot.comma
        elif cue.end <= spot.first:
            gap, after, before = spot.first - cue.end + 1, cue.end, spot.first
            edge = spot.comma - self.line[cue.end - 1].comma - (spot.first in self.colons)
        else:
            return 0
        # Quantities stand in the order of the line, so those between two places are counted by their ends.
        numbers = bisect_left(self._firsts, before) - bisect_left(self._lasts, after) if after < before else 0
        return gap + 3 * edge + 5 * numbers

    def _nearer_next(self, spot: Spot, cue: Heard) -> bool:
        """Whether a cue behind a comma stands closer to the figure after it than to this one."""
        if self.line[cue.start].comma == spot.comma:
            return False
        for following in self.spots[bisect_left(self._firsts, cue.end) :]:
            if following.clause >= spot.clause:
                return following.clause == spot.clause and following.first - cue.end < cue.start - spot.last
        return False

    def nearest(self, spot: Spot, meanings: tuple[str, ...], after_bonus: float = 0.5) -> tuple[str, float]:
        """The closest cue of those meanings and how far it is; a cue that follows wins a tie."""
        best, least = "", float(FAR)
        for meaning in meanings:
            for cue in self.cues.get(meaning, ()):
                far = self.distance(spot, cue) - (after_bonus if cue.start > spot.last else 0.0)
                # "at the motor" right behind the number settles it; longer cues say more than short ones.
                if cue.start > spot.last and self.line[cue.start - 1].text in (
                    "at",
                    "on",
                    "in",
                    "to",
                    "across",
                    "from",
                    "into",
                ):
                    far -= 1.0
                far -= 0.1 * (cue.end - cue.start)
                if cue.start > spot.last and self._nearer_next(spot, cue):
                    far += 4.0  # "8.9, then at the motor its 8.5": the place leads the next figure
                if far < least:
                    best, least = meaning, far
        return best, least

    def between(self, spot: Spot, meanings: tuple[str, ...]) -> str:
        """Where labels stand before their numbers: the last cue between the number before and this one."""
        before = max((s.last for s in self.spots if s.last < spot.first), default=-1)
        found = [
            (c.end, c.end - c.start, m)
            for m in meanings
            for c in self.cues.get(m, ())
            if before < c.start and c.end <= spot.first and self.line[c.start].clause == spot.clause
        ]
        return max(found)[2] if found else ""

    def strictly_labelled(self, clause: int, meanings: tuple[str, ...]) -> bool:
        """Whether every number of the sentence has a label before it and none stands behind the last one."""
        spots = [s for s in self.spots if s.clause == clause]
        cues = [c for m in meanings for c in self.cues.get(m, ()) if self.line[c.start].clause == clause]
        return (
            len(spots) > 1
            and bool(cues)
            and max(c.start for c in cues) < spots[-1].first
            and all(self.between(s, meanings) for s in spots)
        )

    def components(self) -> list[tuple[int, str]]:
        """Every switch and relay named, alone or in the name of one of its sides, by the word it begins at."""
        held = [(h.start, h.end) for h in self.cues.get("state: held", ())]
        named = [
            (c.start, m)
            for m in COMPONENTS
            for c in self.cues.get(m, ())
            if not any(a <= c.start < b for a, b in held)
        ]
        for m in ("place: switch", "place: relay"):
            named += [(c.start, m) for side in (" in", " out") for c in self.cues.get(m + side, ())]
        return named

    def component(self, spot: Spot) -> str:
        """The switch or relay a number's side belongs to: the last one named before it, else the only one."""
        named = self.components()
        before = [n for n in named if n[0] <= spot.first]
        if before:
            return max(before)[1]
        return named[0][1] if len({m for _, m in named}) == 1 else ""

    def says(self, meaning: str, clause: int | None = None) -> bool:
        """Whether a cue stands anywhere (in that sentence)."""
        return any(clause is None or self.line[c.start].clause == clause for c in self.cues.get(meaning, ()))

    def labels_come_first(self, clause: int, meanings: tuple[str, ...]) -> bool:
        """Whether the sentence names places before their numbers ("batt 12.4 motor 11.2")."""
        spots = [s for s in self.spots if s.clause == clause]
        cues = [c for m in meanings for c in self.cues.get(m, ()) if self.line[c.start].clause == clause]
        if not spots or not cues:
            return False
        return min(c.start for c in cues) < spots[0].first and max(c.end for c in cues) <= spots[-1].first + 1
