"""The 12 V circuit of one trailer, solved in closed form for one motor or two behind a shared feed.

Every motor is either a fixed current (it runs, and its torque sets the amps), a resistor (it stands) or open. With these
the feed is one equation: V = emf - I_shared R_shared, I_shared = sum of fixed + V x sum of 1/R. Which motors stand is
settled by trying: those that would turn backwards are taken as standing and it is solved again.
"""

from __future__ import annotations

from dataclasses import dataclass

from scripts.simulate.trailer import OPEN_OHM

TURNS_FROM = 0.03  # share of no-load speed below which a motor counts as standing


@dataclass(frozen=True)
class Branch:
    """One motor and what is its own: contact, lead, ground lead [ohm], the torque it must give [N m]."""

    side: str
    contact_ohm: float
    lead_ohm: float
    ground_ohm: float
    motor_ohm: float
    k: float
    idle_a: float
    no_load_rad_s: float
    torque_nm: float  # infinite where it is locked
    start_times: float = 1.0  # torque to break away, as a multiple of the running torque

    @property
    def series_ohm(self) -> float:
        """All of the branch, the motor's winding included."""
        return self.contact_ohm + self.lead_ohm + self.ground_ohm + self.motor_ohm


@dataclass(frozen=True)
class Feed:
    """What all motors share, from the battery to the branch point and back [ohm]."""

    emf: float
    battery_ohm: float
    plus_joint_ohm: float
    guard_ohm: float
    feed_ohm: float
    ground_ohm: float  # frame, ground joint, minus clamp
    house_a: float
    house_behind_joint: bool
    minus_joint_ohm: float = 0.0

    @property
    def series_ohm(self) -> float:
        """Everything a motor's current passes outside its branch."""
        return (
            self.battery_ohm
            + self.plus_joint_ohm
            + self.guard_ohm
            + self.feed_ohm
            + self.ground_ohm
            + self.minus_joint_ohm
        )


@dataclass(frozen=True)
class Running:
    """One motor as solved: amps, volts across it, speed [rad/s]."""

    amps: float
    volts: float
    rad_s: float

    @property
    def turns(self) -> bool:
        """Whether it turns at all."""
        return self.rad_s > 0


@dataclass(frozen=True)
class Solved:
    """The whole circuit with the button held: motors by side, shared amps, and volts against the battery's minus post."""

    motors: dict[str, Running]
    amps: float
    posts: float
    house: float
    behind_guard: float
    behind_feed: float
    contact_out: dict[str, float]
    ground_rise: dict[str, float]  # motor's minus lead against the minus post


def solve(feed: Feed, branches: tuple[Branch, ...]) -> Solved:
    """Amps, volts and speeds with the button held."""
    house_ohm = feed.battery_ohm + (
        feed.plus_joint_ohm + feed.minus_joint_ohm if feed.house_behind_joint else 0
    )
    house_a = min(feed.house_a, 0.9 * feed.emf / house_ohm) if house_ohm > 0 else feed.house_a
    emf = feed.emf - house_a * house_ohm
    shared = feed.series_ohm
    # At the first moment every motor stands: one that cannot break away then stays standing.
    inrush = sum(1 / b.series_ohm for b in branches)
    first = emf / (1 + shared * inrush)
    standing: set[str] = {
        b.side for b in branches if b.k * (first / b.series_ohm - b.idle_a) < b.torque_nm * b.start_times
    }
    while True:
        fixed = {
            b.side: b.torque_nm / b.k + b.idle_a
            for b in branches
            if b.side not in standing and b.series_ohm < OPEN_OHM / 2
        }
        conductance = sum(1 / b.series_ohm for b in branches if b.side in standing)
        volts = (emf - sum(fixed.values()) * shared) / (1 + shared * conductance)
        motors: dict[str, Running] = {}
        falls = []
        for b in branches:
            if b.side in fixed:
                amps = fixed[b.side]
                across = volts - amps * (b.series_ohm - b.motor_ohm)
                rad_s = (across - amps * b.motor_ohm) / b.k
                if rad_s < TURNS_FROM * b.no_load_rad_s:
                    falls.append((rad_s, b.side))
                motors[b.side] = Running(amps, across, rad_s)
            else:
                amps = volts / b.series_ohm
                motors[b.side] = Running(amps, amps * b.motor_ohm, 0.0)
        if not falls:
            break
        standing.add(min(falls)[1])
    total = sum(m.amps for m in motors.values())
    posts = feed.emf - (total + house_a) * feed.battery_ohm
    through_joint = total + (house_a if feed.house_behind_joint else 0.0)
    behind_joint = posts - through_joint * feed.plus_joint_ohm
    behind_guard = behind_joint - total * feed.guard_ohm
    behind_feed = behind_guard - total * feed.feed_ohm
    minus_rise = through_joint * feed.minus_joint_ohm
    shared_rise = minus_rise + total * feed.ground_ohm
    house = behind_joint - minus_rise if feed.house_behind_joint else posts
    return Solved(
        motors, total, posts, house, behind_guard, behind_feed,
        {b.side: behind_feed - motors[b.side].amps * b.contact_ohm for b in branches},
        {b.side: shared_rise + motors[b.side].amps * b.ground_ohm for b in branches},
    )  # fmt: skip
