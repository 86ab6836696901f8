"""The sums of weight and fit: legs, their margin, feet, stands, a leg that fits, legs in step, a part carried."""

from bot.sums.inputs import Input, Sum, choice, count, number, quantity, yes_no

_WEIGHT = (
    quantity("gross_lb", "gross", "lb", "weight of the whole trailer as it stands"),
    quantity("pin_lb", "pin", "lb", "pin weight from a scale", "20 % of the gross weight, from 15 to 25 %"),
    quantity(
        "pin_to_axles_ft",
        "pin-to-axles",
        "ft",
        "kingpin to the middle of the axle group",
        "26 ft, from 20 to 32",
    ),
    quantity("pin_to_legs_ft", "pin-to-legs", "ft", "kingpin to the legs", "6 ft, from 4 to 8"),
)
_SOILS = (
    "rock",
    "soft rock",
    "gravel",
    "sand",
    "clay",
    "soft clay",
    "very soft clay",
    "fill",
    "organic",
    "asphalt",
    "concrete",
)
TAPE = ("outer", "inner", "stroke", "retracted", "shaft", "bolt_spacing")

SUMS = (
    Sum(
        "leg-load",
        "load on both legs and on each, from gross weight, pin weight or scale tickets",
        (
            *_WEIGHT,
            Input(
                "truck_alone_lb",
                "truck-alone",
                "numbers",
                "lb",
                False,
                "truck's axles alone, from the ticket",
            ),
            Input("truck_coupled_lb", "truck-coupled", "numbers", "lb", False, "truck's axles coupled"),
            number("trailer_axles_lb", "trailer-axles", "lb", "trailer's axles coupled"),
            number("grade_percent", "grade", "%", "fall of the ground, nose downhill counts up", "level"),
            number(
                "cg_height_ft", "cg-height", "ft", "centre of gravity above the feet", "5 ft, from 3 to 7"
            ),
            number("offset_in", "offset", "in", "weight off the middle", "in the middle"),
            number("leg_spacing_in", "leg-spacing", "in", "from leg to leg"),
            number("moved_lb", "moved", "lb", "weight of a load moved", "nothing moved"),
            number("from_ft", "from", "ft", "where it was, behind the pin"),
            number("to_ft", "to", "ft", "where it goes, behind the pin"),
            number("rating_each_lb", "rating", "lb", "rating of one leg"),
        ),
        ("--gross", "14000 lb", "--pin", "2800 lb", "--pin-to-axles", "26 ft", "--pin-to-legs", "6 ft"),
        "bot.sums.legs.leg_load",
    ),
    Sum(
        "lift-margin",
        "load on the legs as a share of the rating of motor, pair and leg",
        (
            quantity(
                "legs_lb",
                "legs",
                "lb",
                "load on both legs together",
                "from gross or pin weight, as leg-load does",
            ),
            number("rating_motor_lb", "motor-rating", "lb", "lift of one motor, from its label"),
            number("rating_pair_lb", "pair-rating", "lb", "lift of the pair of legs, from its label"),
            number("rating_leg_lb", "leg-rating", "lb", "lift of one leg, from its label"),
            count("motors", "motors", "motors that lift, 0 for a hand crank", "1"),
            yes_no("one_foot_first", "one-foot-first", "does one foot touch first"),
            *_WEIGHT,
        ),
        ("--legs", "3640 lb", "--leg-rating", "2500 lb", "--one-foot-first", "yes"),
        "bot.sums.lift_margin.lift_margin",
    ),
    Sum(
        "leg-fit",
        "stroke wanted, drop-leg hole, clearance on the road, whether a replacement fits",
        (
            number("lowest_in", "lowest", "in", "ground to the end of the outer tube, nose lowest"),
            number("highest_in", "highest", "in", "the same, nose highest"),
            number("stroke_in", "stroke", "in", "screw travel of the leg"),
            number("hole_spacing_in", "hole-spacing", "in", "between drop-leg holes", "no drop leg"),
            count("holes", "holes", "drop-leg holes", "1"),
            number("foot_in", "foot", "in", "foot to the end of the outer tube, all the way in"),
            number("tow_height_in", "tow-height", "in", "ground to the end of the outer tube when hitched"),
            *(
                number(
                    f"{which}_{point}_in",
                    f"{which}-{point.replace('_', '-')}",
                    "in",
                    f"{which} leg: {point} in inches",
                )
                for which in ("old", "new")
                for point in TAPE
            ),
        ),
        (
            *("--lowest", "14 in", "--highest", "26 in", "--stroke", "13 in", "--hole-spacing", "3 in"),
            *("--holes", "5", "--foot", "2 in"),
        ),
        "bot.sums.catalogue.leg_fit_flat",
    ),
    Sum(
        "foot",
        "pressure on the ground, pad wanted, an extended leg pushed sideways",
        (
            quantity("load_lb", "load", "lb", "load on this leg", required=True),
            choice("soil", "ground", _SOILS, "what the ground is made of", "1500 psf"),
            number("foot_side_in", "foot", "in", "side of the square foot"),
            number("pad_side_in", "pad", "in", "side of the square pad"),
            number("bearing_psf", "bearing", "psf", "what this ground bears"),
            number("extended_in", "extended", "in", "foot to the end of the outer tube"),
            number("tube_side_in", "tube", "in", "side of the inner tube"),
            number("wall_in", "wall", "in", "its wall"),
            number("yield_psi", "yield", "psi", "yield of the tube's steel", "36,000 psi"),
            number("side_load_lb", "push", "lb", "push at the foot", "0 lb"),
        ),
        ("--load", "1820 lb", "--ground", "clay", "--foot", "9 in"),
        "bot.sums.foot.foot",
    ),
    Sum(
        "stand",
        "load on each stand or crib, margin, height of a crib",
        (
            quantity("load_lb", "load", "lb", "load on all stands together"),
            count("count", "count", "stands or cribs", "2"),
            number("rating_each_lb", "rating", "lb", "rating marked on one stand"),
            choice(
                "marked_for",
                "marked-for",
                ("one", "pair", "unsure"),
                "what that rating is marked for",
                "unsure",
            ),
            count("crib_timber", "timber", "side of crib timber, 4 or 6"),
            count("crib_contacts", "contacts", "crossings in a layer, 4 or 9", "4"),
            number("crib_width_in", "width", "in", "shortest width of the crib"),
            number("height_in", "height", "in", "height of the crib"),
            quantity("pin_lb", "pin", "lb", "pin weight from a scale"),
            number("pin_to_axles_ft", "pin-to-axles", "ft", "kingpin to the middle of the axle group"),
            number("pin_to_stands_ft", "pin-to-stands", "ft", "kingpin to the stands"),
        ),
        ("--load", "3640 lb", "--count", "2", "--rating", "6000 lb"),
        "bot.sums.stand.stand",
    ),
    Sum(
        "retime",
        "turns, leg and direction that bring the legs back in step",
        (
            quantity("left_in", "left", "in", "left foot out of its outer tube"),
            quantity("right_in", "right", "in", "right foot out of its outer tube"),
            quantity("difference_in", "difference", "in", "or how much the legs differ"),
            number("turns_per_inch", "turns-per-inch", "", "turns of the leg's shaft an inch"),
            number("turns_counted", "turns", "", "or turns counted"),
            number("inches_counted", "inches", "in", "over how many inches"),
            choice(
                "free_leg",
                "free-leg",
                ("left", "right"),
                "the leg that can be turned alone",
                "the shorter one",
            ),
        ),
        ("--left", "10 in", "--right", "10 3/4 in", "--turns-per-inch", "6"),
        "bot.sums.retime.retime",
    ),
    Sum(
        "carry",
        "what one person may lift here, two people or a jack",
        (
            quantity("weight_lb", "weight", "lb", "weight of the part", required=True),
            number("reach_in", "reach", "in", "ankles to hands", "20 in"),
            number("height_in", "height", "in", "hands above the floor", "6 in"),
            number("travel_in", "travel", "in", "how far up or down it goes", "16 in"),
            number("turn_deg", "turn", "", "twist of the body in degrees", "0"),
            choice("grip", "grip", ("good", "fair", "poor"), "grip", "fair"),
        ),
        ("--weight", "30 lb", "--reach", "20 in", "--height", "6 in"),
        "bot.sums.carry.carry",
    ),
)
