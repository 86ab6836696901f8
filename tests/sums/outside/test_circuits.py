"""The harness, one motor, two motors on one feed: 240 random circuits against a circuit program."""

from random import Random  # noqa: TID251 - seeded: the same draws in every run

import pytest

from bot.sums import copper, motors

from .circuits import Answer, Case, solve

EACH = 80
#: Closed form against a numerical operating point at reltol 1e-9.
WITHIN = 1e-6


def _cases(kind: str) -> list[Case]:
    draw = Random(f"harness {kind}")
    cases: list[Case] = []
    while len(cases) < EACH:
        wire = draw.uniform(5, 40) * copper.solid_ohm_per_ft(copper.awg_cmil(draw.choice((14, 12, 10, 8, 6))))
        case = Case(
            kind,
            draw.uniform(11.5, 13.2),
            draw.uniform(0.005, 0.03),
            wire,
            draw.uniform(0.001, 0.05),
            wire,
            draw.uniform(0.05, 0.3),
            draw.uniform(0.02, 0.08),
            draw.uniform(0, 9) if kind == "back" else draw.uniform(0.1, 1.0),
        )
        if _ours(case) is not None:
            cases.append(case)
    return cases


def _path(case: Case) -> float:
    return case.battery_ohm + case.feed_ohm + case.contact_ohm + case.return_ohm


def _ours(case: Case) -> Answer | None:
    """The same from our own formulas, None where the motor stalls."""
    motor = motors.Motor(case.k, case.motor_ohm)
    if case.kind == "locked":
        pair = motors.two_on_one_feed(motor, case.volts, _path(case), case.load, one_locked=True)
        if pair is None:
            return None
        found = {"amps": pair.amps, "motor": pair.volts, "speed": pair.speed_rad_s}
    elif case.kind == "back":
        point = motors.at_back_volts(motor, case.volts, _path(case), case.load)
        found = {"amps": point.amps, "motor": point.volts}
    else:
        running = motors.at_torque(motor, case.volts, _path(case), case.load)
        if running is None:
            return None
        found = {"amps": running.amps, "motor": running.volts, "speed": running.speed_rad_s}
    return {**found, "posts": case.volts - copper.drop_v(found["amps"], case.battery_ohm)}


@pytest.mark.parametrize("kind", ["back", "torque", "locked"])
def test_circuit_program_finds_the_same_amps_volts_and_speed(kind: str) -> None:
    cases = _cases(kind)
    program, answers = solve(cases)
    worst = 0.0
    for case, answer in zip(cases, answers, strict=True):
        ours = _ours(case)
        assert ours is not None
        assert set(ours) == set(answer)
        for name, value in answer.items():
            gap = abs(ours[name] - value) / max(abs(value), 1e-3)
            worst = max(worst, gap)
            assert gap < WITHIN, (program, name, ours[name], value, case)
    print(f"{kind}: {len(cases)} circuits, {program}, largest difference {worst:.1e}")
