"""What people say of each symptom, written for this simulator alone: several ways each, none taken from elsewhere.

A key is "finding value". {side} and {other} stand for the sides, {n} for a number.
"""

from __future__ import annotations

GEAR = {
    "one_motor": (
        "single electric motor and a cross bar to the other leg", "one gear motor with a bar across",
        "the 12 volt kind, one motor for both legs", "one motor, rod going over to the far leg",
        "it has a single motor and a shaft running across",
    ),
    "two_motor": (
        "each front leg has its own motor", "a motor on each leg", "two motors, one per leg",
        "both landing legs have a motor of their own", "separate motors left and right",
    ),
    "manual": (
        "hand crank gear, no motor", "the crank kind, no electrics", "we crank it by hand, there is no motor",
        "manual landing gear with a crank handle", "no motor on it, just a crank",
    ),
}  # fmt: skip

TASKS = {
    "extend": ("trying to lift the nose off the truck", "unhitching at the storage lot", "setting up for the weekend",
               "wanted to raise the front to get off the hitch", "dropping the trailer in the driveway"),
    "retract": ("hooked up and ready to go home", "trying to pull out of the site", "packing up, truck is under it",
                "getting ready to tow", "wanted to bring the legs up for the road"),
}  # fmt: skip

HEARD = {
    "silent": (
        "push the button and the landing gear does nothing, no noise", "not a sound when the leg switch is pressed",
        "the landing gear switch is dead, nothing happens", "total silence from the front legs when I hit the switch",
        "I press the button and hear nothing at all, legs stay put",
    ),
    "clicks": (
        "all I hear is a click when I push the leg button", "it clicks once and that is it, the legs do not run",
        "press the switch, get a click, no motor", "one click from somewhere and the landing gear does not go",
        "there is a clicking noise on the button and nothing turns",
    ),
    "hums": (
        "the leg motor just hums and does not turn", "it hums when I hold the button and nothing turns",
        "motor makes a humming noise but will not turn", "a low hum from the motor, it is not turning",
        "it buzzes and hums, the motor will not spin",
    ),
    "motor_runs neither": (
        "motor runs but the legs do not move", "I can hear the motor spinning, neither leg moves",
        "the motor turns fine but nothing happens at the legs", "motor is running and both legs stay where they are",
    ),
}  # fmt: skip

MOVES = {
    "left": (
        "only the driver side leg moves, the passenger side one stays", "right front leg does not move, left one does",
        "the left leg goes and the right leg does not move", "passenger side landing leg stays put while the driver side works",
    ),
    "right": (
        "only the passenger side leg moves, the driver side one stays", "left front leg does not move, right one does",
        "the right leg goes and the left leg does not move", "driver side landing leg stays put while the passenger side works",
    ),
    "neither": (
        "neither leg moves", "both front legs stay where they are", "no movement on either leg",
        "neither landing leg will move",
    ),
    "both slow": (
        "legs move but really slow", "both front legs run much slower than they used to", "landing gear is crawling",
        "it takes forever, the legs are running slow", "the motor is slow and labours with both legs",
    ),
    "both": (
        "both legs move", "both front legs do run", "the legs go up and down",
    ),
}  # fmt: skip

MANUAL = {
    "stiff": ("the crank is very hard to turn", "takes two hands on the crank and still hardly moves",
              "cranking the landing gear has become really heavy"),
    "locked": ("the crank will not turn at all", "crank handle is stuck solid", "I cannot turn the crank either way"),
    "free": ("crank spins with no effort and neither leg moves", "the crank turns easily but the legs do not move",
             "I can crank all day, nothing happens at the legs"),
    "left": ("when I crank only the left leg moves, the right one stays", "cranking moves the driver side leg only"),
    "right": ("when I crank only the right leg moves, the left one stays", "cranking moves the passenger side leg only"),
    "both": ("both legs move when I crank", "it cranks and both legs go"),
}  # fmt: skip

DIRECTION = {
    "extend": ("it goes down but not up", "legs will extend, they will not retract", "down works, up does not"),
    "retract": ("it goes up but not down", "legs will retract but not extend", "up works, down does not"),
}  # fmt: skip

# Things people add when they have noticed them; finding -> (chance to mention it, ways).
ADDED: dict[str, tuple[float, tuple[str, ...]]] = {
    "lights_dim_when_button_pressed": (0.45, ("the lights dim when I press it", "cabin lights go dim on the button",
                                              "inside lights drop low when I push the button")),
    "lights_dead_too": (0.6, ("the lights inside are dead as well", "interior lights do not work either")),
    "worse_when_wet": (0.6, ("it is worse when it rains", "always happens after rain")),
    "new_battery": (0.7, ("put in a new battery last week", "battery is brand new")),
    "new_motor": (0.8, ("already put a new motor on it", "the motor was replaced this spring")),
    "new_switch": (0.75, ("new switch did not help", "I replaced the switch already")),
    "switch_feels_wrong": (0.55, ("the switch feels loose and mushy", "switch feels sloppy")),
    "switch_jiggle_helps": (0.35, ("if I wiggle the switch it sometimes works", "wiggling the button gets it going at times")),
    "tapping_helps": (0.12, ("tapping on the motor got it going once", "it runs if I tap the motor")),
    "stood_unused_long": (0.5, ("it sat unused all winter", "trailer has been parked for a year")),
    "heavier_than_usual": (0.55, ("we loaded more in the front than usual", "front is heavier than on other trips")),
    "front_storage_full": (0.2, ("front compartment is packed full", "the front storage is full")),
    "leg_visibly_bent": (0.6, ("one leg looks bent", "you can see the leg is bent")),
    "leg_leans": (0.45, ("one leg leans to the side", "the leg is leaning")),
    "leg_knocked": (0.6, ("I hit the leg on a curb", "the leg got hit by a rock")),
    "drove_with_legs_down": (0.65, ("we drove off with the legs still down", "it was moved with the legs down")),
    "leg_rocks_by_hand": (0.45, ("the leg wobbles where it is bolted on", "I can rock the leg by hand")),
    "motor_body_swings": (0.5, ("the whole motor twists when it runs", "the motor body turns in its mount")),
    "foot_sinking_or_tilted": (0.6, ("the foot is sinking into the ground", "the foot sits tilted in the dirt")),
    "ran_past_the_end": (0.5, ("I kept holding the button after it reached the end", "ran it against the stop")),
    "leg_at_end_of_travel": (0.4, ("one leg is all the way in", "a leg is at the end of its travel")),
    "extra_drop_of_leg": (0.65, ("the leg came down by itself on the road", "a leg slid down on its own")),
    "clicking_at_top_of_leg": (0.5, ("there is clicking at the top of the leg", "something pops up in the leg head")),
    "clicking_at_motor": (0.4, ("hear a ratcheting noise at the gearbox", "clicking at the motor gearbox")),
    "squeals": (0.5, ("the legs squeal", "it groans and squeals while moving")),
    "pin_missing": (0.25, ("a pin is missing from the cross shaft", "there is an empty hole in the bar where a pin was")),
    "runs_faster_than_usual": (0.5, ("motor sounds faster than normal", "the motor races")),
    "breaker_trips": (0.5, ("the breaker trips", "it keeps tripping the breaker")),
    "breaker_reset_helped": (0.35, ("resetting the breaker got it going for a moment",)),
    "legs_uneven": (0.55, ("one leg is longer than the other", "legs are not even")),
    "shore_power_was_off": (0.3, ("we were off grid for three days", "it was unplugged all week")),
    "wire_warm": (0.25, ("the wire gets warm", "wire to the motor feels hot")),
    "battery_low": (0.3, ("battery looks low on the panel", "the battery is low")),
    "jumper_to_ground_helped": (0.05, ("with a jumper lead from battery minus it runs fine",)),
    "one_direction_only_at_relay": (0.04, ("the relay only puts out one way",)),
}  # fmt: skip
ADDED_NO: dict[str, tuple[float, tuple[str, ...]]] = {
    "pin_stays_seated": (0.6, ("the drop leg pin will not stay in", "the pull pin keeps falling out")),
    "drop_leg_slides": (
        0.6,
        ("the drop leg is stuck and will not slide", "lower tube of the leg will not slide"),
    ),
    "fuse_ok": (0.12, ("the fuse is blown",)),
    "ground_clean": (0.06, ("ground wire is rusty at the frame",)),
    "battery_terminals_tight_and_clean": (0.12, ("battery terminals are corroded",)),
    "crank_turns_freely": (0.15, ("cranking it by hand is very hard", "the crank is hard to turn")),
}

OUTSIDE = {
    "hydraulic_system_out_of_scope": (
        "my hydraulic front legs leak oil and will not lift", "hydraulic landing gear pump runs, front does not come up",
        "hydraulic level system, oil under the front jacks",
    ),
    "not_landing_gear": (
        "my slide-out is stuck half way out", "the awning will not roll in", "trailer brakes drag on one wheel",
        "the entry step does not fold", "rear stabilizer jack motor does not run",
    ),
}  # fmt: skip

OPENINGS = ("", "", "", "hi, ", "hello. ", "help. ", "fifth wheel here: ", "so ", "ok so ", "question: ")
CLOSINGS = ("", "", "", ", any idea?", ", what now?", ". checkout is at eleven", ". kids are getting hungry",
            ". it was fine last month", ", first time this happened")  # fmt: skip
