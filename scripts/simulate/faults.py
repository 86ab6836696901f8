"""The causes: how common each is, and what each changes. Severities and priors: common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from scripts.simulate.condition import SIDES, Condition, crank_force_n, crank_moves, of, press, set_wire
from scripts.simulate.draws import Random, log_uniform, pick, stream
from scripts.simulate.trailer import OPEN_OHM, Trailer, copper_ohm_per_m, rest_volts

ELECTRIC, ALL = ("one_motor", "two_motor"), ("one_motor", "two_motor", "manual")
# cause -> (share of calls, gears it can have). Shares: this simulator's own judgement.
CAUSES: dict[str, tuple[float, tuple[str, ...]]] = {
    "battery_discharged": (16, ELECTRIC),
    "battery_connection": (8, ELECTRIC),
    "bad_ground": (10, ELECTRIC),
    "fuse_or_breaker_open": (9, ELECTRIC),
    "supply_wire_open": (4, ELECTRIC),
    "supply_high_resistance": (5, ELECTRIC),
    "switch_failed": (7, ELECTRIC),
    "relay_or_controller_failed": (6, ELECTRIC),
    "motor_failed": (8, ELECTRIC),
    "motor_shaft_sheared": (4, ELECTRIC),
    "motor_undersized": (2, ELECTRIC),
    "gearbox_stripped": (4, ALL),
    "cross_shaft_parted": (8, ("one_motor", "manual")),
    "leg_bevel_gears_damaged": (5, ALL),
    "leg_screw_or_nut_stripped": (3, ALL),
    "leg_binding": (6, ALL),
    "leg_bent": (5, ALL),
    "leg_jammed_at_end_of_travel": (6, ALL),
    "legs_out_of_step": (4, ALL),
    "drop_leg_or_pin": (4, ALL),
    "mounting_loose": (3, ALL),
    "overloaded_front": (5, ALL),
    "ground_sinking_or_side_load": (3, ALL),
    "hydraulic_system_out_of_scope": (1, ALL),
    "not_landing_gear": (1, ALL),
}
OUTSIDE = ("hydraulic_system_out_of_scope", "not_landing_gear")
# What shows by looking, not by a slow or dead drive.
SEEN_ONLY = {"legs_out_of_step", "drop_leg_or_pin", "mounting_loose", "ground_sinking_or_side_load", *OUTSIDE}
SUPPLY = {"battery_discharged", "battery_connection", "bad_ground", "supply_high_resistance"}


def which_sides(t: Trailer, rng: Random, common: float) -> tuple[str, ...]:
    """Sides a fault sits on: with two motors it is common to both with that chance, else one side's own."""
    if t.gear != "two_motor" or rng.random() < common:
        return SIDES
    return (rng.choice(SIDES),)


def _battery(t: Trailer, c: Condition, rng: Random) -> None:
    if rng.random() < 0.65:
        c.emf = rest_volts(
            rng.uniform(-0.6, 0.15) if rng.random() < 0.5 else rng.uniform(-0.1, 0.15), t.chemistry
        )
        c.battery_ohm *= log_uniform(rng, 4, 30)
        c.marks["battery"] = "flat"
    else:
        c.emf = rest_volts(rng.uniform(0.3, 0.9), t.chemistry)
        c.battery_ohm = log_uniform(rng, 0.07, 0.35)
        c.marks["battery"] = "worn"


def _battery_joint(t: Trailer, c: Condition, rng: Random) -> None:
    ohm = OPEN_OHM if rng.random() < 0.1 else log_uniform(rng, 0.05, 1.8)
    c.house_behind_joint = rng.random() < 0.7
    c.marks["joint"] = "minus" if rng.random() < 0.4 else "plus"
    if c.marks["joint"] == "minus":
        c.minus_joint_ohm = ohm
    else:
        c.plus_joint_ohm = ohm


def _ground(t: Trailer, c: Condition, rng: Random) -> None:
    ohm = OPEN_OHM if rng.random() < 0.12 else log_uniform(rng, 0.06, 2.5)
    sides = which_sides(t, rng, 0.6)
    if sides == SIDES and rng.random() < 0.25:
        c.marks["ground"] = "battery strap"  # the frame's own strap, which the house lights share
        c.minus_joint_ohm, c.house_behind_joint = ohm, True
    elif sides == SIDES:
        c.ground_ohm = ohm
    else:
        c.leg_ground_ohm[sides[0]] = ohm


def _guard(t: Trailer, c: Condition, rng: Random) -> None:
    if t.guard == "auto breaker" and rng.random() < 0.5:
        c.guard_cycles = True  # a tired breaker that opens far below its rating and comes back
        c.guard_ohm = 0.02
    else:
        c.guard_ohm = OPEN_OHM


def _wire_open(t: Trailer, c: Condition, rng: Random) -> None:
    sides = which_sides(t, rng, 0.3)
    c.marks["gap"] = "near plug" if rng.random() < 0.3 else "along"
    if sides == SIDES and rng.random() < 0.4:
        c.feed_ohm = OPEN_OHM
    else:
        for side in sides:
            c.lead_ohm[side] = OPEN_OHM


def _wire_thin(t: Trailer, c: Condition, rng: Random) -> None:
    if rng.random() < 0.5:
        set_wire(
            c, t, rng.choice((12, 14, 14, 16) if t.gear == "one_motor" else (14, 16, 16)), rng.uniform(24, 45)
        )
        c.marks["wire"] = "thin"
        return
    ohm = log_uniform(rng, 0.08, 1.0 if t.gear == "two_motor" else 0.5)
    c.marks["wire"] = "joint"
    sides = which_sides(t, rng, 0.5)
    if sides == SIDES and rng.random() < 0.5:
        c.feed_ohm += ohm
    else:
        for side in sides:
            c.lead_ohm[side] += ohm


def _contacts(
    c: Condition, rng: Random, table: dict[tuple[str, str], float], sides: tuple[str, ...], how: str
) -> None:
    for side in sides:
        if how == "both":
            table[side, "extend"] = table[side, "retract"] = OPEN_OHM
        elif how == "burnt":
            table[side, "extend"] = table[side, "retract"] = log_uniform(rng, 0.08, 1.2)
    if how == "one way":
        dead = rng.choice(("extend", "retract"))
        for side in sides:
            table[side, dead] = OPEN_OHM


def _switch(t: Trailer, c: Condition, rng: Random) -> None:
    how = pick(rng, {"both": 0.38, "one way": 0.42, "burnt": 0.2 if t.control == "direct" else 0.0})
    c.marks["switch"] = how
    _contacts(c, rng, c.switch_ohm, which_sides(t, rng, 0.45), how)


def _relay(t: Trailer, c: Condition, rng: Random) -> None:
    how = pick(rng, {"both": 0.32, "coil": 0.2, "one way": 0.33, "burnt": 0.15})
    c.marks["relay"] = how
    if how == "coil":
        c.coil = False
    else:
        _contacts(c, rng, c.relay_ohm, which_sides(t, rng, 0.45), how)


def _motor(t: Trailer, c: Condition, rng: Random) -> None:
    side = rng.choice(t.motors)
    how = pick(rng, {"brushes": 0.45, "winding": 0.15, "locked": 0.22, "weak": 0.18})
    c.marks["motor"] = how
    if how in ("brushes", "winding"):
        c.motor_open.add(side)
    elif how == "locked":
        c.motor_locked.add(side)
        c.marks["crank through motor"] = "yes" if rng.random() < 0.35 else "no"
    else:
        c.motors[side] = replace(
            c.motors[side],
            ohm=c.motors[side].ohm * rng.uniform(1.6, 3.2),
            k=c.motors[side].k * rng.uniform(0.65, 0.95),
        )


def _shaft(t: Trailer, c: Condition, rng: Random) -> None:
    c.shaft_broken.add(rng.choice(t.motors))


def _small_motor(t: Trailer, c: Condition, rng: Random) -> None:
    # Half of them are wound thinner (same k, more ohms); half turn faster with less torque for an ampere.
    thin = rng.random() < 0.5
    times, weaker = (rng.uniform(1.7, 3.2), 1.0) if thin else (rng.uniform(1.2, 2.2), rng.uniform(0.55, 0.8))
    for side in SIDES:
        m = c.motors[side]
        label = m.label_a * rng.uniform(0.45, 0.75)
        c.motors[side] = replace(
            m, ohm=m.ohm * times, k=m.k * weaker, no_load_rad_s=m.no_load_rad_s / weaker, label_a=label
        )
    c.share = max(c.share, 0.85)


def _gearbox(t: Trailer, c: Condition, rng: Random) -> None:
    c.gearbox_broken.add(t.near if t.gear != "two_motor" else rng.choice(SIDES))


def _bar(t: Trailer, c: Condition, rng: Random) -> None:
    c.bar_parted = "near end" if rng.random() < 0.4 else "far end"
    c.marks["bar"] = "pin" if rng.random() < 0.72 else "bar"


def _bevel(t: Trailer, c: Condition, rng: Random) -> None:
    leg = c.legs[rng.choice(SIDES)]
    leg.bevel = False
    if rng.random() < 0.5:  # teeth worn and not gone: they hold a leg that carries little
        leg.skips_above_n = rng.uniform(300, 0.6 * t.leg_newton())


def _nut(t: Trailer, c: Condition, rng: Random) -> None:
    c.legs[rng.choice(SIDES)].follows = False


def _dry(t: Trailer, c: Condition, rng: Random) -> None:
    sides = SIDES if rng.random() < 0.5 else (rng.choice(SIDES),)
    times, extra = rng.uniform(1.4, 2.4), rng.uniform(0.35, 1.1)
    for side in sides:
        c.legs[side].times, c.legs[side].extra = times, extra * (1.0 if len(sides) == 2 else 1.5)


def _bent(t: Trailer, c: Condition, rng: Random) -> None:
    c.legs[rng.choice(SIDES)].extra = log_uniform(rng, 0.7, 5)


def _jam(t: Trailer, c: Condition, rng: Random) -> None:
    side = rng.choice(SIDES)
    towards = "retract" if rng.random() < 0.65 else "extend"
    c.marks["end"] = towards
    both = rng.random() < 0.7
    c.legs[side].jammed = frozenset(("extend", "retract")) if both else frozenset((towards,))


def _step(t: Trailer, c: Condition, rng: Random) -> None:
    c.numbers["length"] = log_uniform(rng, 0.9, 4.5)


def _drop(t: Trailer, c: Condition, rng: Random) -> None:
    c.marks["drop"] = pick(rng, {"stuck": 0.35, "pin worn": 0.4, "not seated": 0.25})


def _mount(t: Trailer, c: Condition, rng: Random) -> None:
    c.marks["mount"] = "motor" if t.motors and rng.random() < 0.25 else "leg"


def _load(t: Trailer, c: Condition, rng: Random) -> None:
    c.pin_lb = t.pin_lb * rng.uniform(1.6, 2.8)
    c.share = max(c.share, 0.85)


def _soft(t: Trailer, c: Condition, rng: Random) -> None:
    c.share = max(c.share, 0.8)
    for side in SIDES:
        c.legs[side].times = rng.uniform(1.0, 1.5)


def _nothing(t: Trailer, c: Condition, rng: Random) -> None:
    del t, c, rng


PLANT: dict[str, Callable[[Trailer, Condition, Random], None]] = {
    "battery_discharged": _battery, "battery_connection": _battery_joint, "bad_ground": _ground,
    "fuse_or_breaker_open": _guard, "supply_wire_open": _wire_open, "supply_high_resistance": _wire_thin,
    "switch_failed": _switch, "relay_or_controller_failed": _relay, "motor_failed": _motor,
    "motor_shaft_sheared": _shaft, "motor_undersized": _small_motor, "gearbox_stripped": _gearbox,
    "cross_shaft_parted": _bar, "leg_bevel_gears_damaged": _bevel, "leg_screw_or_nut_stripped": _nut,
    "leg_binding": _dry, "leg_bent": _bent, "leg_jammed_at_end_of_travel": _jam, "legs_out_of_step": _step,
    "drop_leg_or_pin": _drop, "mounting_loose": _mount, "overloaded_front": _load, "ground_sinking_or_side_load": _soft,
    "hydraulic_system_out_of_scope": _nothing, "not_landing_gear": _nothing,
}  # fmt: skip


def fits(t: Trailer, cause: str) -> Trailer:
    """The trailer as that cause needs it: a relay to fail, a drop leg to stick, weight on the legs to be too much."""
    if cause == "relay_or_controller_failed":
        return replace(t, control="relay")
    if cause == "drop_leg_or_pin":
        return replace(t, drop_leg=True)
    if cause in ("overloaded_front", "motor_undersized") and t.share < 0.85:
        return replace(t, support="legs" if t.support == "stands" else t.support, task="extend", share=0.9)
    if cause in ("supply_high_resistance", "leg_binding") and t.share < 0.4:
        # A thin wire or a stiff leg that carries nothing is not noticed, and nobody would call.
        return replace(t, support="hitched" if t.support == "hitched" else "legs", share=0.6)
    if cause == "ground_sinking_or_side_load" and t.share < 0.8:
        return replace(t, support="legs", share=1.0)
    return t


def planted(t: Trailer, causes: tuple[str, ...]) -> Condition:
    """The trailer's condition with these causes in it. Severities are drawn again until each shows itself alone."""
    c = of(t)
    for cause in causes:
        for attempt in range(60):
            alone = of(t)
            PLANT[cause](t, alone, stream(t.seed, t.number, f"{cause} {attempt}"))
            if attempt == 59 or shows(t, alone, cause):
                PLANT[cause](t, c, stream(t.seed, t.number, f"{cause} {attempt}"))
                break
    return c


def sound_speed(t: Trailer, direction: str, share: float, only: str | None = None) -> float:
    """Speed of the sound trailer, as a share of no-load speed."""
    return press(t, of(t), direction, share, only=only).speed


def shows(t: Trailer, c: Condition, cause: str) -> bool:
    """Whether a person would complain: a leg that stays, or a drive plainly slower or a crank plainly heavier than it
    was; faults that are seen and not felt always do."""
    if cause in SEEN_ONLY or c.guard_cycles:
        return True
    if t.gear == "manual":
        force, usual = crank_force_n(t, c), crank_force_n(t, of(t), share=c.share)
        stays = not all(crank_moves(t, c).values())
        return stays or force > 2.1 * usual
    for direction in ("extend", "retract"):
        now = press(t, c, direction)
        if not all(now.moves.values()):
            return True
        for side in t.motors:
            mine = press(t, c, direction, only=side).speed
            if mine < 0.73 * sound_speed(t, direction, c.share, side):
                return True
    return False


__all__ = [
    "CAUSES",
    "OUTSIDE",
    "PLANT",
    "SUPPLY",
    "copper_ohm_per_m",
    "fits",
    "planted",
    "shows",
    "sound_speed",
]
