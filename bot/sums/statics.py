"""Moments about the axles: what stands on the pin, the legs and the axles, and what moving a load does."""

from collections.abc import Sequence
from math import atan, cos, sin

from bot.problems import Contradiction
from bot.sums.limits import limits


@limits(weight_lb=(1, 60_000, "lb"), pin_to_axles_ft=(5, 60, "ft"), pin_to_cg_ft=(0, 60, "ft"))
def pin_load_lb(weight_lb: float, pin_to_axles_ft: float, pin_to_cg_ft: float) -> float:
    """Load on the pin of a coupled trailer, level ground.

    pin = W (L - x) / L

    Parameters
    ----------
    weight_lb : whole trailer [lb], 1 to 60000
    pin_to_axles_ft : kingpin to the middle of the axle group [ft], 5 to 60
    pin_to_cg_ft : kingpin to the centre of gravity [ft], 0 to 60

    Returns [lb]. Source: moments about the axle group; worked in tests/sums/by_hand/legs.md.

    >>> round(pin_load_lb(14000, 26, 20.8), 6)
    2800.0
    """
    return weight_lb * (pin_to_axles_ft - pin_to_cg_ft) / pin_to_axles_ft


@limits(pin_lb=(0, 20_000, "lb"), pin_to_axles_ft=(5, 60, "ft"), pin_to_legs_ft=(0, 25, "ft"))
def legs_lb(pin_lb: float, pin_to_axles_ft: float, pin_to_legs_ft: float) -> float:
    """Load on both legs together, uncoupled, level ground.

    legs = pin L / (L - a)

    Parameters
    ----------
    pin_lb : load on the pin when coupled [lb], 0 to 20000
    pin_to_axles_ft : kingpin to the middle of the axle group [ft], 5 to 60
    pin_to_legs_ft : kingpin to the legs [ft], 0 to 25, less than pin to axles

    Returns [lb]. Raises OutOfRange, Contradiction where the legs stand at or behind the axles.
    Source: moments about the axle group; worked in tests/sums/by_hand/legs.md.

    >>> legs_lb(2800, 26, 6)
    3640.0
    """
    if pin_to_legs_ft >= pin_to_axles_ft:
        raise Contradiction(
            "leg-load", "the legs cannot stand at or behind the axles. Take both distances from the pin."
        )
    return pin_lb * pin_to_axles_ft / (pin_to_axles_ft - pin_to_legs_ft)


@limits(
    weight_lb=(1, 60_000, "lb"),
    pin_to_axles_ft=(5, 60, "ft"),
    pin_to_cg_ft=(0, 60, "ft"),
    pin_to_legs_ft=(0, 25, "ft"),
    grade_percent=(-20, 20, "%"),
    cg_height_ft=(0, 15, "ft"),
)
def legs_on_grade_lb(
    weight_lb: float,
    pin_to_axles_ft: float,
    pin_to_cg_ft: float,
    pin_to_legs_ft: float,
    grade_percent: float,
    cg_height_ft: float,
) -> float:
    """Load on both legs together, square to a sloping ground, wheels chocked.

    legs = W ((L - x) cos g + h sin g) / (L - a),  tan g = grade

    Parameters
    ----------
    weight_lb : whole trailer [lb], 1 to 60000
    pin_to_axles_ft : kingpin to the middle of the axle group [ft], 5 to 60
    pin_to_cg_ft : kingpin to the centre of gravity [ft], 0 to 60
    pin_to_legs_ft : kingpin to the legs [ft], 0 to 25
    grade_percent : fall of the ground, nose downhill counts up [%], -20 to 20
    cg_height_ft : centre of gravity above the line through feet and tyres [ft], 0 to 15

    Returns [lb]. Source: moments about the axle group; worked in tests/sums/by_hand/legs.md.

    >>> round(legs_on_grade_lb(14000, 26, 20.8, 6, 5, 5), 1)
    3810.2
    """
    angle = atan(grade_percent / 100)
    arm = (pin_to_axles_ft - pin_to_cg_ft) * cos(angle) + cg_height_ft * sin(angle)
    return weight_lb * arm / (pin_to_axles_ft - pin_to_legs_ft)


@limits(weight_lb=(0, 60_000, "lb"), grade_percent=(-20, 20, "%"))
def along_slope_lb(weight_lb: float, grade_percent: float) -> float:
    """Force that the chocks hold on a slope.

    F = W sin g,  tan g = grade

    Parameters
    ----------
    weight_lb : whole trailer [lb], 0 to 60000
    grade_percent : fall of the ground [%], -20 to 20

    Returns [lbf]. Source: weight resolved along the slope.

    >>> round(along_slope_lb(14000, 5), 1)
    699.1
    """
    return weight_lb * sin(atan(abs(grade_percent) / 100))


@limits(legs_total_lb=(0, 60_000, "lb"), leg_spacing_in=(12, 120, "in"), offset_in=(-60, 60, "in"))
def near_leg_lb(legs_total_lb: float, leg_spacing_in: float, offset_in: float) -> float:
    """Load on the leg towards which the weight sits off the middle.

    near = legs (1/2 + e / b)

    Parameters
    ----------
    legs_total_lb : both legs together [lb], 0 to 60000
    leg_spacing_in : from leg to leg [in], 12 to 120
    offset_in : of the centre of gravity from the middle [in], -60 to 60

    Returns [lb]; the other leg has the rest. Source: moments about the other leg.

    >>> round(near_leg_lb(3640, 72, 3), 1)
    1971.7
    """
    return legs_total_lb * (0.5 + offset_in / leg_spacing_in)


@limits(moved_lb=(0, 10_000, "lb"), from_ft=(-10, 60, "ft"), to_ft=(-10, 60, "ft"), span_ft=(0.5, 60, "ft"))
def change_by_move_lb(moved_lb: float, from_ft: float, to_ft: float, span_ft: float) -> float:
    """Change of a support's load when a load is moved, measured behind the pin.

    change = -w (to - from) / span; the span is L - a for the legs, L for the pin

    Parameters
    ----------
    moved_lb : what is moved [lb], 0 to 10000
    from_ft : where it was, behind the pin [ft], -10 to 60
    to_ft : where it goes, behind the pin [ft], -10 to 60
    span_ft : from that support to the axles [ft], 0.5 to 60

    Returns [lb], negative where the support is relieved. Source: moments about the axle group.

    >>> change_by_move_lb(500, 4, 22, 20)
    -450.0
    """
    return -moved_lb * (to_ft - from_ft) / span_ft


@limits(weight=(0.1, 1e6, "lb"), moved=(0, 1e6, "lb"), distance=(-1e4, 1e4, "in"))
def cg_shift(weight: float, moved: float, distance: float) -> float:
    """How far the centre of gravity goes when a part of the weight is moved.

    shift = w d / W

    Parameters
    ----------
    weight : whole weight [lb], 0.1 to 1e+06
    moved : part that is moved [lb], 0 to 1e+06
    distance : how far it is moved [in], -10000 to 10000

    Returns the shift in the unit of the distance. Source: weight-and-balance rule of the FAA handbooks.

    >>> cg_shift(4000, 100, 90)
    2.25
    """
    return moved * distance / weight


@limits(weight=(0.1, 1e6, "lb"), shift=(-1e4, 1e4, "in"), distance=(-1e4, 1e4, "in"))
def weight_to_move(weight: float, shift: float, distance: float) -> float:
    """How much to move for a wanted shift of the centre of gravity.

    w = W shift / d

    Parameters
    ----------
    weight : whole weight [lb], 0.1 to 1e+06
    shift : wanted [in], -10000 to 10000
    distance : how far it can be moved [in], -10000 to 10000, not 0

    Returns [lb]. Source: weight-and-balance rule of the FAA handbooks.

    >>> weight_to_move(7800, 1, 120)
    65.0
    """
    return weight * shift / distance


def scale_tickets(
    truck_alone_lb: Sequence[float], truck_coupled_lb: Sequence[float], trailer_axles_lb: float
) -> tuple[float, float]:
    """Pin weight and trailer weight [lb] from three weighings.

    pin = truck axles coupled - truck axles alone; trailer = coupled total - truck alone

    ``truck_alone_lb`` and ``truck_coupled_lb`` are the truck's axles. Raises Contradiction where the truck
    is not heavier coupled. Source: arithmetic of a three-ticket weigh-in.

    >>> scale_tickets([2180, 2000], [2060, 2380], 2000)
    (260, 2260)
    """
    pin = sum(truck_coupled_lb) - sum(truck_alone_lb)
    if pin <= 0:
        raise Contradiction(
            "leg-load", "the truck's axles are no heavier coupled than alone. Check the tickets."
        )
    return pin, pin + trailer_axles_lb


Load = tuple[float, float]
Spread = tuple[float, float, float]


def two_supports(
    supports: tuple[float, float], points: Sequence[Load] = (), spreads: Sequence[Spread] = ()
) -> tuple[float, float]:
    """Reactions of a straight beam on two supports.

    ``points`` are (place, load), ``spreads`` (from, to, load a length). Any one unit of length and of load.
    Returns the reactions in the order of ``supports``. Source: moments about each support.

    >>> two_supports((0, 4), [(6, 600)], [(0, 4, 200)])
    (100.0, 1300.0)
    """
    loads = [*points, *(((start + end) / 2, (end - start) * each) for start, end, each in spreads)]
    first, second = supports
    turn = sum(load * (place - first) for place, load in loads)
    at_second = turn / (second - first)
    return sum(load for _, load in loads) - at_second, at_second


@limits(load_per_length=(0, 1e6, ""), span=(0.001, 1e5, ""))
def three_level_supports(load_per_length: float, span: float) -> tuple[float, float, float]:
    """Reactions of an even load on three supports at exactly one height, two equal spans.

    R = 3/8, 10/8, 3/8 of w L

    Parameters
    ----------
    load_per_length : even load, 0 to 1e+06
    span : one of the two spans, 0.001 to 100000

    Returns the three reactions. It shows why the legs of a coupled trailer cannot be worked out from
    weights alone: heights decide. Source: continuous beam, standard case.

    >>> three_level_supports(10, 120)
    (450.0, 1500.0, 450.0)
    """
    each = load_per_length * span
    return 3 / 8 * each, 10 / 8 * each, 3 / 8 * each
