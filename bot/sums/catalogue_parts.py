"""The sums of turning parts: screw, shaft and pin, bolts."""

from bot.sums.inputs import Input, Sum, choice, count, number, quantity, yes_no

_NUTS = (
    "greased steel",
    "greased bronze",
    "greased brass",
    "greased iron",
    "dry steel",
    "dry bronze",
    "dry brass",
    "dry iron",
)

SUMS = (
    Sum(
        "screw",
        "effort, efficiency, whether the leg's screw holds by itself, crank force",
        (
            quantity("load_lb", "load", "lb", "load on this leg", required=True),
            number("major_in", "diameter", "in", "outside diameter of the screw", required=True),
            number("threads_per_inch", "threads", "", "threads counted along an inch", required=True),
            count("starts", "starts", "threads side by side", "1"),
            choice("form", "form", ("square", "acme", "trapezoidal", "v"), "form of the thread", "acme"),
            quantity("friction", "friction", "", "friction in the thread"),
            choice("lubrication", "nut", _NUTS, "the nut and whether it is greased", "greased, 0.10 to 0.19"),
            number(
                "collar_dia_in", "washer", "in", "mean diameter of a plain thrust washer", "a free bearing"
            ),
            quantity(
                "collar_friction", "washer-friction", "", "friction of the washer", "0.12, from 0.06 to 0.15"
            ),
            number("crank_in", "crank", "in", "length of the crank arm"),
            number("ratio", "ratio", "", "crank turns for one turn of the screw", "1"),
        ),
        (
            "--load",
            "1820 lb",
            "--diameter",
            "1 in",
            "--threads",
            "5",
            "--friction",
            "0.15",
            "--crank",
            "8 in",
        ),
        "bot.sums.screw.screw",
    ),
    Sum(
        "shaft",
        "stress in the cross shaft, whether a stall can shear it or its pin",
        (
            quantity("torque_lb_in", "torque", "lb-in", "torque in the shaft while lifting"),
            number("shaft_in", "diameter", "in", "outside diameter of the shaft", required=True),
            number("bore_in", "bore", "in", "bore of a tube", "solid"),
            number("yield_psi", "yield", "psi", "yield of its steel", "36,000 psi"),
            choice(
                "pin_kind",
                "pin",
                ("slotted", "slotted metric", "stainless metric", "coiled metric"),
                "kind of cross pin",
            ),
            number("pin_size_in", "pin-size", "in", "diameter of the pin"),
            quantity("stall_torque_lb_in", "stall", "lb-in", "torque in the shaft when it jams"),
        ),
        ("--torque", "600 lb-in", "--diameter", "3/4 in", "--pin", "slotted", "--pin-size", "3/16 in"),
        "bot.sums.shafts.shaft",
    ),
    Sum(
        "bolts",
        "torque with its scatter, clamp load, what bolts carry sideways",
        (
            Input("size", "size", "text", "", True, "size of the bolt as it is written"),
            choice("grade", "grade", ("2", "5", "8"), "grade from the marks on the head", "5"),
            choice("finish", "finish", ("plain", "zinc", "oiled", "waxed"), "finish of the thread", "plain"),
            count("count", "count", "bolts that share the load", "1"),
            quantity("side_load_lb", "side-load", "lb", "load across the bolts"),
            yes_no("threads_in_shear", "threads-in-joint", "do the threads lie in the joint", "yes"),
        ),
        ("--size", "1/2-13", "--grade", "5", "--count", "4", "--side-load", "3000 lb"),
        "bot.sums.bolts.bolts",
    ),
)
