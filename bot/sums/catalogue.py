"""Every sum by name: what it wants, in which unit, an example that runs, and how it is called.

Values come in as plain numbers in the unit named here (or as a Span, low value high). The formulas are
imported when a sum is first run, so that reading this list costs next to nothing.
"""

from collections.abc import Callable, Mapping
from importlib import import_module
from math import isfinite
from typing import NamedTuple

from bot.problems import NotEnough
from bot.sums.result import Result
from bot.sums.spans import Span


class Input(NamedTuple):
    """One thing a sum wants.

    ``name`` is the argument of the formula, ``option`` the word on the command line. ``kind`` is "quantity"
    (a number in ``unit``), "number" (bare), "gauge", "choice", "text", "numbers" (a list) or "yes_no".
    ``assumed`` says what is taken where it is missing ("" where nothing can be).
    """

    name: str
    option: str
    kind: str
    unit: str = ""
    required: bool = False
    prompt: str = ""
    choices: tuple[str, ...] = ()
    assumed: str = ""


class Sum(NamedTuple):
    """One sum: name, one line of help, inputs, the arguments of an example, and the formula's place."""

    name: str
    help: str
    inputs: tuple[Input, ...]
    example: tuple[str, ...]
    place: str

    def run(self, inputs: Mapping[str, object]) -> Result:
        """The answer. ``inputs`` goes by ``name``; None counts as not given.

        Raises NotEnough for a missing or unknown input, OutOfRange and Contradiction as the formula does.
        """
        known = {one.name: one for one in self.inputs}
        given: dict[str, object] = {}
        for name, value in inputs.items():
            if name not in known:
                raise NotEnough(
                    self.name, f"inputs by their names: {', '.join(known)}. There is no {name} here."
                )
            if value is not None and value != "":
                given[name] = _fitting(self.name, known[name], value)
        for one in self.inputs:
            if one.required and one.name not in given:
                raise NotEnough(self.name, f"{one.prompt} (--{one.option})")
        module, _, function = self.place.rpartition(".")
        call: Callable[..., Result] = getattr(import_module(module), function)
        return call(**given)


def _fitting(sum_name: str, wanted: Input, value: object) -> object:
    """The value as the formula takes it. Raises NotEnough where it is of another kind."""
    if wanted.kind == "choice" and value not in wanted.choices:
        raise NotEnough(sum_name, f"{wanted.option} as one of: {', '.join(wanted.choices)}")
    if wanted.kind == "yes_no":
        if value in ("yes", "no"):
            return value == "yes"
        if not isinstance(value, bool):
            raise NotEnough(sum_name, f"{wanted.option} as yes or no")
    if wanted.kind in ("quantity", "number", "count"):
        if isinstance(value, bool) or not isinstance(value, (int, float, Span)):
            raise NotEnough(
                sum_name, f"{wanted.option} as a number{' in ' + wanted.unit if wanted.unit else ''}"
            )
        if not all(isfinite(part) for part in (value if isinstance(value, Span) else (value,))):
            raise NotEnough(sum_name, f"{wanted.option} as a number that is written out")
        if wanted.kind != "quantity" and isinstance(value, Span):
            return round(value.value) if wanted.kind == "count" else value.value
        if wanted.kind == "count":
            return round(float(value))  # type: ignore[arg-type]  # a Span was returned above
    if wanted.kind == "numbers" and not isinstance(value, (list, tuple)):
        raise NotEnough(sum_name, f"{wanted.option} as a list of numbers")
    return value


def _q(name: str, option: str, unit: str, prompt: str, assumed: str = "", required: bool = False) -> Input:
    """A quantity that may carry a range."""
    return Input(name, option, "quantity", unit, required, prompt, (), assumed)


def _n(name: str, option: str, unit: str, prompt: str, assumed: str = "", required: bool = False) -> Input:
    """A number whose formula takes no range."""
    return Input(name, option, "number", unit, required, prompt, (), assumed)


def _c(name: str, option: str, choices: tuple[str, ...], prompt: str, assumed: str = "") -> Input:
    return Input(name, option, "choice", "", False, prompt, choices, assumed)


def _count(name: str, option: str, prompt: str, assumed: str = "") -> Input:
    return Input(name, option, "count", "", False, prompt, (), assumed)


def _yes(name: str, option: str, prompt: str, assumed: str = "no") -> Input:
    return Input(name, option, "yes_no", "", False, prompt, (), assumed)


_WEIGHT = (
    _q("gross_lb", "gross", "lb", "weight of the whole trailer as it stands"),
    _q("pin_lb", "pin", "lb", "pin weight from a scale", "20 % of the gross weight, from 15 to 25 %"),
    _q(
        "pin_to_axles_ft",
        "pin-to-axles",
        "ft",
        "kingpin to the middle of the axle group",
        "26 ft, from 20 to 32",
    ),
    _q("pin_to_legs_ft", "pin-to-legs", "ft", "kingpin to the legs", "6 ft, from 4 to 8"),
)
_GAUGE = Input("gauge_awg", "gauge", "gauge", "AWG", False, "gauge of the wire", (), "10 AWG, from 12 to 8")
_LENGTH = _q("one_way_ft", "length", "ft", "wire from battery to motor, one way", "18 ft, from 10 to 30")
_STRANDED = _yes("stranded", "stranded", "is the wire stranded", "both are counted in")
_WIRE_TEMP = _q("temp_f", "wire-temp", "F", "temperature of the wire", "68 F, from 32 to 122")
_FUSES = ("blade", "large blade", "supplementary", "breaker 1", "breaker 2", "breaker 3")
_NUTS = (
    "greased steel",
    "greased bronze",
    "greased brass",
    "greased iron",
    "dry steel",
    "dry bronze",
    "dry brass",
    "dry iron",
)
_SOILS = (
    "rock",
    "soft rock",
    "gravel",
    "sand",
    "clay",
    "soft clay",
    "very soft clay",
    "fill",
    "organic",
    "asphalt",
    "concrete",
)
_TAPE = ("outer", "inner", "stroke", "retracted", "shaft", "bolt_spacing")

_SUMS = (
    Sum(
        "leg-load",
        "load on both legs and on each, from gross weight, pin weight or scale tickets",
        (
            *_WEIGHT,
            Input(
                "truck_alone_lb",
                "truck-alone",
                "numbers",
                "lb",
                False,
                "truck's axles alone, from the ticket",
            ),
            Input("truck_coupled_lb", "truck-coupled", "numbers", "lb", False, "truck's axles coupled"),
            _n("trailer_axles_lb", "trailer-axles", "lb", "trailer's axles coupled"),
            _n("grade_percent", "grade", "%", "fall of the ground, nose downhill counts up", "level"),
            _n("cg_height_ft", "cg-height", "ft", "centre of gravity above the feet", "5 ft, from 3 to 7"),
            _n("offset_in", "offset", "in", "weight off the middle", "in the middle"),
            _n("leg_spacing_in", "leg-spacing", "in", "from leg to leg"),
            _n("moved_lb", "moved", "lb", "weight of a load moved", "nothing moved"),
            _n("from_ft", "from", "ft", "where it was, behind the pin"),
            _n("to_ft", "to", "ft", "where it goes, behind the pin"),
            _n("rating_each_lb", "rating", "lb", "rating of one leg"),
        ),
        ("--gross", "14000 lb", "--pin", "2800 lb", "--pin-to-axles", "26 ft", "--pin-to-legs", "6 ft"),
        "bot.sums.legs.leg_load",
    ),
    Sum(
        "lift-margin",
        "load on the legs as a share of the rating of motor, pair and leg",
        (
            _q(
                "legs_lb",
                "legs",
                "lb",
                "load on both legs together",
                "from gross or pin weight, as leg-load does",
            ),
            _n("rating_motor_lb", "motor-rating", "lb", "lift of one motor, from its label"),
            _n("rating_pair_lb", "pair-rating", "lb", "lift of the pair of legs, from its label"),
            _n("rating_leg_lb", "leg-rating", "lb", "lift of one leg, from its label"),
            _count("motors", "motors", "motors that lift, 0 for a hand crank", "1"),
            _yes("one_foot_first", "one-foot-first", "does one foot touch first"),
            *_WEIGHT,
        ),
        ("--legs", "3640 lb", "--leg-rating", "2500 lb", "--one-foot-first", "yes"),
        "bot.sums.lift_margin.lift_margin",
    ),
    Sum(
        "harness",
        "volts lost in the wire, gauge wanted, what wire and fuse may carry",
        (
            _GAUGE,
            _LENGTH,
            _q("amps", "amps", "A", "current with the button held", "30 A, from 15 to 45"),
            _c("family", "family", ("awg", "sae"), "is the gauge American (awg) or SAE", "awg"),
            _n("mm2", "mm2", "mm2", "area in mm2 where the wire is metric"),
            _STRANDED,
            _WIRE_TEMP,
            _yes("frame_return", "frame-return", "does the return go through the frame"),
            _n("volts", "volts", "V", "system voltage", "12 V"),
            _n("drop_percent", "allow", "%", "loss allowed", "3 % is clear, 10 % is over"),
            _n("fuse_a", "fuse", "A", "fuse on this wire"),
            _count("insulation_c", "insulation", "insulation rating in C, 75 or 105", "75"),
            _c(
                "place",
                "place",
                ("open", "hot", "three bundled", "four to six", "seven to 24"),
                "where it runs",
                "open",
            ),
        ),
        ("--gauge", "10", "--length", "18 ft", "--amps", "30 A", "--fuse", "30 A"),
        "bot.sums.wire.harness",
    ),
    Sum(
        "path",
        "ohms of the supply and ground side against what the wire accounts for",
        (
            _q("volts_battery", "battery", "V", "volts at the battery posts, button held"),
            _q("volts_motor", "motor", "V", "volts across the motor, button held"),
            _q("volts_ground_side", "ground", "V", "battery minus post to motor minus, button held"),
            _q("amps", "amps", "A", "amps, button held", "30 A, from 15 to 45"),
            _GAUGE,
            _LENGTH,
            _STRANDED,
            _WIRE_TEMP,
            _yes("frame_return", "frame-return", "does the return go through the frame"),
        ),
        ("--battery", "12.1 V", "--motor", "6.8 V", "--ground", "4.4 V"),
        "bot.sums.path.path",
    ),
    Sum(
        "motor-point",
        "amps, volts, speed and lift time of the motor; the same with the harness shortened",
        (
            _n("volts_rest", "battery", "V", "battery at rest", required=True),
            _GAUGE,
            _LENGTH,
            _n("torque_nm", "torque", "N.m", "load at the motor's shaft"),
            _n("amps", "amps", "A", "or the amps while it lifts"),
            _n("k_nm_per_a", "constant", "", "motor constant in N.m/A"),
            _n("motor_ohm", "winding", "ohm", "ohms of the winding"),
            _n("label_volts", "label-volts", "V", "volts on the motor's label", "12 V"),
            _n("no_load_rpm", "no-load-rpm", "rpm", "turns a minute without load"),
            _n("stall_nm", "stall-torque", "N.m", "torque at a stall"),
            _n("rated_a", "rated-amps", "A", "amps on the label"),
            _n("rated_rpm", "rated-rpm", "rpm", "turns a minute on the label"),
            Input("points_flat", "points", "numbers", "", False, "two points: volts amps rpm volts amps rpm"),
            _q(
                "battery_ohm",
                "battery-ohm",
                "ohm",
                "inner resistance of the battery",
                "15 mohm, from 8 to 25",
            ),
            _q(
                "contact_ohm",
                "contact-ohm",
                "ohm",
                "fuse, switch and joints together",
                "10 mohm, from 3 to 20",
            ),
            _STRANDED,
            _WIRE_TEMP,
            _n("stroke_in", "stroke", "in", "length of the lift"),
            _n("turns_per_inch", "turns-per-inch", "", "motor turns for an inch of lift"),
            _n("shorten_ft", "shorten", "ft", "feet taken out of the run, one way", "0 ft"),
        ),
        (
            *("--battery", "12.6 V", "--gauge", "10", "--length", "18 ft", "--torque", "1.2 N.m"),
            *("--constant", "0.04", "--winding", "0.12 ohm", "--shorten", "6 ft"),
        ),
        "bot.sums.catalogue.motor_point_flat",
    ),
    Sum(
        "fuse-time",
        "whether a fuse or breaker holds through a lift, and whether it suits its wire",
        (
            _q("amps", "amps", "A", "current with the button held", required=True),
            _n("rating_a", "rating", "A", "rating printed on the fuse", required=True),
            _c("kind", "kind", _FUSES, "kind of fuse or breaker", "blade"),
            _n("seconds", "seconds", "s", "how long the lift lasts"),
            _GAUGE._replace(assumed=""),
            _count("insulation_c", "insulation", "insulation rating in C, 75 or 105", "75"),
        ),
        ("--amps", "45 A", "--rating", "30 A", "--kind", "large blade", "--seconds", "40 s", "--gauge", "10"),
        "bot.sums.fuses.fuse_time",
    ),
    Sum(
        "battery",
        "charge from rested volts, inner resistance, lifts left",
        (
            _q("volts_rest", "rest", "V", "volts at the posts at rest", required=True),
            _c("kind", "kind", ("lead", "lithium"), "kind of battery", "lead"),
            _n("temp_f", "temp", "F", "temperature of the battery", "80 F"),
            _q("volts_loaded", "loaded", "V", "volts at the posts, button held"),
            _q("amps", "amps", "A", "amps, button held"),
            _n("amp_hours", "amp-hours", "Ah", "amp-hours on the label"),
            _n("lift_s", "lift", "s", "seconds of one lift"),
            _n("cca_a", "cranking", "A", "cold cranking amps on the label"),
        ),
        (
            "--rest",
            "12.5 V",
            "--loaded",
            "12.0 V",
            "--amps",
            "30 A",
            "--amp-hours",
            "80 Ah",
            "--lift",
            "60 s",
        ),
        "bot.sums.battery.battery",
    ),
    Sum(
        "screw",
        "effort, efficiency, whether the leg's screw holds by itself, crank force",
        (
            _q("load_lb", "load", "lb", "load on this leg", required=True),
            _n("major_in", "diameter", "in", "outside diameter of the screw", required=True),
            _n("threads_per_inch", "threads", "", "threads counted along an inch", required=True),
            _count("starts", "starts", "threads side by side", "1"),
            _c("form", "form", ("square", "acme", "trapezoidal", "v"), "form of the thread", "acme"),
            _q("friction", "friction", "", "friction in the thread"),
            _c("lubrication", "nut", _NUTS, "the nut and whether it is greased", "greased, 0.10 to 0.19"),
            _n("collar_dia_in", "washer", "in", "mean diameter of a plain thrust washer", "a free bearing"),
            _q("collar_friction", "washer-friction", "", "friction of the washer", "0.12, from 0.06 to 0.15"),
            _n("crank_in", "crank", "in", "length of the crank arm"),
            _n("ratio", "ratio", "", "crank turns for one turn of the screw", "1"),
        ),
        (
            "--load",
            "1820 lb",
            "--diameter",
            "1 in",
            "--threads",
            "5",
            "--friction",
            "0.15",
            "--crank",
            "8 in",
        ),
        "bot.sums.screw.screw",
    ),
    Sum(
        "shaft",
        "stress in the cross shaft, whether a stall can shear it or its pin",
        (
            _q("torque_lb_in", "torque", "lb-in", "torque in the shaft while lifting"),
            _n("shaft_in", "diameter", "in", "outside diameter of the shaft", required=True),
            _n("bore_in", "bore", "in", "bore of a tube", "solid"),
            _n("yield_psi", "yield", "psi", "yield of its steel", "36,000 psi"),
            _c(
                "pin_kind",
                "pin",
                ("slotted", "slotted metric", "stainless metric", "coiled metric"),
                "kind of cross pin",
            ),
            _n("pin_size_in", "pin-size", "in", "diameter of the pin"),
            _q("stall_torque_lb_in", "stall", "lb-in", "torque in the shaft when it jams"),
        ),
        ("--torque", "600 lb-in", "--diameter", "3/4 in", "--pin", "slotted", "--pin-size", "3/16 in"),
        "bot.sums.shafts.shaft",
    ),
    Sum(
        "bolts",
        "torque with its scatter, clamp load, what bolts carry sideways",
        (
            Input("size", "size", "text", "", True, "size as written, like 1/2-13"),
            _c("grade", "grade", ("2", "5", "8"), "grade from the marks on the head", "5"),
            _c("finish", "finish", ("plain", "zinc", "oiled", "waxed"), "finish of the thread", "plain"),
            _count("count", "count", "bolts that share the load", "1"),
            _q("side_load_lb", "side-load", "lb", "load across the bolts"),
            _yes("threads_in_shear", "threads-in-joint", "do the threads lie in the joint", "yes"),
        ),
        ("--size", "1/2-13", "--grade", "5", "--count", "4", "--side-load", "3000 lb"),
        "bot.sums.bolts.bolts",
    ),
    Sum(
        "leg-fit",
        "stroke wanted, drop-leg hole, clearance on the road, whether a replacement fits",
        (
            _n("lowest_in", "lowest", "in", "ground to the end of the outer tube, nose lowest"),
            _n("highest_in", "highest", "in", "the same, nose highest"),
            _n("stroke_in", "stroke", "in", "screw travel of the leg"),
            _n("hole_spacing_in", "hole-spacing", "in", "between drop-leg holes", "no drop leg"),
            _count("holes", "holes", "drop-leg holes", "1"),
            _n("foot_in", "foot", "in", "foot to the end of the outer tube, all the way in"),
            _n("tow_height_in", "tow-height", "in", "ground to the end of the outer tube when hitched"),
            *(
                _n(
                    f"{which}_{point}_in",
                    f"{which}-{point.replace('_', '-')}",
                    "in",
                    f"{which} leg: {point} in inches",
                )
                for which in ("old", "new")
                for point in _TAPE
            ),
        ),
        (
            *("--lowest", "14 in", "--highest", "26 in", "--stroke", "13 in", "--hole-spacing", "3 in"),
            *("--holes", "5", "--foot", "2 in"),
        ),
        "bot.sums.catalogue.leg_fit_flat",
    ),
    Sum(
        "foot",
        "pressure on the ground, pad wanted, an extended leg pushed sideways",
        (
            _q("load_lb", "load", "lb", "load on this leg", required=True),
            _c("soil", "ground", _SOILS, "what the ground is made of", "1500 psf"),
            _n("foot_side_in", "foot", "in", "side of the square foot"),
            _n("pad_side_in", "pad", "in", "side of the square pad"),
            _n("bearing_psf", "bearing", "psf", "what this ground bears"),
            _n("extended_in", "extended", "in", "foot to the end of the outer tube"),
            _n("tube_side_in", "tube", "in", "side of the inner tube"),
            _n("wall_in", "wall", "in", "its wall"),
            _n("yield_psi", "yield", "psi", "yield of the tube's steel", "36,000 psi"),
            _n("side_load_lb", "push", "lb", "push at the foot", "0 lb"),
        ),
        ("--load", "1820 lb", "--ground", "clay", "--foot", "9 in"),
        "bot.sums.foot.foot",
    ),
    Sum(
        "stand",
        "load on each stand or crib, margin, height of a crib",
        (
            _q("load_lb", "load", "lb", "load on all stands together"),
            _count("count", "count", "stands or cribs", "2"),
            _n("rating_each_lb", "rating", "lb", "rating marked on one stand"),
            _c(
                "marked_for",
                "marked-for",
                ("one", "pair", "unsure"),
                "what that rating is marked for",
                "unsure",
            ),
            _count("crib_timber", "timber", "side of crib timber, 4 or 6"),
            _count("crib_contacts", "contacts", "crossings in a layer, 4 or 9", "4"),
            _n("crib_width_in", "width", "in", "shortest width of the crib"),
            _n("height_in", "height", "in", "height of the crib"),
            _q("pin_lb", "pin", "lb", "pin weight from a scale"),
            _n("pin_to_axles_ft", "pin-to-axles", "ft", "kingpin to the middle of the axle group"),
            _n("pin_to_stands_ft", "pin-to-stands", "ft", "kingpin to the stands"),
        ),
        ("--load", "3640 lb", "--count", "2", "--rating", "6000 lb"),
        "bot.sums.stand.stand",
    ),
    Sum(
        "retime",
        "turns, leg and direction that bring the legs back in step",
        (
            _q("left_in", "left", "in", "left foot out of its outer tube", required=True),
            _q("right_in", "right", "in", "right foot out of its outer tube", required=True),
            _n("turns_per_inch", "turns-per-inch", "", "turns of the leg's shaft an inch"),
            _n("turns_counted", "turns", "", "or turns counted"),
            _n("inches_counted", "inches", "in", "over how many inches"),
            _c(
                "free_leg",
                "free-leg",
                ("left", "right"),
                "the leg that can be turned alone",
                "the shorter one",
            ),
        ),
        ("--left", "10 in", "--right", "10 3/4 in", "--turns-per-inch", "6"),
        "bot.sums.retime.retime",
    ),
    Sum(
        "carry",
        "what one person may lift here, two people or a jack",
        (
            _q("weight_lb", "weight", "lb", "weight of the part", required=True),
            _n("reach_in", "reach", "in", "ankles to hands", "20 in"),
            _n("height_in", "height", "in", "hands above the floor", "6 in"),
            _n("travel_in", "travel", "in", "how far up or down it goes", "16 in"),
            _n("turn_deg", "turn", "", "twist of the body in degrees", "0"),
            _c("grip", "grip", ("good", "fair", "poor"), "grip", "fair"),
        ),
        ("--weight", "30 lb", "--reach", "20 in", "--height", "6 in"),
        "bot.sums.carry.carry",
    ),
)

#: Every sum by name, in the order a person would look for them.
CATALOGUE: dict[str, Sum] = {one.name: one for one in _SUMS}


def motor_point_flat(points_flat: list[float] | None = None, **given: object) -> Result:
    """motor_point with its two measured points as six numbers. Raises NotEnough for another count."""
    call: Callable[..., Result] = import_module("bot.sums.motor_point").motor_point
    if points_flat is None:
        return call(**given)
    if len(points_flat) != 6:
        raise NotEnough("motor-point", "six numbers for two points: volts amps rpm, volts amps rpm")
    return call(points=(tuple(points_flat[:3]), tuple(points_flat[3:])), **given)


def leg_fit_flat(**given: object) -> Result:
    """leg_fit with the two measured legs as single inputs."""
    module = import_module("bot.sums.leg_fit")
    for which in ("old", "new"):
        parts = {f"{point}_in": given.pop(f"{which}_{point}_in", None) for point in _TAPE}
        if any(part is not None for part in parts.values()):
            given[which] = module.Leg(**{name: part or 0.0 for name, part in parts.items()})
    call: Callable[..., Result] = module.leg_fit
    return call(**given)
