"""Which finding each quantity of a line is: by its kind, the place and state named near it, and what was asked."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping

from bot.corpus.lexicon import Heard
from bot.corpus.patterns import Token
from bot.frozen import dataclass, replace
from bot.units import Found, convert

_VOLT_PLACES = (
    "battery",
    "motor",
    "switch in",
    "switch out",
    "relay in",
    "relay out",
    "ground side",
    "lug",
    "breaker",
)
_FAR = 99
_SIDES = ("place: side in", "place: side out")
_COMPONENTS = ("place: switch", "place: relay")
# A place named by more words than another one inside it is the one meant: "case of motor to battery minus".
_WHOLE = frozenset("place: " + p for p in ("ground side", "switch in", "switch out", "relay in", "relay out"))
# Words by which a person takes a number back: "seven, no wait, exactly 7.2".
_TAKEN_BACK = frozenset(
    ("wait", "actually", "sorry", "correction", "scratch", "mean", "exactly", "oops", "rather")
)
_LEAST = {
    "outer_tube_in": 1.25,
    "inner_tube_in": 1.25,
    "stroke_in": 4.0,
}  # in; "an inch" is no tube of these legs
_JOINING = ("while", "when", "with", "if")  # a cue behind one of these still speaks of the number before it


@dataclass(frozen=True)
class Taken:
    """One reading understood: the finding, its value and range in the finding's unit, and the words it came from."""

    finding: str
    value: float
    low: float
    high: float
    words: str
    doubt: str = ""
    assumed: bool = False  # nothing in the line said at rest or button held


def _inside(inner: Heard, outer: Heard) -> bool:
    """Whether a cue lies within a longer one."""
    return (
        outer.start <= inner.start
        and inner.end <= outer.end
        and outer.end - outer.start > inner.end - inner.start
    )


@dataclass(frozen=True)
class _Spot:
    """A quantity with its place among the words of the line."""

    found: Found
    first: int
    last: int
    clause: int
    comma: int


class _Line:
    """The words of a line, the quantities in it and the cues round them."""

    def __init__(self, line: tuple[Token, ...], quantities: tuple[Found, ...], heard: list[Heard]) -> None:
        self.line = line
        self.spots = [s for q in quantities if (s := self._spot(q))]
        self._firsts, self._lasts = [s.first for s in self.spots], [s.last for s in self.spots]
        self.cues: dict[str, list[Heard]] = {}
        self.volt_sentences: set[int] = set()
        cues = [
            h for h in heard if h.kind in ("place", "state")
        ]  # "nothing at the motor" still names the place
        rests = [h for h in cues if h.meaning == "state: resting"]
        wholes = [h for h in cues if h.meaning in _WHOLE]
        for h in cues:
            # "before i press anything" holds the words of the other state; the longer cue is the one meant.
            if h.meaning == "state: held" and any(_inside(h, r) for r in rests):
                continue
            if h.kind == "place" and any(_inside(h, w) and h.meaning != w.meaning for w in wholes):
                continue
            self.cues.setdefault(h.meaning, []).append(h)

    def _spot(self, q: Found) -> _Spot | None:
        inside = [i for i, t in enumerate(self.line) if t.start < q.end and t.end > q.start]
        if not inside:
            return None
        return _Spot(q, inside[0], inside[-1], self.line[inside[0]].clause, self.line[inside[0]].comma)

    def distance(self, spot: _Spot, cue: Heard, before_only: bool = False) -> int:
        """Words between a quantity and a cue of the same sentence; a comma counts three, another number five."""
        if self.line[cue.start].clause != spot.clause:
            return _FAR
        if cue.start > spot.last:
            gap, after, before = cue.start - spot.last, spot.last + 1, cue.start
            edge = self.line[cue.start].comma - spot.comma
        elif cue.end <= spot.first:
            gap, after, before = spot.first - cue.end + 1, cue.end, spot.first
            edge = spot.comma - self.line[cue.end - 1].comma
        else:
            return 0
        # Quantities stand in the order of the line, so those between two places are counted by their ends.
        numbers = bisect_left(self._firsts, before) - bisect_left(self._lasts, after) if after < before else 0
        return gap + 3 * edge + 5 * numbers

    def _nearer_next(self, spot: _Spot, cue: Heard) -> bool:
        """Whether a cue behind a comma stands closer to the figure after it than to this one."""
        if self.line[cue.start].comma == spot.comma:
            return False
        for following in self.spots[bisect_left(self._firsts, cue.end) :]:
            if following.clause >= spot.clause:
                return following.clause == spot.clause and following.first - cue.end < cue.start - spot.last
        return False

    def nearest(self, spot: _Spot, meanings: tuple[str, ...], after_bonus: float = 0.5) -> tuple[str, float]:
        """The closest cue of those meanings and how far it is; a cue that follows wins a tie."""
        best, least = "", float(_FAR)
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

    def between(self, spot: _Spot, meanings: tuple[str, ...]) -> str:
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

    def component(self, spot: _Spot) -> str:
        """The switch or relay a number's side belongs to: the last one named before it, else the only one."""
        named = [(c.start, m) for m in _COMPONENTS for c in self.cues.get(m, ())]
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


Cues = _Line  # the inputs of an asked sum are told apart by the same distances


def _voltage(line: _Line, spot: _Spot, carried: str) -> tuple[str, str]:
    """(place, state) of a voltage; `carried` is the place of the voltage before it in the same sentence."""
    meanings = tuple("place: " + p for p in _VOLT_PLACES)
    bonus = -2.0 if line.labels_come_first(spot.clause, meanings) else 0.5
    place, far = line.nearest(spot, meanings, bonus)
    state = _state(line, spot)
    if line.strictly_labelled(spot.clause, meanings):
        place, far = line.between(spot, meanings), 0.0
    if far > 9:
        named = [m for m in meanings if line.says(m, spot.clause)]
        alone = (
            sum(1 for s in line.spots if s.clause == spot.clause and s.found.kind in ("volt", "bare")) == 1
        )
        place = carried or (named[0] if len(named) == 1 and (alone or not state) else "")
    if state == "state: resting" and place == "place: motor":
        place = ""  # a motor has volts only while the button is held; what rests is the battery
    place = place.removeprefix("place: ")
    side, far_side = line.nearest(spot, _SIDES, bonus)
    component = line.component(spot).removeprefix("place: ")
    if side and component and far_side <= 4 and far_side <= far + 1:
        place = component + side.removeprefix("place: side")
    out, far_out = line.nearest(spot, ("place: out of it",))
    if out and far_out <= 2 and carried in ("place: switch in", "place: relay in"):
        place = carried.removeprefix("place: ").replace(" in", " out")
    return place, state.removeprefix("state: ")


def _state(line: _Line, spot: _Spot) -> str:
    """The state cue of a voltage or nothing: the cue right behind it, else the last one before it."""
    charging = [c for c in line.cues.get("state: charging", ()) if 0 <= line.distance(spot, c) <= 3]
    if charging and spot.found.value > 12.9:
        return "state: charging"
    meanings = ("state: held", "state: resting")
    others = [
        s
        for s in line.spots
        if s is not spot and s.clause == spot.clause and s.found.kind in ("volt", "bare")
    ]
    following = min((s.first for s in others if s.first > spot.last), default=_FAR)
    behind = [
        (c.start, m)
        for m in meanings
        for c in line.cues.get(m, ())
        if spot.last < c.start < following
        and line.line[c.start].clause == spot.clause
        and (
            line.line[c.start].comma == spot.comma
            or (
                c.start - spot.last <= 5
                and any(t.text in _JOINING for t in line.line[c.start - 1 : c.start + 1])
            )
        )
    ]
    before = [
        (c.start, m)
        for m in meanings
        for c in line.cues.get(m, ())
        if line.line[c.start].clause == spot.clause and c.end <= spot.first
    ]
    if before and following < _FAR and max(before)[1] == "state: held":
        # "drops from 12.5 to 9.7": the figure after "from" is the one before the drop.
        after_cue = [t.text for t in line.line[max(before)[0] : spot.first]]
        if "from" in after_cue:
            return "state: resting"
    if behind:
        return min(behind)[1]
    if before:
        return max(before)[1]
    if any(
        line.line[c.start].clause == spot.clause - 1
        and line.line[c.start - 1].text in ("until", "til", "till", "once")
        for c in line.cues.get("state: held", ())
        if c.start
    ):
        return "state: held"  # "good until it runs. Then 12.1 at the battery"
    anywhere = [m for m in meanings if line.says(m, spot.clause)]
    together = following < _FAR and any(t.text == "and" for t in line.line[spot.last + 1 : following])
    if together and anywhere == ["state: held"]:
        return "state: held"  # "12.3 at the battery and 7 at the motor with the button held"
    return "state: held" if anywhere == ["state: held"] and not others else ""


def _volt_finding(place: str, state: str, other_volts: bool) -> str:
    if place == "battery":
        return "volts_battery_loaded" if state == "held" else "volts_battery_resting"
    if place == "motor":
        return "volts_motor_loaded"
    if place in ("switch in", "switch out", "relay in", "relay out"):
        return "volts_" + place.replace(" ", "_")
    if place == "ground side":
        return "volts_ground_drop"
    if not place and state == "resting":
        return "volts_battery_resting"
    # Volts without a place are taken at the battery and read back so; the person corrects it in a word.
    if not place and state and not other_volts:
        return "volts_battery_loaded"
    return ""


_BARE_UNITS = {"volt": "V", "amp": "A", "gauge": "AWG", "length": "ft", "weight": "lb"}


def _in_unit(found: Found, unit: str) -> tuple[float, float, float] | None:
    if found.unit is None or found.unit == unit:
        return found.value, found.low, found.high
    try:
        return tuple(convert(v, found.unit, unit) for v in (found.value, found.low, found.high))  # type: ignore[return-value]
    except Exception:  # a unit of another kind: the caller asks back
        return None


def assign(
    line: tuple[Token, ...],
    quantities: tuple[Found, ...],
    heard: list[Heard],
    units: Mapping[str, str],
) -> list[Taken]:
    """The readings of a line as findings. `units` gives the unit of each finding; what fits none is left out."""
    words = _Line(line, quantities, heard)
    taken: list[Taken] = []
    spoilt: set[str] = set()
    carried: dict[int, str] = {}
    volts = [s for s in words.spots if s.found.kind == "volt"]
    at: dict[str, _Spot] = {}

    def take(finding: str, spot: _Spot, factor: float = 1.0, assumed: bool = False) -> None:
        value = _in_unit(spot.found, units[finding])
        if value is None:
            return
        earlier = next((t for t in taken if t.finding == finding), None)
        if earlier is not None:
            if _TAKEN_BACK & {t.text for t in line[at[finding].last + 1 : spot.first]}:
                taken.remove(earlier)
            elif abs(earlier.value - value[0] * factor) > 0.1 * max(1.0, abs(earlier.value)):
                # Two readings of one thing that differ: which one holds is asked, not guessed.
                taken.remove(earlier)
                spoilt.add(finding)
                return
            else:
                return
        if finding in spoilt:
            return
        at[finding] = spot
        v, low, high = (x * factor for x in value)
        taken.append(Taken(finding, v, low, high, spot.found.text, spot.found.doubtful or "", assumed))

    gauges = [s for s in words.spots if s.found.kind == "gauge"]
    feet = [
        s for s in words.spots if s.found.unit in ("ft", "m") and any(g.clause == s.clause for g in gauges)
    ]
    several_wires = len(gauges) > 1 or (bool(gauges) and len(feet) > 1)
    for spot in words.spots:
        found = spot.found
        kind = found.kind
        if kind == "bare":
            kind = _bare_kind(words, spot)
        if kind == "volt":
            if found.unit is None and not 0 <= found.value <= 16:
                continue
            place, state = _voltage(words, spot, carried.get(spot.clause, ""))
            carried[spot.clause] = "place: " + place if place else ""
            words.volt_sentences.add(spot.clause)
            finding = _volt_finding(place, state, len(volts) > 1)
            if not place and state == "held" and any(t.finding == "volts_battery_resting" for t in taken):
                finding = (
                    "volts_battery_loaded"  # "12.6 rest, 12.1 button held": the same place, the other state
                )
            if finding and state != "charging":
                back = _TAKEN_BACK & {t.text for t in line[max(0, spot.first - 4) : spot.first]}
                if (
                    any(t.finding == finding for t in taken)
                    and finding == "volts_battery_resting"
                    and not (state or back)
                ):
                    finding = "volts_battery_loaded"
                take(finding, spot, assumed=not state)
        elif kind == "amp":
            role, far = words.nearest(spot, ("place: fuse", "place: motor tag"))
            new, far_new = words.nearest(spot, ("place: fuse new",))
            if new and far_new <= 3 and any(t.finding == "fuse_rating_a" for t in taken):
                continue
            if role == "place: fuse" and far <= 3:
                take("fuse_rating_a", spot)
            elif role == "place: motor tag" and far <= 4:
                take("motor_rating_a", spot)
            else:
                take("amps", spot)
        elif kind == "gauge" or (kind == "area" and found.unit == "mm2"):
            if not several_wires:
                take("wire_gauge_awg", spot)
        elif kind in ("weight", "force"):
            pin, far_pin = words.nearest(spot, ("place: pin weight",))
            gross, far_gross = words.nearest(spot, ("place: scaled", "place: gvwr", "place: gross"))
            if "stand_rating_lb" in units and _STANDS & {t.text for t in line}:
                take("stand_rating_lb", spot)
            elif (pin and far_pin <= 4 and far_pin <= far_gross + 1) or _of_pin(words, spot):
                take("pin_weight_lb", spot)
            elif gross == "place: scaled":
                taken = [t for t in taken if t.finding != "gross_weight_lb"]
                take("gross_weight_lb", spot)
            elif not (pin and far_pin < far_gross):
                take("gross_weight_lb", spot, assumed=not _WEIGHED & {t.text for t in line})
            else:
                take("pin_weight_lb", spot)
        elif kind in ("length", "inch") and not (several_wires and found.unit in ("ft", "m")):
            _length(words, spot, take)
    return _under_load(taken, words)


_STANDS = frozenset(("stand", "stands", "jackstand", "jackstands", "jack_stand", "jack_stands"))
_OF_WHOLE = frozenset(("gross", "total", "gvwr", "trailer", "rig", "camper", "loaded", "everything", "whole"))
_WEIGHED = _OF_WHOLE | {"gvw", "weighs", "weighed", "weight", "fifthwheel"}


def _of_pin(words: _Line, spot: _Spot) -> bool:
    """Whether a weight was told of the pin: "the pin came off the scale at 3,900"."""
    for cue in words.cues.get("place: pin weight", ()):
        if words.line[cue.start].comma != spot.comma or cue.end > spot.first:
            continue
        between = words.line[cue.start : spot.first]
        if not _OF_WHOLE & {t.text for t in between} and not any(
            cue.end <= s.first < spot.first for s in words.spots if s is not spot
        ):
            return True
    return False


def _under_load(taken: list[Taken], words: _Line) -> list[Taken]:
    """Battery volts told beside motor volts, with no word of rest or of a button, were read while the motor ran."""
    names = {t.finding for t in taken}
    at_motor = next((t.value for t in taken if t.finding == "volts_motor_loaded"), 0.0)
    if (
        at_motor < 2.0  # a dead motor says nothing of when the battery was read
        or "volts_battery_loaded" in names
        or words.says("state: resting")
        or words.says("state: held")
    ):
        return taken
    return [
        replace(t, finding="volts_battery_loaded")
        if t.finding == "volts_battery_resting" and t.assumed
        else t
        for t in taken
    ]


def _bare_kind(words: _Line, spot: _Spot) -> str:
    """What a number without a unit is, from the cues beside it."""
    value = spot.found.value
    place, far = words.nearest(spot, tuple("place: " + p for p in _VOLT_PLACES))
    weight, far_weight = words.nearest(
        spot, ("place: scaled", "place: gvwr", "place: pin weight", "place: gross")
    )
    length, far_length = words.nearest(
        spot, ("place: stroke", "place: outer tube", "place: inner tube", "place: difference")
    )
    if weight and value >= 1000 and far_weight <= 4:
        return "weight"
    ignored, far_ignored = words.nearest(spot, ("place: ignored amount",))
    if ignored and far_ignored <= 1:
        return ""
    before = words.line[spot.first - 1].text if spot.first else ""
    if before in ("gauge", "calibre", "calibro", "awg", "ga") and value in (2, 4, 6, 8, 10, 12, 14, 16, 18):
        return "gauge"
    if before in ("draws", "draw", "drawing", "pulls", "pulling") and 17 <= value <= 200:
        return "amp"  # more than any 12 V battery shows, so no voltage
    if length and far_length <= 3 and far_length < far:
        return "inch"
    fuse, far_fuse = words.nearest(spot, ("place: fuse",))
    if fuse and far_fuse <= 2 and 5 <= value <= 100 and value == int(value):
        return "amp"
    if 0 <= value <= 16 and place and far <= 5:
        return "volt"
    side, far_side = words.nearest(spot, _SIDES)
    if 0 <= value <= 16 and value != int(value) and side and far_side <= 4:
        return "volt"
    if (
        0 <= value <= 16
        and value != int(value)
        and words.nearest(spot, ("state: held", "state: resting"))[1] <= 4
    ):
        return "volt"
    volts_there = any(s.found.kind == "volt" and s.clause == spot.clause for s in words.spots) or (
        spot.clause in words.volt_sentences and value != int(value)
    )
    if 0 <= value <= 16 and volts_there and (words.says("state: held", spot.clause) or place):
        return "volt"
    return ""


def _length(words: _Line, spot: _Spot, take: object) -> None:
    """Feet are wire (or trailer, which is left out); inches are tubes, stroke, or the difference of the legs."""
    assert callable(take)
    unit = spot.found.unit
    if unit in ("ft", "m", "yd"):
        wire, far = words.nearest(spot, ("place: wire length", "place: gauge", "place: round trip"))
        ignored, far_ignored = words.nearest(spot, ("place: ignored amount",))
        if ignored and far_ignored <= 1:
            return
        gauge_there = any(s.found.kind in ("gauge", "area") and s.clause == spot.clause for s in words.spots)
        if gauge_there or (wire and far <= 6):
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
    if finding and (far <= 7 or alone) and spot.found.high >= _LEAST.get(finding, 0.0):
        take(finding, spot)
