"""Power screws: torque to raise and lower, efficiency, and whether the screw holds by itself."""

from math import cos, pi, radians, tan

from bot.problems import OutOfRange
from bot.sums import tables_parts as p
from bot.sums.limits import limits


@limits(
    load=(0, 1e7, ""),
    mean_dia=(0.01, 1e4, ""),
    lead=(1e-4, 1e4, ""),
    friction=(0, 1.2, ""),
    half_angle_deg=(0, 45, "deg"),
)
def raise_torque(
    load: float, mean_dia: float, lead: float, friction: float, half_angle_deg: float = 0.0
) -> float:
    """Torque in the thread that raises a load.

    T = F dm/2 (l + pi f dm sec a) / (pi dm - f l sec a)

    Parameters
    ----------
    load : axial, any unit of force, 0 to 1e+07
    mean_dia : mean thread diameter, any unit of length, 0.01 to 10000
    lead : rise in one turn, same unit, 0.0001 to 10000
    friction : coefficient in the thread, 0 to 1.2
    half_angle_deg : half the flank angle [deg], 0 to 45; 14.5 for Acme, 0 for square

    Returns force times length. Raises OutOfRange, also where no torque raises the load.
    Leaves out: the collar. Source: square-thread and Acme formula of the machine-design texts.

    >>> round(raise_torque(10000, 2, 0.5, 0.2), 0)
    2841.0
    """
    secant = 1 / cos(radians(half_angle_deg))
    under = pi * mean_dia - friction * lead * secant
    if under <= 0:
        most = pi * mean_dia / (lead * secant)
        raise OutOfRange("friction", friction, 0, most, "", "screws.py, raise_torque")
    return load * mean_dia / 2 * (lead + pi * friction * mean_dia * secant) / under


@limits(
    load=(0, 1e7, ""),
    mean_dia=(0.01, 1e4, ""),
    lead=(1e-4, 1e4, ""),
    friction=(0, 1.2, ""),
    half_angle_deg=(0, 45, "deg"),
)
def lower_torque(
    load: float, mean_dia: float, lead: float, friction: float, half_angle_deg: float = 0.0
) -> float:
    """Torque in the thread that lowers a load; negative means it runs down by itself.

    T = F dm/2 (pi f dm sec a - l) / (pi dm + f l sec a)

    Parameters
    ----------
    load : axial, any unit of force, 0 to 1e+07
    mean_dia : mean thread diameter, any unit of length, 0.01 to 10000
    lead : rise in one turn, same unit, 0.0001 to 10000
    friction : coefficient in the thread, 0 to 1.2
    half_angle_deg : half the flank angle [deg], 0 to 45

    Returns force times length. Leaves out: the collar. Source: as raise_torque.

    >>> round(lower_torque(1820, 0.9, 0.2, 0.10, 14.5), 2)
    26.47
    """
    secant = 1 / cos(radians(half_angle_deg))
    return (
        load
        * mean_dia
        / 2
        * (pi * friction * mean_dia * secant - lead)
        / (pi * mean_dia + friction * lead * secant)
    )


def collar_torque(load: float, friction: float, mean_radius: float) -> float:
    """Torque lost in a plain thrust collar: load x friction x mean radius.

    >>> round(collar_torque(1820, 0.15, 0.625), 1)
    170.6
    """
    return load * friction * mean_radius


def efficiency(load: float, lead: float, torque: float) -> float:
    """Share of the work that lifts: F l / (2 pi T).

    >>> round(efficiency(1820, 0.2, 143.58), 4)
    0.4035
    """
    return load * lead / (2 * pi * torque) if torque else 0.0


@limits(mean_dia=(0.01, 1e4, ""), lead=(1e-4, 1e4, ""), half_angle_deg=(0, 45, "deg"))
def holding_friction(mean_dia: float, lead: float, half_angle_deg: float = 0.0) -> float:
    """Least friction at which a screw without a collar holds its load by itself.

    f = lead cos a / (pi dm)

    Parameters
    ----------
    mean_dia : mean thread diameter, any unit, 0.01 to 10000
    lead : rise in one turn, same unit, 0.0001 to 10000
    half_angle_deg : half the flank angle [deg], 0 to 45

    Returns a coefficient. Source: lowering torque set to zero.

    >>> round(holding_friction(0.9, 0.2, 14.5), 6)
    0.068482
    """
    return lead * cos(radians(half_angle_deg)) / (pi * mean_dia)


@limits(lead_deg=(0.1, 60, "deg"), pressure_deg=(0, 45, "deg"), friction=(0, 1, ""))
def worm_efficiency(lead_deg: float, pressure_deg: float, friction: float) -> float:
    """Share of the work a worm passes on when it drives.

    e = (cos p - f tan l) / (cos p + f cot l)

    Parameters
    ----------
    lead_deg : lead angle of the worm [deg], 0.1 to 60
    pressure_deg : pressure angle [deg], 0 to 45
    friction : coefficient, 0 to 1

    Returns a plain number. Source: gear texts.

    >>> round(worm_efficiency(5, 14.5, 0.05), 4)
    0.626
    """
    cosine, slope = cos(radians(pressure_deg)), tan(radians(lead_deg))
    return (cosine - friction * slope) / (cosine + friction / slope)


def worm_holds(share: float) -> str:
    """Whether a worm drive of that efficiency holds by itself: "holds", "uncertain" or "runs back".

    >>> worm_holds(0.44), worm_holds(0.5), worm_holds(0.56)
    ('holds', 'uncertain', 'runs back')
    """
    low, high = p.WORM_HOLDS
    return "holds" if share < low else "runs back" if share > high else "uncertain"


def crank_force(torque: float, arm: float, mesh_efficiency: float = 1.0, ratio: float = 1.0) -> float:
    """Force at the end of a crank that gives a torque through a gear; ``ratio`` is crank turns a screw turn.

    >>> round(crank_force(186.87, 8, 0.95), 2)
    24.59
    """
    return torque / (mesh_efficiency * ratio * arm)
