"""Which length a quantity of a line is: of the wire, of the tubes, the stroke, or the difference of the legs."""

from __future__ import annotations

from bot.talk.spots import Cues, Spot

_LEAST = {
    "outer_tube_in": 1.25,
    "inner_tube_in": 1.25,
    "stroke_in": 4.0,
}  # in; "an inch" is no tube of these legs

_TRAILER = frozenset(("trailer", "rig", "camper", "fiver", "coach", "fifth", "truck", "site", "pad"))
_WIRE = frozenset(
    ("wire", "wires", "cable", "cables", "harness", "run", "runs", "lead", "leads", "wiring", "awg")
)


def _of_trailer(words: Cues, spot: Spot) -> bool:
    """Whether feet are told of the trailer, with no word of wire between: "trailer is 36 ft long"."""
    before = [t.text for t in words.line[max(0, spot.first - 4) : spot.first] if t.comma == spot.comma]
    return bool(_TRAILER & set(before)) and not _WIRE & set(before)


def length_near(words: Cues, spot: Spot) -> bool:
    """Whether a length of the legs is told within six words of a number."""
    roles = ("place: stroke", "place: outer tube", "place: inner tube", "place: difference", "place: play")
    return words.nearest(spot, roles)[1] <= 6


_JAWS = frozenset(("jaw", "jaws", "bar", "latch", "kingpin", "plate"))


def length_finding(words: Cues, spot: Spot, take: object) -> None:
    """Feet are wire (or trailer, which is left out); inches are tubes, stroke, or the difference of the legs."""
    assert callable(take)
    unit = spot.found.unit
    if unit in ("ft", "m", "yd"):
        wire, far = words.nearest(spot, ("place: wire length", "place: gauge", "place: round trip"))
        ignored, far_ignored = words.nearest(spot, ("place: ignored amount",))
        if ignored and far_ignored <= 1:
            return
        if _of_trailer(words, spot):
            return
        gauge_there = any(s.found.kind in ("gauge", "area") and s.clause == spot.clause for s in words.spots)
        if gauge_there or (wire and far <= (9 if words.says("place: gauge", spot.clause) else 6)):
            round_trip = words.says("place: round trip", spot.clause)
            take("wire_length_ft", spot, 0.5 if round_trip else 1.0)
        return
    roles = ("place: outer tube", "place: inner tube", "place: stroke", "place: difference", "place: play")
    role, far = words.nearest(spot, roles, -2.0 if words.labels_come_first(spot.clause, roles) else 0.5)
    finding = {
        "place: outer tube": "outer_tube_in",
        "place: inner tube": "inner_tube_in",
        "place: stroke": "stroke_in",
        "place: difference": "leg_length_difference_in",
    }.get(role)
    alone = sum(1 for s in words.spots if s.clause == spot.clause) == 1
    if role == "place: difference" and _JAWS & {
        t.text for t in words.line[max(0, spot.first - 5) : spot.last + 5]
    }:
        return  # a locking bar that stands out of the jaws is no leg
    if finding and (far <= 7 or alone) and spot.found.high >= _LEAST.get(finding, 0.0):
        take(finding, spot)
