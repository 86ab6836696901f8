"""The battery sum: charge from rested volts, inner resistance from loaded volts, lifts left."""

from bot.problems import Contradiction, NotEnough
from bot.sums import tables as t
from bot.sums.convert import celsius, figure
from bot.sums.limits import limits
from bot.sums.result import Result, Row, Value, valued
from bot.sums.spans import Known, Span, span, spread

REST_NOTE = "A charge from volts needs a rested battery: 8 hours without charge or load, better 24."
LITHIUM_NOTE = "Rested volts say little for LiFePO4: most of its charge lies within half a volt."
GAS_NOTE = (
    "A lead-acid battery gives off gas that burns. No spark or flame near it; switch off before a"
    " clamp is moved."
)


@limits(temp_f=(-40, 140, "F"))
def at_80f_v(volts: float, temp_f: float) -> float:
    """Rested volts of a lead-acid battery, brought to 80 F.

    U80 = U + 0.00173 (80 - t)

    Parameters
    ----------
    volts : as read [V]
    temp_f : of the battery [F], -40 to 140

    Returns [V]. Source: 12.65 V at 75 F and 12.52 V at 0 F, a magazine measurement of 2011.

    >>> round(at_80f_v(12.52, 0), 2)
    12.66
    """
    return volts + t.LEAD_V_PER_F * (80 - temp_f)


def lead_charge_percent(volts_80f: float) -> Span:
    """Charge of a flooded lead-acid battery from its rested volts at 80 F, with the spread of printed tables.

    The middle is the Battery Council table; low and high are the extremes of three printed tables.

    >>> lead_charge_percent(12.45)[1], lead_charge_percent(12.45).high > 75
    (75.0, True)
    """
    first = t.back(t.LEAD_V, volts_80f)
    others = [t.back({**table, 0: t.LEAD_V[0]}, volts_80f) for table in t.LEAD_V_OTHERS]
    return Span(min(first, *others), first, max(first, *others))


def lithium_charge_percent(volts: float) -> Span:
    """Charge of a four-cell LiFePO4 battery from its rested volts; the chart is good to 0.2 V only.

    >>> lithium_charge_percent(13.2).low < 40 < lithium_charge_percent(13.2).high
    True
    """
    off = t.LITHIUM_V_PLUS_MINUS
    return Span(
        t.back(t.LITHIUM_V, volts - off), t.back(t.LITHIUM_V, volts), t.back(t.LITHIUM_V, volts + off)
    )


@limits(volts_rest=(0, 61, "V"), volts_loaded=(0, 61, "V"), amps=(0.4, 1000, "A"))
def inner_ohm(volts_rest: float, volts_loaded: float, amps: float) -> float:
    """Inner resistance of a battery from two readings.

    R = (U rest - U loaded) / I

    Parameters
    ----------
    volts_rest : at the posts, nothing on [V], 0 to 61
    volts_loaded : at the posts, button held [V], 0 to 61
    amps : at that moment [A], 0.4 to 1000

    Returns [ohm]. Leaves out: surface charge. Source: Ohm's law.

    >>> round(inner_ohm(12.6, 12.2187, 25.42), 4)
    0.015
    """
    return (volts_rest - volts_loaded) / amps


@limits(cca_a=(50, 2000, "A"))
def cold_inner_ohm(cca_a: float, volts_rest: float = 12.6) -> float:
    """Most inner resistance a battery can have cold and still meet its cold cranking rating.

    R = (U rest - 7.2 V) / CCA

    Parameters
    ----------
    cca_a : cold cranking amps on the label [A], 50 to 2000
    volts_rest : rested [V]

    Returns [ohm]. Source: the rating's own definition, 7.2 V after 30 s at -18 C.

    >>> round(cold_inner_ohm(575) * 1000, 2)
    9.39
    """
    return (volts_rest - t.COLD_CRANK_V) / cca_a


def load_test_v(temp_c: float) -> float:
    """Least volts after 15 s of a load test at half the cold cranking amps [V]. Service manuals.

    Below -10 C sources differ by half a volt: warm the battery first.

    >>> load_test_v(10), load_test_v(30)
    (9.4, 9.6)
    """
    return t.between(t.LOAD_TEST_V, temp_c)


def load_test_a(cca_a: float | None = None, amp_hours: float | None = None) -> float:
    """Current of a load test [A]: half the cold cranking amps, or three times the amp-hours.

    >>> load_test_a(600), load_test_a(amp_hours=75)
    (300.0, 225.0)
    """
    if cca_a is not None:
        return cca_a / 2
    if amp_hours is None:
        raise NotEnough("battery", "the cold cranking amps or the amp-hours on the label")
    return 3.0 * amp_hours


@limits(
    volts_rest=(0, 60, "V"),
    volts_loaded=(0, 60, "V"),
    amps=(0.5, 900, "A"),
    temp_f=(-40, 140, "F"),
    amp_hours=(1, 2000, "Ah"),
    lift_s=(1, 3600, "s"),
    cca_a=(50, 2000, "A"),
)
def battery(
    volts_rest: Known | None = None,
    kind: str = "lead",
    temp_f: float | None = None,
    volts_loaded: Known | None = None,
    amps: Known | None = None,
    *,
    amp_hours: float | None = None,
    lift_s: float | None = None,
    cca_a: float | None = None,
) -> Result:
    """Charge, inner resistance and lifts left of the battery.

    Parameters
    ----------
    volts_rest : at the posts at rest [V], 0 to 60
    kind : "lead" or "lithium"
    temp_f : of the battery [F], -40 to 140
    volts_loaded : with the button held [V], 0 to 60
    amps : with the button held [A], 0.5 to 900
    amp_hours : from the label [Ah], 1 to 2000
    lift_s : seconds of one lift [s], 1 to 3600
    cca_a : cold cranking amps from the label [A], 50 to 2000

    Returns a Result whose first value is the charge [%]. Verdict "full", "part", "low" or "empty" by the
    range ("can't be told" where it spans more). Raises OutOfRange, NotEnough, Contradiction.
    Leaves out: age, which takes capacity and leaves the volts. Source: LEAD_V, LITHIUM_V.

    >>> battery(12.65).verdict, battery(11.9).verdict
    ('full', 'empty')
    """
    if volts_rest is None:
        raise NotEnough("battery", "the volts at its posts at rest")
    if kind not in ("lead", "lithium"):
        raise NotEnough("battery", "its kind: lead or lithium")
    rest = span(volts_rest, plus_minus=t.READ_OFF["volts"])
    assumed = ["rested for 8 hours, nothing on", t.READ_OFF_NOTE.format("0.05 V and 3 % of the amps")]
    working: list[str] = []
    notes = [REST_NOTE]
    if kind == "lead":
        at_f = 80.0 if temp_f is None else temp_f
        if temp_f is None:
            assumed.append("battery at 80 F (27 C): its temperature was not given")
        low, mid, high = (lead_charge_percent(at_80f_v(one, at_f)) for one in rest)
        charge = Span(low.low, mid.value, high.high)
        working.append(f"{figure(rest.value)} V at rest -> {figure(charge.value)} % (three printed tables)")
        if temp_f is not None and temp_f < 32:
            notes.append(
                f"Its acid freezes at about {figure(t.between(t.LEAD_FREEZES_F, charge.low))} F at the"
                " lowest of that range. A frozen battery is not charged."
            )
        notes.append(GAS_NOTE)
    else:
        low, mid, high = (lithium_charge_percent(one) for one in rest)
        charge = Span(low.low, mid.value, high.high)
        working.append(f"{figure(rest.value)} V at rest -> {figure(charge.value)} % (chart good to 0.2 V)")
        notes.append(LITHIUM_NOTE)
    values = [valued("charge", charge, "%")]
    rows = [Row("bar", "charge", charge.value, charge.low, charge.high, 100, "%")]
    narrow = "volts at the posts with the button held, and the amps"
    if volts_loaded is not None:
        loaded = span(volts_loaded, plus_minus=t.READ_OFF["volts"])
        if loaded.low > rest.high:
            raise Contradiction(
                "battery", "it reads more loaded than at rest. A charger may be on: switch it off."
            )
        rows.append(Row("step", "at rest", rest.value, rest.low, rest.high, 0, "V"))
        rows.append(
            Row(
                "step",
                "button held",
                loaded.value,
                loaded.low,
                loaded.high,
                0,
                "V",
                "lost inside the battery",
            )
        )
        narrow = "the amps with the button held, with a clamp meter"
        if amps is not None:
            _inner(rest, loaded, span(amps, share=t.READ_OFF["amps share"]), cca_a, temp_f, values, working)
            narrow = "volts at rest after 24 hours"
    if amp_hours is not None and amps is not None and lift_s is not None:
        floor = t.LEAD_FLOOR_PERCENT if kind == "lead" else t.LITHIUM_FLOOR_PERCENT
        each = span(amps).value * lift_s / 3600
        left = Span(*(max(0.0, amp_hours * (one - floor) / 100 / each) for one in charge))
        values.append(valued("lifts left", left, ""))
        working.append(
            f"lifts = {figure(amp_hours)} Ah x ({figure(charge.value)} - {figure(floor)}) % /"
            f" ({figure(span(amps).value)} A x {figure(lift_s)} s / 3600) = {figure(left.value)}"
        )
        assumed.append(
            f"not run below {figure(floor)} % (common practice, no source); as new, no loss by age"
        )
    return Result(
        "battery",
        tuple(values),
        tuple(working),
        tuple(assumed),
        (
            "Battery Council table and two others, 12 V flooded lead-acid"
            if kind == "lead"
            else "two printed LiFePO4 charts",
        ),
        charge.low,
        charge.high,
        _word(charge),
        narrow,
        tuple(rows),
        tuple(notes),
    )


def _inner(
    rest: Span,
    loaded: Span,
    amps: Span,
    cca_a: float | None,
    temp_f: float | None,
    values: list[Value],
    working: list[str],
) -> None:
    ohm = spread(lambda r, u, i: max(0.0, inner_ohm(r, u, i)), rest, loaded, amps)
    values.append(valued("inner resistance", ohm, "ohm"))
    working.append(
        f"inner resistance = ({figure(rest.value)} V - {figure(loaded.value)} V) / {figure(amps.value)} A ="
        f" {figure(ohm.value * 1000)} mohm"
    )
    if cca_a is not None:
        bound = cold_inner_ohm(cca_a)
        values.append(valued("most a sound one has cold", bound, "ohm"))
        working.append(f"by its cranking rating at most {figure(bound * 1000)} mohm, and that at -18 C")
        at_c = 20.0 if temp_f is None else celsius(temp_f)
        values.append(valued("load test passes at", load_test_v(at_c), "V"))
        values.append(valued("load test current", load_test_a(cca_a), "A"))


def _word(charge: Span) -> str:
    """Full from 90 %, part from 50 %, low from 20 %: the team's own words for a range, no standard."""

    def word(percent: float) -> int:
        return 3 if percent >= 90 else 2 if percent >= 50 else 1 if percent >= 20 else 0

    low, high = word(charge.low), word(charge.high)
    if high - low > 1:
        return "can't be told"
    return ("empty", "low", "part", "full")[word(charge.value)]
