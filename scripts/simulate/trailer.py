"""One sound trailer, drawn: gear, weights, battery, wire, guard, control, motor, screw, and what the person has at hand."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scripts.simulate.draws import Random, pick, stream

LB_N = 4.4482216
IN_M = 0.0254
FT_M = 0.3048
OPEN_OHM = 1e7

# Common practice, no source: how often each gear rings a help line.
GEAR_WEIGHTS = {"one_motor": 0.5, "two_motor": 0.25, "manual": 0.25}


def copper_ohm_per_m(awg: int, celsius: float) -> float:
    """Resistance of one copper wire [ohm/m]; AWG from -3 (4/0) to 22.

    Diameter 0.127 mm x 92^((36-n)/39), as ASTM B258 defines it; 1.7241e-8 ohm m at 20 C and 0.00393 per K (IACS copper).
    """
    diameter_m: float = 0.127e-3 * 92 ** ((36 - awg) / 39)
    return 1.7241e-8 * (1 + 0.00393 * (celsius - 20)) / (math.pi / 4 * diameter_m**2)


def rest_volts(charge: float, chemistry: str) -> float:
    """Volts at rest [V] for a state of charge from 0 to 1; below 0 a cell that has been run on past empty.

    Lead-acid: 11.89, 12.06, 12.24, 12.45, 12.65 V at 0 to 100 % in quarters (BCI charge table). Lithium iron phosphate:
    near 13.1 V over its middle, steep at its ends (common practice, no source).
    """
    if chemistry == "lithium":
        points = [
            (-0.6, 5.0),
            (-0.2, 9.0),
            (0.0, 10.8),
            (0.05, 12.2),
            (0.1, 12.85),
            (0.5, 13.1),
            (0.9, 13.3),
            (1.0, 13.5),
        ]
    else:
        points = [
            (-0.6, 5.5),
            (-0.2, 9.8),
            (0.0, 11.89),
            (0.25, 12.06),
            (0.5, 12.24),
            (0.75, 12.45),
            (1.0, 12.65),
        ]
    if charge <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if charge <= x1:
            return y0 + (y1 - y0) * (charge - x0) / (x1 - x0)
    return points[-1][1]


@dataclass(frozen=True)
class Motor:
    """A brushed 12 V motor with permanent magnets: U = I R + k w, torque = k (I - I0)."""

    label_a: float
    ohm: float
    k: float  # V s/rad, and N m/A
    idle_a: float
    no_load_rad_s: float


@dataclass(frozen=True)
class Screw:
    """Screw of one leg: lead and mean diameter [m], coefficient of friction."""

    lead_m: float
    mean_m: float
    friction: float

    def torque(self, newton: float, lowering: bool) -> float:
        """Torque [N m] to turn the screw under a load: F d/2 tan(phi +- lambda) (square-thread formula of any text
        on machine elements); never below zero."""
        angle = math.atan(self.lead_m / (math.pi * self.mean_m))
        rub = math.atan(self.friction)
        turn = rub - angle if lowering else rub + angle
        return max(0.0, newton * self.mean_m / 2 * math.tan(turn))


@dataclass(frozen=True)
class Trailer:
    """A sound trailer, and the person's situation beside it."""

    seed: int
    number: int
    gear: str
    near: str  # the side the motor or crank is on
    gross_lb: float
    pin_lb: float
    pin_to_axles_ft: float
    pin_to_legs_ft: float
    celsius: float
    chemistry: str
    charge: float
    battery_ohm: float
    house_a: float
    lamps: str
    awg: int
    wire_ft: float
    returns: str
    guard: str
    guard_a: float
    control: str
    motor: Motor
    screw: Screw
    reduction: float
    gear_yield: float
    reference_nm: float  # torque of one screw at the load the gear was chosen for
    crank_ratio: float
    start_times: float  # breakaway torque of screw and gears over running torque
    drop_leg: bool
    support: str
    share: float  # of the nose's weight that is on the legs while the button is held
    task: str
    has: frozenset[str]
    outer_in: float
    inner_in: float
    stroke_in: float

    @property
    def motors(self) -> tuple[str, ...]:
        """Sides that have a motor of their own; with one motor, the side it sits on; none with a crank."""
        if self.gear == "manual":
            return ()
        return ("left", "right") if self.gear == "two_motor" else (self.near,)

    @property
    def far(self) -> str:
        """The side across from the motor or crank."""
        return "right" if self.near == "left" else "left"

    def leg_newton(self, pin_lb: float | None = None) -> float:
        """Load on one leg [N] with the nose on its legs: moments about the axles, pin x L/(L - a), halved."""
        pin = self.pin_lb if pin_lb is None else pin_lb
        lever = self.pin_to_axles_ft / (self.pin_to_axles_ft - self.pin_to_legs_ft)
        return pin * lever / 2 * LB_N


def draw_trailer(seed: int, number: int, gear: str) -> Trailer:
    """A sound trailer of that gear; the same seed and number give the same one. Ranges: common practice, no source."""
    rng = stream(seed, number, "trailer")
    gross = rng.uniform(7500, 16500)
    pin = gross * rng.uniform(0.15, 0.235)
    axles, legs = rng.uniform(22, 32), rng.uniform(4, 7)
    chemistry = pick(rng, {"flooded": 0.6, "agm": 0.25, "lithium": 0.15})
    celsius = max(-15.0, min(42.0, rng.gauss(17, 11)))
    cold = 1 + max(0.0, 20 - celsius) * 0.015
    charge = rng.uniform(0.55, 1.0)
    battery = rng.uniform(0.009, 0.02) * cold * (0.6 if chemistry == "lithium" else 1.0)
    one = gear != "two_motor"
    label = rng.uniform(22, 38) if one else rng.uniform(12, 22)
    ohm = rng.uniform(0.07, 0.12) if one else rng.uniform(0.13, 0.22)
    idle = label * rng.uniform(0.08, 0.15)
    no_load = rng.uniform(2200, 4200) * 2 * math.pi / 60
    k = (12 - idle * ohm) / no_load
    screw = Screw(rng.uniform(0.004, 0.006), rng.uniform(0.021, 0.029), rng.uniform(0.11, 0.18))
    lever = axles / (axles - legs)
    reference_n = pin * lever / 2 * LB_N * rng.uniform(1.05, 1.45)
    gear_yield = rng.uniform(0.58, 0.8)
    reference = screw.torque(reference_n, False)
    reduction = (2 if one else 1) * reference / (k * (label - idle) * gear_yield)
    support = pick(rng, {"hitched": 0.47, "legs": 0.45, "stands": 0.03, "unsure": 0.05})
    task = pick(
        rng, {"retract": 0.6, "extend": 0.4} if support == "hitched" else {"extend": 0.8, "retract": 0.2}
    )
    share = {
        "hitched": 0.0 if rng.random() < 0.3 else rng.uniform(0.2, 0.9),
        "stands": rng.uniform(0.0, 0.5),
    }.get(support, 1.0)
    return Trailer(
        seed, number, gear, rng.choice(("left", "right")), gross, pin, axles, legs, celsius, chemistry, charge,
        battery, rng.uniform(1.0, 5.0), pick(rng, {"bulb": 0.45, "led": 0.55}),
        *_wire(rng, one), pick(rng, {"frame": 0.6, "wire": 0.4}),
        pick(rng, {"fuse": 0.55, "auto breaker": 0.25, "button breaker": 0.2}),
        min((a for a in (15, 20, 25, 30, 40, 50, 60) if a >= label * (1.15 if one else 2.0)), default=60),
        pick(rng, {"relay": 0.55, "direct": 0.45}), Motor(label, ohm, k, idle, no_load), screw, reduction, gear_yield,
        reference, rng.uniform(3.5, 6) if gear == "manual" else rng.uniform(4.5, 8), rng.uniform(1.25, 1.7), rng.random() < 0.75, support, share,
        task, _at_hand(rng, gear, support), rng.choice((2.25, 2.5, 3.0)), rng.choice((1.75, 2.0, 2.25)),
        float(rng.choice((12, 14, 15, 16, 18))),
    )  # fmt: skip


def _wire(rng: Random, one: bool) -> tuple[int, float]:
    awg = rng.choices((6, 8, 10, 12), (0.2, 0.4, 0.35, 0.05) if one else (0.15, 0.35, 0.4, 0.1))[0]
    longest = {6: 30, 8: 24, 10: 17, 12: 11}[awg]
    return awg, rng.uniform(5, longest)


EVERYTHING = frozenset(
    (
        "meter",
        "clamp meter",
        "helper",
        "crank handle",
        "truck",
        "tape",
        "wrench",
        "screwdriver",
        "light",
        "jumper lead",
        "scale",
    )
)


def _at_hand(rng: Random, gear: str, support: str) -> frozenset[str]:
    chances = {"meter": 0.6, "clamp meter": 0.16, "helper": 0.7, "crank handle": 0.85, "truck": 0.8, "tape": 0.95,
               "wrench": 0.85, "screwdriver": 0.9, "light": 0.95, "jumper lead": 0.5, "scale": 0.15}  # fmt: skip
    has = {name for name, chance in chances.items() if rng.random() < chance}
    if "clamp meter" in has:
        has.add("meter")
    if gear == "manual":
        has.add("crank handle")
    if support == "hitched":
        has.add("truck")
    return frozenset(has)
