"""Columns and cantilevers: when a slender leg buckles, and what a push at its foot does."""

from math import pi, sqrt

from bot.sums.limits import limits

#: Effective length over length by its ends. Closed forms of the column texts; fixed-pinned is 1/sqrt(2.046).
END_FACTOR = {"pinned-pinned": 1.0, "fixed-fixed": 0.5, "fixed-pinned": 0.699, "fixed-free": 2.0}


def euler_load(modulus: float, inertia: float, length: float, ends: str = "pinned-pinned") -> float:
    """Load at which a slender column buckles: pi^2 E I / (K L)^2. Any one set of units.

    >>> round(euler_load(30e6, 0.11984, 54))
    12168
    """
    return pi**2 * modulus * inertia / (END_FACTOR[ends] * length) ** 2


def slenderness(length: float, inertia: float, area: float, ends: str = "pinned-pinned") -> float:
    """Effective length over radius of gyration.

    >>> round(slenderness(54, 0.11984, 1.22718), 1)
    172.8
    """
    radius: float = (inertia / area) ** 0.5
    return END_FACTOR[ends] * length / radius


@limits(modulus=(1, 1e12, ""), yield_stress=(1, 1e10, ""))
def transition(modulus: float, yield_stress: float) -> float:
    """Slenderness at which Euler takes over from Johnson.

    Cc = sqrt(2 pi^2 E / Sy)

    Parameters
    ----------
    modulus : of elasticity, any unit of stress, 1 to 1e+12
    yield_stress : same unit, 1 to 1e+10

    Returns a plain number. Source: column texts.

    >>> round(transition(30e6, 51000), 2)
    107.76
    """
    return float((2 * pi**2 * modulus / yield_stress) ** 0.5)


def johnson_load(modulus: float, yield_stress: float, area: float, slender: float) -> float:
    """Load at which a stocky column gives way: A Sy (1 - (KL/r)^2 / (2 Cc^2)).

    >>> round(johnson_load(29e6, 46000, 2.25, 64.92), -2)
    86000.0
    """
    return area * yield_stress * (1 - slender**2 / (2 * transition(modulus, yield_stress) ** 2))


def column_load(
    modulus: float, yield_stress: float, inertia: float, area: float, length: float, ends: str
) -> float:
    """Load at which a column gives way, by Johnson or Euler as its slenderness asks.

    >>> round(column_load(29e6, 46000, 1.92188, 2.25, 30, "fixed-free"), -2)
    86000.0
    """
    slender = slenderness(length, inertia, area, ends)
    if slender > transition(modulus, yield_stress):
        return euler_load(modulus, inertia, length, ends)
    return johnson_load(modulus, yield_stress, area, slender)


def johnson_diameter(load: float, yield_stress: float, modulus: float, length: float) -> float:
    """Diameter of a round pinned rod that just carries a load by Johnson: the area grows by a fixed amount.

    A Sy (1 - Sy (L/r)^2 / (4 pi^2 E)) = P with r = d/4 gives d^2 = (4/pi)(P/Sy + Sy L^2 / (pi E)).

    >>> round(johnson_diameter(30, 48, 30000, 25), 3)
    1.096
    """
    return sqrt(4 / pi * (load / yield_stress + yield_stress * length**2 / (pi * modulus)))


def euler_diameter(load: float, modulus: float, length: float) -> float:
    """Diameter of a round pinned rod that just carries a load by Euler: (64 P L^2 / (pi^3 E))^(1/4).

    >>> round(euler_diameter(30, 30000, 50), 3)
    1.507
    """
    return float((64 * load * length**2 / (pi**3 * modulus)) ** 0.25)


@limits(side=(0.01, 1e4, ""), wall=(0.001, 1e3, ""))
def square_tube(side: float, wall: float) -> tuple[float, float]:
    """Area and moment of inertia of a square tube with sharp corners.

    A = b^2 - (b - 2t)^2,  I = (b^4 - (b - 2t)^4) / 12

    Parameters
    ----------
    side : outside, any unit of length, 0.01 to 10000
    wall : thickness, same unit, 0.001 to 1000

    Returns (area, inertia). Rounded corners take some per cent away. Source: mechanics of materials.

    >>> square_tube(2.5, 0.25)
    (2.25, 1.921875)
    """
    inside = max(0.0, side - 2 * wall)
    return side**2 - inside**2, (side**4 - inside**4) / 12


def round_tube(outer: float, inner: float = 0.0) -> tuple[float, float]:
    """Area and moment of inertia of a round tube.

    >>> area, inertia = round_tube(1.25)
    >>> round(area, 5), round(inertia, 5)
    (1.22718, 0.11984)
    """
    return pi / 4 * (outer**2 - inner**2), pi / 64 * (outer**4 - inner**4)


def cantilever_tip(force: float, length: float, modulus: float, inertia: float) -> float:
    """How far the free end of a leg goes sideways: F L^3 / (3 E I). Any one set of units.

    >>> round(cantilever_tip(300, 30, 29e6, 1.921875), 5)
    0.04844
    """
    return force * length**3 / (3 * modulus * inertia)


def cantilever_stress(
    force: float, length: float, section: float, axial: float, area: float
) -> tuple[float, float]:
    """Bending stress at the root, and the sum with the axial stress. Any one set of units.

    >>> bend, both = cantilever_stress(300, 30, 1.5375, 1820, 2.25)
    >>> round(bend, 1), round(both, 1)
    (5853.7, 6662.5)
    """
    bend = force * length / section
    return bend, bend + axial / area
