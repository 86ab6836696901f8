"""Two readings of one place, one for each way the legs go: the way that fails is the one that says something.

"The board gives 12.2 on retract and 0.6 on extend" measures one place twice. The lower of the two is the way in trouble,
and it is the one a fault is told by; the other stays as words.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.corpus.patterns import Token
from bot.talk.spots import Spot

_WAYS = {
    "down": ("down", "extend", "extends", "extending", "extension", "lower", "lowering", "lowers"),
    "up": ("up", "retract", "retracts", "retracting", "retraction", "raise", "raising", "raises", "lift", "lifting"),
}  # fmt: skip
_MOST = 12  # numbers of a line: who types more gives a table, not two ways of one place
_NEAR = 7  # words behind a number that may name its way; the words in front belong to the number before


def way_of(line: Sequence[Token], spot: Spot, spots: Sequence[Spot]) -> str:
    """The way of the legs named with a number, the first behind it or else in front: "up", "down", or "" for none."""
    after = min((s.first for s in spots if s.first > spot.last), default=len(line))
    before = max((s.last + 1 for s in spots if s.last < spot.first), default=0)
    behind = _named(line[spot.last + 1 : min(after, spot.last + 1 + _NEAR)])
    return behind or _named(
        [t for t in line[max(before, spot.first - _NEAR) : spot.first] if t.comma == spot.comma]
    )


def _named(words: Sequence[Token]) -> str:
    return next((way for t in words for way, names in _WAYS.items() if t.text in names), "")


_NONE = frozenset(("zero", "nothing", "none", "nada", "zip", "zilch", "dead"))


def dead_other_way(line: Sequence[Token], spot: Spot, spots: Sequence[Spot]) -> bool:
    """Whether the line says that the place of this number shows nothing for the other way of the legs."""
    way = way_of(line, spot, spots)
    if not way:
        return False
    other = _WAYS["up" if way == "down" else "down"]
    nothing = (
        i
        for i, token in enumerate(line)
        if token.text in _NONE and token.clause == spot.clause and not spot.first <= i <= spot.last
    )
    return any(t.text in other for i in nothing for t in line[max(0, i - 4) : i + 5])


def opposite(line: Sequence[Token], one: Spot, other: Spot, spots: Sequence[Spot]) -> bool:
    """Whether two numbers are told for the two ways of the legs."""
    return len(spots) <= _MOST and {way_of(line, one, spots), way_of(line, other, spots)} == {"up", "down"}
