"""Which finding each quantity of a line is: by its kind, the place and state named near it, and what was asked."""

from __future__ import annotations

import re
from collections.abc import Mapping

from bot.corpus.lexicon import Heard
from bot.corpus.patterns import Token
from bot.frozen import dataclass, replace
from bot.talk.amps import amp_finding, clamped
from bot.talk.lengths import length_finding, length_near
from bot.talk.spots import Cues, Spot
from bot.talk.volts import SIDES, VOLT_PLACES, Placed, could_be_volts, placed, volt_finding, voltage
from bot.talk.ways import dead_other_way, opposite
from bot.talk.weights import STANDS, WEIGHED, cargo, of_pin, other_weight, said_before
from bot.units import Found, convert

# Words by which a person takes a number back: "seven, no wait, exactly 7.2".
_TAKEN_BACK = frozenset(
    ("wait", "actually", "sorry", "correction", "scratch", "mean", "exactly", "oops", "rather", "call")
)


_DECIMAL_COMMA = re.compile(r"\d{1,2},\d{1,2}")


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
    other_way: float | None = (
        None  # what the same place showed for the other way of the legs, where that was more
    )


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
    text: str = "",
) -> list[Taken]:
    """The readings of a line as findings. `units` gives the unit of each finding; what fits none is left out."""
    words = Cues(line, quantities, heard, text)
    settled = placed(words)
    taken: list[Taken] = []
    spoilt: set[str] = set()
    carried: dict[int, str] = {}
    volts = [s for s in words.spots if s.found.kind == "volt"]
    at: dict[str, Spot] = {}

    amps = [s for s in words.spots if s.found.kind == "amp"]

    def take(finding: str, spot: Spot, factor: float = 1.0, assumed: bool = False) -> None:
        value = _in_unit(spot.found, units[finding])
        if value is None:
            return
        ways: list[float] = []
        earlier = next((t for t in taken if t.finding == finding), None)
        if earlier is not None:
            if _takes_back(line, at[finding].last + 1, spot.first) or _newer(line, at[finding], spot):
                taken.remove(earlier)
            elif opposite(line, at[finding], spot, words.spots):
                ways = sorted((earlier.value, value[0] * factor))
                taken.remove(earlier)  # the way that fails tells of the fault
                if earlier.value == ways[0]:
                    taken.append(replace(earlier, other_way=ways[1]))
                    return
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
        higher = ways[1] if ways else None
        v, low, high = (x * factor for x in value)
        doubt = spot.found.doubtful or ""
        if units[finding] in ("V", "A") and _DECIMAL_COMMA.fullmatch(spot.found.text):
            doubt = ""  # "battery 12,3": nobody means thousands of these
        taken.append(Taken(finding, v, low, high, spot.found.text, doubt, assumed, higher))

    gauges = [s for s in words.spots if s.found.kind == "gauge"]
    feet = [
        s for s in words.spots if s.found.unit in ("ft", "m") and any(g.clause == s.clause for g in gauges)
    ]
    several_wires = len(gauges) > 1 or (bool(gauges) and len(feet) > 1)
    for spot in words.spots:
        found = spot.found
        kind = found.kind
        if kind == "bare":
            kind = "volt" if _one_of_two_ways(words, spot) else _bare_kind(words, spot, settled)
            own, _ = voltage(words, spot, "", settled) if kind == "volt" else ("", "")
            if kind == "volt" and (twin := _other_way(words, spot, at, own)):
                take(twin, spot)
                continue
        if kind == "volt":
            if found.unit is None and not 0 <= found.value <= 16:
                continue
            place, state = voltage(words, spot, carried.get(spot.clause, ""), settled)
            carried[spot.clause] = "place: " + place if place else ""
            words.volt_sentences.add(spot.clause)
            finding = volt_finding(place, state, len(volts) > 1)
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
                if spot.first in settled.twice:
                    take(volt_finding(settled.twice[spot.first], state, True), spot, assumed=not state)
        elif kind == "amp":
            new, far_new = words.nearest(spot, ("place: fuse new",))
            if new and far_new <= 3 and any(t.finding == "fuse_rating_a" for t in taken):
                continue
            take(amp_finding(words, spot, amps), spot)
        elif kind == "gauge" or (kind == "area" and found.unit == "mm2"):
            if not several_wires:
                take("wire_gauge_awg", spot)
        elif kind in ("weight", "force"):
            told = said_before(words, spot) or spot  # "a ton and a half, so 3000 pounds": named at the first
            pin, far_pin = words.nearest(told, ("place: pin weight",))
            gross, far_gross = words.nearest(told, ("place: scaled", "place: gvwr", "place: gross"))
            if any(
                c.start <= told.last and told.first < c.end for c in words.cues.get("place: leg rating", ())
            ):
                continue  # what the legs may carry is no weight of the trailer
            if other_weight(words, told):
                continue
            if "stand_rating_lb" in units and STANDS & {t.text for t in line}:
                take("stand_rating_lb", spot)
            elif (pin and far_pin <= 4 and far_pin <= far_gross + 1) or of_pin(words, told):
                take("pin_weight_lb", spot)
            elif gross != "place: gvwr" and cargo(line, spot.last):
                continue  # what was put in front is no weight of the trailer
            elif (
                "pin_weight_lb" in at and gross == "place: scaled" and _newer(line, at["pin_weight_lb"], told)
            ):
                take("pin_weight_lb", spot)
            elif gross == "place: scaled":
                taken = [t for t in taken if t.finding != "gross_weight_lb"]
                take("gross_weight_lb", spot)
            elif not (pin and far_pin < far_gross):
                take("gross_weight_lb", spot, assumed=not WEIGHED & {t.text for t in line})
            else:
                take("pin_weight_lb", spot)
        elif kind in ("length", "inch") and not (several_wires and found.unit in ("ft", "m")):
            length_finding(words, spot, take)
    for word, place in settled.zeros.items():
        finding = volt_finding(place, "", True)
        if not any(t.finding == finding for t in taken):
            taken.append(Taken(finding, 0.0, 0.0, 0.0, line[word].text))
    return _under_load(_dead_one_way(taken, words, at), words)


_NOW = frozenset(("now", "today", "currently", "presently"))
_THEN = frozenset(("yesterday", "before", "last", "earlier", "used", "was", "were", "ago"))
_WEIGHED_THERE = frozenset(
    ("scale", "scales", "scaled", "weighed", "measured", "actual", "actually", "really")
)
_PRINTED = frozenset(("sticker", "brochure", "label", "plate", "book", "manual", "spec", "specs", "dry", "rated", "empty", "website"))  # fmt: skip


def _newer(line: tuple[Token, ...], one: Spot, other: Spot) -> bool:
    """Whether the second of two numbers for one thing is how it is now, or was measured where the first is printed."""
    before = {t.text for t in line[max(0, one.first - 6) : other.first]}
    after = {t.text for t in line[one.last + 1 : other.last + 4]}
    return bool(_NOW & after and _THEN & before) or bool(_WEIGHED_THERE & after and _PRINTED & before)


def _other_way(words: Cues, spot: Spot, at: Mapping[str, Spot], own: str) -> str:
    """The voltage taken for one way of the legs whose place a bare number tells for the other way; "" where none.

    `own` is the place named beside the number itself, "" for none.
    """
    if not could_be_volts(spot):
        return ""
    if own:
        at = {f: s for f, s in at.items() if f == volt_finding(own, "held", True)}
    told = (f for f, s in at.items() if f.startswith("volts_") and opposite(words.line, s, spot, words.spots))
    return next(told, "")


_RELAYS = frozenset(("relay", "controller", "board", "module", "solenoid", "contactor"))


def _dead_one_way(taken: list[Taken], words: Cues, at: Mapping[str, Spot]) -> list[Taken]:
    """The readings, with 0 V where the line says that a place shows nothing for the other way of the legs.

    What changes with the way lies behind a switch or relay: of a relay it is the output, whatever post was named.
    """
    found = []
    for t in taken:
        spot = at.get(t.finding)
        if (
            spot is not None
            and t.finding.startswith("volts_")
            and t.other_way is None
            and t.value > 1
            and dead_other_way(words.line, spot, words.spots)
        ):
            relay = any(w.text in _RELAYS for w in words.line if w.clause == spot.clause)
            if relay or not t.finding.startswith("volts_battery"):
                finding = t.finding
                if relay and not any(o.finding == "volts_relay_out" for o in taken):
                    finding = "volts_relay_out"
                t = replace(t, finding=finding, value=0.0, low=0.0, high=0.0, other_way=t.value)
        found.append(t)
    return found


def _one_of_two_ways(words: Cues, spot: Spot) -> bool:
    """Whether a bare number and another one are what one place of the wiring shows for the two ways of the legs."""
    return (
        could_be_volts(spot)
        and any(
            could_be_volts(other) and opposite(words.line, spot, other, words.spots)
            for other in words.spots
            if other is not spot
        )
        and any(words.says("place: " + place) for place in VOLT_PLACES)
    )


def _takes_back(line: tuple[Token, ...], start: int, end: int) -> bool:
    """Whether the words between two numbers take the first one back; a "no" does where commas stand round it."""
    between = line[start:end]
    return bool(_TAKEN_BACK & {t.text for t in between}) or any(
        t.text == "no" and 0 < i < len(line) - 1 and line[i - 1].comma < t.comma < line[i + 1].comma
        for i, t in enumerate(between, start=start)
    )


def _under_load(taken: list[Taken], words: Cues) -> list[Taken]:
    """Battery volts told beside motor volts were read while the motor ran, unless something says otherwise.

    Nothing does where no word of rest or of a button stands in the line, or where the button stands apart from all
    numbers ("11.2 at the battery, 7.5 at the motor, button down").
    """
    names = {t.finding for t in taken}
    at_motor = next((t.value for t in taken if t.finding == "volts_motor_loaded"), 0.0)
    if (
        at_motor < 2.0  # a dead motor says nothing of when the battery was read
        or "volts_battery_loaded" in names
        or words.says("state: resting")
        or (words.says("state: held") and not _held_apart(words))
    ):
        return taken
    return [
        replace(t, finding="volts_battery_loaded")
        if t.finding == "volts_battery_resting" and t.assumed
        else t
        for t in taken
    ]


def _held_apart(words: Cues) -> bool:
    """Whether every word of the held button stands behind all voltages, between commas of its own."""
    volts = [s for s in words.spots if could_be_volts(s)]
    cues = words.cues.get("state: held", ())
    return bool(volts) and all(
        c.start > volts[-1].last and words.line[c.start].comma > volts[-1].comma for c in cues
    )


_DRAWS = ("draws", "draw", "drawing", "pulls", "pulling")
_AMPS = frozenset(("amps", "amp", "ammeter", "amperage"))
_GAUGE = frozenset(("awg", "gauge", "guage", "ga"))
_SAID = frozenset(("says", "said", "is", "reads", "marked", "stamped", "shows"))
_SOLD = (5, 7.5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 100)  # A, fuses and breakers as sold


def _bare_kind(words: Cues, spot: Spot, settled: Placed) -> str:
    """What a number without a unit is, from the cues beside it."""
    value = spot.found.value
    if (spot.first in settled.places or spot.first in settled.states) and could_be_volts(spot):
        return "volt"
    place, far = words.nearest(spot, tuple("place: " + p for p in VOLT_PLACES))
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
    if before in _DRAWS and 17 <= value <= 200:
        return "amp"  # more than any 12 V battery shows, so no voltage
    units = {i for s in words.spots for i in range(s.first, s.last + 1)}  # "35 amps, 12.1 at the battery"
    near = [i for i in range(max(0, spot.first - 4), spot.first) if i not in units]
    meter = {words.line[i].text for i in near} & _AMPS
    if (value > 16 and meter or before in meter) and spot.found.high <= 1.3 * spot.found.low:
        return "amp"
    if (value > 4 or value == 0) and len(words.spots) == 1 and clamped(words.line):
        return "amp"
    if (
        value in (2, 4, 6, 8, 10, 12, 14, 16, 18)
        and value == int(value)
        and words.nearest(spot, ("place: gauge",))[1] <= 4
        and any(t.text in _GAUGE and t.clause == spot.clause for t in words.line)
        and not any(s.found.kind == "gauge" for s in words.spots)
    ):
        return "gauge"  # "the wire says 12 on the jacket, awg"
    if length and far_length <= 3 and far_length < far:
        return "inch"
    fuse, far_fuse = words.nearest(spot, ("place: fuse",))
    if fuse and far_fuse <= 2 and 5 <= value <= 100 and value == int(value):
        return "amp"
    if fuse and far_fuse <= 5 and value in _SOLD and before in _SAID and value > 16:
        return "amp"  # "fuse in the holder says 40"
    rated = words.nearest(spot, ("place: motor tag",))[1] <= 2 and not words.says("place: leg rating")
    if rated and 10 <= value <= 100 and value == int(value) and words.says("place: motor", spot.clause):
        return "amp"  # "motor rated at 45"
    if 0 <= value <= 16 and place and far <= 5:
        return "volt"
    if _sole(words, spot) or _labelled(words, spot):
        return "volt"
    side, far_side = words.nearest(spot, SIDES)
    if 0 <= value <= 16 and value != int(value) and side and far_side <= 4:
        return "volt"
    if (
        0 <= value <= 16
        and value != int(value)
        and words.nearest(spot, ("state: held", "state: resting"))[1] <= 4
    ):
        return "volt"
    beside = words.nearest(spot, ("state: held", "state: resting"))[1] <= 2
    if beside and 5 <= value <= 15 and spot.clause in words.volt_sentences:
        return "volt"  # "12.2 at rest, 10 flat when pressed"
    volts_there = any(s.found.kind == "volt" and s.clause == spot.clause for s in words.spots) or (
        spot.clause in words.volt_sentences and value != int(value)
    )
    if 0 <= value <= 16 and volts_there and (words.says("state: held", spot.clause) or place):
        return "volt"
    return ""


def _sole(words: Cues, spot: Spot) -> bool:
    """Whether a decimal that could be volts is the only one of a sentence that names a place or volts, and a state."""
    value = spot.found.value
    if value == int(value) or not 0 <= value <= 16 or length_near(words, spot):
        return False
    if any(s is not spot and s.clause == spot.clause and could_be_volts(s) for s in words.spots):
        return False
    named = any(words.says("place: " + p, spot.clause) for p in VOLT_PLACES) or any(
        t.clause == spot.clause and t.text in ("volts", "volt", "voltage") for t in words.line
    )
    return named and (words.says("state: held", spot.clause) or words.says("state: resting", spot.clause))


def _labelled(words: Cues, spot: Spot) -> bool:
    """Whether a sentence of voltages names a place before every number ("battery: 12.4, motor, pressed: 6.0")."""
    if not could_be_volts(spot) or not words.strictly_labelled(
        spot.clause, tuple("place: " + p for p in VOLT_PLACES)
    ):
        return False
    return all("." in s.found.text for s in words.spots if s.clause == spot.clause)
