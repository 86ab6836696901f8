"""What a person would see, hear or remember where physics does not settle it: chances, for a sound trailer and by cause.

Every figure is this simulator's own judgement (common practice, no source), set before any conversation was played.
A row: finding -> (chance of "yes" when nothing bears on it, {cause: chance of "yes" under it}).
"""

from __future__ import annotations

LOOKS: dict[str, tuple[float, dict[str, float]]] = {
    "ground_clean": (0.82, {"bad_ground": 0.1}),
    "battery_terminals_tight_and_clean": (0.85, {"battery_connection": 0.1, "battery_discharged": 0.7}),
    "shore_power_was_off": (0.35, {"battery_discharged": 0.75}),
    "worse_when_wet": (0.05, {
        "bad_ground": 0.28, "battery_connection": 0.12, "relay_or_controller_failed": 0.2, "switch_failed": 0.2,
        "supply_wire_open": 0.12, "ground_sinking_or_side_load": 0.6, "motor_failed": 0.12,
        "supply_high_resistance": 0.15,
    }),
    "new_battery": (0.07, {"battery_connection": 0.25, "bad_ground": 0.14, "supply_high_resistance": 0.12,
                           "motor_failed": 0.1}),
    "new_motor": (0.05, {
        "motor_undersized": 0.55, "bad_ground": 0.12, "supply_high_resistance": 0.15, "legs_out_of_step": 0.15,
        "battery_connection": 0.1, "relay_or_controller_failed": 0.1, "switch_failed": 0.08, "leg_binding": 0.08,
        "motor_failed": 0.05,
    }),
    "new_switch": (0.04, {"bad_ground": 0.1, "relay_or_controller_failed": 0.15, "fuse_or_breaker_open": 0.1,
                          "supply_wire_open": 0.12, "motor_failed": 0.12}),
    "switch_feels_wrong": (0.05, {"switch_failed": 0.5}),
    "stood_unused_long": (0.15, {"leg_binding": 0.6, "battery_discharged": 0.35, "drop_leg_or_pin": 0.3,
                                 "motor_failed": 0.25, "bad_ground": 0.2}),
    "front_storage_full": (0.38, {"overloaded_front": 0.92, "ground_sinking_or_side_load": 0.5,
                                  "motor_undersized": 0.5}),
    "heavier_than_usual": (0.1, {"overloaded_front": 0.7, "ground_sinking_or_side_load": 0.2}),
    "leg_visibly_bent": (0.02, {"leg_bent": 0.88, "mounting_loose": 0.08}),
    "leg_leans": (0.03, {"leg_bent": 0.6, "mounting_loose": 0.5, "ground_sinking_or_side_load": 0.45}),
    "leg_knocked": (0.05, {"leg_bent": 0.4, "mounting_loose": 0.4, "drop_leg_or_pin": 0.15,
                           "leg_bevel_gears_damaged": 0.08}),
    "drove_with_legs_down": (0.02, {"leg_bent": 0.5, "mounting_loose": 0.25, "drop_leg_or_pin": 0.1}),
    "leg_rocks_by_hand": (0.05, {"mounting_loose": 0.92, "leg_bent": 0.1, "leg_screw_or_nut_stripped": 0.15,
                                 "drop_leg_or_pin": 0.15}),
    "mounting_bolts_tight": (0.93, {"mounting_loose": 0.2, "leg_bent": 0.8}),
    "motor_body_swings": (0.02, {}),
    "play_at_foot": (0.07, {"leg_screw_or_nut_stripped": 0.65, "drop_leg_or_pin": 0.5, "mounting_loose": 0.35,
                            "leg_bent": 0.15}),
    "foot_sinking_or_tilted": (0.05, {"ground_sinking_or_side_load": 0.95, "overloaded_front": 0.15, "leg_bent": 0.15,
                                      "mounting_loose": 0.1}),
    "ran_past_the_end": (0.06, {"leg_jammed_at_end_of_travel": 0.65, "leg_bevel_gears_damaged": 0.25,
                                "gearbox_stripped": 0.25, "motor_shaft_sheared": 0.3, "cross_shaft_parted": 0.15}),
    "leg_at_end_of_travel": (0.1, {"leg_jammed_at_end_of_travel": 0.95}),
    "leg_can_be_pushed_up_by_hand": (0.02, {"leg_screw_or_nut_stripped": 0.9}),
    "extra_drop_of_leg": (0.02, {"leg_screw_or_nut_stripped": 0.5}),
    "clicking_at_top_of_leg": (0.03, {"leg_bevel_gears_damaged": 0.88, "leg_screw_or_nut_stripped": 0.08}),
    "clicking_at_motor": (0.03, {"gearbox_stripped": 0.55, "motor_shaft_sheared": 0.25,
                                 "leg_jammed_at_end_of_travel": 0.25}),
    "grinding_when_cranked": (0.04, {"gearbox_stripped": 0.6, "leg_bevel_gears_damaged": 0.5, "leg_binding": 0.35,
                                     "leg_bent": 0.35, "leg_screw_or_nut_stripped": 0.2}),
    "squeals": (0.07, {"leg_binding": 0.7, "leg_bent": 0.4, "ground_sinking_or_side_load": 0.25, "mounting_loose": 0.1,
                       "overloaded_front": 0.15}),
    "pin_missing": (0.02, {"motor_shaft_sheared": 0.12, "drop_leg_or_pin": 0.12}),
    "tapping_helps": (0.015, {"relay_or_controller_failed": 0.03}),
    "switch_jiggle_helps": (0.015, {}),
    "wire_warm": (0.03, {}),
}  # fmt: skip

# What a hand crank has not got.
NEEDS_MOTOR = {
    "ground_clean", "battery_terminals_tight_and_clean", "shore_power_was_off", "new_battery", "new_motor", "new_switch",
    "switch_feels_wrong", "motor_body_swings", "clicking_at_motor", "tapping_helps", "switch_jiggle_helps", "wire_warm",
    "same_fault_after_motor_swap",
}  # fmt: skip
# What somebody whose drive runs well calls about; else they would not call. At least one is plain to see.
MAIN = {
    "legs_out_of_step": {"legs_uneven": "yes"},
    "drop_leg_or_pin": {"drop_leg_slides": "no", "pin_stays_seated": "no", "extra_drop_of_leg": "yes"},
    "mounting_loose": {"leg_rocks_by_hand": "yes", "leg_leans": "yes"},
    "ground_sinking_or_side_load": {"foot_sinking_or_tilted": "yes"},
}
# Looks that need the drive to move before they can be seen or heard at all.
NEEDS_TURNING = {"clicking_at_top_of_leg", "squeals", "clicking_at_motor"}


def chance_of_yes(finding: str, causes: tuple[str, ...], more: dict[str, float]) -> float:
    """The chance of "yes": of the cause that moves it furthest from what a sound trailer shows."""
    base, by_cause = LOOKS[finding]
    seen = [by_cause[c] for c in causes if c in by_cause] + ([more[finding]] if finding in more else [])
    return max(seen, key=lambda p: abs(p - base)) if seen else base
