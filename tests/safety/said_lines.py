"""Steps that say an act, and the label that such an act wants: one line for each word the check knows.

The words between stars are what the check is to hear. They are the acts of this job as its pages say them (common
practice, no source), in sentences written for the test alone; beside each list: the controls in force and the
hazards that the step has already.
"""

from __future__ import annotations

from typing import NamedTuple


class Acts(NamedTuple):
    """Lines that all want one label."""

    label: str
    hazard: str
    lines: tuple[str, ...]
    force: tuple[str, ...] = ()
    listed: tuple[str, ...] = ("traffic",)
    alone: bool = False  # wanted even where the step has no other hazard


ACTS = (
    Acts("makes safe", "rolling", (
        "*Chock the* wheels at both ends.", "In the cab, *set its parking brake* firmly.")),
    Acts("makes safe", "person under the nose", (
        "*Send everybody* aside.", "*Ask children* to stand by the truck.", "Then *get everyone* behind you.",
        "First: *everybody out* of the way.", "Look whether *nobody is below* it.", "See that *people are away* from it.",
        "Nobody may *work below the nose* but one.")),
    Acts("makes safe", "ground giving way", (
        "*Lay a wide* board.", "*Look at both feet* for a minute.", "*Look at feet* and boards.",
        "Bring each *rated stand on its pad* to its place.", "Then *wait ten minutes* for the ground.")),
    Acts("makes safe", "motor start", (
        "*Take the fuse out* of its holder.", "*Pull both fuses out* now.", "*Take out the motor fuse and keep* it.",
        "*Take fuses, whichever there are, out* of the box.",
        "*Pull the fuses of* two motors.", "*take the fuses of* the leg circuit", "Then *take the minus lead off* the post.",
        "*Take the crank handle off and keep* it.")),
    Acts("makes safe", "live circuit", ("At the post, *take the minus lead off* with a wrench.",)),
    Acts("makes safe", "raised nose", ("Back under until the *jaws close round* the pin.",)),
    Acts("makes safe", "hot part", ("Let it *cool until* a hand stays on it.",)),
    Acts("hazard", "raised nose", (
        "In the cab, *set its parking brake* firmly.", "Let it *cool until* a hand stays on it.",
        "*Slide both stands* aside.", "*Slide the stands* aside.", "Clear away *stands or crib* at the end."),
        ("raised nose",), alone=True),
    Acts("hazard", "rolling", (
        "Back under until the *jaws close round* the pin.", "*Look at both feet* for a minute.",
        "Bring each *rated stand* to its place.", "*Lay a wide pad on* the grass."), ("rolling",), alone=True),
    Acts("hazard", "hot part", ("Then *unplug* it.", "*Undo the motor bolts* in turn."), ("hot part",)),
    Acts("hazard", "live circuit", ("Then *unplug* it.",), ("live circuit", "motor start")),
    Acts("hazard", "stored energy", (
        "*Drive what* is left through.", "*Drive the pin out* with a drift.", "*Drive one shaft pin* through.",
        "Knock the *pin out* with a drift.", "Knock both *pins out* with a drift.", "Turn it back until there is *no twist*.",
        "Let the *twist out* slowly.", "Stand beside its *swing*.", "*Turn the way* that frees it.",
        "By hand, in *easy turns*, bring it up.", "*Slide each drop leg* by hand.", "Draw the *motor straight off* by hand.",
        "Now *take the motor off* its plate.", "*Draw the pin* by its ring.", "*Draw one pin* by its ring.",
        "Put *pin and spring* in their hole.", "Put the *handle on, turn* it slowly.", "*Rock the gear* a little.",
        "*Rock the leg* a little.", "Beware of a *fine jet* of oil.", "Keep a steady *pull on the wrench* meanwhile.",
        "*Wind both legs down* slowly.")),
    Acts("hazard", "heavy part", (
        "This takes *two people* at once.", "The *second person carrying* it goes first.",
        "With a *second person steadying* it.", "Then *lift it out* slowly.", "*Lift the leg* by its top.",
        "*Lift the drop leg* by its foot.", "*Lift the gearbox* by its lugs.", "Set it in and *strap it down* well.",
        "Bring a *jack with a flat block* below it.", "Draw the *shaft off this leg's stub and tie* it.",
        "*Carry the* box aside.", "*Draw the pin* by its ring.", "*Draw one pin* by its ring.", "Draw the *wood out* with a hook.",
        "Draw the *wood away* with a hook.", "Lay the *timbers* crosswise.", "Take the *crib layers* one by one.",
        "Push the *pad in from the side* with a stick.", "Now *move the motor* over.", "Keep *fingers out from below* it.")),
    Acts("hazard", "ground giving way", (
        "*Run this leg down* a little.", "*Wind it down* a little.", "Let both *take weight* slowly.", "The left one *down first*.",
        "Bring each *rated stand* to its place.", "Put a *rated jack* beside it.", "Put *wood below the foot of* this one.",
        "Bring a *jack with a flat block* below it.", "Raise it *with the jack* slowly.", "A *crib:* four pieces a layer.",
        "A *stand:* one each side.", "Bring it *up to the rail* by its screw.", "*Push the nose* from the side.",
        "Take the *crib layers* one by one.", "Nobody may *work below the nose* but one.", "*Lift the nose* a hand's width.",
        "That makes the *legs longer* again.", "Put the *handle on, turn* it slowly.", "Push the *handle fully* home.",
        "Stand beside the *handle's swing* always.", "Take the *handle off the shaft* again.", "*Carry the heavy* box aside.",
        "Let the *water tank* run empty.", "Tie *each thing where it stands* now."), ("ground giving way",)),
    Acts("hazard", "person under the nose", (
        "Bring each *rated stand* to its place.", "Put a *rated jack* beside it.", "Feel along the *frame rail* there.",
        "A *crib:* four pieces a layer.", "A *stand:* one each side.", "Bring it *up to the rail* by its screw.",
        "*Push the nose* from the side.", "*Lay a wide pad* there.", "Put the *handle on* its square.",
        "Take the *handle off* its square.", "By hand, in *easy turns*, bring it up.", "Reach the *motor from the side* only.",
        "As far as *seen from the side* only.", "Follow the *hoses* by eye.", "Push the *pad in from the side* with a stick.",
        "*Rake the spot* level."), ("person under the nose",)),
    Acts("hazard", "pinch", (
        "Back under until the *jaws close round* the pin.", "*Run the* left one a little.", "*Run both* a little.",
        "*Wind the* left one a little.", "*Wind both* a little.", "*Press the button* a second.", "Look into the *crank socket* first.",
        "Bring each *rated stand* to its place.", "Put a *rated jack* beside it.", "Put *wood* there.", "*Lift the* left side.",
        "Take the *stands out* again.", "Take the *stand out* again.", "A *stand or* a block.", "*Tie or wedge* it.",
        "Lay a *crib* there.", "A *stand:* one each side.", "Bring it *up to the rail* by its screw.", "A *jack with* a head.",
        "Offer up the *new leg* there.", "*Tie the run* along its way.", "Both *side by side* on it."), listed=("rolling",)),
    Acts("hazard", "pinch", ("*Away from the trailer, move* it over.", "Fit it *on the bench* first.")),
    Acts("hazard", "traffic", ("Get clear of *moving traffic* first.", "Weigh it at the *next scale* then."), listed=("pinch",)),
)  # fmt: skip
#: Words near those above that are no such act.
NOT_SAID = (
    Acts("makes safe", "person under the nose", (
        "Gas smell: everybody out at once.", "Everybody out, no flame, no switch.")),
    Acts("makes safe", "motor start", ("Take the fuse cover by its lugs.", "Look at the fuse and keep still.")),
    Acts("hazard", "stored energy", (
        "Drive the pin out of the gear.", "Both pins out of the gear.", "Draw the motor straight off the gearbox.",
        "Look at the swinging door.", "Take the spin outside.")),
    Acts("hazard", "heavy part", ("Draw the shaft off, lay it by the wheel, and then stub and tie.",)),
    Acts("hazard", "ground giving way", ("Run it on and on until at long last it is down.",), ("ground giving way",)),
    Acts("hazard", "pinch", ("Lay plywood there.", "Tieback or wedges."), listed=("rolling",)),
)  # fmt: skip
