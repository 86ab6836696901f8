"""The stand sum: load on each stand or crib under the nose, against its rating and height."""

from bot.problems import NotEnough
from bot.sums import tables_parts as p
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, Row, bar_row, valued
from bot.sums.spans import Known, Span, against, exact, span, spread
from bot.sums.statics import legs_lb

SOURCES = (
    "moments about the axle group",
    "softwood cribs: fire-service figures; height: box-crib summary",
    "29 CFR 1926.305(a), (c): rating marked and kept, base blocked where footing is not firm",
)
PAIR_NOTE = "A marked tonnage may be for one stand or for the pair. Read the marking; in doubt take half."
JACK_NOTE = "Nobody goes under a nose held by a jack alone: crib, block or stand at once after raising."
WEIGH = "the pin weight, from a scale"
WOOD_NOTE = "Wood under load crushes, up to a fifth of the crib's height. Watch it while the load comes on."


@limits(contacts=(1, 36, ""), side_in=(1, 12, "in"))
def crib_lb(contacts: int, timber: int = 4, side_in: float | None = None) -> float:
    """Load a crib of softwood carries across the grain.

    F = contacts x 6000 lb (4x4) or 15000 lb (6x6); with a side given, contacts x side^2 x 500 psi

    Parameters
    ----------
    contacts : crossings in one layer, 1 to 36: two by two has 4, three by three 9
    timber : nominal side, 4 or 6
    side_in : dressed side [in], 1 to 12, for the stress route instead

    Returns [lb]. Source: fire-service figures; the stress is from memory.

    >>> crib_lb(4), crib_lb(4, 6), crib_lb(4, 4, 3.5)
    (24000.0, 60000.0, 24500.0)
    """
    if side_in is not None:
        return contacts * side_in**2 * p.CRIB_PSI
    if timber not in p.CRIB_CONTACT_LB:
        raise NotEnough("stand", "the timber: 4 for 4x4, 6 for 6x6")
    return contacts * p.CRIB_CONTACT_LB[timber]


@limits(
    load_lb=(0, 50_000, "lb"),
    pin_lb=(0, 15_000, "lb"),
    pin_to_axles_ft=(6, 55, "ft"),
    pin_to_stands_ft=(0, 24, "ft"),
    count=(1, 8, ""),
    rating_each_lb=(1, 100_000, "lb"),
    height_in=(1, 120, "in"),
    crib_width_in=(6, 60, "in"),
)
def stand(
    load_lb: Known | None = None,
    count: int = 2,
    rating_each_lb: float | None = None,
    *,
    marked_for: str = "unsure",
    crib_timber: int | None = None,
    crib_contacts: int = 4,
    crib_width_in: float | None = None,
    height_in: float | None = None,
    pin_lb: Known | None = None,
    pin_to_axles_ft: float | None = None,
    pin_to_stands_ft: float | None = None,
) -> Result:
    """Load on each stand, against its rating; the height a crib may have.

    Parameters
    ----------
    load_lb : on all stands together [lb], 0 to 50000; or the next three
    pin_lb : pin weight from a scale [lb], 0 to 15000
    pin_to_axles_ft : kingpin to the middle of the axle group [ft], 6 to 55
    pin_to_stands_ft : kingpin to the stands [ft], 0 to 24
    count : stands or cribs that carry the nose, 1 to 8
    rating_each_lb : marked on one stand [lb], 1 to 100000
    marked_for : "one", "pair" or "unsure": what that rating holds for; unsure counts half as low end
    crib_timber : 4 or 6 where cribs are used instead of stands
    crib_contacts : crossings in a layer, 4 or 9
    crib_width_in : shortest width of the crib [in], 6 to 60
    height_in : of the crib [in], 1 to 120

    Returns a Result; first value the load on each [lb]. Verdict "clear", "close" or "over" by the highest
    share any of them may take, "no rating given" where neither rating nor crib was told. Raises OutOfRange, NotEnough.
    Leaves out: side push, soft ground (see foot). Source: moments; crib figures halved for safety.

    >>> stand(3640, 2, 6000).verdict, stand(3640, 2, 3000).verdict, stand(3640, 2, 1500).verdict
    ('clear', 'close', 'over')
    >>> stand(3640, 2, 3000, marked_for="one").verdict
    'clear'
    """
    working: list[str] = []
    if load_lb is not None:
        load = span(load_lb, share=0.01)
    elif pin_lb is not None and pin_to_axles_ft is not None and pin_to_stands_ft is not None:
        feet = (span(pin_to_axles_ft, plus_minus=0.1), span(pin_to_stands_ft, plus_minus=0.1))
        load = spread(legs_lb, span(pin_lb, share=0.01), *feet)
        working.append(
            f"load = pin x L / (L - a) = {figure(span(pin_lb).value)} lb x {figure(pin_to_axles_ft)} /"
            f" {figure(pin_to_axles_ft - pin_to_stands_ft)} = {figure(load.value)} lb"
        )
    else:
        raise NotEnough(
            "stand", "the load on the stands, or the pin weight with pin to axles and pin to stands"
        )
    # More than two supports under a stiff frame do not share evenly: it may rock on two of them.
    each = Span(load.low / count, load.value / count, load.high / min(count, 2))
    working.append(f"each = {figure(load.value)} lb / {count} = {figure(each.value)} lb")
    assumed = ["weight in the middle, stands upright and square under the frame rails, ground firm"]
    if count > 2:
        assumed.append("more than two do not share evenly: up to half on one is counted")
    values = [valued("load on each", each, "lb"), valued("load in all", load, "lb")]
    rows: list[Row]
    carries: Span | None
    notes = [JACK_NOTE]
    if crib_timber is not None:
        breaks = crib_lb(crib_contacts, crib_timber)
        rating = breaks / p.CRIB_FACTOR
        carries = exact(rating)
        values.append(valued("crib may carry", rating, "lb"))
        working.append(
            f"crib: {crib_contacts} contacts of {crib_timber}x{crib_timber} = {figure(breaks)} lb,"
            f" / {figure(p.CRIB_FACTOR)} = {figure(rating)} lb"
        )
        notes.append(WOOD_NOTE)
    elif rating_each_lb is not None:
        rating = rating_each_lb / 2 if marked_for == "pair" else rating_each_lb
        carries = Span(rating / 2 if marked_for == "unsure" else rating, rating, rating)
        if marked_for == "unsure":
            notes.append(PAIR_NOTE)
            assumed.append("the marking may be for the pair: half of it counts as the lowest rating")
    else:
        notes.append(
            "A stand whose rating cannot be read does not count. Read the marking before it goes under."
        )
        carries = None
    verdict, rows = "no rating given", []
    if carries is not None:
        verdict = against(each, carries)
        values.append(valued("margin", carries.low / each.high if each.high else float("inf"), "times"))
        rows.append(bar_row("load on each", each, rating, "lb"))
    if crib_timber is not None:
        most_in = 12 * p.CRIB_HEIGHT_FT[crib_timber]
        if crib_width_in is not None:
            most_in = min(most_in, p.CRIB_HEIGHT_RATIO * crib_width_in)
        values.append(valued("most height", most_in, "in"))
        if height_in is not None:
            tall = exact(height_in)
            rows.append(bar_row("height of the crib", tall, most_in, "in"))
            if height_in > most_in:
                verdict = "over"
                notes.append(f"Too tall: {figure(most_in)} in is the most for this crib. Build it wider.")
    return Result(
        "stand",
        tuple(values),
        tuple(working),
        tuple(assumed),
        SOURCES,
        each.low,
        each.high,
        verdict,
        _narrow(verdict),
        tuple(rows),
        tuple(notes),
    )


def _narrow(verdict: str) -> str:
    """The one thing to find out next."""
    if verdict == "no rating given":
        return "the rating marked on one stand"
    return "what the marking on the stand holds for: one stand or the pair" if verdict == "close" else WEIGH
