"""Simulated trailers: what a meter would show under each cause.

Every cause that changes the circuit says so in its page (`## Circuit`). Trailers are drawn over the tolerances of
a sound 12 V lift circuit with that one change, by a fixed low-discrepancy sequence, so the same corpus always
gives the same draws. Formulas: Ohm's law and the permanent-magnet motor V = I R + k w, T = k I.
The tolerances below are the team's judgement of what is common on trailers (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping

from bot.corpus.model import Cause

DRAWS = 160
READINGS = (
    "volts_battery_resting",
    "volts_battery_loaded",
    "volts_motor_loaded",
    "volts_switch_in",
    "volts_switch_out",
    "volts_relay_in",
    "volts_relay_out",
    "volts_ground_drop",
    "amps",
)
# Sound parts: (low, high); charge in %, resistances in milliohm, current of a usual lift in A.
_SOUND: dict[str, tuple[float, float]] = {
    "battery charge": (70.0, 100.0),
    "battery inner": (8.0, 22.0),
    "joint at battery": (0.5, 3.0),
    "fuse": (1.5, 4.0),
    "feed wire": (8.0, 30.0),
    "switch": (1.0, 8.0),
    "relay": (1.0, 6.0),
    "motor leads": (1.0, 6.0),
    "ground path": (2.0, 14.0),
    "load torque": (1.0, 1.0),
}
_RUN_A = (17.0, 33.0)
_FREE_A = (5.0, 9.0)
# A motor and screws that stand take more to break loose than to keep turning.
_START_TIMES = (1.0, 1.8)
_ARMATURE_MOHM = (90.0, 170.0)
_BRUSH_V = 1.0
# A 12 V relay pulls in from about 7.5 V at its coil: common data sheets, from memory.
_PULL_IN_V = 7.5
# Voltage of a rested flooded battery over its charge: BCI table, see the tests of the battery sum.
_CHARGE_V = ((0.0, 11.89), (25.0, 12.06), (50.0, 12.24), (75.0, 12.45), (100.0, 12.70))


def _fraction(draw: int, dimension: int) -> float:
    """A point of the additive recurrence with the roots of x^(d+1) = x + 1: even cover without chance."""
    root = 1.0
    for _ in range(30):
        root = (1.0 + root) ** (1.0 / 17.0)
    return (0.5 + (draw + 1) * pow(1.0 / root, dimension + 1)) % 1.0


def _rested_volts(charge: float) -> float:
    for (low, v_low), (high, v_high) in zip(_CHARGE_V, _CHARGE_V[1:], strict=False):
        if charge <= high:
            return v_low + (v_high - v_low) * (charge - low) / (high - low)
    return _CHARGE_V[-1][1]


def draws_of(cause: Cause | None) -> tuple[tuple[float, ...], ...]:
    """Readings of DRAWS trailers under the cause (None: a sound circuit), in the order of READINGS; V and A.

    Behind them stands 1 where the motor turns, else 0.
    """
    # Four decimals: a tenth of a millivolt, far below any meter, and a third of the room on disk.
    return tuple(tuple(round(v, 4) for v in _trailer(cause, n)) for n in range(DRAWS))


def _trailer(cause: Cause | None, n: int) -> tuple[float, ...]:
    ranges = dict(_SOUND)
    for change in cause.circuit if cause else ():
        ranges[change.element] = (change.low, change.high)
    value: dict[str, float] = {}
    for i, (element, (low, high)) in enumerate(ranges.items()):
        at = _fraction(n, i)
        # Bad joints spread over decades: draw them evenly in ratio, not in difference.
        value[element] = low * (high / low) ** at if low > 0 and high / low > 4 else low + (high - low) * at
    dead = _fraction(n, 10)
    charge = value["battery charge"]
    emf = _rested_volts(charge)
    if charge < 12:  # far below the table: a battery run flat or left for months
        emf -= (12 - charge) / 12 * 5.0 * dead
    run_a = _RUN_A[0] + (_RUN_A[1] - _RUN_A[0]) * _fraction(n, 11)
    armature = _ARMATURE_MOHM[0] + (_ARMATURE_MOHM[1] - _ARMATURE_MOHM[0]) * _fraction(n, 12)
    touches_relay = (
        bool(cause) and ("relay" in cause.breaks or any(r.element == "relay" for r in cause.circuit))
        if cause
        else False
    )
    has_relay = touches_relay or _fraction(n, 13) < 0.5
    joint_on_plus = _fraction(n, 14) < 0.5
    spot = _fraction(n, 15)
    return _readings(cause, value, emf, run_a, armature, has_relay, joint_on_plus, spot, _fraction(n, 16))


def _readings(
    cause: Cause | None,
    ohms: Mapping[str, float],
    emf: float,
    run_a: float,
    armature: float,
    has_relay: bool,
    joint_on_plus: bool,
    spot: float,
    start: float,
) -> tuple[float, ...]:
    joint_plus, joint_minus = (
        (ohms["joint at battery"], 1.0) if joint_on_plus else (1.0, ohms["joint at battery"])
    )
    # With a relay the switch carries the coil alone and the thick feed goes to the relay; without one it carries all.
    before_switch = joint_plus + ohms["fuse"] + (0.0 if has_relay else ohms["feed wire"] * spot)
    before_relay = joint_plus + ohms["fuse"] + ohms["feed wire"] * spot
    after_switch = ohms["feed wire"] * (1 - spot) + ohms["motor leads"]
    contact = ohms["relay"] if has_relay else ohms["switch"]
    ground = ohms["ground path"] + joint_minus
    path = ohms["battery inner"] + before_relay + contact + after_switch + ground
    open_at = cause.breaks[int(spot * 0.999 * len(cause.breaks))] if cause and cause.breaks else ""
    motor = cause.motor if cause else ""
    if open_at and (motor or (cause and cause.circuit)) and run_a < sum(_RUN_A) / 2:
        open_at = ""  # a cause that can break the path or only spoil it: half the trailers each
    if has_relay and ohms["switch"] > _SOUND["switch"][1]:
        open_at = "switch"  # a poor contact that a coil does not mind is no fault; one that it does is open
    if not open_at and has_relay and emf < _PULL_IN_V:
        open_at = "relay"  # too little for the coil: no click, and nothing comes out
    if open_at:
        motor = ""
    wanted = run_a * ohms["load torque"]
    breaks_loose = wanted * (_START_TIMES[0] + (_START_TIMES[1] - _START_TIMES[0]) * start)
    if motor == "weak" and cause:
        wanted /= cause.motor_low + (cause.motor_high - cause.motor_low) * spot
    if motor == "unloaded":
        wanted = _FREE_A[0] + (_FREE_A[1] - _FREE_A[0]) * spot
    # Below a few amps the brushes drop less than their usual volt, so nothing holds up a dead line.
    stall = emf / (path + armature) * 1000.0
    if stall > 8.0:
        stall = max(8.0, (emf - _BRUSH_V) / (path + armature) * 1000.0)
    stands = motor == "locked" or (motor != "unloaded" and max(wanted, breaks_loose) > 0.92 * stall)
    amps = 0.0 if open_at else stall if stands else wanted
    battery = emf - amps * ohms["battery inner"] / 1000.0
    switch_in = battery - amps * before_switch / 1000.0
    switch_out = switch_in - (0.0 if has_relay else amps * ohms["switch"] / 1000.0)
    relay_in = battery - amps * before_relay / 1000.0 if has_relay else switch_out
    relay_out = relay_in - (amps * ohms["relay"] / 1000.0 if has_relay else 0.0)
    lost_ground = amps * ground / 1000.0
    at_motor = relay_out - amps * after_switch / 1000.0 - lost_ground
    if open_at in ("battery joint", "fuse"):
        switch_in = switch_out = relay_in = relay_out = at_motor = 0.0
    elif open_at == "feed wire":
        if spot < 0.35:
            relay_in = relay_out = 0.0
            if not has_relay or spot < 0.2:
                switch_in = switch_out = 0.0
        at_motor = 0.0
    elif open_at == "switch":
        switch_out = relay_out = at_motor = 0.0
        relay_in = emf if has_relay else 0.0
    elif open_at == "relay":
        relay_out = at_motor = 0.0
    elif open_at == "ground path":
        lost_ground, at_motor = emf, 0.0
    runs = float(not open_at and not stands)
    return (emf, battery, at_motor, switch_in, switch_out, relay_in, relay_out, lost_ground, amps, runs)
