"""The foot sum: pressure on the ground, the pad it wants, and an extended leg pushed sideways."""

from math import sqrt

from bot.problems import NotEnough
from bot.sums import columns as c
from bot.sums import tables_parts as p
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, Row, Value, bar_row, valued
from bot.sums.spans import Known, Span, against, exact, span

STEEL_PSI = 29e6
#: Tube steel where its grade is not known. Common practice, no source.
TUBE_YIELD_PSI = 36_000.0

SOURCES = (
    "presumptive bearing: IBC 2012 table 1806.2; weak soils: Chicago code 13-132-060(a)",
    "unknown ground 1500 psf: 24 CFR 3285.202(e)",
)
ASPHALT_NOTE = (
    "Hot asphalt creeps under a standing leg, even an empty one. No pressure limit is printed"
    " anywhere we know:"
    " use wide pads, look again after an hour, prefer concrete. That tyres pass over it proves nothing."
)
PAD_NOTE = (
    "A pad spreads the load only if it does not bend: thick timber or a rated pad, flat, foot in its middle."
)
SINK_NOTE = (
    "Rain, thaw and fresh fill make ground weaker than the table. Look at the feet again the next morning."
)


@limits(load_lb=(0, 60_000, "lb"), area_ft2=(0.001, 100, "ft2"))
def pressure_psf(load_lb: float, area_ft2: float) -> float:
    """Pressure under a foot.

    q = F / A

    Parameters
    ----------
    load_lb : on this foot [lb], 0 to 60000
    area_ft2 : that stands on the ground [ft2], 0.001 to 100

    Returns [psf]. Source: definition.

    >>> round(pressure_psf(1820, 0.5625), 1)
    3235.6
    """
    return load_lb / area_ft2


def pad_area_ft2(load_lb: float, bearing_psf: float) -> float:
    """Area that brings a load down to what the ground bears [ft2].

    >>> round(pad_area_ft2(1820, 1500), 4)
    1.2133
    """
    return load_lb / bearing_psf


@limits(
    load_lb=(0, 50_000, "lb"),
    foot_side_in=(1, 60, "in"),
    pad_side_in=(1, 120, "in"),
    bearing_psf=(1, 200_000, "psf"),
    extended_in=(1, 80, "in"),
    tube_side_in=(0.5, 8, "in"),
    wall_in=(0.03, 1, "in"),
    yield_psi=(10_000, 150_000, "psi"),
    side_load_lb=(0, 20_000, "lb"),
)
def foot(
    load_lb: Known | None = None,
    soil: str | None = None,
    foot_side_in: float | None = None,
    pad_side_in: float | None = None,
    *,
    bearing_psf: float | None = None,
    extended_in: float | None = None,
    tube_side_in: float | None = None,
    wall_in: float | None = None,
    yield_psi: float = TUBE_YIELD_PSI,
    side_load_lb: float = 0.0,
) -> Result:
    """Pressure under one foot against what the ground bears, the pad it wants, the leg as a column.

    Parameters
    ----------
    load_lb : on this leg [lb], 0 to 50000
    soil : a name of SOIL_PSF, "asphalt" or "concrete"; 1500 psf where not known
    foot_side_in : side of the square foot [in], 1 to 60
    pad_side_in : side of a square pad under it [in], 1 to 120
    bearing_psf : where a figure for this ground is known [psf], 1 to 200000
    extended_in : foot to the end of the outer tube [in], 1 to 80
    tube_side_in, wall_in : inner tube [in], 0.5 to 8 and 0.03 to 1
    yield_psi : of the tube [psi], 10000 to 150000
    side_load_lb : push at the foot [lb], 0 to 20000

    Returns a Result; first value the pad side wanted [in]. Verdict "clear", "close", "over" of pressure or
    leg, whichever is worse, "no limit printed" on asphalt. Raises OutOfRange, NotEnough.
    Leaves out: the pad's own bending. Source: bearing tables; column formulas.

    >>> foot(1820, "clay", foot_side_in=9).verdict, foot(1820, "clay", 9, 18).verdict
    ('over', 'clear')
    """
    if load_lb is None:
        raise NotEnough("foot", "the load on the leg; leg-load works it out")
    load = span(load_lb, share=0.01)
    assumed: list[str] = []
    notes: list[str] = []
    working: list[str] = []
    values: list[Value] = []
    rows: list[Row] = []
    words: list[str] = []
    bears = _bearing(soil, bearing_psf, assumed, notes)
    side = pad_side_in if pad_side_in is not None else foot_side_in
    if bears is not None:
        area = pad_area_ft2(load.value, bears)
        wanted = Span(*(12 * sqrt(pad_area_ft2(one, bears)) for one in load))
        values.append(valued("pad side wanted", wanted, "in"))
        working.append(
            f"area = F / q = {figure(load.value)} lb / {figure(bears)} psf = {figure(area)} ft2; side ="
            f" {figure(wanted.value)} in"
        )
    if side is not None:
        area_ft2 = (side / 12) ** 2
        press = Span(*(pressure_psf(one, area_ft2) for one in load))
        values.append(valued("pressure", press, "psf"))
        values.append(valued("pressure a square inch", press.value / 144, "psi"))
        working.append(
            f"pressure = {figure(load.value)} lb / {figure(area_ft2)} ft2 = {figure(press.value)} psf"
        )
        if bears is not None:
            words.append(against(press, exact(bears)))
            rows.append(bar_row("pressure on the ground's bearing", press, bears, "psf"))
            notes.append(PAD_NOTE)
    if extended_in is not None and tube_side_in is not None and wall_in is not None:
        words.append(
            _leg(load, extended_in, tube_side_in, wall_in, yield_psi, side_load_lb, values, working, rows)
        )
        assumed.append(
            f"tube yields at {figure(yield_psi)} psi, sharp corners, no wear, fixed above and free below"
        )
    if not values:
        raise NotEnough("foot", "the side of the foot or of the pad: no bearing is printed for this surface")
    worst = max(words, key=["clear", "close", "over"].index) if words else ""
    verdict = worst or ("no limit printed" if bears is None else "pad side told")
    if bears is None and worst == "clear":
        verdict = "no limit printed"
    return Result(
        "foot",
        tuple(values),
        tuple(working),
        tuple(assumed),
        SOURCES,
        values[0].low,
        values[0].high,
        verdict,
        "what the ground is made of" if soil is None and bearing_psf is None else "the load on the leg",
        tuple(rows),
        (*notes, SINK_NOTE),
    )


def _bearing(
    soil: str | None, bearing_psf: float | None, assumed: list[str], notes: list[str]
) -> float | None:
    """What the ground bears [psf], None where nothing printed says so."""
    if bearing_psf is not None:
        return bearing_psf
    if soil == "asphalt":
        notes.append(ASPHALT_NOTE)
        return None
    if soil == "concrete":
        assumed.append("a sound slab: its bearing is far above a foot's pressure; no figure is given here")
        return None
    if soil is None:
        assumed.append("1500 psf, as for ground of which nothing is known")
        return float(p.SOIL_UNKNOWN_PSF)
    if soil not in p.SOIL_PSF:
        raise NotEnough("foot", f"the ground: {', '.join([*p.SOIL_PSF, 'asphalt', 'concrete'])}")
    if p.SOIL_PSF[soil] == 0:
        raise NotEnough("foot", "other ground: mud and organic soil carry nothing that could be counted on")
    return float(p.SOIL_PSF[soil])


def _leg(
    load: Span,
    extended_in: float,
    side_in: float,
    wall_in: float,
    yield_psi: float,
    side_load_lb: float,
    values: list[Value],
    working: list[str],
    rows: list[Row],
) -> str:
    """The extended leg as a column and under a push; one third of yield is the working limit (practice)."""
    area, inertia = c.square_tube(side_in, wall_in)
    gives = c.column_load(STEEL_PSI, yield_psi, inertia, area, extended_in, "fixed-free")
    bend, total = c.cantilever_stress(side_load_lb, extended_in, inertia / (side_in / 2), load.high, area)
    tip = c.cantilever_tip(side_load_lb, extended_in, STEEL_PSI, inertia)
    values += [
        valued("leg buckles at", gives, "lb"),
        valued("stress at the root", total, "psi"),
        valued("foot goes sideways", tip, "in"),
    ]
    working.append(
        f"leg {figure(extended_in)} in out: buckles at {figure(gives)} lb; {figure(side_load_lb)} lb"
        " at the foot"
        f" bends it {figure(tip)} in, {figure(bend)} psi, {figure(total)} psi with the load"
    )
    working_psi = yield_psi / 3
    stress = exact(total)
    rows.append(bar_row("stress at the root on a third of yield", stress, working_psi, "psi"))
    column = against(load, exact(gives / 3))
    bending = against(stress, exact(working_psi))
    return max(column, bending, key=["clear", "close", "over"].index)
