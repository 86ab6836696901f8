"""Which weight a quantity of a line is: of the whole trailer, of the pin, of cargo, or of something else."""

from __future__ import annotations

from bot.corpus.patterns import Token
from bot.talk.spots import Cues, Spot

STANDS = frozenset(("stand", "stands", "jackstand", "jackstands", "jack_stand", "jack_stands"))
_AHEAD = (
    "up front",
    "in the front",
    "in front",
    "in the nose",
    "of tools",
    "of cargo",
    "more in",
    "more up",
    "more at",
    "extra",
    "in the basement",
)


def cargo(line: tuple[Token, ...], last: int) -> bool:
    """Whether the words right behind a weight say that it was put in: "600 lb of tools", "1.2 tonnes up front"."""
    behind = " ".join(t.text for t in line[last + 1 : last + 5])
    return any(behind.startswith(words) for words in _AHEAD)


_OF_WHOLE = frozenset(("gross", "total", "gvwr", "trailer", "rig", "camper", "loaded", "everything", "whole"))
WEIGHED = _OF_WHOLE | {"gvw", "weighs", "weighed", "weight", "fifthwheel"}


_OTHER_WEIGHTS = frozenset(
    ("dry", "uvw", "payload", "cargo", "axle", "axles", "tire", "tires", "tyres", "towing")
)
_OWN_WEIGHTS = frozenset(
    ("gross", "gvwr", "gvw", "total", "pin", "kingpin", "hitch", "scale", "scaled", "weighs")
)


def other_weight(words: Cues, spot: Spot) -> bool:
    """Whether a weight is the dry one, or what an axle, a tyre or a truck may carry."""
    around = [
        t.text
        for t in words.line[max(0, spot.first - 4) : spot.last + 4]
        if t.clause == spot.clause and t.comma == spot.comma
    ]
    return bool(_OTHER_WEIGHTS & set(around)) and not _OWN_WEIGHTS & set(around)


_AGAIN = frozenset(
    ("so", "that", "thats", "meaning", "which", "or", "call", "about", "roughly", "ie", "equals", "is")
)
_LB = {"ton": (2000.0, 2240.0, 2204.6), "lb": (1.0,), "kg": (2.2046,), "t": (2204.6,), "stone": (14.0,)}  # lb


def said_before(words: Cues, spot: Spot) -> Spot | None:
    """The weight just before this one that says the same in another unit, where the words between say "so"."""
    earlier = [s for s in words.spots if s.first < spot.first and s.clause == spot.clause]
    if not earlier or earlier[-1].found.kind != "weight" or earlier[-1].found.unit == spot.found.unit:
        return None
    one = earlier[-1]
    between = words.line[one.last + 1 : spot.first]
    if len(between) > 4 or not _AGAIN & {t.text for t in between}:
        return None
    for a in _LB.get(one.found.unit or "", ()):
        for b in _LB.get(spot.found.unit or "", ()):
            if abs(one.found.value * a - spot.found.value * b) <= 0.06 * spot.found.value * b:
                return one
    return None


def of_pin(words: Cues, spot: Spot) -> bool:
    """Whether a weight was told of the pin: "the pin came off the scale at 3,900"."""
    alone = sum(s.found.kind in ("weight", "force", "bare") for s in words.spots) == 1
    for cue in words.cues.get("place: pin weight", ()):
        # "got it on a pin scale once, 1,900 pounds": a comma parts them only where other numbers stand in the line
        if (words.line[cue.start].comma != spot.comma and not alone) or cue.end > spot.first:
            continue
        between = words.line[cue.start : spot.first]
        if not _OF_WHOLE & {t.text for t in between} and not any(
            cue.end <= s.first < spot.first for s in words.spots if s is not spot
        ):
            return True
    return False
