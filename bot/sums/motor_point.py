"""The motor-point sum: amps, volts, speed and lift time of a motor on its harness, before and after."""

from bot.problems import NotEnough
from bot.sums import motors as m
from bot.sums.convert import LB_IN_N_M, figure
from bot.sums.limits import limits
from bot.sums.result import Result, Row, bar_row, valued
from bot.sums.spans import Known, Span, exact, span, spread
from bot.sums.wire import ASSUMED_FT, LONGER_WIRE_NOTE, wire_ohm_per_ft

#: Battery ohms where they were not measured: a sound one has single to low double figures of milliohms
#: (bound from its cranking rating). Contacts: fuse, switch and joints together, team's judgement.
ASSUMED_BATTERY_OHM = Span(0.008, 0.015, 0.025)
ASSUMED_CONTACT_OHM = Span(0.003, 0.010, 0.020)

SOURCES = (
    "steady equations of the magnet motor: U = I R + k w, T = k I",
    "copper and gauge as in the harness sum",
)
STALL_NOTE = (
    "A motor that stands still under current is let go at once: it makes several times its running"
    " heat, and the"
    " fuse may not open for minutes."
)


@limits(
    one_way_ft=(0, 500, "ft"),
    amps=(0, 1000, "A"),
    torque_lb_in=(0, 4000, "lb-in"),
    k_nm_per_a=(1e-4, 10, "N.m/A"),
    motor_ohm=(1e-4, 100, "ohm"),
    label_volts=(1, 60, "V"),
    no_load_rpm=(1, 50_000, "rpm"),
    stall_nm=(0.001, 500, "N.m"),
    rated_a=(0.1, 500, "A"),
    rated_rpm=(1, 50_000, "rpm"),
    battery_ohm=(0, 1, "ohm"),
    contact_ohm=(0, 5, "ohm"),
    volts_rest=(6, 30, "V"),
    torque_nm=(0, 500, "N.m"),
    stroke_in=(0.1, 60, "in"),
    turns_per_inch=(0.1, 20_000, "1/in"),
    shorten_ft=(0, 100, "ft"),
)
def motor_point(
    volts_rest: float | None = None,
    gauge_awg: float | str | None = None,
    one_way_ft: Known | None = None,
    torque_nm: float | None = None,
    *,
    torque_lb_in: float | None = None,
    amps: float | None = None,
    k_nm_per_a: float | None = None,
    motor_ohm: float | None = None,
    label_volts: float = 12.0,
    no_load_rpm: float | None = None,
    stall_nm: float | None = None,
    rated_a: float | None = None,
    rated_rpm: float | None = None,
    points: tuple[tuple[float, float, float], tuple[float, float, float]] | None = None,
    battery_ohm: Known | None = None,
    contact_ohm: Known | None = None,
    stranded: bool | None = None,
    temp_f: Known | None = None,
    stroke_in: float | None = None,
    turns_per_inch: float | None = None,
    shorten_ft: float = 0.0,
) -> Result:
    """Where the motor runs on its harness, and the same with the harness shortened, side by side.

    Parameters
    ----------
    volts_rest : battery at rest [V], 6 to 30
    gauge_awg : gauge of the wire; assumed where not given
    one_way_ft : the run one way [ft], 0 to 500; assumed where not given
    torque_nm : load at the motor's shaft [N.m], 0 to 500; or torque_lb_in, or amps
    torque_lb_in : the same [lb-in], 0 to 4000
    amps : measured while it lifts [A], 0 to 1000
    k_nm_per_a : motor constant [N.m/A], 0.0001 to 10; with motor_ohm it is the whole motor
    motor_ohm : of the winding [ohm], 0.0001 to 100
    label_volts : on the label [V], 1 to 60
    no_load_rpm : without load [rpm], 1 to 50000; with stall_nm it is the whole motor
    stall_nm : at a stall [N.m], 0.001 to 500
    rated_a : on the label [A], 0.1 to 500; with rated_rpm and motor_ohm it is the whole motor
    rated_rpm : on the label [rpm], 1 to 50000
    points : two measured points, each (volts across the motor, amps, rpm)
    battery_ohm : inner resistance [ohm], 0 to 1; assumed where not given
    contact_ohm : fuse, switch and joints together [ohm], 0 to 5; assumed where not given
    stroke_in : length of the lift [in], 0.1 to 60
    turns_per_inch : motor turns for an inch of lift [1/in], 0.1 to 20000
    shorten_ft : taken out of the run, one way [ft], 0 to 100

    Returns a Result; first value the amps. Verdict "turns", "stalls" or "close" by the range.
    Raises OutOfRange, NotEnough, Contradiction. Leaves out: heating of winding and magnets.
    Source: steady equations of the magnet motor.

    >>> r = motor_point(12.6, 10, 18, 1.2, k_nm_per_a=0.04, motor_ohm=0.12, battery_ohm=0.015,
    ...                 contact_ohm=0.010, stranded=False, temp_f=68)
    >>> round(r.value("amps"), 2), round(r.value("speed")), r.verdict
    (30.0, 1712, 'turns')
    """
    motor, told = _motor(
        k_nm_per_a, motor_ohm, label_volts, no_load_rpm, stall_nm, rated_a, rated_rpm, points
    )
    if volts_rest is None:
        raise NotEnough("motor-point", "the volts of the battery at rest")
    if torque_nm is None and torque_lb_in is not None:
        torque_nm = torque_lb_in * LB_IN_N_M
    if torque_nm is None and amps is not None:
        torque_nm = max(0.0, motor.k * amps)
        told.append(f"load = k I = {figure(motor.k)} x {figure(amps)} A = {figure(torque_nm)} N.m")
    if torque_nm is None:
        raise NotEnough("motor-point", "the load: torque at the motor's shaft, or the amps while it lifts")
    per_ft, name, assumed_wire = wire_ohm_per_ft(gauge_awg, "awg", stranded, temp_f)
    assumed = list(assumed_wire)
    feet = ASSUMED_FT if one_way_ft is None else span(one_way_ft)
    if one_way_ft is None:
        assumed.append("18 ft one way, from 10 to 30 ft: the length was not given")
    battery = ASSUMED_BATTERY_OHM if battery_ohm is None else span(battery_ohm)
    contact = ASSUMED_CONTACT_OHM if contact_ohm is None else span(contact_ohm)
    if battery_ohm is None:
        assumed.append("battery 15 mohm, from 8 to 25: it was not measured")
    if contact_ohm is None:
        assumed.append("fuse, switch and joints 10 mohm together, from 3 to 20: not measured")
    path = spread(lambda b, r, length, j: b + 2 * r * length + j, battery, per_ft, feet, contact)
    short = spread(
        lambda b, r, length, j: b + 2 * r * max(0.0, length - shorten_ft) + j, battery, per_ft, feet, contact
    )
    now = _points(motor, volts_rest, path, torque_nm)
    after = _points(motor, volts_rest, short, torque_nm)
    run_a = torque_nm / motor.k
    stall = spread(lambda r: m.at_back_volts(motor, volts_rest, r).amps, path)
    left = spread(lambda r: m.at_back_volts(motor, volts_rest, r).torque_nm, path)
    rpm, volts = (Span(*(one[place] for one in now)) for place in (0, 1))
    values = [
        valued("amps", min(run_a, stall.value), "A"),
        valued("volts at the motor", Span(*sorted(volts)), "V"),
        valued("speed", Span(*sorted(rpm)), "rpm"),
        valued("stall amps", stall, "A"),
        valued("stall torque", left, "N.m"),
    ]
    working = [
        *told,
        f"path = battery + 2 x {figure(feet.value)} ft of {name} + contacts = {figure(path.value)} ohm",
        (
            f"I = T / k = {figure(torque_nm)} N.m / {figure(motor.k)} = {figure(run_a)} A;"
            f" it stalls at {figure(stall.value)} A, {figure(left.value)} N.m"
        ),
        f"w = (U - I (R path + R motor)) / k: {figure(rpm.value)} rpm at {figure(volts.value)} V",
    ]
    if stroke_in is not None and turns_per_inch is not None:
        lift = Span(*(_seconds(stroke_in, turns_per_inch, one) for one in rpm))
        values.append(valued("seconds for the lift", Span(*sorted(lift)), "s"))
        working.append(
            f"seconds = {figure(stroke_in)} in x {figure(turns_per_inch)} turns an inch x 60 /"
            f" {figure(rpm.value)} rpm = {figure(lift.value)} s"
        )
    if shorten_ft:
        rpm_after = Span(*(one[0] for one in after))
        values.append(valued("speed, shortened", Span(*sorted(rpm_after)), "rpm"))
        values.append(valued("volts at the motor, shortened", after[1][1], "V"))
        stall_after = spread(lambda r: m.at_back_volts(motor, volts_rest, r).amps, short)
        values.append(valued("stall amps, shortened", stall_after, "A"))
        if stroke_in is not None and turns_per_inch is not None:
            values.append(
                valued("seconds, shortened", _seconds(stroke_in, turns_per_inch, rpm_after.value), "s")
            )
        working.append(
            f"{figure(shorten_ft)} ft less one way: {figure(rpm.value)} -> {figure(rpm_after.value)} rpm, the"
            f" running amps stay at {figure(run_a)} A, stall amps {figure(stall.value)} ->"
            f" {figure(stall_after.value)} A"
        )
    verdict = "turns" if left.low > torque_nm else "stalls" if left.high <= torque_nm else "close"
    rows = (
        bar_row(
            "load on the motor, against its stall torque",
            exact(torque_nm),
            left.value,
            "N.m",
        ),
        Row("step", "battery", volts_rest, volts_rest, volts_rest, 0, "V"),
        Row(
            "step",
            "its posts",
            volts_rest - min(run_a, stall.value) * battery.value,
            0,
            0,
            0,
            "V",
            "lost in the battery",
        ),
        Row(
            "step",
            "motor",
            volts.value,
            volts.low,
            volts.high,
            0,
            "V",
            "lost in wire and joints",
        ),
    )
    return Result(
        "motor-point",
        tuple(values),
        tuple(working),
        tuple(assumed),
        SOURCES,
        values[0].low,
        values[0].high,
        verdict,
        "volts at the motor and amps with the button held"
        if one_way_ft is not None
        else "the length of the wire",
        rows,
        (LONGER_WIRE_NOTE, STALL_NOTE),
    )


def _motor(
    k: float | None,
    ohm: float | None,
    label_volts: float,
    no_load_rpm: float | None,
    stall_nm: float | None,
    rated_a: float | None,
    rated_rpm: float | None,
    points: tuple[tuple[float, float, float], tuple[float, float, float]] | None,
) -> tuple[m.Motor, list[str]]:
    """The motor from whichever description of it is complete, and how it was worked out."""
    if k is not None and ohm is not None:
        return m.Motor(k, ohm), []
    if points is not None:
        motor, how = m.from_two_points(*points), "two measured points"
    elif no_load_rpm is not None and stall_nm is not None:
        motor, how = (
            m.from_no_load_and_stall(label_volts, no_load_rpm, stall_nm),
            "no-load speed and stall torque",
        )
    elif rated_a is not None and rated_rpm is not None and ohm is not None:
        motor, how = m.from_rated_point(label_volts, rated_a, rated_rpm, ohm), "the rated point"
    else:
        raise NotEnough(
            "motor-point",
            "the motor: no-load speed and stall torque; or rated amps, speed and winding ohms; or"
            " two points of"
            " volts, amps and speed",
        )
    return motor, [f"from {how}: k = {figure(motor.k)} N.m/A, R = {figure(motor.ohm)} ohm"]


def _points(motor: m.Motor, volts: float, path: Span, torque_nm: float) -> list[tuple[float, float]]:
    """Speed [rpm] and volts at the motor for the low, middle and high path; a stall counts as 0 rpm."""
    found = []
    for ohm in path:
        point = m.at_torque(motor, volts, ohm, torque_nm)
        if point is None:
            found.append((0.0, m.at_back_volts(motor, volts, ohm).volts))
        else:
            found.append((point.rpm, point.volts))
    return found


def _seconds(stroke_in: float, turns_per_inch: float, rpm: float) -> float:
    return stroke_in * turns_per_inch * 60 / rpm if rpm > 0 else float("inf")
