"""One rule a hazard: whether a step must make it safe first, and what is asked before anybody goes on.

Sources: the order of lockout (prepare, shut down, isolate, lock, release stored energy, verify) is 29 CFR
1910.147(d); never under a load held by a jack alone: WAC 296-307-22509(3); blocking a jack's base:
29 CFR 1926.305(c); chocks and brakes: 29 CFR 1910.178(k)(1). The rest is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Rule:
    """How one hazard is held."""

    hazard: str
    hold: str  # the hold's name as shown
    needs_control: bool  # an earlier step must make it safe
    question: str  # asked where no step's own proof is at hand, or on top of it
    undo_question: str  # asked before a step that takes the control away
    cannot: str  # what to do if it cannot be made so here
    needs_truck: bool = False
    asked_once: bool = False  # stays answered until something breaks the walk, though no step controls it
    source: str = "common practice, no source"


RULES: dict[str, Rule] = {
    rule.hazard: rule
    for rule in (
        Rule(
            "raised nose",
            "hitched to the truck",
            True,
            "Is the truck hitched, the jaws closed round the kingpin, seen by eye with a light, and did it not part "
            "at a gentle tug against the trailer's brakes?",
            "Is everybody clear of the nose, and does something sure hold it before this step lets go of it?",
            "Without the truck under the nose no part that holds it up comes off. Leave it as it stands and keep "
            "people out from under it.",
            needs_truck=True,
            source="WAC 296-307-22509(3): nobody under a load held by a jack alone; 49 CFR 393.70(b): the coupling locks and stays locked",
        ),
        Rule(
            "rolling",
            "wheels chocked",
            True,
            "Are the wheels chocked at the front and at the back, on both sides, and does nothing roll at a push?",
            "Is everybody clear of the wheels and from between truck and trailer?",
            "On a slope that chocks do not hold, move to level ground first.",
            source="29 CFR 1910.178(k)(1): brakes set and wheels chocked",
        ),
        Rule(
            "motor start",
            "motor circuit open",
            True,
            "Is the motor's circuit open (fuse out and in your pocket, or the crank handle off and kept), and does the "
            "button do nothing, up and down?",
            "Are all hands, tools and covers clear of the gears, the shaft and the legs, and does everybody know that "
            "power is coming back?",
            "If you cannot find what opens the circuit, take the lead off the battery's minus post.",
            source="29 CFR 1910.147(d): isolate, lock, then try the switch",
        ),
        Rule(
            "live circuit",
            "battery lead off",
            True,
            "Is the lead off the battery's minus post, tucked where it cannot spring back, and rings and watches off?",
            "Are all bare ends covered, and are tools off the battery?",
            "If a charger or a solar panel feeds the battery, switch that off too, or leave the work to a shop.",
            source="29 CFR 1910.147(d): isolate, then verify",
        ),
        Rule(
            "hot part",
            "cooled down",
            True,
            "Has it cooled so that you can keep the back of your hand on it?",
            "Is everybody's skin clear of the part that will get hot?",
            "Wait. A motor that was stalled stays hot for half an hour or more.",
            source="ISO 13732-1 gives 51 C for a minute's touch of bare metal (value from memory)",
        ),
        Rule(
            "ground giving way",
            "ground carries it",
            True,
            "Do both feet or stands sit flat on pads, on ground that does not give when you push the nose?",
            "Is everybody clear of where the foot or stand could sink?",
            "On ground that gives, do no work that leans on it; hitch the truck and move.",
            source="IBC table 1806.2: presumptive bearing of soils, mud has none",
        ),
        Rule(
            "person under the nose",
            "nobody under the nose",
            True,
            "Is every person, child and animal out from under the nose and from between truck and trailer?",
            "Is every person, child and animal still out from under the nose?",
            "Do not go on while somebody is under it.",
        ),
        Rule(
            "stored energy",
            "stored energy let off",
            False,
            "Is the weight off this part, and will a spring, a pin or the crank handle meet nobody's face or hand if it lets go?",
            "Is everybody out of the way of a spring or handle that loads up again?",
            "If the weight cannot be taken off, leave the part where it is.",
            source="29 CFR 1910.147(d): release stored energy",
        ),
        Rule(
            "pinch",
            "hands clear",
            False,
            "Are fingers and sleeves clear of the places where tubes slide and gears mesh?",
            "Are fingers and sleeves clear?",
            "Use a bar, a strap or a drift where a finger would have to go.",
            asked_once=True,
        ),
        Rule(
            "heavy part",
            "second person or jack in place",
            False,
            "Is a second person or a jack taking the weight of the part before the last bolt comes out or goes in?",
            "Is the second person or the jack in place?",
            "A leg is more than one person lifts safely at arm's length: wait for help.",
            source="NIOSH 94-110: a low, far lift allows far less than 51 lb",
        ),
        Rule(
            "traffic",
            "clear of traffic",
            False,
            "Are you off the road, on the side away from traffic, with lights or triangles out?",
            "Are you still clear of traffic?",
            "If the trailer cannot leave the lane, stand behind a barrier and call for help.",
            asked_once=True,
        ),
    )
}
