"""Legs, axles and grades: 200 random trailers and 40 three-support beams against a frame program."""

import itertools
from math import atan, cos, sin
from random import Random  # noqa: TID251 - seeded: the same draws in every run
from typing import Any

from bot.sums import statics

from .needs import library

WITHIN = 1e-6


def _frame(pynite: Any) -> Any:
    model = pynite.FEModel3D()
    model.add_material("steel", 29e6, 11.2e6, 0.3, 0.0)
    model.add_section("stiff", 1e3, 1e5, 1e5, 1e5)
    return model


def _trailer(pynite: Any, case: dict[str, float]) -> tuple[float, float, float]:
    """Legs, axles and chock force of one trailer, its own weight as one load at the centre of gravity."""
    model = _frame(pynite)
    angle = atan(case["grade"] / 100)
    places = sorted(
        {"leg": case["legs"], "foot of cg": case["cg"], "axle": case["axles"]}.items(), key=lambda p: p[1]
    )
    for name, feet in places:
        model.add_node(name, 12 * feet, 0, 0)
    model.add_node("cg", 12 * case["cg"], 12 * case["height"], 0)
    for i, (one, other) in enumerate(itertools.pairwise(places)):
        model.add_member(f"deck{i}", one[0], other[0], "steel", "stiff")
    model.add_member("post", "foot of cg", "cg", "steel", "stiff")
    model.def_support("leg", False, True, True, True, False, False)
    model.def_support("axle", True, True, True, True, False, False)
    model.add_node_load("cg", "FY", -case["weight"] * cos(angle))
    # Nose downhill: the slope pulls towards the pin, which is at the origin.
    model.add_node_load("cg", "FX", -case["weight"] * sin(angle))
    model.analyze_linear()
    nodes = model.nodes
    return tuple(
        float(force["Combo 1"]) for force in (nodes["leg"].RxnFY, nodes["axle"].RxnFY, nodes["axle"].RxnFX)
    )  # type: ignore[return-value]


def test_frame_program_finds_the_same_load_on_legs_axles_and_chocks() -> None:
    pynite = library("Pynite")
    draw = Random("trailers")
    worst = 0.0
    for _ in range(200):
        axles = draw.uniform(18, 36)
        case = {
            "weight": draw.uniform(4000, 20000),
            "axles": axles,
            "cg": axles * draw.uniform(0.7, 0.9),
            "legs": draw.uniform(3, 10),
            "grade": draw.choice((0.0, draw.uniform(-10, 10))),
            "height": draw.uniform(2, 7),
        }
        legs, on_axles, chocks = _trailer(pynite, case)
        ours = statics.legs_on_grade_lb(
            case["weight"], axles, case["cg"], case["legs"], case["grade"], case["height"]
        )
        angle = atan(case["grade"] / 100)
        pairs = (
            (legs, ours),
            (on_axles, case["weight"] * cos(angle) - ours),
            (abs(chocks), statics.along_slope_lb(case["weight"], case["grade"])),
        )
        for theirs, mine in pairs:
            gap = abs(theirs - mine) / case["weight"]
            worst = max(worst, gap)
            assert gap < WITHIN, (case, theirs, mine)
    print(f"200 trailers, PyNite, largest difference {worst:.1e} of the weight")


def test_frame_program_finds_the_same_three_reactions_at_one_height() -> None:
    pynite = library("Pynite")
    draw, worst = Random("three supports"), 0.0
    for _ in range(40):
        load, span = draw.uniform(1, 50), draw.uniform(20, 300)
        model = _frame(pynite)
        for i in range(3):
            model.add_node(f"s{i}", i * span, 0, 0)
            model.def_support(f"s{i}", i == 0, True, True, i == 0, False, False)
        for i in range(2):
            model.add_member(f"m{i}", f"s{i}", f"s{i + 1}", "steel", "stiff")
            model.add_member_dist_load(f"m{i}", "Fy", -load, -load)
        model.analyze_linear()
        for i, mine in enumerate(statics.three_level_supports(load, span)):
            theirs = float(model.nodes[f"s{i}"].RxnFY["Combo 1"])
            worst = max(worst, abs(theirs - mine) / (load * span))
    print(f"40 beams on three supports, PyNite, largest difference {worst:.1e} of the load")
    assert worst < WITHIN
