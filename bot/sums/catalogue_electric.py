"""The sums of the power path: wire, path, motor, fuse, battery."""

from bot.sums.inputs import Input, Sum, choice, count, number, quantity, yes_no

_GAUGE = Input("gauge_awg", "gauge", "gauge", "AWG", False, "gauge of the wire", (), "10 AWG, from 12 to 8")
_LENGTH = quantity(
    "one_way_ft", "length", "ft", "wire from battery to motor, one way", "18 ft, from 10 to 30"
)
_STRANDED = yes_no("stranded", "stranded", "is the wire stranded", "both are counted in")
_WIRE_TEMP = quantity("temp_f", "wire-temp", "F", "temperature of the wire", "68 F, from 32 to 122")
_FUSES = ("blade", "large blade", "supplementary", "breaker 1", "breaker 2", "breaker 3")

SUMS = (
    Sum(
        "harness",
        "volts lost in the wire, gauge wanted, what wire and fuse may carry",
        (
            _GAUGE,
            _LENGTH,
            quantity("amps", "amps", "A", "current with the button held", "30 A, from 15 to 45"),
            choice("family", "family", ("awg", "sae"), "is the gauge American (awg) or SAE", "awg"),
            number("mm2", "mm2", "mm2", "area in mm2 where the wire is metric"),
            _STRANDED,
            _WIRE_TEMP,
            yes_no("frame_return", "frame-return", "does the return go through the frame"),
            number("volts", "volts", "V", "system voltage", "12 V"),
            number("drop_percent", "allow", "%", "loss allowed", "3 % is clear, 10 % is over"),
            number("fuse_a", "fuse", "A", "fuse on this wire"),
            count("insulation_c", "insulation", "insulation rating in C, 75 or 105", "75"),
            choice(
                "place",
                "place",
                ("open", "hot", "three bundled", "four to six", "seven to 24"),
                "where it runs",
                "open",
            ),
        ),
        ("--gauge", "10", "--length", "18 ft", "--amps", "30 A", "--fuse", "30 A"),
        "bot.sums.wire.harness",
    ),
    Sum(
        "path",
        "ohms of the supply and ground side against what the wire accounts for",
        (
            quantity("volts_battery", "battery", "V", "volts at the battery posts, button held"),
            quantity("volts_motor", "motor", "V", "volts across the motor, button held"),
            quantity("volts_ground_side", "ground", "V", "battery minus post to motor minus, button held"),
            quantity("amps", "amps", "A", "amps, button held", "30 A, from 15 to 45"),
            _GAUGE,
            _LENGTH,
            _STRANDED,
            _WIRE_TEMP,
            yes_no("frame_return", "frame-return", "does the return go through the frame"),
        ),
        ("--battery", "12.1 V", "--motor", "6.8 V", "--ground", "4.4 V"),
        "bot.sums.path.path",
    ),
    Sum(
        "motor-point",
        "amps, volts, speed and lift time of the motor; the same with the harness shortened",
        (
            number("volts_rest", "battery", "V", "battery at rest", required=True),
            _GAUGE,
            _LENGTH,
            number("torque_nm", "torque", "N.m", "load at the motor's shaft"),
            number("amps", "amps", "A", "or the amps while it lifts"),
            number("k_nm_per_a", "constant", "", "motor constant in N.m/A"),
            number("motor_ohm", "winding", "ohm", "ohms of the winding"),
            number("label_volts", "label-volts", "V", "volts on the motor's label", "12 V"),
            number("no_load_rpm", "no-load-rpm", "rpm", "turns a minute without load"),
            number("stall_nm", "stall-torque", "N.m", "torque at a stall"),
            number("rated_a", "rated-amps", "A", "amps on the label"),
            number("rated_rpm", "rated-rpm", "rpm", "turns a minute on the label"),
            Input("points_flat", "points", "numbers", "", False, "two points: volts amps rpm volts amps rpm"),
            quantity(
                "battery_ohm",
                "battery-ohm",
                "ohm",
                "inner resistance of the battery",
                "15 mohm, from 8 to 25",
            ),
            quantity(
                "contact_ohm",
                "contact-ohm",
                "ohm",
                "fuse, switch and joints together",
                "10 mohm, from 3 to 20",
            ),
            _STRANDED,
            _WIRE_TEMP,
            number("stroke_in", "stroke", "in", "length of the lift"),
            number("turns_per_inch", "turns-per-inch", "", "motor turns for an inch of lift"),
            number("shorten_ft", "shorten", "ft", "feet taken out of the run, one way", "0 ft"),
        ),
        (
            *("--battery", "12.6 V", "--gauge", "10", "--length", "18 ft", "--torque", "1.2 N.m"),
            *("--constant", "0.04", "--winding", "0.12 ohm", "--shorten", "6 ft"),
        ),
        "bot.sums.catalogue.motor_point_flat",
    ),
    Sum(
        "fuse-time",
        "whether a fuse or breaker holds through a lift, and whether it suits its wire",
        (
            quantity("amps", "amps", "A", "current with the button held", required=True),
            number("rating_a", "rating", "A", "rating printed on the fuse", required=True),
            choice("kind", "kind", _FUSES, "kind of fuse or breaker", "blade"),
            number("seconds", "seconds", "s", "how long the lift lasts"),
            _GAUGE._replace(assumed=""),
            count("insulation_c", "insulation", "insulation rating in C, 75 or 105", "75"),
        ),
        ("--amps", "45 A", "--rating", "30 A", "--kind", "large blade", "--seconds", "40 s", "--gauge", "10"),
        "bot.sums.fuses.fuse_time",
    ),
    Sum(
        "battery",
        "charge from rested volts, inner resistance, lifts left",
        (
            quantity("volts_rest", "rest", "V", "volts at the posts at rest", required=True),
            choice("kind", "kind", ("lead", "lithium"), "kind of battery", "lead"),
            number("temp_f", "temp", "F", "temperature of the battery", "80 F"),
            quantity("volts_loaded", "loaded", "V", "volts at the posts, button held"),
            quantity("amps", "amps", "A", "amps, button held"),
            number("amp_hours", "amp-hours", "Ah", "amp-hours on the label"),
            number("lift_s", "lift", "s", "seconds of one lift"),
            number("cca_a", "cranking", "A", "cold cranking amps on the label"),
        ),
        (
            "--rest",
            "12.5 V",
            "--loaded",
            "12.0 V",
            "--amps",
            "30 A",
            "--amp-hours",
            "80 Ah",
            "--lift",
            "60 s",
        ),
        "bot.sums.battery.battery",
    ),
)
