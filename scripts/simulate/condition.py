"""What is wrong with one trailer, as changed elements of its circuit and its drive, and how it then behaves."""

from __future__ import annotations

from dataclasses import dataclass, field

from scripts.simulate.circuit import Branch, Feed, Solved, solve
from scripts.simulate.trailer import OPEN_OHM, Motor, Trailer, copper_ohm_per_m, rest_volts

SIDES = ("left", "right")
INF = float("inf")
OWN_WEIGHT_N = 140.0  # inner tube and foot; common practice, no source
PULL_IN_V, DROP_OUT_V = 7.5, 3.0  # 12 V relay coil; from memory of common data sheets


@dataclass
class Leg:
    """One leg: what its screw has to overcome and whether turning becomes travel."""

    times: float = 1.0  # load torque multiplied
    extra: float = 0.0  # torque that is there without load, in reference torques
    jammed: frozenset[str] = frozenset()  # directions in which it is locked
    follows: bool = True  # turning moves the tube (screw and nut hold)
    bevel: bool = True
    skips_above_n: float = 0.0  # worn bevel gears that still mesh below this load

    def goes(self, newton: float) -> bool:
        """Whether turning its input moves the leg under that load."""
        return self.follows and (self.bevel or newton < self.skips_above_n)


@dataclass
class Condition:
    """A trailer with its faults put in. Fresh from `of`, it is sound."""

    emf: float
    battery_ohm: float
    celsius: float
    plus_joint_ohm: float = 0.001
    minus_joint_ohm: float = 0.001
    house_behind_joint: bool = True
    guard_ohm: float = 0.003
    feed_ohm: float = 0.0
    lead_ohm: dict[str, float] = field(default_factory=dict)
    frame_ohm: float = 0.0
    ground_ohm: float = 0.002
    leg_ground_ohm: dict[str, float] = field(default_factory=dict)
    switch_ohm: dict[tuple[str, str], float] = field(default_factory=dict)  # (side, direction)
    relay_ohm: dict[tuple[str, str], float] = field(default_factory=dict)
    coil: bool = True
    motors: dict[str, Motor] = field(default_factory=dict)
    motor_open: set[str] = field(default_factory=set)
    motor_locked: set[str] = field(default_factory=set)
    shaft_broken: set[str] = field(default_factory=set)
    gearbox_broken: set[str] = field(default_factory=set)
    bar_parted: str = ""  # "", "near end", "far end"
    legs: dict[str, Leg] = field(default_factory=dict)
    pin_lb: float = 0.0
    share: float = 1.0
    awg: int = 10
    wire_ft: float = 10.0
    guard_cycles: bool = False
    marks: dict[str, str] = field(default_factory=dict)  # how a fault looks, where several ways exist
    numbers: dict[str, float] = field(default_factory=dict)


def of(trailer: Trailer) -> Condition:
    """The condition of a sound trailer: wire by gauge and length, 70 % of it before the switch or relay."""
    c = Condition(
        rest_volts(trailer.charge, trailer.chemistry), trailer.battery_ohm, trailer.celsius, share=trailer.share,
        awg=trailer.awg, wire_ft=trailer.wire_ft, pin_lb=trailer.pin_lb,
    )  # fmt: skip
    set_wire(c, trailer, trailer.awg, trailer.wire_ft)
    for side in SIDES:
        c.legs[side] = Leg()
        c.leg_ground_ohm[side] = 0.001
        c.motors[side] = trailer.motor
        for direction in ("extend", "retract"):
            c.switch_ohm[side, direction] = 0.004
            c.relay_ohm[side, direction] = 0.003
    return c


def set_wire(c: Condition, trailer: Trailer, awg: int, feet: float) -> None:
    """Puts a wire of that gauge and one-way length in; the way back is a wire alike or the frame."""
    one_way = copper_ohm_per_m(awg, c.celsius) * feet * 0.3048
    c.awg, c.wire_ft = awg, feet
    c.feed_ohm = 0.7 * one_way
    c.lead_ohm = {side: 0.3 * one_way for side in SIDES}
    c.frame_ohm = one_way if trailer.returns == "wire" else 0.003


def leg_torque(t: Trailer, c: Condition, side: str, direction: str, newton: float) -> float:
    """Torque at one leg's screw [N m]; infinite where it is locked."""
    leg = c.legs[side]
    if direction in leg.jammed:
        return INF
    base = t.screw.torque(newton + OWN_WEIGHT_N, direction == "retract" and newton > 0)
    if not leg.goes(newton):
        return 0.2 * base
    return base * leg.times + leg.extra * t.reference_nm


def driven(t: Trailer, c: Condition, motor_side: str) -> tuple[str, ...]:
    """Legs whose input turns when that motor (or the crank, for manual gear) turns."""
    if t.gear == "two_motor":
        return (
            ()
            if motor_side in c.gearbox_broken or (motor_side in c.shaft_broken and t.gear != "manual")
            else (motor_side,)
        )
    if t.near in c.gearbox_broken or t.near in c.shaft_broken:
        return ()
    return (t.near,) if c.bar_parted else (t.near, t.far)


def cranked(t: Trailer, c: Condition, side: str | None = None) -> tuple[str, ...]:
    """Legs whose input turns when the crank is turned: it goes in behind the motor's own shaft."""
    side = side or t.near
    if t.gear == "two_motor":
        return () if side in c.gearbox_broken else (side,)
    if t.near in c.gearbox_broken:
        return ()
    return (t.near,) if c.bar_parted else (t.near, t.far)


@dataclass(frozen=True)
class Press:
    """What one press of the button does."""

    solved: Solved | None
    moves: dict[str, bool]
    speed: float  # share of no-load speed of the motor looked at
    chatter: bool
    coil_clicks: bool

    @property
    def turns(self) -> bool:
        """Whether any motor turns."""
        return self.solved is not None and any(m.turns for m in self.solved.motors.values())


def press(
    t: Trailer, c: Condition, direction: str, share: float | None = None, jump: bool = False, jumper_ground: bool = False,
    only: str | None = None,
) -> Press:  # fmt: skip
    """The button held (gear with a motor): volts, amps, which legs move. `jump` bypasses switch and relay,
    `jumper_ground` the whole way back. `only` presses the button of one leg alone (gear with two motors)."""
    newton = t.leg_newton(c.pin_lb) * (c.share if share is None else share)
    ground = 0.002 if jumper_ground else c.ground_ohm + c.frame_ohm
    sides = t.motors if only is None or t.gear != "two_motor" else (only,)
    feed = Feed(
        c.emf, c.battery_ohm, c.plus_joint_ohm, c.guard_ohm, c.feed_ohm, ground, t.house_a, c.house_behind_joint,
        0.001 if jumper_ground else c.minus_joint_ohm,
    )  # fmt: skip
    rest_at_coil = c.emf if feed.series_ohm < OPEN_OHM / 2 else 0.0
    clicks = False
    branches = []
    for side in sides:
        switch = c.switch_ohm[side, direction]
        if jump:
            contact = 0.002
        elif t.control == "direct":
            contact = switch
        else:
            pulled = c.coil and switch < 50 and rest_at_coil >= PULL_IN_V
            clicks = clicks or pulled
            contact = c.relay_ohm[side, direction] if pulled else OPEN_OHM
        motor = c.motors[side]
        legs = driven(t, c, side)
        if side in c.motor_locked:
            torque = INF
        else:
            torque = sum(leg_torque(t, c, s, direction, newton) for s in legs) / (t.reduction * t.gear_yield)
        ohm = OPEN_OHM if side in c.motor_open else motor.ohm
        branches.append(
            Branch(side, contact, c.lead_ohm[side], 0.001 if jumper_ground else c.leg_ground_ohm[side], ohm, motor.k,
                   motor.idle_a, motor.no_load_rad_s, torque, t.start_times)
        )  # fmt: skip
    solved = solve(feed, tuple(branches))
    # A relay whose coil hangs on the starved circuit lets go when the motor takes its current.
    coil_now = solved.behind_guard - max(solved.ground_rise.values(), default=0.0)
    chatter = t.control == "relay" and not jump and clicks and coil_now < DROP_OUT_V and solved.amps > 2
    moves = dict.fromkeys(SIDES, False)
    speed = 0.0
    for side, running in solved.motors.items():
        if running.turns and not chatter:
            speed = max(speed, running.rad_s / t.motor.no_load_rad_s)
            for leg in driven(t, c, side):
                moves[leg] = c.legs[leg].goes(newton)
    return Press(solved, moves, speed, chatter, clicks)


def crank_moves(
    t: Trailer, c: Condition, side: str | None = None, share: float | None = None
) -> dict[str, bool]:
    """Which legs the crank moves, if it can be turned at all."""
    newton = t.leg_newton(c.pin_lb) * (c.share if share is None else share)
    turned = cranked(t, c, side)
    return {s: s in turned and c.legs[s].goes(newton) for s in SIDES}


def crank_force_n(t: Trailer, c: Condition, side: str | None = None, share: float | None = None) -> float:
    """Force at a crank handle of 11 in [N] in the direction that lifts; infinite where it is locked."""
    newton = t.leg_newton(c.pin_lb) * (c.share if share is None else share)
    side = side or t.near
    torque = sum(leg_torque(t, c, s, "extend", newton) for s in cranked(t, c, side))
    if t.gear != "manual" and side in c.motor_locked and c.marks.get("crank through motor") == "yes":
        return INF
    return torque / (t.crank_ratio * t.gear_yield * 0.28) + 5
