"""The harness sum: what a run of wire loses, which wire it wants, what the wire and its fuse may carry."""

from bot.problems import NotEnough
from bot.sums import copper as c
from bot.sums import tables as t
from bot.sums.convert import celsius, figure
from bot.sums.limits import limits
from bot.sums.result import Result, Row, bar_row, valued
from bot.sums.spans import Known, Span, against, exact, span, spread, widest

#: What is taken where nothing was given: (lowest, usual, highest). The team's judgement, said each time.
ASSUMED_GAUGES = (12, 10, 8)
ASSUMED_FT = Span(10, 18, 30)
ASSUMED_A = Span(15, 30, 45)
ASSUMED_TEMP_C = Span(0, 20, 50)

SOURCES = (
    "copper: annealed, 100 % IACS; temperature coefficient 0.00393 per kelvin at 20 C",
    "gauge: ASTM B258-02; SAE areas from a marine wire table; mm2 from IEC 60228",
    "3 % and 10 % of 12 V: boat wiring practice; allowed current: 33 CFR 183.425 table 5",
)
LONGER_WIRE_NOTE = (
    "A longer wire does not blow the fuse of a motor like this one: current follows the load, speed follows "
    "the volts. It makes the lift slower, and that gives a fuse which is overloaded anyway more time to open."
)


def wire_ohm_per_ft(
    gauge_awg: float | str | None = None,
    family: str = "awg",
    stranded: bool | None = None,
    temp_f: Known | None = None,
    mm2: float | None = None,
) -> tuple[Span, str, tuple[str, ...]]:
    """One wire's resistance a foot with its range [ohm/ft], its name, and what was assumed.

    Takes a gauge ("awg" or "sae") or an area in mm2. Solid and stranded, and 0 to 50 C, are both counted
    in where they were not said.
    """
    assumed: list[str] = []
    if temp_f is None:
        temp_c = ASSUMED_TEMP_C
        assumed.append("copper at 20 C (68 F), from 0 C to 50 C")
    else:
        known = span(temp_f)
        temp_c = Span(celsius(known.low), celsius(known.value), celsius(known.high))
    if mm2 is not None:
        base = c.mm2_ohm_per_m(mm2) * 0.3048
        lowest = c.mm2_ohm_per_m(mm2, flexible=False) * 0.3048
        per_ft = spread(lambda ohm, at: ohm * c.hot_factor(at), Span(lowest, base, base), temp_c)
        return per_ft, f"{mm2:g} mm2", (*assumed, "flexible wire, at the standard's largest resistance")
    if stranded is None:
        lay = Span(*t.STRANDED)
        assumed.append("stranded copper, 2 % more ohms than solid (0 to 4 %)")
    else:
        lay = Span(*t.STRANDED) if stranded else exact(1)
    if gauge_awg is None:
        low, usual, high = (c.solid_ohm_per_ft(c.cmil_of(size, family)) for size in reversed(ASSUMED_GAUGES))
        solid = Span(low, usual, high)
        name = "10 AWG"
        assumed.append("10 AWG, from 12 to 8 AWG: the gauge was not given")
    else:
        gauge = c.gauge_number(gauge_awg)
        ohm = c.solid_ohm_per_ft(c.cmil_of(gauge, family))
        solid = exact(ohm)
        name = f"{c.gauge_name(gauge)} {'SAE gauge' if family == 'sae' else 'AWG'}"
    per_ft = spread(lambda ohm, factor, at: ohm * factor * c.hot_factor(at), solid, lay, temp_c)
    return per_ft, name, tuple(assumed)


@limits(
    one_way_ft=(0, 500, "ft"),
    amps=(0, 500, "A"),
    volts=(6, 60, "V"),
    drop_percent=(0.1, 50, "%"),
    fuse_a=(0.5, 300, "A"),
)
def harness(
    gauge_awg: float | str | None = None,
    one_way_ft: Known | None = None,
    amps: Known | None = None,
    *,
    family: str = "awg",
    mm2: float | None = None,
    stranded: bool | None = None,
    temp_f: Known | None = None,
    frame_return: bool = False,
    volts: float = 12.0,
    drop_percent: float | None = None,
    fuse_a: float | None = None,
    insulation_c: int = 75,
    place: str = "open",
) -> Result:
    """What the run between battery and motor loses, and what it may carry.

    Parameters
    ----------
    gauge_awg : gauge ("10", "1/0") in the family "awg" or "sae"; or mm2
    one_way_ft : battery to motor along the wire [ft], 0 to 500
    amps : current with the button held [A], 0 to 500
    volts : system voltage [V], 6 to 60
    drop_percent : loss allowed [%], 0.1 to 50; else 3 % is clear and 10 % is over
    fuse_a : fuse on this wire [A], 0.5 to 300
    insulation_c : 75 or 105

    Returns a Result whose first value is the loss [V]. Raises OutOfRange, NotEnough.
    Leaves out: contacts, fuse, switch. Source: Ohm's law and the tables named in the result.

    >>> harness("10", 18, 30, stranded=False, temp_f=68).value("drop")  # doctest: +ELLIPSIS
    1.078...
    """
    if gauge_awg is None and mm2 is None and one_way_ft is None and amps is None:
        raise NotEnough("harness", "the gauge of the wire, its length one way, or the amps")
    per_ft, name, said = wire_ohm_per_ft(gauge_awg, family, stranded, temp_f, mm2)
    assumed = list(said)
    ways = 1 if frame_return else 2
    if frame_return:
        assumed.append("return through the frame, counted as 0 ohm; its two joints are not counted")
    if one_way_ft is None:
        feet = ASSUMED_FT
        assumed.append("18 ft one way, from 10 to 30 ft: the length was not given")
    else:
        feet = span(one_way_ft, plus_minus=t.READ_OFF["distance ft"])
    if amps is None:
        current = ASSUMED_A
        assumed.append("30 A, from 15 to 45 A: the current was not measured")
    else:
        current = span(amps, share=t.READ_OFF["amps share"])
    ohm = spread(lambda r, length: ways * r * length, per_ft, feet)
    drop = spread(c.drop_v, current, ohm)
    share = Span(*(100 * one / volts for one in drop))
    small, large = (100 * one for one in t.LOSS_SHARE)
    if drop_percent is not None:
        verdict = against(share, exact(drop_percent))
    else:
        verdict = "clear" if share.high <= small else "over" if share.low > large else "close"
    allowed = drop_percent if drop_percent is not None else large
    lost = volts * allowed / 100
    wanted = c.cmil_wanted(current.value, ways * feet.value, lost) if current.value else 0.0
    size = c.gauge_for(wanted, family)
    reach = lost / (current.value * ways * per_ft.value) if current.value else feet.value
    out = max(0.0, feet.value - reach)
    values = [
        valued("drop", drop, "V"),
        valued("share of system", share, "%"),
        valued("resistance", ohm, "ohm"),
        valued("copper wanted", wanted, "cmil"),
        valued("feet to take out", out, "ft"),
    ]
    if size is not None:
        values.append(valued("gauge wanted", size, "SAE" if family == "sae" else "AWG"))
    working = [
        (
            f"ohms = {ways} x {figure(feet.value)} ft x {figure(per_ft.value * 1000)} ohm per 1000 ft"
            f" ({name}) = {figure(ohm.value)} ohm"
        ),
        (
            f"drop = I R = {figure(current.value)} A x {figure(ohm.value)} ohm = {figure(drop.value)} V,"
            f" {figure(share.value)} % of {figure(volts)} V"
        ),
        (
            f"for {figure(allowed)} %: area = K I L / U = {t.DROP_K} x {figure(current.value)} A x"
            f" {figure(ways * feet.value)} ft / {figure(lost)} V = {figure(wanted)} cmil,"
            f" {_size_words(size, family)}"
        ),
        f"the same wire reaches {figure(reach)} ft one way at that loss; {figure(out)} ft to take out",
    ]
    feed = drop.value / ways
    back = drop.value - feed
    rows = [
        Row("step", "battery plus", volts, volts, volts, 0, "V"),
        Row("step", "motor plus", volts - feed, volts - feed, volts - feed, 0, "V", "lost in the feed"),
        Row("step", "motor minus", back, back, back, 0, "V", "left for the motor"),
        Row(
            "step",
            "battery minus",
            0.0,
            0.0,
            0.0,
            0,
            "V",
            "in the frame, not counted" if ways == 1 else "lost in the return",
        ),
    ]
    notes = [LONGER_WIRE_NOTE]
    if gauge_awg is not None and mm2 is None:
        carries = c.allowed_a(c.gauge_number(gauge_awg), insulation_c, place)
        if carries is None:
            notes.append("The current table does not list this size; read the wire's own table.")
        else:
            values.append(valued("wire may carry", carries, "A"))
            rows.append(bar_row("current in the wire", current, carries, "A"))
            notes += _fuse_notes(c.gauge_number(gauge_awg), carries, fuse_a, insulation_c)
    wire_unknown = (
        "the gauge of the wire"
        if gauge_awg is None and mm2 is None
        else "how warm the wire gets, and whether it is solid or stranded"
    )
    spans = {"the current, button held": current, "the length of the wire": feet, wire_unknown: per_ft}
    narrow = widest(lambda i, length, r: i * ways * length * r, spans)
    return Result(
        "harness",
        tuple(values),
        tuple(working),
        (*assumed, f"{figure(allowed)} % of {figure(volts)} V may be lost"),
        SOURCES,
        drop.low,
        drop.high,
        verdict,
        narrow,
        tuple(rows),
        tuple(notes),
    )


def _size_words(size: int | None, family: str) -> str:
    kind = "SAE gauge" if family == "sae" else "AWG"
    return "thicker than any size listed" if size is None else f"{c.gauge_name(size)} {kind} or thicker"


def _fuse_notes(gauge: int, carries: float, fuse_a: float | None, insulation_c: int) -> list[str]:
    if fuse_a is None:
        return []
    ceiling = c.fuse_ceiling_a(gauge, insulation_c) or carries
    older = t.OLDER_RV_FUSE_A.get(gauge)
    name = f"{c.gauge_name(gauge)} AWG"
    if fuse_a <= carries:
        notes = [f"A {figure(fuse_a)} A fuse protects this {name}: it carries {figure(carries)} A."]
    elif fuse_a <= ceiling:
        notes = [
            (
                f"A {figure(fuse_a)} A fuse is above the {figure(carries)} A of this {name} and below the boat"
                f" rules' ceiling of {figure(ceiling)} A. Ask what the gear's label wants."
            )
        ]
    else:
        notes = [
            f"A {figure(fuse_a)} A fuse is too large for this {name}: {figure(ceiling)} A is the ceiling."
        ]
    if older is not None and fuse_a > older:
        notes.append(
            f"Older RV code editions name {older} A as the most for {name} (from memory; ask a"
            " certified tech)."
        )
    return notes
