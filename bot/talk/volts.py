"""Where and when each voltage of a line was taken: battery, motor, either side of a switch or relay, ground side."""

from __future__ import annotations

from bot.corpus.lexicon import Heard
from bot.frozen import dataclass, field
from bot.talk.spots import COMPONENTS, FAR, Cues, Spot

VOLT_PLACES = (
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
_PLACES = tuple("place: " + p for p in VOLT_PLACES)
SIDES = ("place: side in", "place: side out")
_SIDE_OF = {
    "place: side in": "in",
    "place: side out": "out",
    "place: out of it": "out",
    "place: switch in": "in",
    "place: switch out": "out",
    "place: relay in": "in",
    "place: relay out": "out",
}
_JOINING = ("while", "when", "with", "if")  # a cue behind one of these still speaks of the number before it
_NONE = frozenset(("nothing", "none", "nada", "zilch", "zip", "no", "zero"))
_DOWN = frozenset(
    [
        "down",
        "drop",
        "drops",
        "dropped",
        "dropping",
        "fall",
        "falls",
        "fell",
        "sag",
        "sags",
        "sagged",
        "sink",
        "sinks",
        "dip",
        "dips",
        "dipped",
        "goes",
        "went",
        "pulls",
    ]
)
MOST = 16.0  # V; more is no reading of a 12 V trailer


@dataclass(frozen=True)
class Placed:
    """What the order of a sentence settles: places by the first word of a number, zeros said in words, states."""

    places: dict[int, str] = field(default_factory=dict)
    zeros: dict[int, str] = field(default_factory=dict)  # word -> place
    twice: dict[int, str] = field(default_factory=dict)  # a second place of the same number
    states: dict[int, str] = field(default_factory=dict)


@dataclass(frozen=True)
class _Label:
    """A place named in a sentence, from its first word to the one behind its last."""

    start: int
    end: int
    place: str


def could_be_volts(spot: Spot) -> bool:
    """Whether a number may be a voltage: one in volts, or a bare one up to 16."""
    return spot.found.kind == "volt" or (spot.found.kind == "bare" and 0 <= spot.found.value <= MOST)


def placed(words: Cues) -> Placed:
    """The voltages that the order of their sentence places: as many labels as numbers go in pairs, in order."""
    out = Placed()
    for clause in dict.fromkeys(s.clause for s in words.spots):
        spots = [s for s in words.spots if s.clause == clause and could_be_volts(s)]
        if not spots:
            continue
        _fallen(words, spots, out)
        _of_sentence_before(words, clause, spots, out)
        _read_before(words, spots, out)
        _by_side(words, clause, spots, out)
        _same(words, clause, spots, out)
        _both(words, clause, spots, out)
        _states_in_row(words, clause, spots, out)
    return out


def _both(words: Cues, clause: int, spots: list[Spot], out: Placed) -> None:
    """Such as "12.6 off, 11.4 on, both at the battery": one place for all numbers before it."""
    behind = [t for t in words.line[spots[-1].last + 1 :] if t.clause == clause and t.text in ("both", "all")]
    commas = {t.comma for t in behind} - {s.comma for s in spots}
    if len(spots) < 2 or not commas or any(s.first in out.places for s in spots):
        return
    labels = _labels(words, clause)
    if len({g.place for g in labels}) == 1 and all(words.line[g.start].comma in commas for g in labels):
        for spot in spots:
            out.places[spot.first] = labels[0].place


def _states_in_row(words: Cues, clause: int, spots: list[Spot], out: Placed) -> None:
    """Such as "12.6 / 12.0, rest / held": two numbers, then two states, in the same order."""
    if len(spots) == 2:
        behind = [words.line[s.last + 1].text if s.last + 1 < len(words.line) else "" for s in spots]
        if sorted(behind) == ["off", "on"]:  # "12.4 off and 10.9 on"
            for spot, word in zip(spots, behind, strict=True):
                out.states[spot.first] = "state: resting" if word == "off" else "state: held"
            return
    cues = sorted(
        (c.start, m)
        for m in ("state: held", "state: resting")
        for c in words.cues.get(m, ())
        if words.line[c.start].clause == clause
    )
    states = [m for i, (_, m) in enumerate(cues) if not i or cues[i - 1][1] != m]
    if len(spots) == 2 == len(states) and cues[0][0] > spots[-1].last and _touching(words, spots):
        for spot, state in zip(spots, states, strict=True):
            out.states[spot.first] = state


def _touching(words: Cues, spots: list[Spot]) -> bool:
    """Whether two numbers stand side by side, or with one word between them."""
    return spots[1].first - spots[0].last <= 2


def _fallen(words: Cues, spots: list[Spot], out: Placed) -> None:
    """Such as "12.5 falls to 11": the first was read at rest, the second under load, at one place."""
    for one, two in zip(spots, spots[1:], strict=False):
        between = [t.text for t in words.line[one.last + 1 : two.first]]
        led = one.first > 0 and words.line[one.first - 1].text == "from"
        if not between or between[-1] not in ("to", "under", "below", "about", "into") or len(between) > 6:
            continue
        if one.found.value <= two.found.value or not (led or _DOWN & set(between)):
            continue
        if any(one.last < c.start < two.first for m in _PLACES for c in words.cues.get(m, ())):
            continue
        place, far = min((words.nearest(s, _PLACES) for s in (one, two)), key=lambda p: p[1])
        out.states[one.first], out.states[two.first] = "state: resting", "state: held"
        if place and far <= 12:
            for spot in (one, two):
                out.places[spot.first] = place.removeprefix("place: ")
        named, far = words.nearest(two, _PLACES)
        closer = any(words.nearest(s, _PLACES) < (named, far) for s in spots if s not in (one, two))
        if named == "place: motor" and not closer:
            # A motor has no volts before the button: what they fell from was read at the battery.
            out.places[one.first], out.places[two.first] = "battery", "motor"


def _read_before(words: Cues, spots: list[Spot], out: Placed) -> None:
    """Such as "10.5 at the motor running, 12.4 at the battery before": the word ends what is told of the number."""
    line = words.line
    for spot in spots if len(spots) > 1 else ():
        group = [i for i, t in enumerate(line) if t.comma == spot.comma]
        held = any(line[c.start].comma == spot.comma for c in words.cues.get("state: held", ()))
        if line[group[-1]].text in ("before", "beforehand", "earlier") and not held:
            out.states[spot.first] = "state: resting"


_METERED = frozenset(
    (
        "meter",
        "multimeter",
        "voltmeter",
        "tester",
        "probes",
        "probe",
        "leads",
        "checked",
        "check",
        "tested",
        "measured",
    )
)
_TELLS = frozenset(
    ("it", "is", "says", "said", "reads", "read", "reading", "shows", "got", "get", "i", "at", "about")
)


def _of_sentence_before(words: Cues, clause: int, spots: list[Spot], out: Placed) -> None:
    """Such as "Checked the battery with the meter. 12.1": the place in one sentence, the number alone in the next."""
    own = {i for s in spots for i in range(s.first, s.last + 1)}
    if len(spots) != 1 or any(
        t.clause == clause and i not in own and t.text not in _TELLS for i, t in enumerate(words.line)
    ):
        return
    before = [t.text for t in words.line if t.clause == clause - 1]
    named = [p for p in ("battery", "motor") if words.says("place: " + p, clause - 1)]
    if len(named) != 1 or not _METERED & set(before) or any(s.clause == clause - 1 for s in words.spots):
        return
    if words.says("place: relay", clause - 1) or (
        words.says("place: switch", clause - 1) and not words.says("state: held", clause - 1)
    ):
        return  # a button named for anything but being held is a place of its own
    out.places[spots[0].first] = named[0]
    states = [m for m in ("state: held", "state: resting") if words.says(m, clause - 1)]
    if len(states) == 1:
        out.states[spots[0].first] = states[0]


def _labels(words: Cues, clause: int) -> list[_Label]:
    """The places of a sentence in order; sides of a switch or relay before the plain names beside them."""
    line = words.line

    def here(meaning: str) -> list[Heard]:
        return [c for c in words.cues.get(meaning, ()) if line[c.start].clause == clause]

    held = here("state: held")
    found: list[_Label] = []
    for meaning, side in _SIDE_OF.items():
        for cue in here(meaning):
            if "side" in meaning and any(h.start <= cue.start < h.end for h in held):
                continue  # "with the button in"
            component = meaning.split()[1] if "side" not in meaning and "out of" not in meaning else ""
            component = component or _component(words, cue.start)
            across = any(cue.start < s.first < cue.end - 1 for s in words.spots)
            start = cue.end - 1 if across else cue.start  # "relay 12.3 in": the side stands behind the number
            if component and not (across and not _begins(words, cue)):
                found.append(_Label(start, cue.end, f"{component} {side}"))
    if any(label.place.endswith(" out") for label in found):
        found += _bare_in(words, clause, held)
    sides = sorted(found, key=lambda label: (label.start, label.end))
    for place in ("battery", "motor", "ground side", "breaker"):
        for cue in here("place: " + place):
            beside = any(s.start <= cue.end and cue.start <= s.end for s in sides)
            within = any(h.start <= cue.start < h.end for h in held)
            if not (beside or within):
                found.append(_Label(cue.start, cue.end, place))
    found.sort(key=lambda label: (label.start, label.end))
    return found


def _begins(words: Cues, cue: Heard) -> bool:
    """Whether a name of a side begins with the switch or relay, not ends with it."""
    return not any(c.end == cue.end for m in COMPONENTS for c in words.cues.get(m, ()))


def _bare_in(words: Cues, clause: int, held: list[Heard]) -> list[_Label]:
    """A lone "in" at a number, beside an "out" of the same part: "12.3 in, 8.1 out", "in 12.1, out 7.5"."""
    line, found = words.line, []
    firsts, lasts = {s.first for s in words.spots}, {s.last for s in words.spots}
    for i, token in enumerate(line):
        if token.text != "in" or token.clause != clause or any(h.start <= i < h.end for h in held):
            continue
        ends = i + 1 == len(line) or line[i + 1].comma != token.comma or line[i + 1].text in ("and", "or")
        opens = i == 0 or line[i - 1].comma != token.comma or line[i - 1].text in ("and", "or")
        component = _component(words, i)
        if component and (i - 1 in lasts and ends or i + 1 in firsts and opens):
            found.append(_Label(i, i + 1, component + " in"))
    return found


def _component(words: Cues, at: int) -> str:
    """The switch or relay that a bare side belongs to: the last one named before it, else the only one."""
    named = words.components()
    before = [n for n in named if n[0] <= at]
    if before:
        return max(before)[1].removeprefix("place: ")
    return named[0][1].removeprefix("place: ") if len({m for _, m in named}) == 1 else ""


def _by_side(words: Cues, clause: int, spots: list[Spot], out: Placed) -> None:
    """Pairs the sides of a switch or relay with the numbers of the sentence."""
    labels = _labels(words, clause)
    zeros = _zeros(words, clause, spots)
    marks = sorted([s.first for s in spots])
    groups: list[_Label] = []
    for label in labels:
        same = groups and groups[-1].place == label.place
        if same and not any(groups[-1].start < m < label.start for m in (*marks, *zeros)):
            groups[-1] = _Label(groups[-1].start, max(label.end, groups[-1].end), label.place)
        else:
            groups.append(label)
    names = {g.place for g in groups}
    ins = {p for p in names if p.endswith(" in")}
    outs = {p for p in names if p.endswith(" out")}
    if len(names) != len(groups):
        return
    if ins and outs and len(groups) == len(spots) > 1:
        for group, spot in zip(groups, spots, strict=True):
            out.places[spot.first] = group.place
        return
    if ins and outs and zeros and len(groups) == len(spots) + 1:
        places = sorted((*marks, zeros[0]))
        for group, at in zip(groups, places, strict=True):
            (out.zeros if at == zeros[0] else out.places)[at] = group.place
            if at == zeros[0] and not group.place.endswith(" out"):
                out.zeros.clear()
                out.places.clear()
                return
        return
    if len(spots) == 1 == len(groups) and _two_ways(words, clause):
        return
    if len(spots) == 1 == len(groups) and outs and zeros:
        out.zeros[zeros[0]] = groups[0].place  # what the number is of was not said
    elif len(spots) == 1 == len(groups) and (ins or outs):
        out.places[spots[0].first] = groups[0].place


_UP = frozenset(("up", "raise", "raising", "retract", "retracting"))
_LOWER = frozenset(("down", "lower", "lowering", "extend", "extending"))


def _two_ways(words: Cues, clause: int) -> bool:
    """Whether a sentence tells of both directions: what one number is of one of them is no reading of the part."""
    said = {t.text for t in words.line if t.clause == clause}
    return bool(said & _UP and said & _LOWER)


def _zeros(words: Cues, clause: int, spots: list[Spot]) -> list[int]:
    """Words that say no volts beside a side: "nothing out", "none at the output", "no volts out"."""
    taken = {i for s in spots for i in range(s.first, s.last + 1)}
    outs = [
        c
        for m, side in _SIDE_OF.items()
        if side == "out"
        for c in words.cues.get(m, ())
        if words.line[c.start].clause == clause
    ]
    return [
        i
        for i, t in enumerate(words.line)
        if t.clause == clause
        and t.text in _NONE
        and i not in taken
        and any(0 <= c.start - i <= 3 and words.line[c.start].comma == t.comma for c in outs)
        and (t.text != "no" or words.line[i + 1 : i + 2] and words.line[i + 1].text in _VOLTAGE)
    ]


_VOLTAGE = frozenset(("volts", "voltage", "power", "volt", "juice", "output"))


def _same(words: Cues, clause: int, spots: list[Spot], out: Placed) -> None:
    """Such as "Same 11.7 at the battery and at the motor": one number read in two places."""
    if len(spots) != 1:
        return
    spot = spots[0]
    near = words.line[max(0, spot.first - 2) : spot.last + 4]
    if not any(t.text in ("same", "both") for t in near):
        return
    names = list(dict.fromkeys(label.place for label in _labels(words, clause)))
    if len(names) == 2:
        out.places[spot.first], out.twice[spot.first] = names


def voltage(line: Cues, spot: Spot, carried: str, settled: Placed) -> tuple[str, str]:
    """(place, state) of a voltage; `carried` is the place of the voltage before it in the same sentence."""
    meanings = _PLACES
    bonus = -2.0 if line.labels_come_first(spot.clause, meanings) else 0.5
    place, far = line.nearest(spot, meanings, bonus)
    state = settled.states.get(spot.first) or _state(line, spot)
    if spot.first in settled.places:
        return settled.places[spot.first], state.removeprefix("state: ")
    if far > 4 and bonus > 0 and _anothers(line, spot, place):
        place, far = "", float(FAR)
    if line.strictly_labelled(spot.clause, meanings):
        place, far = line.between(spot, meanings), 0.0
    if far > 9:
        named = [m for m in meanings if line.says(m, spot.clause)]
        alone = (
            sum(1 for s in line.spots if s.clause == spot.clause and s.found.kind in ("volt", "bare")) == 1
        )
        place = carried or (named[0] if len(named) == 1 and (alone or not state) else "")
    if place in ("place: battery", "place: motor") and _across(line, spot):
        place = "place: ground side"
    if state == "state: resting" and place == "place: motor":
        place = ""  # a motor has volts only while the button is held; what rests is the battery
    place = place.removeprefix("place: ")
    side, far_side = line.nearest(spot, SIDES, bonus)
    component = line.component(spot).removeprefix("place: ")
    if side and component and far_side <= 4 and far_side <= far + 1:
        place = component + side.removeprefix("place: side")
    out, far_out = line.nearest(spot, ("place: out of it",))
    if out and far_out <= 2 and carried in ("place: switch in", "place: relay in"):
        place = carried.removeprefix("place: ").replace(" in", " out")
    return place, state.removeprefix("state: ")


def _anothers(line: Cues, spot: Spot, place: str) -> bool:
    """Whether a place stands right behind another voltage: "10.9 held 10.2 at motor" names no place for the first."""
    cues = [c for c in line.cues.get(place, ()) if c.start > spot.last]
    return any(
        other is not spot
        and could_be_volts(other)
        and 0 < c.start - other.last <= 2
        and other.first > spot.last
        for other in line.spots
        for c in cues
        if line.line[c.start].clause == spot.clause == other.clause
    )


def _across(line: Cues, spot: Spot) -> bool:
    """Whether the one voltage of a sentence was read between two points of the return path."""
    if sum(1 for s in line.spots if s.clause == spot.clause and could_be_volts(s)) > 1:
        return False
    return any(
        c.end - c.start > 2 and line.line[c.start].clause == spot.clause
        for c in line.cues.get("place: ground side", ())
    )


def _state(line: Cues, spot: Spot) -> str:
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
    following = min((s.first for s in others if s.first > spot.last), default=FAR)
    last = spot.last
    group = {s.comma for s in others}
    behind = [
        (c.start, m)
        for m in meanings
        for c in line.cues.get(m, ())
        if spot.last < c.start < following
        and line.line[c.start].clause == spot.clause
        and (
            line.line[c.start].comma == spot.comma
            or (
                c.start - last <= 5
                and line.line[c.start].comma not in group
                and any(t.text in _JOINING for t in line.line[c.start - 1 : c.start + 1])
            )
            or (  # "12.6 (rest) 11.2 (held)"
                c.start - last == 1 and line.line[c.start].comma not in group and c.end not in line.colons
            )
        )
    ]
    before = [
        (c.start, m)
        for m in meanings
        for c in line.cues.get(m, ())
        if line.line[c.start].clause == spot.clause and c.end <= spot.first
    ]
    if before and following < FAR and max(before)[1] == "state: held":
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
    together = following < FAR and any(t.text == "and" for t in line.line[spot.last + 1 : following])
    if together and anywhere == ["state: held"]:
        return "state: held"  # "12.3 at the battery and 7 at the motor with the button held"
    return "state: held" if anywhere == ["state: held"] and not others else ""


def volt_finding(place: str, state: str, other_volts: bool) -> str:
    """The finding of a voltage by its place and state; "" where that says too little."""
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
