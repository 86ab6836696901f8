"""The brushed magnet motor on its harness: current from torque, speed from volts."""

from math import pi
from typing import NamedTuple

from bot.problems import Contradiction
from bot.sums import tables as t
from bot.sums.limits import limits

RPM_OF_RAD_S = 30 / pi


class Motor(NamedTuple):
    """A brushed magnet motor: constant [N.m/A, the same number in V s/rad], winding ohms."""

    k: float
    ohm: float


class Point(NamedTuple):
    """A running point: amps, torque [N.m], speed [rad/s], volts across the motor."""

    amps: float
    torque_nm: float
    speed_rad_s: float
    volts: float

    @property
    def rpm(self) -> float:
        """Speed in turns a minute."""
        return self.speed_rad_s * RPM_OF_RAD_S


def from_no_load_and_stall(volts: float, no_load_rpm: float, stall_nm: float) -> Motor:
    """The motor of two catalogue points: k = U / w0, R = k U / T stall. No-load current is left out.

    >>> motor = from_no_load_and_stall(12, 3800, 0.03)
    >>> round(motor.k, 6), round(motor.ohm, 2)
    (0.030156, 12.06)
    """
    k = volts / (no_load_rpm / RPM_OF_RAD_S)
    return Motor(k, k * volts / stall_nm)


def from_two_points(first: tuple[float, float, float], second: tuple[float, float, float]) -> Motor:
    """The motor of two measured points, each (volts across it, amps, turns a minute).

    U = I R + k w, solved for R and k. Raises Contradiction where the two points do not differ enough, or
    give no resistance. Source: the steady equation of the machine.

    >>> motor = from_two_points((10.7713, 30.0, 1712.0), (12.0, 5.0, 2721.6))
    >>> round(motor.k, 3), round(motor.ohm, 3)
    (0.04, 0.12)
    """
    (u1, i1, n1), (u2, i2, n2) = first, second
    w1, w2 = n1 / RPM_OF_RAD_S, n2 / RPM_OF_RAD_S
    turned = i1 * w2 - i2 * w1
    if abs(turned) < 1e-9:
        raise Contradiction(
            "motor-point", "the two points say the same. Take one with the legs free, one lifting."
        )
    ohm = (u1 * w2 - u2 * w1) / turned
    k = (i1 * u2 - i2 * u1) / turned
    if ohm <= 0 or k <= 0:
        raise Contradiction(
            "motor-point", "the two points cannot be of one motor. Read volts, amps, speed again."
        )
    return Motor(k, ohm)


def from_rated_point(volts: float, amps: float, rpm: float, ohm: float) -> Motor:
    """The motor of its rated point and winding ohms: k = (U - I R) / w.

    >>> round(from_rated_point(100, 100, 1425, 0.05).k, 5)
    0.63662
    """
    back_v = volts - amps * ohm
    if back_v <= 0:
        raise Contradiction("motor-point", "winding ohms times amps is more than the volts. Check the three.")
    return Motor(back_v / (rpm / RPM_OF_RAD_S), ohm)


def torque_constant_gap_percent(nm_per_a: float, volts_per_krpm: float) -> float:
    """How far a stated torque constant and voltage constant disagree [%]; in SI they are one number.

    >>> round(torque_constant_gap_percent(0.12, 12), 1)
    4.7
    """
    ke = volts_per_krpm / (1000 / RPM_OF_RAD_S)
    return 100 * abs(nm_per_a - ke) / ke


@limits(volts_open=(0.1, 250, "V"), path_ohm=(0, 10, "ohm"), torque_nm=(0, 500, "N.m"))
def at_torque(motor: Motor, volts_open: float, path_ohm: float, torque_nm: float) -> Point | None:
    """Where the motor runs under a constant torque, or None where it stalls.

    I = T / k,  w = (U - I (R path + R motor)) / k

    Parameters
    ----------
    volts_open : battery at rest [V], 0.1 to 250
    path_ohm : battery, both wires and contacts [ohm], 0 to 10
    torque_nm : load at the motor's shaft [N.m], 0 to 500

    Returns a Point. Leaves out: heating, no-load current.
    Source: steady equations of the magnet motor; worked in tests/sums/by_hand/motor.md.

    >>> point = at_torque(Motor(0.04, 0.12), 12.6, 0.06095832, 1.2)
    >>> round(point.amps, 3), round(point.speed_rad_s, 2), round(point.volts, 4)
    (30.0, 179.28, 10.7713)
    """
    amps = torque_nm / motor.k
    speed = (volts_open - amps * (path_ohm + motor.ohm)) / motor.k
    if speed <= 0:
        return None
    return Point(amps, torque_nm, speed, volts_open - amps * path_ohm)


@limits(volts_open=(0.1, 250, "V"), path_ohm=(0, 10, "ohm"), back_v=(0, 250, "V"))
def at_back_volts(motor: Motor, volts_open: float, path_ohm: float, back_v: float = 0.0) -> Point:
    """The point at a given back voltage; 0 is the locked shaft.

    I = (U - E) / (R path + R motor),  T = k I

    Parameters
    ----------
    volts_open : battery at rest [V], 0.1 to 250
    path_ohm : battery, both wires and contacts [ohm], 0 to 10
    back_v : back voltage [V], 0 to 250

    Returns a Point. Source: Kirchhoff's loop.

    >>> round(at_back_volts(Motor(0.04, 0.12), 12.6, 0.06095832).amps, 3)
    69.629
    """
    amps = (volts_open - back_v) / (path_ohm + motor.ohm)
    torque = max(0.0, motor.k * amps)
    return Point(amps, torque, back_v / motor.k, volts_open - amps * path_ohm)


def straight_line(
    no_load_rad_s: float, stall_nm: float, stall_a: float, speed_rad_s: float
) -> tuple[float, float]:
    """Torque [N.m] and amps at a speed, on the straight line from no load to stall.

    >>> straight_line(300, 6, 100, 150)
    (3.0, 50.0)
    """
    left = 1 - speed_rad_s / no_load_rad_s
    return stall_nm * left, stall_a * left


def peak_power(no_load_rpm: float, stall_nm: float) -> tuple[float, float, float]:
    """Speed [rpm], torque [N.m] and power [W] at the most power a magnet motor gives: half and half.

    >>> rpm, nm, watts = peak_power(3750, 0.0722)
    >>> rpm, nm, round(watts, 2)
    (1875.0, 0.0361, 7.09)
    """
    rpm, nm = no_load_rpm / 2, stall_nm / 2
    return rpm, nm, nm * rpm / RPM_OF_RAD_S


def shaft_w(torque_nm: float, rpm: float) -> float:
    """Power at a shaft [W]: torque times speed.

    >>> round(shaft_w(63.66, 1425), 1)
    9499.7
    """
    return torque_nm * rpm / RPM_OF_RAD_S


def constant_power_a(watts: float, volts_open: float, path_ohm: float) -> float:
    """Current of a load that takes constant power (a converter, never a magnet motor) [A].

    I = (U - sqrt(U^2 - 4 R P)) / (2 R); this is the load for which a longer wire raises the current.

    >>> round(constant_power_a(300, 12.6, 0.060958), 3)
    27.457
    """
    under = volts_open * volts_open - 4 * path_ohm * watts
    if under < 0:
        raise Contradiction("motor-point", "this wire cannot carry that power at all.")
    root: float = under**0.5
    return (volts_open - root) / (2 * path_ohm)


def hot_motor(motor: Motor, winding_c: float, magnet_loss_share: float = 0.0) -> Motor:
    """The motor with a hot winding (more ohms) and weaker magnets (less torque an amp).

    >>> round(hot_motor(Motor(0.04, 0.12), 120).ohm, 5)
    0.16716
    """
    ohm = motor.ohm * (1 + t.COPPER_PER_K * (winding_c - 20))
    return Motor(motor.k * (1 - magnet_loss_share), ohm)


def heating_k_per_s(watts: float, copper_kg: float) -> float:
    """How fast copper warms where no heat gets away [K/s]: an upper bound.

    >>> round(heating_k_per_s(581.8, 0.25), 2)
    6.03
    """
    return watts / (copper_kg * t.COPPER_J_PER_KG_K)


class Pair(NamedTuple):
    """Two motors on one feed: amps in all, of the first, of the second, volts across both, first's speed."""

    amps: float
    first_a: float
    second_a: float
    volts: float
    speed_rad_s: float


def two_on_one_feed(
    motor: Motor, volts_open: float, path_ohm: float, torque_each_nm: float, one_locked: bool = False
) -> Pair | None:
    """Two equal motors on one feed, each under its torque, or the second locked. None where the first stalls.

    Both turning: I = 2 T / k. One locked: U motor = (U - R I1) / (1 + R / R motor), I2 = U motor / R motor.

    >>> pair = two_on_one_feed(Motor(0.04, 0.12), 12.6, 0.06095832, 0.6, one_locked=True)
    >>> round(pair.amps, 2), round(pair.volts, 3)
    (79.58, 7.749)
    """
    first = torque_each_nm / motor.k
    if one_locked:
        volts = (volts_open - path_ohm * first) / (1 + path_ohm / motor.ohm)
        second = volts / motor.ohm
    else:
        second = first
        volts = volts_open - path_ohm * (first + second)
    speed = (volts - first * motor.ohm) / motor.k
    return Pair(first + second, first, second, volts, speed) if speed > 0 else None
