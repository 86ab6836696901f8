"""Rows about the motor on its harness: from a row's inputs to the sum's answer."""

from collections.abc import Callable
from typing import Any

from bot.sums import copper as c
from bot.sums import motors as m
from bot.sums.path import heat_w

from .compare import ROWS

Inputs = dict[str, Any]

#: The circuit that the harness rows share, from the first of them.
CIRCUIT = ROWS["M-10"]["inputs"]
TORQUE = ROWS["M-12"]["inputs"]
MOTOR = m.Motor(TORQUE["k"], CIRCUIT["R_motor"])
VOLTS = CIRCUIT["V_batt"]


def _wire_ohm(awg: int, feet: float) -> float:
    return feet * c.solid_ohm_per_ft(c.awg_cmil(awg))


def _path_ohm(awg: int = CIRCUIT["awg"], feet: float = CIRCUIT["ft_each_way"]) -> float:
    return float(CIRCUIT["R_batt"] + 2 * _wire_ohm(awg, feet) + CIRCUIT["R_contact"])


def _at_torque(awg: int, feet: float) -> m.Point:
    point = m.at_torque(MOTOR, VOLTS, _path_ohm(awg, feet), TORQUE["T_Nm"])
    assert point is not None, "the motor stalls"
    return point


def _places(amps: float) -> dict[str, float]:
    wire = _wire_ohm(CIRCUIT["awg"], CIRCUIT["ft_each_way"])
    posts = VOLTS - c.drop_v(amps, CIRCUIT["R_batt"])
    return {
        "I_A": amps,
        "V_battery_terminals": posts,
        "V_after_feed": posts - c.drop_v(amps, wire),
        "V_motor": VOLTS - c.drop_v(amps, _path_ohm()),
        "V_return_end": c.drop_v(amps, wire),
        "drop_contact_V": c.drop_v(amps, CIRCUIT["R_contact"]),
    }


def _only(found: dict[str, float], *names: str) -> dict[str, float]:
    return {name: found[name] for name in names}


def _locked(i: Inputs) -> dict[str, float]:
    amps = m.at_back_volts(MOTOR, VOLTS, _path_ohm(), i["E_back"]).amps
    found = _only(_places(amps), "I_A", "V_battery_terminals", "V_motor", "drop_contact_V")
    return {**found, "P_contact_W": heat_w(amps, CIRCUIT["R_contact"])}


def _torque(i: Inputs) -> dict[str, float]:
    point = _at_torque(CIRCUIT["awg"], CIRCUIT["ft_each_way"])
    found = _only(_places(point.amps), "I_A", "V_motor", "V_battery_terminals", "drop_contact_V")
    return {**found, "w_rad_s": point.speed_rad_s, "rpm": point.rpm}


def _longer(i: Inputs) -> dict[str, float]:
    point = _at_torque(i["awg"], i["ft_each_way"])
    return {"I_A": point.amps, "rpm": point.rpm, "V_motor": point.volts}


def _thin(i: Inputs) -> dict[str, float]:
    short = _at_torque(CIRCUIT["awg"], CIRCUIT["ft_each_way"])
    found = _longer(i)
    return {**found, "run_time_ratio_to_M12": short.rpm / found["rpm"]}


def _stall(awg: int, feet: float) -> m.Point:
    return m.at_back_volts(MOTOR, VOLTS, _path_ohm(awg, feet))


def _peak(i: Inputs) -> dict[str, float]:
    return dict(zip(("rpm", "Nm", "W"), m.peak_power(i["no_load_rpm"], i["stall_Nm"]), strict=True))


def _reduced(i: Inputs) -> dict[str, float]:
    rpm, volts = (float(word) for word in i["no_load"].replace(" V", "").split(" rpm at "))
    motor = m.Motor(volts / (rpm / m.RPM_OF_RAD_S), i["Ra_ohm"])
    point = m.at_torque(motor, i["V"], 0.0, i["T_Nm"])
    assert point is not None
    return {"k": motor.k, "I_A": point.amps, "E_V": motor.k * point.speed_rad_s, "rpm": point.rpm}


def _start(i: Inputs) -> dict[str, float]:
    motor = m.Motor(i["k"], i["R_path_ohm"])
    free = m.at_torque(motor, i["V"], 0.0, 0.0)
    assert free is not None
    start = m.at_back_volts(motor, i["V"] - i["V_switch_drop"], 0.0)
    return {"rpm": free.rpm, "I_start_A": start.amps, "T_start_Nm": start.torque_nm}


def _rated(i: Inputs) -> dict[str, float]:
    motor = m.from_rated_point(i["V"], i["I_A"], i["rpm"], i["Ra_ohm"])
    free = m.at_torque(motor, i["V"], 0.0, 0.0)
    assert free is not None
    return {
        "k": motor.k,
        "T_Nm": motor.k * i["I_A"],
        "no_load_rpm": free.rpm,
        "stall_A": m.at_back_volts(motor, i["V"], 0.0).amps,
    }


def _catalogue(i: Inputs) -> dict[str, float]:
    motor = m.from_no_load_and_stall(i["V"], i["no_load_rpm"], i["stall_Nm"])
    point = m.at_back_volts(motor, i["V"], 0.0, motor.k * i["rpm"] / m.RPM_OF_RAD_S)
    return {
        "k": motor.k,
        "R_ohm": motor.ohm,
        "T_Nm": point.torque_nm,
        "I_A": point.amps,
        "E_V": motor.k * point.speed_rad_s,
        "P_in_W": i["V"] * point.amps,
        "P_shaft_W": m.shaft_w(point.torque_nm, point.rpm),
        "P_copper_W": heat_w(point.amps, motor.ohm),
    }


def _line(i: Inputs) -> dict[str, float]:
    torque, amps = m.straight_line(i["no_load_rad_s"], i["stall_Nm"], i["stall_A"], i["w_rad_s"])
    return {"T_Nm": torque, "I_A": amps}


def _shares(i: Inputs) -> dict[str, float]:
    point = _at_torque(CIRCUIT["awg"], CIRCUIT["ft_each_way"])
    shaft = m.shaft_w(point.torque_nm, point.rpm)
    return {"overall": shaft / (VOLTS * point.amps), "motor": shaft / (point.volts * point.amps)}


def _hot(i: Inputs) -> dict[str, float]:
    hot = m.hot_motor(m.Motor(TORQUE["k"], i["R20_motor"]), i["t_C"])
    return {"R_hot": hot.ohm, "I_stall_A": m.at_back_volts(hot, VOLTS, _path_ohm()).amps}


def _weak(i: Inputs) -> float:
    weak = m.hot_motor(m.Motor(i["k_cold"], 0.12), 20, i["loss_percent"] / 100)
    point = m.at_torque(weak, VOLTS, 0.0, i["T_Nm"])
    assert point is not None
    return point.amps


def _warming(i: Inputs) -> dict[str, float]:
    wire = i["wire"]
    metre_kg = wire["mm2"] * 1e-6 * 8890.0
    return {
        "armature_K_per_s": m.heating_k_per_s(i["armature"]["W"], i["armature"]["kg"]),
        "wire_K_per_s": m.heating_k_per_s(heat_w(wire["I_A"], wire["ohm_per_m"]), metre_kg),
    }


def _two(i: Inputs) -> dict[str, float]:
    pair = m.two_on_one_feed(m.Motor(i["k"], i["R_each"]), VOLTS, _path_ohm(), i["T_each_Nm"])
    assert pair is not None
    return {
        "I_total_A": pair.amps,
        "I_each_A": pair.first_a,
        "w_rad_s": pair.speed_rad_s,
        "V_motor": pair.volts,
    }


def _one_locked(i: Inputs) -> dict[str, float]:
    each = ROWS["M-21"]["inputs"]
    motor = m.Motor(each["k"], each["R_each"])
    pair = m.two_on_one_feed(motor, VOLTS, _path_ohm(), each["T_each_Nm"], one_locked=bool(i["locked"]))
    assert pair is not None
    return {
        "I_total_A": pair.amps,
        "I_running_A": pair.first_a,
        "I_locked_A": pair.second_a,
        "V_motor": pair.volts,
        "w_running_rad_s": pair.speed_rad_s,
    }


ASK: dict[str, Callable[[Inputs], Any]] = {
    **dict.fromkeys(("M-01", "M-02", "M-03"), _peak),
    "M-04": _reduced,
    "M-05": _start,
    "M-06": lambda i: {"shaft_W": [m.shaft_w(torque, rpm) for torque, rpm in i["points"]]},
    "M-07": _catalogue,
    "M-08": lambda i: {
        "Ke_SI": i["Ke_V_per_krpm"] / (1000 / m.RPM_OF_RAD_S),
    },
    "M-09": _line,
    "M-10": lambda i: _places(m.at_back_volts(MOTOR, i["V_batt"], _path_ohm(), i["E_back"]).amps),
    "M-11": _locked,
    "M-12": _torque,
    "M-13": _longer,
    "M-14": _thin,
    "M-15": lambda i: [_stall(*one).amps for one in i["awg_ft"]],
    "M-16": lambda i: [_stall(*one).torque_nm for one in i["awg_ft"]],
    "M-17": lambda i: [m.constant_power_a(i["P_W"], i["V"], one) for one in i["R_ohm"]],
    "M-18": _shares,
    "M-19": _hot,
    "M-20": _weak,
    "M-21": _two,
    "M-22": _one_locked,
    "M-23": lambda i: [heat_w(one, i["R_ohm"]) for one in i["I_A"]],
    "M-24": _warming,
    "M-25": _rated,
    "X-04": lambda i: _only(
        {"I_A": m.at_back_volts(MOTOR, VOLTS, _path_ohm(), CIRCUIT["E_back"]).amps}
        | {
            "V_return": _places(m.at_back_volts(MOTOR, VOLTS, _path_ohm(), CIRCUIT["E_back"]).amps)[
                "V_return_end"
            ]
        },
        "I_A",
        "V_return",
    ),
}

#: Names that are compared in a test of their own.
LEFT_OUT: dict[str, tuple[str, ...]] = {"M-08": ("mismatch_percent",)}
