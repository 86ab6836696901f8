"""Screw, shaft, column, bolt and battery by a second route: root, integral, eigenvalue, 200 draws each."""

from math import atan, cos, pi, radians, tan
from random import Random  # noqa: TID251 - seeded: the same draws in every run
from typing import Any

from bot.sums import columns, screws, shafts

from .needs import library


def _told(what: str, gaps: list[float], within: float) -> None:
    """Says how far the two routes lie apart at most, and holds them to it."""
    print(f"{what}, largest difference {max(gaps):.1e}")
    assert max(gaps) < within


def test_screw_torque_agrees_with_the_wedge_balance() -> None:
    draw, gaps = Random("screws"), []
    for _ in range(200):
        load, mean, lead = draw.uniform(100, 5000), draw.uniform(0.3, 3), draw.uniform(0.05, 0.6)
        friction, angle = draw.uniform(0.02, 0.3), draw.choice((0.0, 14.5, 15.0, 30.0))
        # A block pushed round an incline: lead angle and friction angle add up, or take away.
        climb, rub = atan(lead / (pi * mean)), atan(friction / cos(radians(angle)))
        up, down = load * mean / 2 * tan(climb + rub), load * mean / 2 * tan(rub - climb)
        gaps.append(abs(screws.raise_torque(load, mean, lead, friction, angle) - up) / up)
        gaps.append(abs(screws.lower_torque(load, mean, lead, friction, angle) - down) / up)
    _told("200 screws, balance of a wedge", gaps, 1e-9)


def test_holding_friction_is_the_root_of_the_lowering_torque() -> None:
    brentq: Any = library("scipy.optimize").brentq
    draw, gaps = Random("holding"), []
    for _ in range(200):
        mean, lead, angle = draw.uniform(0.3, 3), draw.uniform(0.05, 0.6), draw.uniform(0, 30)
        root = brentq(
            lambda f, m=mean, x=lead, a=angle: screws.lower_torque(1.0, m, x, f, a), 0.0, 1.2, xtol=1e-14
        )
        gaps.append(abs(screws.holding_friction(mean, lead, angle) - root))
    _told("200 screws, root by scipy", gaps, 1e-9)


def test_shaft_stress_carries_the_torque_when_integrated_over_the_section() -> None:
    quad: Any = library("scipy.integrate").quad
    draw, gaps = Random("shafts"), []
    for _ in range(200):
        outer, torque = draw.uniform(0.3, 3), draw.uniform(10, 20000)
        inner = outer * draw.choice((0.0, draw.uniform(0.2, 0.9)))
        surface = shafts.shear_stress(torque, outer, inner)
        # Stress rises with the radius; each ring gives stress x area x radius.
        carried, _ = quad(
            lambda r, s=surface, o=outer: s * r / (o / 2) * 2 * pi * r * r, inner / 2, outer / 2
        )
        gaps.append(abs(carried - torque) / torque)
    _told("200 shafts, integral by scipy", gaps, 1e-9)


def test_euler_load_is_the_lowest_eigenvalue_of_the_bent_column() -> None:
    linalg: Any = library("scipy.linalg")
    numpy: Any = library("numpy")
    draw, gaps = Random("columns"), []
    for ends in ("pinned-pinned", "fixed-free"):
        for _ in range(100):
            modulus, length = draw.uniform(1e7, 3e7), draw.uniform(10, 80)
            inertia = columns.square_tube(draw.uniform(1.5, 4), draw.uniform(0.1, 0.3))[1]
            lowest = _lowest(numpy, linalg, ends) * modulus * inertia / length**2
            ours = columns.euler_load(modulus, inertia, length, ends)
            gaps.append(abs(ours - lowest) / lowest)
    _told("200 columns, eigenvalue of 20 beam elements by scipy", gaps, 2e-6)


def _lowest(numpy: Any, linalg: Any, ends: str, parts: int = 20) -> float:
    """Lowest buckling load of a column of unit length and stiffness, by beam elements."""
    size = 2 * (parts + 1)
    stiff, geometric = numpy.zeros((size, size)), numpy.zeros((size, size))
    h = 1 / parts
    bend = numpy.array(
        [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h], [-12, -6 * h, 12, -6 * h],
         [6 * h, 2 * h * h, -6 * h, 4 * h * h]]
    ) / h**3  # fmt: skip
    press = numpy.array(
        [[36, 3 * h, -36, 3 * h], [3 * h, 4 * h * h, -3 * h, -h * h], [-36, -3 * h, 36, -3 * h],
         [3 * h, -h * h, -3 * h, 4 * h * h]]
    ) / (30 * h)  # fmt: skip
    for i in range(parts):
        at = slice(2 * i, 2 * i + 4)
        stiff[at, at] += bend
        geometric[at, at] += press
    held = [0, size - 2] if ends == "pinned-pinned" else [0, 1]
    free = [i for i in range(size) if i not in held]
    values = linalg.eigh(stiff[numpy.ix_(free, free)], geometric[numpy.ix_(free, free)], eigvals_only=True)
    return float(values[0])


def test_johnson_and_euler_meet_at_the_transition() -> None:
    draw = Random("transition")
    for _ in range(200):
        modulus, strength = draw.uniform(2.5e7, 3.1e7), draw.uniform(3e4, 9e4)
        area, inertia = columns.square_tube(draw.uniform(1.5, 4), draw.uniform(0.1, 0.3))
        slender = columns.transition(modulus, strength)
        length = slender * (inertia / area) ** 0.5
        johnson = columns.johnson_load(modulus, strength, area, slender)
        assert abs(johnson - columns.euler_load(modulus, inertia, length)) < 1e-9 * johnson
        assert abs(johnson - area * strength / 2) < 1e-9 * johnson
