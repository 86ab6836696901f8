"""Rows about wire, fuses and the battery: from a row's inputs to the sum's answer."""

from collections.abc import Callable
from typing import Any

from bot.sums import battery as b
from bot.sums import copper as c
from bot.sums import fuses as f
from bot.sums import tables as t
from bot.sums.path import heat_w, ohm_from_drop
from bot.sums.spans import Span
from bot.sums.wire import harness, wire_ohm_per_ft

Inputs = dict[str, Any]


def _per_kft(awg: int) -> float:
    return 1000 * c.solid_ohm_per_ft(c.awg_cmil(awg))


def _seven_strand(awg: int) -> Span:
    per_ft, _, _ = wire_ohm_per_ft(awg, stranded=True, temp_f=68)
    return Span(*(1000 * one for one in per_ft))


def _harness_loss(i: Inputs) -> dict[str, float]:
    result = harness(str(i["awg"]), i["L_ft_one_way"], i["I_A"], stranded=False, temp_f=i["t_C"] * 9 / 5 + 32)
    return {"volts": result.value("drop"), "percent_of_12V": result.value("share of system")}


def _metric_loss(i: Inputs) -> dict[str, float]:
    volts = c.drop_v(i["I_A"], 2 * i["one_way_m"] * i["ohm_per_m"])
    return {"volts": volts, "percent_of_12V": 100 * volts / 12}


def _bilge_pump(i: Inputs) -> dict[str, int | None]:
    feet = i["feed_ft"] + i["return_ft"]
    return {
        f"awg_{percent}_percent": c.gauge_for(c.cmil_wanted(i["I_A"], feet, i["V"] * percent / 100), "sae")
        for percent in (3, 10)
    }


def _heavy_motor(i: Inputs) -> dict[str, Any]:
    wanted = [c.cmil_wanted(i["I_A"], i["round_trip_ft"], i["V"] * p / 100, i["K"]) for p in i["percent"]]
    return {
        "cmil": wanted,
        "awg_by_AWG_area": [c.gauge_for(one) for one in wanted],
        "sae_gauge_by_SAE_area": [c.gauge_for(one, "sae") for one in wanted],
    }


def _places(i: Inputs) -> dict[str, float | None]:
    names = {
        "engine_space_50C": "hot",
        "three_bundled": "three bundled",
        "four_to_six": "four to six",
        "seven_to_24": "seven to 24",
    }
    return {row: c.allowed_a(i["awg"], i["insulation_C"], place) for row, place in names.items()}


def _code_75c(awg: int) -> float:
    """The printed table gives 4 and 6 AWG stranded, thinner ones solid."""
    lay = t.STRANDED[1] if awg <= 6 else 1.0
    return _per_kft(awg) * lay * c.hot_factor(75)


def _window(kind: str, percent: float) -> dict[str, float | None]:
    low, high = f.window_s(kind, percent)
    return {"min_s": low, "max_s": None if high == t.INF else high}


def _windows(kind: str, percents: list[float]) -> dict[str, list[float | None]]:
    each = [_window(kind, percent) for percent in percents]
    return {name: [one[name] for one in each] for name in ("min_s", "max_s")}


def _sound_fuse(i: Inputs) -> dict[str, list[float]]:
    volts = [f.sound_fuse_drop_v(rating) for rating in i["rating_A"]]
    return {
        "mV_max": [1000 * one for one in volts],
        "W_max": [one * rating for one, rating in zip(volts, i["rating_A"], strict=True)],
    }


def _load_test(i: Inputs) -> dict[str, float]:
    return {
        "amps_by_cca": b.load_test_a(i["cca_A"]),
        "amps_by_ah": b.load_test_a(amp_hours=i["ah"]),
    }


def _sg_volts(gravity: float) -> float:
    """Rested volts the lead-acid tables give for a specific gravity."""
    return t.between(t.LEAD_V, t.back(t.LEAD_GRAVITY, gravity))


def _blade(i: Inputs) -> dict[str, float | None]:
    return _window("blade", i["percent_of_rating"])


ASK: dict[str, Callable[[Inputs], Any]] = {
    "W-01": lambda i: c.awg_diameter_in(i["awg"]),
    "W-02": lambda i: [c.awg_diameter_in(one) for one in i["awg"]],
    "W-03": lambda i: c.awg_diameter_in(i["to_awg"]) / c.awg_diameter_in(i["from_awg"]),
    "W-04": lambda i: c.awg_diameter_in(c.gauge_number(i["awg"])),
    "W-05": lambda i: [c.awg_cmil(one) for one in i["awg"]],
    "W-06": lambda i: [c.awg_cmil(one) * 0.0005067074790975 for one in i["awg"]],
    "W-07": lambda i: {
        "ohm_mm2_per_m": t.COPPER_OHM_MM2_PER_M,
        "ohm_cmil_per_ft": t.COPPER_OHM_CMIL_PER_FT,
        "density_g_cm3": t.COPPER_KG_PER_M3 / 1000,
    },
    "W-08": lambda i: c.hot_factor(21.0) - 1,
    "W-09": lambda i: [_per_kft(one) for one in i["awg"]],
    "W-10": lambda i: [_per_kft(one) / 0.3048 for one in i["awg"]],
    "W-11": lambda i: i["R20_ohm_per_kft"] * c.hot_factor(i["t_C"]),
    "W-12": lambda i: [_code_75c(one) for one in i["awg"]],
    "W-13": lambda i: [_per_kft(one) * t.STRANDED[1] * c.hot_factor(i["t_C"]) for one in i["awg"]],
    "W-14": lambda i: c.code_factor(i["T2_C"]),
    "W-15": lambda i: [c.iec_to_20c(one) for one in i["t_C"]],
    "W-16": lambda i: wire_ohm_per_ft(10, stranded=True, temp_f=68)[0].value * 1000 / _per_kft(10),
    "W-17": lambda i: [_seven_strand(one) for one in i["awg"]],
    "W-18": lambda i: [1000 * c.mm2_ohm_per_m(one) for one in i["mm2"]],
    "W-19": lambda i: [1000 * c.mm2_ohm_per_m(one, flexible=False) for one in i["mm2"]],
    "W-20": lambda i: [c.cmil_of(one, "sae") for one in i["gauge"]],
    "W-21": lambda i: c.rule_drop_v(i["I_A"], i["L_ft_one_way"], i["cmil"], i["K"]),
    "W-22": _harness_loss,
    "W-24": _bilge_pump,
    "W-25": _heavy_motor,
    "W-26": _metric_loss,
    "W-27": lambda i: [c.allowed_a(one, i["insulation_C"]) for one in i["awg"]],
    "W-28": lambda i: [c.allowed_a(one, i["insulation_C"]) for one in i["awg"]],
    "W-29": _places,
    "W-30": lambda i: [c.fuse_ceiling_a(i["awg"], one) for one in i["insulation_C"]],
    "W-31": lambda i: dict(
        zip(("inches_from_source", "inches_if_in_sheath_or_enclosure"), t.FUSE_FROM_SOURCE_IN, strict=True)
    ),
    "W-32": lambda i: [t.BUILDING_FUSE_A[one] for one in i["awg"]],
    "W-33": lambda i: [t.OLDER_RV_FUSE_A[one] for one in i["awg"]],
    "W-34": lambda i: t.BOND_AWG,
    "W-35": lambda i: [
        wire_ohm_per_ft(mm2=one, temp_f=i["t_C"] * 9 / 5 + 32)[0].value * 2 * i["one_way_ft"]
        for one in i["mm2"]
    ],
    **dict.fromkeys(("F-01", "F-02", "F-03", "F-04", "F-05", "F-06"), _blade),
    "F-08": lambda i: {"max_s": [f.window_s("supplementary", one)[1] for one in i["percent"]]},
    "F-09": lambda i: f.steady_a(i["fuse_A"]),
    "F-10": lambda i: {
        name: f.pulse_a2s(i["peak_A"], i["t_s"], name.replace("_", " "))
        for name in ("square", "triangle", "half_sine")
    },
    "F-11": lambda i: [t.PULSE_SHARE[one] for one in i["pulses"]],
    "F-18": lambda i: _windows("large blade", i["percent"]),
    "F-19": lambda i: dict(zip(("min_s", "max_s"), t.ISO_8820_SPAN_S, strict=True)),
    "F-20": _sound_fuse,
    "F-15": lambda i: heat_w(i["I_A"], i["R_mohm"] / 1000),
    "F-16": lambda i: [heat_w(i["I_A"], one / 1000) for one in i["R_mohm"]],
    "F-17": lambda i: 1000 * ohm_from_drop(i["drop_V"], i["I_A"]),
    "B-01": lambda i: [t.between(t.LEAD_V, one) for one in i["soc_percent"]],
    "B-02": lambda i: [t.between(t.LEAD_GRAVITY, one) for one in i["soc_percent"]],
    "B-03": lambda i: [t.between(t.LEAD_FREEZES_F, one) for one in i["soc_percent"]],
    "B-04": lambda i: [_sg_volts(one) for one in i["sg"]],
    "B-05": lambda i: [12.65 - (b.at_80f_v(0.0, one) - b.at_80f_v(0.0, 75)) for one in i["t_F"]],
    "B-06": lambda i: [b.load_test_v(one) for one in i["t_C"]],
    "B-07": _load_test,
    "B-08": lambda i: {"min_V": t.COLD_CRANK_V},
    "B-09": lambda i: {"amps": t.RESERVE_A, "end_V": t.RESERVE_END_V},
    "B-10": lambda i: 1000 * b.inner_ohm(i["V_rest"], i["V_load"], i["I_A"]),
    "B-11": lambda i: 1000 * b.cold_inner_ohm(i["cca_A"], i["V_rest"]),
    "B-14": lambda i: [t.SOUND_LOSS_V[one] for one in i["part"]],
    "B-15": lambda i: [t.STARTER_SIDE_LOSS_V[one] for one in ("supply", "ground")],
}

#: Names of a row that no sum gives, and why; the rest of the row is compared.
LEFT_OUT = {
    "B-07": ("min_soc_percent", "seconds"),  # said in words, not worked out
    "B-08": ("seconds",),  # the definition's duration
}
