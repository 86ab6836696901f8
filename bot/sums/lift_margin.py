"""The lift-margin sum: the load on the legs as a share of what motor, pair and leg are rated for."""

from bot.problems import NotEnough
from bot.sums.convert import figure
from bot.sums.legs import leg_load
from bot.sums.limits import limits
from bot.sums.result import Result, Row, bar_row, valued
from bot.sums.spans import Known, Span, against, exact, span

SOURCES = ("moments about the axle group; ratings from the labels",)
LABEL_NOTE = "The rating on the part's own label goes first. Without a label, ask its maker before lifting."
FOOT_NOTE = "Set both feet down together: a foot that touches first carries everything until the other does."


@limits(
    legs_lb=(0, 50_000, "lb"),
    rating_motor_lb=(1, 60_000, "lb"),
    rating_pair_lb=(1, 60_000, "lb"),
    rating_leg_lb=(1, 30_000, "lb"),
    motors=(0, 2, ""),
)
def lift_margin(
    legs_lb: Known | None = None,
    rating_motor_lb: float | None = None,
    rating_pair_lb: float | None = None,
    rating_leg_lb: float | None = None,
    *,
    motors: int = 1,
    one_foot_first: bool = False,
    gross_lb: Known | None = None,
    pin_lb: Known | None = None,
    pin_to_axles_ft: Known | None = None,
    pin_to_legs_ft: Known | None = None,
) -> Result:
    """Share of each rating that the load on the legs uses, and which part limits.

    share = load on the part / rating of the part

    Parameters
    ----------
    legs_lb : both legs together [lb], 0 to 50000; else worked out from gross or pin weight as leg-load does
    rating_motor_lb : lift of one motor from its label [lb], 1 to 60000
    rating_pair_lb : lift of the pair from its label [lb], 1 to 60000
    rating_leg_lb : lift of one leg from its label [lb], 1 to 30000
    motors : motors that lift, 0 to 2 (0: by hand)
    one_foot_first : one foot touches before the other and carries it all

    Returns a Result; its first value is the largest share [%]. Verdict "clear", "close" or "over", following
    the range. Raises OutOfRange, NotEnough without a rating or a load. Leaves out: duty time, heat.
    Source: ratings from labels, load by moments.

    >>> lift_margin(3640, rating_leg_lb=2500).verdict
    'clear'
    >>> lift_margin(3640, rating_leg_lb=2500, one_foot_first=True).verdict
    'over'
    """
    if rating_motor_lb is None and rating_pair_lb is None and rating_leg_lb is None:
        raise NotEnough("lift-margin", "a rating from a label: of the motor, the pair of legs, or one leg")
    assumed: list[str] = []
    working: list[str] = []
    narrow = ""
    if legs_lb is None:
        load = leg_load(gross_lb, pin_lb, pin_to_axles_ft, pin_to_legs_ft)
        found = load.found("both legs")
        both = Span(found.low, found.value, found.high)
        assumed += load.assumptions
        working += load.working
        narrow = load.narrow
    else:
        both = span(legs_lb, share=0.01)
        assumed.append("load on the legs right to 1 % (common practice, no source)")
    one = both if one_foot_first else Span(*(load_lb / 2 for load_lb in both))
    assumed.append(
        "one foot carries everything while it touches alone" if one_foot_first else "both feet touch together"
    )
    parts: list[tuple[str, Span, float]] = []
    if rating_motor_lb is not None and motors:
        parts.append(("motor", one if motors == 2 else both, rating_motor_lb))
    if rating_pair_lb is not None:
        parts.append(("pair of legs", both, rating_pair_lb))
    if rating_leg_lb is not None:
        parts.append(("leg", one, rating_leg_lb))
    if not parts:
        raise NotEnough("lift-margin", "the rating of a leg or of the pair: no motor lifts here")
    shares: list[tuple[str, Span]] = []
    rows: list[Row] = []
    for name, load_on, rating in parts:
        share = Span(*(100 * load_lb / rating for load_lb in load_on))
        shares.append((name, share))
        rows.append(bar_row(f"load on the {name}", load_on, rating, "lb"))
        working.append(
            f"{name}: {figure(load_on.value)} lb / {figure(rating)} lb = {figure(share.value)} % of"
            " its rating"
        )
    limiting, most = max(shares, key=lambda pair: pair[1].high)
    verdict = against(most, exact(100))
    working.append(f"the {limiting} limits")
    values = [valued("share of rating", most, "%")]
    values += [valued(f"share of the {name}", share, "%") for name, share in shares]
    values.append(valued("load on the legs", both, "lb"))
    notes = [LABEL_NOTE]
    if verdict != "clear":
        notes.append(
            "Take weight off the front, or let the truck lift the nose, before the legs are run again."
        )
    if not one_foot_first:
        notes.append(FOOT_NOTE)
    return Result(
        "lift-margin",
        tuple(values),
        tuple(working),
        tuple(assumed),
        SOURCES,
        most.low,
        most.high,
        verdict,
        narrow,
        tuple(rows),
        tuple(notes),
    )
