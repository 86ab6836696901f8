"""The path sum: where volts are lost with the button held, and whether the wire accounts for it."""

from bot.problems import Contradiction, NotEnough
from bot.sums import tables as t
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, Row, Value, bar_row, valued
from bot.sums.spans import Known, Span, against, combined, span, spread
from bot.sums.wire import ASSUMED_A, ASSUMED_FT, wire_ohm_per_ft

SOURCES = (
    "Ohm's law",
    ("sound switch contact 0.3 V, sound ground 0.1 V: SAE guidance in a car repair manual"),
)


@limits(drop_v=(0, 60, "V"), amps=(0.1, 1000, "A"))
def ohm_from_drop(drop_v: float, amps: float) -> float:
    """Resistance that loses a voltage at a current.

    R = U / I

    Parameters
    ----------
    drop_v : voltage lost [V], 0 to 60
    amps : current at that moment [A], 0.1 to 1000

    Returns [ohm]. Source: Ohm's law.

    >>> ohm_from_drop(0.3, 30)
    0.01
    """
    return drop_v / amps


@limits(amps=(0, 1000, "A"), ohm=(0, 100, "ohm"))
def heat_w(amps: float, ohm: float) -> float:
    """Heat made in a resistance.

    P = I^2 R

    Parameters
    ----------
    amps : current [A], 0 to 1000
    ohm : resistance [ohm], 0 to 100

    Returns [W]. Source: Joule's law.

    >>> round(heat_w(30, 0.00185), 3)
    1.665
    """
    return amps * amps * ohm


@limits(
    volts_battery=(0, 60, "V"),
    volts_motor=(0, 60, "V"),
    volts_ground_side=(0, 60, "V"),
    amps=(0.5, 500, "A"),
    one_way_ft=(0, 500, "ft"),
)
def path(
    volts_battery: Known | None = None,
    volts_motor: Known | None = None,
    volts_ground_side: Known | None = None,
    amps: Known | None = None,
    gauge_awg: float | str | None = None,
    one_way_ft: Known | None = None,
    *,
    stranded: bool | None = None,
    temp_f: Known | None = None,
    frame_return: bool = False,
) -> Result:
    """Ohms of the supply and of the ground side, against what the wire accounts for.

    Parameters
    ----------
    volts_battery : at the battery posts, button held [V], 0 to 60
    volts_motor : across the motor, button held [V], 0 to 60
    volts_ground_side : battery minus post to motor minus, button held [V], 0 to 60
    amps : button held [A], 0.5 to 500; assumed where not measured
    gauge_awg : gauge of the wire; assumed where not given
    one_way_ft : the run one way [ft], 0 to 500; assumed where not given

    Returns a Result: first value the volts lost; verdict "clear", "close", "supply side", "ground side",
    "both sides", or "over" where the sides were not split.
    Raises OutOfRange, NotEnough without battery and motor volts (or the ground side alone),
    Contradiction where the motor or the ground side reads more than there is.
    Source: Ohm's law; sound losses from the table.

    >>> path(12.1, 6.8, 4.4).verdict
    'ground side'
    >>> path(12.4, 11.4, amps=30, gauge_awg=10, one_way_ft=18).verdict
    'clear'
    """
    off = t.READ_OFF["volts"]
    if volts_ground_side is None and (volts_battery is None or volts_motor is None):
        raise NotEnough("path", "volts at the battery and at the motor, both with the button held")
    assumed: list[str] = [t.READ_OFF_NOTE.format("0.05 V and 3 % of the amps")]
    per_ft, wire_name, said = wire_ohm_per_ft(gauge_awg, "awg", stranded, temp_f)
    assumed += said
    feet = ASSUMED_FT if one_way_ft is None else span(one_way_ft, plus_minus=t.READ_OFF["distance ft"])
    if one_way_ft is None:
        assumed.append("18 ft one way, from 10 to 30 ft: the length was not given")
    current = ASSUMED_A if amps is None else span(amps, share=t.READ_OFF["amps share"])
    if amps is None:
        assumed.append("30 A, from 15 to 45 A: the current was not measured")
    if None in (gauge_awg, one_way_ft, amps):
        assumed.append("what is assumed is not all at its worst at once: the ranges are joined as squares")
    each_way = spread(lambda r, length: r * length, per_ft, feet)
    wire_v = combined(lambda i, r, length: i * r * length, current, per_ft, feet)
    # The frame has next to no ohms of its own, so through a frame only the joint's allowance is left.
    ground_wire = Span(0, 0, wire_v.high) if frame_return else wire_v
    switch, joint = t.SOUND_LOSS_V["switch or solenoid contact"], t.SOUND_LOSS_V["ground"]
    supply_may = Span(wire_v.low + switch, wire_v.value + switch, wire_v.high + switch)
    ground_may = Span(ground_wire.low + joint, ground_wire.value + joint, ground_wire.high + joint)

    values: list[Value] = []
    working: list[str] = []
    rows: list[Row] = []
    words: dict[str, str] = {}
    lost: Span | None = None
    if volts_battery is not None and volts_motor is not None:
        battery, motor = span(volts_battery, plus_minus=off), span(volts_motor, plus_minus=off)
        if motor.low > battery.high:
            raise Contradiction(
                "path", "the motor reads more than the battery. Take both with the button held."
            )
        lost = spread(lambda b, m: max(b - m, 0.0), battery, motor)
        values.append(valued("lost in all", lost, "V"))
        working.append(f"lost = {figure(battery.value)} V - {figure(motor.value)} V = {figure(lost.value)} V")
    if volts_ground_side is not None:
        ground = span(volts_ground_side, plus_minus=off)
        if lost is not None and ground.low > lost.high:
            raise Contradiction(
                "path", "the ground side loses more than battery and motor differ. Take it again."
            )
        _side("ground side", ground, ground_may, current, each_way, values, working, rows, words)
        if lost is not None:
            supply = spread(lambda all_v, g: max(all_v - g, 0.0), lost, ground)
            _side("supply side", supply, supply_may, current, each_way, values, working, rows, words)
    elif lost is not None:
        both_may = Span(*(s + g for s, g in zip(supply_may, ground_may, strict=True)))
        words["whole path"] = against(lost, both_may)
        working.append(
            f"a sound run of {wire_name} loses about {figure(wire_v.value + ground_wire.value)} V at"
            f" {figure(current.value)} A, and its switch and joints up to {figure(switch + joint)} V more"
        )
        rows.append(bar_row("lost, against what a sound path may lose", lost, both_may.value, "V"))
    rows += _steps(volts_battery, volts_motor, volts_ground_side)
    return Result(
        "path",
        tuple(values),
        tuple(working),
        tuple(assumed),
        SOURCES,
        values[0].low,
        values[0].high,
        _verdict(words),
        _narrow(volts_ground_side, lost, amps, gauge_awg, one_way_ft),
        tuple(rows),
        _notes(words),
    )


def _steps(battery: Known | None, motor: Known | None, ground: Known | None) -> list[Row]:
    """The volts from the battery to the motor and, where the ground side was measured, back."""
    if battery is None or motor is None:
        return []
    posts, gets = span(battery), span(motor)
    if ground is None:
        return [
            Row("step", "battery", *_ends(posts), 0, "V"),
            Row("step", "motor gets", *_ends(gets), 0, "V", "lost on both sides"),
        ]
    minus = span(ground)
    plus = Span(gets.low + minus.low, gets.value + minus.value, gets.high + minus.high)
    return [
        Row("step", "battery plus", *_ends(posts), 0, "V"),
        Row("step", "motor plus", *_ends(plus), 0, "V", "lost on the supply side"),
        Row("step", "motor minus", *_ends(minus), 0, "V", "left for the motor"),
        Row("step", "battery minus", 0.0, 0.0, 0.0, 0, "V", "lost on the ground side"),
    ]


def _ends(known: Span) -> tuple[float, float, float]:
    """Value, low, high, in the order of a Row."""
    return known.value, known.low, known.high


def _side(
    side: str,
    drop: Span,
    may: Span,
    current: Span,
    each_way: Span,
    values: list[Value],
    working: list[str],
    rows: list[Row],
    words: dict[str, str],
) -> None:
    ohm = spread(ohm_from_drop, Span(*(max(one, 0.0) for one in drop)), current)
    values.append(valued(f"lost on the {side}", drop, "V"))
    values.append(valued(f"{side} ohms", ohm, "ohm"))
    values.append(valued(f"{side} ohms of the wire", each_way, "ohm"))
    working.append(
        f"{side}: {figure(drop.value)} V / {figure(current.value)} A = {figure(ohm.value * 1000)} mohm;"
        f" the wire accounts for {figure(each_way.value * 1000)} mohm"
    )
    rows.append(bar_row(f"lost on the {side}, against what a sound one may lose", drop, may.value, "V"))
    words[side] = against(drop, may)


def _verdict(words: dict[str, str]) -> str:
    over = [side for side, word in words.items() if word == "over"]
    if len(over) == 2:
        return "both sides"
    if over:
        return "over" if over[0] == "whole path" else over[0]
    return "close" if "close" in words.values() else "clear"


def _narrow(
    ground: Known | None, lost: Span | None, amps: Known | None, gauge: float | str | None, feet: Known | None
) -> str:
    if ground is None:
        return "volts on the ground side: battery minus post to motor minus, button held"
    if lost is None:
        return "volts at the battery and at the motor, button held"
    if amps is None:
        return "amps with the button held, a clamp meter round one wire"
    return "gauge and length of the wire" if gauge is None or feet is None else ""


def _notes(words: dict[str, str]) -> tuple[str, ...]:
    notes = []
    if words.get("ground side") == "over":
        notes.append(
            "Ground side first: clean to bright metal and tighten the joint at the frame and at the motor."
        )
    if words.get("supply side") == "over":
        notes.append(
            "Supply side: touch the meter across fuse, switch and relay in turn; the bad one shows the volts."
        )
    if "whole path" in words and words["whole path"] != "clear":
        notes.append("The ground-side reading says on which side it is lost.")
    return tuple(notes)
