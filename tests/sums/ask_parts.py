"""Rows about screws, shafts, statics, ground, bolts, columns, safety, units: inputs to the sum's answer."""

from collections.abc import Callable
from fractions import Fraction
from math import atan, cos, pi, sqrt
from typing import Any

from bot.sums import bolts as k
from bot.sums import carry, columns, convert, screws, shafts, statics
from bot.sums import tables_parts as p
from bot.sums.foot import foot
from bot.sums.legs import leg_load, move_wanted_lb
from bot.sums.screw import BEVEL
from bot.sums.screw import screw as screw_sum
from bot.sums.spans import Span
from bot.sums.stand import crib_lb

from .compare import ROWS

Inputs = dict[str, Any]


# --- screws -------------------------------------------------------------------------------------------


def _collar_radius(i: Inputs) -> float:
    """Mean radius of the collar, however the row gives it."""
    if "collar_mean_radius_mm" in i:
        return float(i["collar_mean_radius_mm"])
    if "collar_mean_dia_mm" in i:
        return float(i["collar_mean_dia_mm"]) / 2
    return float(sum(i["collar_mm"])) / 4


def _turned(
    i: Inputs, load: float, half_angle: float = 0.0, lower: bool = False
) -> tuple[float, float, float]:
    """Torque with collar, efficiency, mean diameter of a row's metric screw."""
    lead = i["pitch_mm"] * i.get("starts", 1)
    mean = i["d_mm"] - i["pitch_mm"] / 2
    formula = screws.lower_torque if lower else screws.raise_torque
    radius = _collar_radius(i)
    torque = formula(load, mean, lead, i["mu"], half_angle)
    torque += screws.collar_torque(load, i["mu_c" if "mu_c" in i else "mu"], radius)
    return torque, screws.efficiency(load, lead, torque), mean


def _gate(i: Inputs) -> dict[str, float]:
    torque, share, _ = _turned(i, i["F_N"])
    return {"T_Nmm": torque, "force_per_arm_N": torque / (i["arms"] * i["arm_mm"]), "efficiency": share}


def _gate_down(i: Inputs) -> dict[str, float]:
    same = ROWS["S-01"]["inputs"]
    torque, _, _ = _turned(same, i["F_N"], lower=True)
    return {"T_Nmm": torque, "force_per_arm_N": torque / (same["arms"] * same["arm_mm"])}


def _wheel(i: Inputs) -> dict[str, float]:
    torque, share, _ = _turned(i, i["F_N"])
    return {"rim_force_N": screws.crank_force(torque, i["wheel_dia_mm"] / 2), "efficiency": share}


def _trapezoidal(i: Inputs) -> dict[str, float]:
    torque, share, _ = _turned(i, i["F_N"], p.HALF_ANGLE_DEG["trapezoidal"])
    return {"T_Nmm": torque, "P_kW": torque / 1000 * i["rpm"] * 2 * pi / 60 / 1000, "efficiency": share}


def _clamp(i: Inputs) -> dict[str, float]:
    torque, _, _ = _turned(i, i["F_N"])
    return {"T_Nmm": torque, "handle_mm": torque / i["hand_N"]}


def _up_and_down(i: Inputs) -> dict[str, float]:
    up, share, _ = _turned(i, i["F_N"])
    down, _, _ = _turned(i, i["F_N"], lower=True)
    return {"raise_Nm": up / 1000, "lower_Nm": down / 1000, "efficiency": share}


def _overhauling(i: Inputs) -> dict[str, float]:
    lead, mean = i["pitch_mm"] * i["starts"], i["d_mm"] - i["pitch_mm"] / 2
    return {**_up_and_down(i), "thread_lower_Nm": screws.lower_torque(i["F_N"], mean, lead, i["mu"]) / 1000}


def _double_jack(i: Inputs) -> float:
    mean = (i["major_in"] + i["minor_in"]) / 2
    thread = screws.raise_torque(i["F_lb"], mean, i["starts"] / i["tpi"], i["mu"])
    return thread + screws.collar_torque(i["F_lb"], i["mu"], sum(i["collar_in"]) / 4)


def _acme_metric(i: Inputs) -> dict[str, float]:
    load = i["F_kgf"]
    torque, share, mean = _turned(i, load * convert.STANDARD_GRAVITY, p.HALF_ANGLE_DEG["acme"])
    return {
        "dm_mm": mean,
        "tan_lead": i["pitch_mm"] / (pi * mean),
        "collar_radius_mm": sum(i["collar_mm"]) / 4,
        "T_Nmm": torque,
        "efficiency": share,
    }


def _acme_double(i: Inputs) -> dict[str, float]:
    lead, mean, angle = i["pitch_in"] * i["starts"], i["d_in"] - i["pitch_in"] / 2, p.HALF_ANGLE_DEG["acme"]
    collar = screws.collar_torque(i["F_lb"], i["mu_c"], i["collar_mean_dia_in"] / 2)
    up = screws.raise_torque(i["F_lb"], mean, lead, i["mu"], angle) + collar
    down = screws.lower_torque(i["F_lb"], mean, lead, i["mu"], angle)
    return {
        "raise_lb_in": up,
        "lower_lb_in": down + collar,
        "thread_lower": down,
        "efficiency": screws.efficiency(i["F_lb"], lead, up),
    }


def _leg_screw(
    i: Inputs, washer_in: float | None = None, washer_friction: float | None = None
) -> list[dict[str, float]]:
    """The whole sum for the leg-sized screw: 1 in - 5 Acme."""
    base = ROWS["S-15"]["inputs"]
    frictions = i.get("mu", [base["mu"][1]])
    found = []
    for one in frictions:
        result = screw_sum(
            i["F_lb"],
            base["dm_in"] + base["lead_in"] / 2,
            1 / base["lead_in"],
            friction=one,
            collar_dia_in=washer_in,
            collar_friction=washer_friction,
        )
        found.append(
            {
                "raise_lb_in": result.value("torque to raise"),
                "lower_lb_in": result.value("torque to lower"),
                "efficiency": result.value("efficiency") / 100,
            }
        )
    return found


def _leg_screw_lists(i: Inputs) -> dict[str, list[float]]:
    each = _leg_screw(i)
    return {name: [one[name] for one in each] for name in each[0]}


def _within(kind: str, nuts: list[str]) -> list[Span]:
    found = []
    for nut in nuts:
        low, high = p.SCREW_FRICTION[f"{kind} {nut.removeprefix('cast ')}"]
        found.append(Span(low, (low + high) / 2, high))
    return found


def _crank(i: Inputs) -> dict[str, float]:
    torque = p.CRANK_N * p.CRANK_RADIUS_M
    return {"torque_Nm": torque, "power_W": torque * p.CRANK_RPM * 2 * pi / 60}


def _v_thread(i: Inputs) -> dict[str, float]:
    each = screws.raise_torque(1.0, i["dm_in"], i["lead_in"], i["mu"], i["half_angle_deg"])
    return {"T_per_F_in": each, "clamp_lbf": i["T_lb_in"] / each}


def _vise(i: Inputs) -> float:
    torque = float(i["couple_N"] * i["couple_arm_mm"])
    return torque / screws.raise_torque(1.0, 2 * i["r_mm"], i["lead_mm"], i["mu"]) / 1000


_HOLDS = {"holds": "self-locking", "uncertain": "uncertain", "runs back": "not self-locking"}


# --- statics, ground, columns ---------------------------------------------------------------------------


def _overhang(i: Inputs) -> dict[str, float]:
    points = [(i["span_m"] + i["overhang_m"], i["end_load_kg"])]
    far, near = statics.two_supports((0.0, i["span_m"]), points, [(0.0, i["span_m"], i["udl_kg_per_m"])])
    return {"R1": near, "R2": far}


def _beam(i: Inputs, unit: str) -> tuple[float, float]:
    spread = (*i["udl_from_to_m"], i[f"udl_{unit}_per_m"])
    points = [(place, load) for place, load in i[f"point_{unit}"]]
    return statics.two_supports(tuple(i["supports_m"]), points, [spread])


def _tickets(i: Inputs) -> dict[str, float]:
    pin, trailer = statics.scale_tickets(i["truck_alone"], i["truck_with_trailer"], i["trailer_axles"])
    return {"tongue": pin, "trailer": trailer, "percent": 100 * pin / trailer}


def _coupled(i: Inputs) -> dict[str, float]:
    pin = statics.pin_load_lb(i["W_lb"], i["L_ft"], i["cg_ft"])
    return {"pin": pin, "axles": i["W_lb"] - pin}


def _on_legs(i: Inputs) -> dict[str, float]:
    pin = statics.pin_load_lb(i["W_lb"], i["L_ft"], i["cg_ft"])
    result = leg_load(i["W_lb"], pin, i["L_ft"], i["a_ft"])
    return {
        "legs_total": result.value("both legs"),
        "each_leg": result.value("each leg"),
        "axles": result.value("axles"),
    }


def _moved(i: Inputs) -> dict[str, float]:
    pin = statics.pin_load_lb(i["W_lb"], i["L_ft"], ROWS["L-11"]["inputs"]["cg_ft"])
    result = leg_load(
        i["W_lb"], pin, i["L_ft"], i["a_ft"], moved_lb=i["w_lb"], from_ft=i["from_ft"], to_ft=i["to_ft"]
    )
    back = move_wanted_lb(3640, result.value("both legs"), i["from_ft"], i["to_ft"], i["L_ft"] - i["a_ft"])
    assert abs(back - i["w_lb"]) < 1e-6, "the way back does not give the weight that was moved"
    return {
        "legs_total": result.value("both legs"),
        "leg_change": result.value("change by the move"),
        "pin_change": result.value("change of the pin"),
    }


def _grade(i: Inputs, sign: float) -> dict[str, float]:
    same = ROWS["L-11"]["inputs"]
    pin = statics.pin_load_lb(same["W_lb"], same["L_ft"], same["cg_ft"])
    percent = sign * 100 * i["grade"]
    result = leg_load(
        same["W_lb"], pin, same["L_ft"], same["a_ft"], grade_percent=percent, cg_height_ft=i["h_ft"]
    )
    legs = result.value("both legs")
    slope = cos(atan(i["grade"]))
    return {
        "legs_total": legs,
        "axles": same["W_lb"] * slope - legs,
        "chock_force": statics.along_slope_lb(same["W_lb"], percent),
    }


def _sideways(i: Inputs) -> dict[str, float]:
    near = statics.near_leg_lb(i["legs_total_lb"], i["leg_spacing_in"], i["offset_in"])
    return {"near_leg": near, "far_leg": i["legs_total_lb"] - near}


def _pad(i: Inputs) -> dict[str, float]:
    side = foot(i["F_lb"], bearing_psf=i["q_psf"]).value("pad side wanted")
    return {"ft2": (side / 12) ** 2, "in2": side**2, "side_in": side}


def _pressure(i: Inputs) -> dict[str, float]:
    result = foot(i["F_lb"], "clay", foot_side_in=i["side_in"])
    return {"psf": result.value("pressure"), "psi": result.value("pressure a square inch")}


def _pipe(i: Inputs) -> list[float]:
    _, inertia = columns.round_tube(i["od_mm"] / 1000, i["id_mm"] / 1000)
    return [columns.euler_load(i["E_GPa"] * 1e9, inertia, i["L_m"], ends) / 1000 for ends in i["ends"]]


def _long_tube(i: Inputs) -> dict[str, float]:
    area, inertia = columns.round_tube(2 * i["ro_mm"], 2 * i["ri_mm"])
    load = columns.euler_load(i["E_GPa"] * 1000, inertia, i["L_m"] * 1000)
    return {"P_kN": load / 1000, "sigma_MPa": load / area}


def _rod(i: Inputs) -> dict[str, float]:
    area, inertia = columns.round_tube(i["d_in"])
    return {
        "KL_r": columns.slenderness(i["L_in"], inertia, area),
        "Cc": columns.transition(i["E_psi"], i["Sy_psi"]),
    }


def _euler_length(i: Inputs) -> float:
    area, inertia = i["b_mm"] * i["h_mm"], i["b_mm"] * i["h_mm"] ** 3 / 12
    return sqrt(columns.euler_load(i["E_GPa"] * 1000, inertia, 1.0) / (i["sigma_MPa"] * area))


def _tube(i: Inputs) -> dict[str, float]:
    area, inertia = columns.square_tube(i["side_in"], i["wall_in"])
    return {"A": area, "I": inertia}


def _leg_column(i: Inputs) -> dict[str, float]:
    area, inertia = columns.square_tube(2.5, 0.25)
    slender = columns.slenderness(i["L_in"], inertia, area, "fixed-free")
    return {
        "KL_r": slender,
        "Cc": columns.transition(i["E_psi"], i["Sy_psi"]),
        "P_johnson_lb": columns.johnson_load(i["E_psi"], i["Sy_psi"], area, slender),
        "P_euler_lb": columns.euler_load(i["E_psi"], inertia, i["L_in"], "fixed-free"),
    }


def _push(i: Inputs) -> dict[str, float]:
    bend, total = columns.cantilever_stress(i["F_lb"], i["L_in"], i["S_in3"], i["axial_lb"], i["A_in2"])
    _, inertia = columns.square_tube(2.5, 0.25)
    return {
        "M_lb_in": bend * i["S_in3"],
        "bend_psi": bend,
        "sum_psi": total,
        "tip_in": columns.cantilever_tip(i["F_lb"], i["L_in"], 29e6, inertia),
    }


# --- shafts, bolts, lifting -----------------------------------------------------------------------------


def _twist(i: Inputs) -> dict[str, float]:
    twist = shafts.twist_rad(i["T_Nm"], i["L_m"], i["G_GPa"] * 1e9, i["d_mm"] / 1000)
    return {
        "tau_MPa": shafts.shear_stress(i["T_Nm"], i["d_mm"] / 1000) / 1e6,
        "twist_rad": twist,
        "twist_deg": shafts.twist_degrees(twist),
    }


def _pin_torque_inch(i: Inputs) -> dict[str, float]:
    torque = shafts.pin_torque(i["F_double_lb"], i["shaft_in"])
    return {"lb_in": torque, "lb_ft": torque / 12}


def _kn(kind: str, sizes: list[float]) -> list[float]:
    return [shafts.pin_strength_lbf(kind, one) * convert.LBF_N / 1000 for one in sizes]


def _thread_torque(thread: str, grade: str, nut_factor: float = 0.2) -> float:
    diameter, threads, _ = k.read_thread(thread)
    proof, _ = k.grade_psi(grade, diameter)
    return k.torque_lb_ft(nut_factor, diameter, k.clamp_lbf(k.stress_area_in2(diameter, threads), proof))


def _area(thread: str) -> float:
    diameter, threads, _ = k.read_thread(thread)
    return k.stress_area_in2(diameter, threads)


def _grades(i: Inputs) -> dict[str, list[float]]:
    asked = [("2", 0.75), ("2", 0.875), ("5", 1.0), ("5", 1.125)]
    return {
        "proof_psi": [k.grade_psi(*one)[0] for one in asked],
        "tensile_psi": [k.grade_psi(*one)[1] for one in asked],
    }


def _bolt_shear(i: Inputs) -> dict[str, float]:
    _, tensile = k.grade_psi("5", 0.5)
    return {
        "single_shank": k.shear_lbf(tensile, i["shank_in2"]),
        "double_shank": k.shear_lbf(tensile, i["shank_in2"], 2),
        "single_threads": k.shear_lbf(tensile, i["thread_in2"]),
    }


def _lift(i: Inputs) -> dict[str, float]:
    return {
        "HM": carry.reach_factor(i["H_in"]),
        "VM": carry.height_factor(i["V_in"]),
        "DM": carry.travel_factor(i["D_in"]),
        "CM": p.COUPLING[i["coupling"]][0],
        "RWL_lb": carry.limit_lb(i["H_in"], i["V_in"], i["D_in"], i["A_deg"], i["coupling"]),
    }


def _press(i: Inputs) -> dict[str, list[float]]:
    limits = [carry.limit_lb(i["H"], height, i["D"]) for height in i["V"]]
    return {"RWL_lb": limits}


_SOILS = {
    "crystalline bedrock": "rock",
    "sedimentary rock": "soft rock",
    "sandy gravel or gravel": "gravel",
    "sand and silty/clayey sand or gravel": "sand",
    "clay and silt": "clay",
    "bedrock": "rock",
    "sedimentary": "soft rock",
    "filled ground or loam": "fill",
}


def _exact(name: str) -> Callable[[Inputs], float]:
    return lambda i: float(getattr(convert, name)) * float(i["value"])


ASK: dict[str, Callable[[Inputs], Any]] = {
    "S-01": _gate,
    "S-02": _gate_down,
    "S-03": _wheel,
    "S-04": _trapezoidal,
    "S-05": _clamp,
    "S-06": lambda i: screws.raise_torque(i["F_lb"], i["dm_in"], 1 / i["tpi"], i["mu"]),
    "S-07": _up_and_down,
    "S-08": _double_jack,
    "S-09": _acme_metric,
    "S-10": _overhauling,
    "S-11": _acme_double,
    "S-12": lambda i: screws.holding_friction(i["dm_in"], i["lead_in"], i["half_angle_deg"]),
    "S-15": _leg_screw_lists,
    "S-16": lambda i: _leg_screw(i, i["collar_mean_dia_in"], i["mu_c"])[0],
    "S-17": lambda i: _within("greased", i["nut"]),
    "S-18": lambda i: _within("dry", i["nut"]),
    "S-26": lambda i: [[span, span] for span in _within("dry", i["nut"])],
    "S-19": lambda i: [list(p.MESH_EFFICIENCY[one]) for one in i["type"]],
    "S-20": lambda i: [screws.worm_efficiency(one, i["pressure_deg"], i["mu"]) for one in i["lead_deg"]],
    "S-21": lambda i: [_HOLDS[screws.worm_holds(one)] for one in i["efficiency"]],
    "S-22": _crank,
    "S-23": lambda i: screws.crank_force(i["T_lb_in"], i["crank_in"], BEVEL.value, i["ratio"]),
    "S-24": _v_thread,
    "S-25": _vise,
    "T-01": lambda i: {
        "Ip_in4": shafts.polar_moment(i["od_in"], i["id_in"]),
        "tau_psi": shafts.shear_stress(i["T_lb_in"], i["od_in"], i["id_in"]),
    },
    "T-02": lambda i: shafts.polar_moment(i["od_in"], i["id_in"]),
    "T-03": _twist,
    "T-04": lambda i: shafts.shear_yield(i["Sy_MPa"]),
    "T-05": lambda i: [shafts.yield_torque(i["Sy_psi"], one) for one in i["d_in"]],
    "T-06": lambda i: _kn("slotted metric", i["d_mm"]),
    "T-07": lambda i: _kn("slotted metric", i["d_mm"]),
    "T-08": lambda i: [shafts.pin_strength_lbf("slotted", float(Fraction(one))) for one in i["d_in"]],
    "T-09": lambda i: _kn("stainless metric", i["d_mm"]),
    "T-10": lambda i: _kn("coiled metric", i["d_mm"]),
    "T-11": _pin_torque_inch,
    "T-12": lambda i: shafts.pin_torque(i["F_double_kN"] * 1000, i["shaft_mm"] / 1000),
    "L-01": _overhang,
    "L-02": lambda i: dict(zip(("R1", "R2"), _beam(i, "kg"), strict=True)),
    "L-03": lambda i: dict(zip(("RA", "RB"), _beam(i, "kN"), strict=True)),
    "L-04": lambda i: (
        i["moment_lb_in"] / i["W_lb"] + statics.cg_shift(i["W_lb"], i["w_lb"], i["to_in"] - i["from_in"])
    ),
    "L-05": lambda i: {
        "shift": statics.cg_shift(i["W_lb"], i["w_lb"], i["to_in"] - i["from_in"]),
        "cg": i["cg_in"] + statics.cg_shift(i["W_lb"], i["w_lb"], i["to_in"] - i["from_in"]),
    },
    "L-06": lambda i: statics.weight_to_move(i["W_lb"], i["cg_in"] - i["target_in"], i["distance_in"]),
    "L-07": lambda i: statics.cg_shift(i["W_lb"], i["w_lb"], i["distance_in"]),
    "L-08": _tickets,
    "L-09": lambda i: [p.PIN_SHARE[0], p.PIN_SHARE[2]],
    "L-10": _coupled,
    "L-11": _on_legs,
    "L-12": _moved,
    "L-13": _sideways,
    "L-14": lambda i: _grade(i, 1.0),
    "L-15": lambda i: _grade(i, -1.0),
    "L-16": lambda i: {"R": list(statics.three_level_supports(i["w_lb_in"], i["span_in"]))},
    "G-01": lambda i: [p.SOIL_PSF[_SOILS[one]] for one in i["soil"]],
    "G-02": lambda i: [p.SLIDING[_SOILS.get(one, one)] for one in i["soil"]],
    "G-03": lambda i: p.SOIL_UNKNOWN_PSF,
    "G-04": lambda i: [p.SOIL_PSF[_SOILS.get(one, one)] for one in i["soil"]],
    "G-05": _pad,
    "G-06": _pressure,
    "G-07": lambda i: convert.in_other_family(i["psf"], "psf")[0],  # type: ignore[index]  # psf has a twin
    "K-01": _grades,
    "K-02": lambda i: [_area(one) for one in i["thread"]],
    "K-03": lambda i: [_area(one) for one in i["thread"]],
    "K-04": lambda i: [k.clamp_lbf(_area("1/2-13"), k.grade_psi(str(one), 0.5)[0]) for one in i["grade"]],
    "K-05": lambda i: [_thread_torque("1/2-13", str(one), i["K"]) for one in i["grade"]],
    "K-06": lambda i: [_thread_torque(one, "5") for one in i["thread"]],
    "K-07": lambda i: [_thread_torque(one, "8") for one in i["thread"]],
    "K-08": lambda i: [_thread_torque("1/2-13", "5", one) for one in i["K"]],
    "K-09": lambda i: [p.NUT_FACTOR[one.split(" ")[0]][1] for one in i["finish"]],
    "K-10": lambda i: p.CLAMP_SCATTER,
    "K-11": _bolt_shear,
    "K-12": lambda i: k.grade_psi(str(i["grade"]), 0.5)[1],
    "K-13": lambda i: {
        "tensile_psi": k.grade_psi(str(i["grade"]), 0.5)[1],
        "proof_psi": k.grade_psi(str(i["grade"]), 0.5)[0],
    },
    "C-01": _pipe,
    "C-02": _long_tube,
    "C-03": _rod,
    "C-04": lambda i: columns.johnson_diameter(i["F_kip"] * i["N"], i["Sy_ksi"], i["E_ksi"], i["L_in"]),
    "C-05": lambda i: columns.euler_diameter(i["F_kip"] * i["N"], i["E_ksi"], i["L_in"]),
    "C-06": _euler_length,
    "C-07": _tube,
    "C-08": _leg_column,
    "C-09": _push,
    "C-10": lambda i: columns.euler_load(i["E_psi"], columns.round_tube(i["d_in"])[1], i["L_in"]),
    "Y-01": lambda i: crib_lb(i["contacts"], int(i["timber"][0])),
    "Y-02": lambda i: crib_lb(i["contacts"], int(i["timber"][0])),
    "Y-03": lambda i: crib_lb(i["contacts"]),
    "Y-04": lambda i: {
        "max_height_ratio": p.CRIB_HEIGHT_RATIO,
        "safety_factor": p.CRIB_FACTOR,
        "4x4_height_ft": p.CRIB_HEIGHT_FT[4],
        "6x6_height_ft": p.CRIB_HEIGHT_FT[6],
    },
    "Y-15": lambda i: [crib_lb(i["contacts"], 4, one) for one in i["side_in"]],
    "Y-09": lambda i: [p.LIFT_LB, p.LIFT_KG],
    "Y-10": _lift,
    "Y-11": _press,
    "U-01": _exact("LB_KG"),
    "U-02": _exact("FT_M"),
    "U-03": _exact("IN_MM"),
    "U-04": _exact("LBF_N"),
    "U-05": _exact("LB_FT_N_M"),
    "U-06": _exact("LB_IN_N_M"),
    "U-07": _exact("PSI_PA"),
    "U-08": _exact("PSF_PA"),
    "U-09": _exact("SHORT_TON_KG"),
    "U-10": _exact("LONG_TON_KG"),
    "U-11": _exact("TONNE_LB"),
    "U-12": _exact("HP_W"),
    "U-13": _exact("CMIL_MM2"),
    "U-14": _exact("MILE_KM"),
    "U-15": lambda i: convert.STANDARD_GRAVITY * i["value"],
    "U-16": _exact("GALLON_L"),
    "U-17": lambda i: [
        convert.LB_KG,
        convert.LBF_N,
        convert.LB_IN_N_M,
        convert.SHORT_TON_KG / 1000,
        convert.PSI_PA,
        convert.LB_FT_N_M,
    ],
    "U-18": lambda i: {"C": convert.celsius(80), "K": convert.kelvin_of_f_difference(10)},
    "U-20": lambda i: dict(zip(("d_in", "tpi", "length_in"), k.read_thread(i["text"]), strict=True)),
}

#: Names of a row that no sum gives, and why; the rest of the row is compared.
LEFT_OUT = {
    "C-07": ("J_fe",),  # the torsion constant of a square tube is not used by any sum
    "Y-11": ("LI",),  # printed from multipliers that were rounded first; the limits themselves are compared
}
