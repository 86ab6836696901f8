"""The leg-load sum: what both legs and each leg carry, and how much to move where to bring it down."""

from collections.abc import Sequence
from math import atan, cos

from bot.problems import Contradiction, NotEnough
from bot.sums import statics as s
from bot.sums import tables as t
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, Row, bar_row, valued
from bot.sums.spans import Known, Span, against, exact, middle, span, spread, widest
from bot.sums.tables_parts import PIN_SHARE

#: Taken where no distance was given: (lowest, usual, highest). The team's judgement, said each time.
ASSUMED_AXLES_FT = Span(20, 26, 32)
ASSUMED_LEGS_FT = Span(4, 6, 8)
ASSUMED_CG_FT = Span(3, 5, 7)

#: Where the load that is moved back is taken to stand, behind the pin: the front storage. Common practice.
TAKEN_FROM_FT = 4.0

OFF_WORDS = "1 % of a weight and 0.1 ft of a distance"

SOURCES = (
    "moments about the axle group",
    "15 to 25 % of the gross weight on the pin: common practice, no standard; only a scale tells",
)
PIN_NOTE = (
    "The legs carry more than the pin does: they stand nearer the axles. A reading of the pin weight"
    " has to be"
    " multiplied by L / (L - a)."
)
SLOPE_NOTE = "On a slope the trailer stands on its chocks: every wheel chocked before the truck is uncoupled."
HITCHED_NOTE = (
    "This holds with the truck gone. While it is coupled, heights and springs decide the legs' share."
)


@limits(
    gross_lb=(100, 50_000, "lb"),
    pin_lb=(0, 15_000, "lb"),
    pin_to_axles_ft=(6, 55, "ft"),
    pin_to_legs_ft=(0, 24, "ft"),
    grade_percent=(-20, 20, "%"),
    cg_height_ft=(0, 15, "ft"),
    offset_in=(-60, 60, "in"),
    leg_spacing_in=(12, 120, "in"),
    moved_lb=(0, 10_000, "lb"),
    rating_each_lb=(1, 30_000, "lb"),
)
def leg_load(
    gross_lb: Known | None = None,
    pin_lb: Known | None = None,
    pin_to_axles_ft: Known | None = None,
    pin_to_legs_ft: Known | None = None,
    *,
    truck_alone_lb: Sequence[float] | None = None,
    truck_coupled_lb: Sequence[float] | None = None,
    trailer_axles_lb: float | None = None,
    grade_percent: float = 0.0,
    cg_height_ft: float | None = None,
    offset_in: float = 0.0,
    leg_spacing_in: float | None = None,
    moved_lb: float = 0.0,
    from_ft: float | None = None,
    to_ft: float | None = None,
    rating_each_lb: float | None = None,
) -> Result:
    """Load on both legs together and on each, uncoupled, from whatever weight is known.

    Parameters
    ----------
    gross_lb : whole trailer as it stands [lb], 100 to 50000; alone it gives a pin share of 15 to 25 %
    pin_lb : pin weight from a scale [lb], 0 to 15000; or the three tickets: truck_alone_lb,
        truck_coupled_lb (the truck's axles), trailer_axles_lb
    pin_to_axles_ft : kingpin to the middle of the axle group [ft], 6 to 55; assumed where not given
    pin_to_legs_ft : kingpin to the legs [ft], 0 to 24; assumed where not given
    grade_percent : nose downhill counts up [%], -20 to 20; needs a weight and cg_height_ft
    cg_height_ft : centre of gravity above the feet [ft], 0 to 15
    offset_in : of the weight from the middle [in], -60 to 60
    leg_spacing_in : leg to leg [in], 12 to 120
    moved_lb : a load moved [lb], 0 to 10000, from_ft to to_ft behind the pin
    rating_each_lb : rating of one leg [lb], 1 to 30000

    Returns a Result whose first value is both legs together [lb]. Verdict: "clear", "close", "over" against
    the rating, "no rating given" without one. Raises OutOfRange, NotEnough, Contradiction: also where the
    legs would carry more than the trailer weighs.
    Leaves out: a coupled truck, wind, a frame that twists. Source: moments about the axle group.

    >>> leg_load(pin_lb=2800, pin_to_axles_ft=26, pin_to_legs_ft=6).value("both legs")
    3640.0
    """
    assumed: list[str] = []
    working: list[str] = []
    pin, gross = _weights(
        gross_lb, pin_lb, truck_alone_lb, truck_coupled_lb, trailer_axles_lb, assumed, working
    )
    axles = _distance(pin_to_axles_ft, ASSUMED_AXLES_FT, "pin to axles", assumed)
    to_legs = _distance(pin_to_legs_ft, ASSUMED_LEGS_FT, "pin to legs", assumed)
    s.legs_lb(
        pin.value, axles.value, to_legs.value
    )  # says first, and in words, if the legs stand behind the axles
    level = spread(s.legs_lb, pin, axles, to_legs)
    working.append(
        f"legs = pin x L / (L - a) = {figure(pin.value)} lb x {figure(axles.value)} /"
        f" {figure(axles.value - to_legs.value)} = {figure(level.value)} lb on both"
    )
    both, change = level, 0.0
    if grade_percent and gross is not None:
        height = ASSUMED_CG_FT if cg_height_ft is None else exact(cg_height_ft)
        if cg_height_ft is None:
            assumed.append("centre of gravity 5 ft above the feet, from 3 to 7 ft: the height was not given")
        both = _on_grade(pin, gross, axles, to_legs, grade_percent, height)
        working.append(
            f"legs = W ((L - x) cos g + h sin g) / (L - a), grade {figure(grade_percent)} %, h"
            f" {figure(height.value)} ft: {figure(both.value)} lb on both"
        )
    elif grade_percent:
        assumed.append("level ground: a grade needs the gross weight too")
    still = both
    if moved_lb:
        if from_ft is None or to_ft is None:
            raise NotEnough("leg-load", "from where and to where the load is moved, behind the pin")
        change = s.change_by_move_lb(moved_lb, from_ft, to_ft, axles.value - to_legs.value)
        both = Span(*(max(0.0, one + change) for one in both))
        working.append(
            f"change = -w (to - from) / (L - a) = -{figure(moved_lb)} lb x {figure(to_ft - from_ft)} /"
            f" {figure(axles.value - to_legs.value)} = {figure(change)} lb"
        )
    across = gross if gross is None else Span(*(one * cos(atan(grade_percent / 100)) for one in gross))
    if across is not None and both.value > across.value:
        raise Contradiction(
            "leg-load",
            f"by these figures the legs would carry {figure(both.value)} lb, more than the whole trailer weighs"
            f" ({figure(across.value)} lb). If that were so its weight would lie ahead of the legs and it would tip"
            " on its nose. Weigh the pin again, measure both distances from the pin, and take nothing off the"
            " hitch until they agree.",
        )
    near = far = Span(*(one / 2 for one in both))
    if offset_in:
        if leg_spacing_in is None:
            raise NotEnough("leg-load", "the distance from leg to leg, since the weight sits off the middle")
        share = s.near_leg_lb(1.0, leg_spacing_in, abs(offset_in))
        near, far = Span(*(one * share for one in both)), Span(*(one * (1 - share) for one in both))
        working.append(
            f"near leg = legs (1/2 + e / b) = {figure(both.value)} lb x (1/2 + {figure(abs(offset_in))} /"
            f" {figure(leg_spacing_in)}) = {figure(near.value)} lb"
        )
    else:
        assumed.append("both legs equal: feet level, weight in the middle")
    values = [valued("both legs", both, "lb")]
    notes = [PIN_NOTE, HITCHED_NOTE]
    if grade_percent:
        notes.append(SLOPE_NOTE)
        if gross is not None:
            push = s.along_slope_lb(gross.value, grade_percent)
            working.append(f"the chocks hold W sin g = {figure(push)} lbf")
    if offset_in:
        values += [valued("near leg", near, "lb"), valued("far leg", far, "lb")]
    else:
        values.append(valued("each leg", near, "lb"))
    values.append(valued("pin", pin, "lb"))
    if moved_lb:
        values.append(valued("change by the move", change, "lb"))
        pin_change = s.change_by_move_lb(moved_lb, from_ft or 0.0, to_ft or 0.0, axles.value)
        values.append(valued("change of the pin", pin_change, "lb"))
    rows = _places("before", still, across, axles, to_legs) if moved_lb else []
    rows += _places("place", both, across, axles, to_legs)
    if gross is not None and not grade_percent:
        left = Span(max(0.0, gross.low - both.high), gross.value - both.value, gross.high - both.low)
        values.append(valued("axles", left, "lb"))
    verdict = "no rating given"
    if rating_each_lb is not None:
        verdict = against(near, exact(rating_each_lb))
        rows.insert(0, bar_row("heavier leg" if offset_in else "each leg", near, rating_each_lb, "lb"))
        notes += _bring_down(near, rating_each_lb, axles, to_legs, working)
    spans = {
        "the pin weight, from a scale": pin,
        "pin to axles, with a tape": axles,
        "pin to legs, with a tape": to_legs,
    }
    return Result(
        "leg-load",
        tuple(values),
        tuple(working),
        tuple(assumed),
        SOURCES,
        both.low,
        both.high,
        verdict,
        widest(s.legs_lb, spans),
        tuple(rows),
        tuple(notes),
    )


def _weights(
    gross_lb: Known | None,
    pin_lb: Known | None,
    truck_alone: Sequence[float] | None,
    truck_coupled: Sequence[float] | None,
    trailer_axles: float | None,
    assumed: list[str],
    working: list[str],
) -> tuple[Span, Span | None]:
    """Pin weight and gross weight with their ranges, from whatever of them was given."""
    off = t.READ_OFF["weight share"]
    gross = None if gross_lb is None else span(gross_lb, share=off)
    if truck_alone and truck_coupled:
        pin_ticket, trailer = s.scale_tickets(truck_alone, truck_coupled, trailer_axles or 0.0)
        # A difference of two weighings carries the error of both, not one hundredth of the difference.
        error = off * 0.5 * (sum(truck_alone) + sum(truck_coupled)) / 2
        working.append(f"pin = truck coupled - truck alone = {figure(pin_ticket)} lb")
        assumed.append("each ticket is right to half a percent (common practice, no source)")
        if gross is None and trailer_axles is not None:
            gross = span(float(trailer), share=off)
        return Span(max(0.0, pin_ticket - error), float(pin_ticket), pin_ticket + error), gross
    if pin_lb is not None:
        if not isinstance(pin_lb, Span):
            assumed.append(t.READ_OFF_NOTE.format(OFF_WORDS))
        return span(pin_lb, share=off), gross
    if gross is None:
        raise NotEnough("leg-load", "the pin weight from a scale, three scale tickets, or the gross weight")
    low, usual, high = PIN_SHARE
    assumed.append(
        "20 % of the gross weight on the pin, from 15 to 25 % (common practice): it was not weighed"
    )
    working.append(f"pin = 0.20 x {figure(gross.value)} lb = {figure(usual * gross.value)} lb")
    return Span(low * gross.low, usual * gross.value, high * gross.high), gross


def _places(kind: str, legs: Span, gross: Span | None, axles: Span, to_legs: Span) -> list[Row]:
    """The places of the side view; `kind` is "place", or "before" for the loads before a move.

    `gross` is the part of the weight that presses square on the ground: on a slope less than all of it.
    """
    on_axles = gross.value - legs.value if gross is not None else 0.0
    called = "axles" if gross is not None else "axles, weight not given"
    return [
        Row(kind, "pin, truck gone", 0.0, 0.0, 0.0, 0.0, "lb"),
        Row(kind, "legs", legs.value, legs.low, legs.high, to_legs.value, "lb"),
        Row(kind, called, on_axles, on_axles, on_axles, axles.value, "lb"),
    ]


def _distance(given: Known | None, otherwise: Span, name: str, assumed: list[str]) -> Span:
    if given is not None:
        note = t.READ_OFF_NOTE.format(OFF_WORDS)
        if not isinstance(given, Span) and note not in assumed:
            assumed.append(note)
        return span(given, plus_minus=t.READ_OFF["distance ft"])
    assumed.append(
        f"{name} {figure(otherwise.value)} ft, from {figure(otherwise.low)} to {figure(otherwise.high)} ft:"
        " it was not measured"
    )
    return otherwise


def _on_grade(pin: Span, gross: Span, axles: Span, to_legs: Span, grade_percent: float, height: Span) -> Span:
    def formula(pin_lb: float, weight_lb: float, axles_ft: float, legs_ft: float, height_ft: float) -> float:
        to_cg = axles_ft * (1 - pin_lb / weight_lb)
        return s.legs_on_grade_lb(weight_lb, axles_ft, to_cg, legs_ft, grade_percent, height_ft)

    return spread(formula, pin, gross, axles, to_legs, height)


def _bring_down(near: Span, rating_lb: float, axles: Span, to_legs: Span, working: list[str]) -> list[str]:
    """How much to take where to bring the heavier leg to its rating, at the top of its range."""
    over = near.high - rating_lb
    if over <= 0:
        return []
    arm = axles.value - to_legs.value
    # The move is counted for both legs, so that each loses half of it.
    foot_pounds = 2 * over * arm
    over_axles = foot_pounds / (axles.value - TAKEN_FROM_FT)
    working.append(
        f"to bring the highest reading to the rating: w x distance = 2 x {figure(over)} lb x {figure(arm)} ft"
        f" = {figure(foot_pounds)} lb ft"
    )
    return [
        (
            f"To get under the rating for sure, move about {figure(over_axles)} lb from {figure(TAKEN_FROM_FT)} ft behind the pin back"
            " over the axles, or take out what stands ahead of the legs."
        )
    ]


def move_wanted_lb(
    both_legs_lb: Known, wanted_lb: float, from_ft: float, to_ft: float, span_ft: float
) -> float:
    """How much to move to bring both legs together to a load; 0 where they are there already.

    w = (legs - wanted) (L - a) / (to - from)

    ``from_ft`` and ``to_ft`` are distances behind the pin, ``span_ft`` is L - a. Raises NotEnough where the
    move does not go backwards. Source: moments about the axle group, solved for the weight.

    >>> move_wanted_lb(3640, 3190, 4, 22, 20)
    500.0
    """
    if to_ft <= from_ft:
        raise NotEnough("leg-load", "a place further back than where the load stands now")
    return max(0.0, (middle(both_legs_lb) - wanted_lb) * span_ft / (to_ft - from_ft))
