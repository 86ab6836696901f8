"""Fuses and breakers: how long one stands a current, and the fuse-time sum."""

from bot.problems import NotEnough
from bot.sums import copper as c
from bot.sums import tables as t
from bot.sums.convert import figure, seconds_words
from bot.sums.limits import limits
from bot.sums.result import Result, Row, Value, bar_row, valued
from bot.sums.spans import Known, Span, span

_time = seconds_words
RATING_NOTE = (
    "A fuse does not open at its rating: it has to carry that for hours. At a third more it may take"
    " seconds or"
    " minutes."
)


def window_s(kind: str, percent: float) -> tuple[float, float]:
    """Shortest and longest time a fuse of a kind may take to open at a share of its rating [s].

    Between two printed points the shortest time is that of the next higher point and the longest that of the
    next lower one, so the window holds whatever the curve does between them. Below the first point the fuse
    does not open; past the last the shortest time is 0.

    ``kind`` is one of FUSE_WINDOWS. Returns (low, high); infinite means it does not open.
    Source: the tables of FUSE_WINDOWS, each with its standing.

    >>> window_s("large blade", 200), window_s("large blade", 150)
    ((2, 60), (2, 1800))
    >>> window_s("blade", 90)
    (360000, inf)
    """
    table = t.FUSE_WINDOWS[kind]
    points = sorted(table)
    if percent in table:
        return table[percent]
    if percent <= points[0]:
        return table[points[0]][0], t.INF
    below = max(point for point in points if point <= percent)
    above = min((point for point in points if point >= percent), default=None)
    return (0.0 if above is None else table[above][0]), table[below][1]


@limits(rating_a=(0.1, 300, "A"))
def steady_a(rating_a: float) -> float:
    """Current a fuse should carry steadily at 25 C.

    I = 0.75 x rating

    Parameters
    ----------
    rating_a : rating printed on the fuse [A], 0.1 to 300

    Returns [A]. Source: fuse maker's engineering note.

    >>> steady_a(30)
    22.5
    """
    return rating_a * t.FUSE_STEADY_SHARE


@limits(peak_a=(0, 10_000, "A"), seconds=(0, 100, "s"))
def pulse_a2s(peak_a: float, seconds: float, shape: str = "square") -> float:
    """I2t of one pulse.

    I2t = peak^2 x time x (1, 1/3 or 1/2)

    Parameters
    ----------
    peak_a : highest current of the pulse [A], 0 to 10000
    seconds : its length [s], 0 to 100
    shape : "square", "triangle" or "half sine"

    Returns [A2 s]. Source: fuse guide, chart of standard shapes.

    >>> pulse_a2s(100, 0.01, "half sine")
    50.0
    """
    return peak_a * peak_a * seconds * t.PULSE_SHAPE[shape]


def sound_fuse_drop_v(rating_a: float) -> float:
    """Largest drop across a sound blade fuse carrying its rated current [V].

    DIN 72581-3: 125 mV up to 20 A, 100 mV above. More means a bad fuse or holder.

    >>> sound_fuse_drop_v(30)
    0.1
    """
    return t.FUSE_DROP_V[0 if rating_a <= 20 else 1]


@limits(amps=(0, 1000, "A"), rating_a=(0.5, 300, "A"), seconds=(0, 36_000, "s"))
def fuse_time(
    amps: Known | None = None,
    rating_a: float | None = None,
    kind: str = "blade",
    seconds: float | None = None,
    *,
    gauge_awg: float | str | None = None,
    insulation_c: int = 75,
) -> Result:
    """Whether a fuse or breaker holds through a lift.

    Parameters
    ----------
    amps : current with the button held [A], 0 to 1000
    rating_a : printed on the fuse or breaker [A], 0.5 to 300
    kind : "blade", "large blade", "supplementary", "breaker 1", "breaker 2" or "breaker 3"
    seconds : how long the lift lasts [s], 0 to 36000; without it the window alone is told
    gauge_awg, insulation_c : the wire it protects, 75 or 105

    Returns a Result whose first value is the current as a share of the rating [%]. Verdict "holds", "opens"
    or "can't be told". Raises OutOfRange, NotEnough. Leaves out: a hot place, a warm holder, which open a
    fuse earlier. Source: FUSE_WINDOWS.

    >>> fuse_time(30, 30, "large blade", 50).verdict, fuse_time(30, 25, "blade", 20).verdict
    ('holds', "can't be told")
    >>> fuse_time(110, 30, "large blade", 20).verdict
    'opens'
    """
    if amps is None or rating_a is None:
        raise NotEnough("fuse-time", "the amps with the button held, and the rating printed on the fuse")
    if kind not in t.FUSE_WINDOWS and kind not in t.BREAKERS:
        raise NotEnough("fuse-time", f"the kind: {', '.join([*t.FUSE_WINDOWS, *t.BREAKERS])}")
    current = span(amps, share=t.READ_OFF["amps share"])
    low_p, mid_p, high_p = (100 * one / rating_a for one in current)
    values = [valued("share of rating", Span(low_p, mid_p, high_p), "%")]
    working = [f"share = {figure(current.value)} A / {figure(rating_a)} A = {figure(mid_p)} %"]
    assumed = [t.READ_OFF_NOTE.format("3 % of the amps"), "fuse and holder at 25 C, contacts clean"]
    notes: list[str] = []
    sources: list[str] = []
    if kind in t.BREAKERS:
        verdict = "holds" if high_p <= 100 else "can't be told"
        working.append(f"{kind}: resets {t.BREAKERS[kind]}; no trip times were found that could be relied on")
        sources.append("SAE J553, summary of the 2022 edition")
        if kind == "breaker 1":
            notes.append("One that opens and closes by itself in a steady beat under load says overload.")
        narrow = "the time it takes to trip, with a watch"
    else:
        shortest, longest = window_s(kind, high_p)[0], window_s(kind, low_p)[1]
        values.append(valued("shortest time to open", shortest, "s"))
        values.append(valued("longest time to open", longest, "s"))
        working.append(
            f"at {figure(low_p)} to {figure(high_p)} % a {kind} fuse opens no sooner than {_time(shortest)}"
            f" and {'may not open at all' if longest == t.INF else 'no later than ' + _time(longest)}"
        )
        if seconds is None:
            verdict = "holds" if high_p <= 100 else "can't be told"
        else:
            verdict = "holds" if seconds < shortest else "opens" if seconds > longest else "can't be told"
        narrow = (
            "how long the lift takes, with a watch" if seconds is None else "the amps, with a clamp meter"
        )
        if kind in t.FUSE_WINDOWS_READ:
            sources.append({"large blade": "DIN 72581-3 extract", "supplementary": "UL 248-14"}[kind])
        else:
            sources.append("blade fuse windows after SAE J1284 and ISO 8820-3, from memory")
            assumed.append("the windows of this kind are from memory: no wire's safety may rest on them")
    if 75 < mid_p < 100:
        notes.append(
            f"Steadily a fuse should carry no more than 75 % of its rating: {figure(steady_a(rating_a))} A."
        )
    if mid_p >= 100:
        notes.append(RATING_NOTE)
    rows = [bar_row("current on the rating", current, rating_a, "A")]
    if kind not in t.BREAKERS:
        rows.append(Row("window", "seconds it stands", seconds or 0.0, shortest, longest, 0.0, "s"))
    if gauge_awg is not None:
        _wire(c.gauge_number(gauge_awg), insulation_c, rating_a, values, working, notes)
        sources.append("33 CFR 183.425 table 5 and 183.455(c)(1)")
    if verdict == "opens" or mid_p > 135:
        notes.append(
            "Do not fit a larger fuse. Find what draws the current: a stuck leg, a dry screw, a short."
        )
    return Result(
        "fuse-time",
        tuple(values),
        tuple(working),
        tuple(assumed),
        tuple(sources),
        low_p,
        high_p,
        verdict,
        narrow,
        tuple(rows),
        tuple(notes),
    )


def _wire(
    gauge: int, insulation_c: int, rating_a: float, values: list[Value], working: list[str], notes: list[str]
) -> None:
    carries, ceiling = c.allowed_a(gauge, insulation_c), c.fuse_ceiling_a(gauge, insulation_c)
    if carries is None or ceiling is None:
        notes.append("The current table does not list this wire; read the wire's own table.")
        return
    values += [valued("wire may carry", carries, "A"), valued("largest fuse on this wire", ceiling, "A")]
    working.append(
        f"{c.gauge_name(gauge)} AWG, {insulation_c} C insulation: {figure(carries)} A, fuse at most 150 % ="
        f" {figure(ceiling)} A"
    )
    if rating_a > ceiling:
        notes.append(
            "This fuse is too large for its wire: the wire would burn first. Fit the size its label names."
        )
    elif rating_a > carries:
        notes.append("This fuse is above what the wire may carry steadily; see what the gear's label wants.")
