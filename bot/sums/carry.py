"""The carry sum: what one person may lift, by the NIOSH lifting equation."""

from bot.problems import NotEnough
from bot.sums import tables_parts as p
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, bar_row, valued
from bot.sums.spans import Known, Span, span

SOURCES = ("NIOSH 94-110, revised lifting equation",)
NOTE = (
    "The 51 lb of the equation is for the best posture there is. Near the floor and at arm's length"
    " far less is"
    " safe. A leg or motor comes down on a jack, with the nose held by the truck."
)


@limits(reach_in=(0, 40, "in"))
def reach_factor(reach_in: float) -> float:
    """Factor for how far the hands are from the ankles.

    HM = 10 / H, at most 1; 0 beyond 25 in

    Parameters
    ----------
    reach_in : ankles to hands, level [in], 0 to 40

    Returns 0 to 1. Source: NIOSH 94-110.

    >>> reach_factor(20), reach_factor(5), reach_factor(25), reach_factor(26)
    (0.5, 1.0, 0.4, 0.0)
    """
    return 0.0 if reach_in > 25 else min(1.0, 10 / reach_in) if reach_in else 1.0


@limits(height_in=(0, 100, "in"))
def height_factor(height_in: float) -> float:
    """Factor for the height of the hands.

    VM = 1 - 0.0075 |V - 30|; 0 above 70 in

    Parameters
    ----------
    height_in : hands above the floor [in], 0 to 100

    Returns 0 to 1. Source: NIOSH 94-110.

    >>> round(height_factor(6), 2), round(height_factor(70), 2), height_factor(71)
    (0.82, 0.7, 0.0)
    """
    return 0.0 if height_in > 70 else 1 - 0.0075 * abs(height_in - 30)


@limits(travel_in=(0, 100, "in"))
def travel_factor(travel_in: float) -> float:
    """Factor for how far up or down it goes.

    DM = 0.82 + 1.8 / D, at most 1; 0 beyond 70 in

    Parameters
    ----------
    travel_in : up or down [in], 0 to 100

    Returns 0 to 1. Source: NIOSH 94-110.

    >>> round(travel_factor(16), 4), travel_factor(10), round(travel_factor(70), 4), travel_factor(71)
    (0.9325, 1.0, 0.8457, 0.0)
    """
    return 0.0 if travel_in > 70 else 1.0 if travel_in <= 10 else 0.82 + 1.8 / travel_in


@limits(turn_deg=(0, 180, "deg"))
def turn_factor(turn_deg: float) -> float:
    """Factor for a twist of the body.

    AM = 1 - 0.0032 A; 0 beyond 135 degrees

    Parameters
    ----------
    turn_deg : twist [deg], 0 to 180

    Returns 0 to 1. Source: NIOSH 94-110.

    >>> turn_factor(0), round(turn_factor(45), 3), round(turn_factor(135), 3), turn_factor(136)
    (1.0, 0.856, 0.568, 0.0)
    """
    return 0.0 if turn_deg > 135 else 1 - 0.0032 * turn_deg


def limit_lb(
    reach_in: float, height_in: float, travel_in: float, turn_deg: float = 0.0, grip: str = "fair"
) -> float:
    """Weight that most people may lift once in a while [lb].

    RWL = 51 HM VM DM AM CM; the frequency factor is 1 (a single lift). Source: NIOSH 94-110.

    >>> round(limit_lb(20, 6, 16), 1)
    18.5
    """
    low, high = p.COUPLING[grip]
    coupling = low if height_in < 30 else high
    return (
        p.LIFT_LB
        * reach_factor(reach_in)
        * height_factor(height_in)
        * travel_factor(travel_in)
        * turn_factor(turn_deg)
        * coupling
    )


@limits(weight_lb=(0, 2000, "lb"))
def carry(
    weight_lb: Known | None = None,
    reach_in: float = 20.0,
    height_in: float = 6.0,
    travel_in: float = 16.0,
    turn_deg: float = 0.0,
    grip: str = "fair",
) -> Result:
    """What one person may lift here, and whether the part wants two people or a jack.

    Parameters
    ----------
    weight_lb : of the part [lb], 0 to 2000
    reach_in, height_in, travel_in, turn_deg : as in the factors above
    grip : "good", "fair" or "poor"

    Returns a Result; first value the limit for one person [lb]. Verdict "one person", "two people" or "jack",
    following the range of the weight. Raises OutOfRange, NotEnough.
    Leaves out: a bad back, a slippery floor. The equation itself does not cover two people: each gets half.

    >>> carry(15).verdict, carry(30).verdict, carry(60).verdict
    ('one person', 'two people', 'jack')
    """
    if weight_lb is None:
        raise NotEnough(
            "carry", "the weight of the part: from its box, its maker's sheet, or a bathroom scale"
        )
    if grip not in p.COUPLING:
        raise NotEnough("carry", f"the grip: {', '.join(p.COUPLING)}")
    weight = span(weight_lb, share=0.05)
    limit = limit_lb(reach_in, height_in, travel_in, turn_deg, grip)
    index = Span(*(one / limit if limit else float("inf") for one in weight))
    verdict = "one person" if index.high <= 1 else "two people" if index.high <= 2 else "jack"
    return Result(
        "carry",
        (valued("one person may lift", limit, "lb"), valued("lifting index", index, "")),
        (
            (
                f"limit = 51 lb x {figure(reach_factor(reach_in))} (reach) x"
                f" {figure(height_factor(height_in))} (height)"
                f" x {figure(travel_factor(travel_in))} (travel) x {figure(turn_factor(turn_deg))} (turn)"
                " x grip ="
                f" {figure(limit)} lb"
            ),
            f"index = {figure(weight.value)} lb / {figure(limit)} lb = {figure(index.value)}",
        ),
        (
            "weight right to 5 % (common practice, no source)",
            (
                f"hands {figure(reach_in)} in out and {figure(height_in)} in up, moved {figure(travel_in)} in,"
                f" {grip} grip, a single lift"
            ),
        ),
        SOURCES,
        limit,
        limit,
        verdict,
        "the weight of the part",
        (bar_row("weight on what one may lift", weight, limit, "lb"),),
        (NOTE,),
    )
