"""One rule a hazard: what makes it safe, how that is seen, which sum must pass, what undoes it, what to do if not.

Sources: the order of lockout (prepare, shut down, isolate, lock, release stored energy, verify) is 29 CFR
1910.147(d); never under a load held by a jack alone: WAC 296-307-22509(3); a jack's rating marked and its base
blocked: 29 CFR 1926.305(a), (c); chocks and brakes: 29 CFR 1910.178(k)(1). The rest is common practice, no source.
"""

from __future__ import annotations

from bot.frozen import dataclass


@dataclass(frozen=True)
class Rule:
    """How one hazard is held."""

    hazard: str
    hold: str  # the hold's name as shown
    needs_control: bool  # an earlier step must make it safe
    safe_when: str  # what makes it safe
    seen_by: str  # how a person sees that it is so
    undone_by: str  # what takes it away again
    question: str  # asked where no step's own proof is at hand, or on top of it
    undo_question: str  # asked before a step that takes the control away
    cannot: str  # what to do if it cannot be made so here
    sum: str = ""  # the sum that must pass before the stop opens
    needs_truck: bool = False
    asked_once: bool = False  # stays answered until something breaks the walk, though no step controls it
    implied_by: frozenset[str] = frozenset()  # hazards beside which it is asked, though no step lists it
    # ... unless this hazard, whose question says the same, was listed or made safe before, and not undone since
    covered_by: str = ""
    where: frozenset[str] = (
        frozenset()
    )  # conditions told (dark, rain ...) in which it is asked without a label
    beside: frozenset[str] = frozenset()  # ... at steps with one of these hazards; with any, where empty
    source: str = "common practice, no source"


_WEIGHT = frozenset(
    ("raised nose", "overloaded stand", "person under the nose", "heavy part", "stored energy")
)

RULES: dict[str, Rule] = {
    rule.hazard: rule
    for rule in (
        Rule(
            "raised nose",
            "hitched to the truck",
            True,
            "the truck is hitched and its jaws are closed round the kingpin",
            "a look at the jaws with a light, then a gentle tug against the trailer's brakes",
            "the truck pulls out, the release handle is drawn, or nobody has looked since",
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
            "chocks at the front and at the back of the wheels on both sides",
            "the chocks sit tight and nothing rolls at a push",
            "a chock comes out, or the ground under it gives",
            "Are the wheels chocked at the front and at the back, on both sides, and does nothing roll at a push?",
            "Is everybody clear of the wheels and from between truck and trailer?",
            "On a slope that chocks do not hold, move to level ground first.",
            where=frozenset(("slope",)),
            source="29 CFR 1910.178(k)(1): brakes set and wheels chocked",
        ),
        Rule(
            "motor start",
            "motor circuit open",
            True,
            "fuse out and in the pocket of whoever works, remote in the same pocket, crank handle off",
            "the button does nothing, up and down",
            "the fuse or the handle goes back, somebody has another fuse, or a relay sticks and the lead is on",
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
            "the lead is off the battery's minus post, and charger and solar panel are off",
            "the lead is tucked where it cannot spring back, and a meter or a lamp shows nothing",
            "the lead, a charger or a solar panel goes back on",
            "Is the lead off the battery's minus post, tucked where it cannot spring back, and rings and watches off?",
            "Are all bare ends covered, and are tools off the battery?",
            "If a charger or a solar panel feeds the battery, switch that off too, or leave the work to a shop.",
            source="29 CFR 1910.147(d): isolate, then verify",
        ),
        Rule(
            "hot part",
            "cooled down",
            True,
            "it was left alone until it cooled",
            "the back of a hand stays on it",
            "the motor is run or stalled again",
            "Has it cooled so that you can keep the back of your hand on it?",
            "Is everybody's skin clear of the part that will get hot?",
            "Wait. A motor that was stalled stays hot for half an hour or more.",
            source="ISO 13732-1 gives 51 C for a minute's touch of bare metal (value from memory)",
        ),
        Rule(
            "ground giving way",
            "ground carries it",
            True,
            "feet and stands sit flat on pads wide enough for this ground",
            "nothing sinks or tilts when the nose is pushed, nor after ten minutes",
            "rain, thaw, or the load moved to another foot",
            "Do both feet or stands sit flat on pads, on ground that does not give when you push the nose?",
            "Is everybody clear of where the foot or stand could sink?",
            "On ground that gives, do no work that leans on it; hitch the truck and move.",
            sum="foot",
            where=frozenset(("soft ground", "rain")),
            beside=_WEIGHT,
            source="IBC table 1806.2: presumptive bearing of soils, mud has none",
        ),
        Rule(
            "overloaded stand",
            "stands carry it",
            False,
            "each stand or crib is rated above the load worked out for it",
            "the rating marked on it, catch and pin seated, upright on its pad",
            "the load grows, a stand is taken away or shifts",
            "Is every stand or crib that goes under the one that was worked out, wide at its base, with a pad below it and "
            "its catch and pin whole?",
            "Is everybody out from under the nose before a stand goes?",
            "A stand that is not rated for the load does not count. Leave it out, and do not reach below the nose.",
            sum="stand",
            source="29 CFR 1926.305(a), (c): rating marked and kept, base blocked; cribs: fire-service figures",
        ),
        Rule(
            "person under the nose",
            "nobody under the nose",
            True,
            "everybody is out from under the nose and from between truck and trailer",
            "you can see every person and count them",
            "somebody reaches or crawls under again",
            "Is every person, child and animal out from under the nose and from between truck and trailer?",
            "Is every person, child and animal still out from under the nose?",
            "Do not go on while somebody is under it.",
        ),
        Rule(
            "stored energy",
            "stored energy let off",
            False,
            "the weight is off the part and nothing is wound up",
            "the part moves by hand without a push behind it",
            "the leg takes weight again, a spring is pressed, the handle is turned",
            "Is the weight off this part, and will a spring, a pin or the crank handle meet nobody's face or hand if it lets go?",
            "Is everybody out of the way of a spring or handle that loads up again?",
            "If the weight cannot be taken off, leave the part where it is.",
            source="29 CFR 1910.147(d): release stored energy",
        ),
        Rule(
            "pinch",
            "hands clear",
            False,
            "a bar, a strap or a drift goes where a finger would have to",
            "no hand, sleeve or cord is near tubes that slide or gears that mesh",
            "somebody reaches in",
            "Are fingers and sleeves clear of the places where tubes slide and gears mesh?",
            "Are fingers and sleeves clear?",
            "Use a bar, a strap or a drift where a finger would have to go.",
            asked_once=True,
        ),
        Rule(
            "heavy part",
            "second person or jack in place",
            False,
            "a second person or a jack has the weight before the last bolt is out",
            "the part does not drop when the bolt is loosened",
            "the second person lets go",
            "Is a second person or a jack taking the weight of the part before the last bolt comes out or goes in?",
            "Is the second person or the jack in place?",
            "A leg is more than one person lifts safely at arm's length: wait for help.",
            sum="carry",
            source="NIOSH 94-110: a low, far lift allows far less than 51 lb",
        ),
        Rule(
            "children and animals",
            "children and animals held elsewhere",
            False,
            "somebody else has them, well away from the trailer and from the button",
            "you know who has them and where",
            "they come back",
            "Are children and animals away from the trailer and the button, with somebody who has nothing else to do?",
            "Are children and animals still away?",
            "Alone with children or animals: shut them in the truck or a pen first, with air and out of the sun.",
            asked_once=True,
            implied_by=frozenset(("raised nose", "rolling", "motor start", "pinch", "stored energy")),
            covered_by="person under the nose",
        ),
        Rule(
            "traffic",
            "clear of traffic",
            False,
            "the rig is off the road, work is on the side away from it",
            "lights or triangles are out and seen from both ways",
            "anybody steps to the traffic side",
            "Are you off the road, on the side away from traffic, with lights or triangles out?",
            "Are you still clear of traffic?",
            "If the trailer cannot leave the lane, stand behind a barrier and call for help.",
            asked_once=True,
            where=frozenset(("traffic",)),
        ),
        Rule(
            "bad light",
            "light on the work",
            False,
            "a lamp that stands by itself shows the work, the jaws, the feet and every hand",
            "the shadow of your hand falls away from the part, not on it",
            "the lamp goes out, or the work moves out of its light",
            "Does a lamp that stands by itself show this part, the jaws, both feet and every hand?",
            "Is the lamp still on?",
            "Wait for daylight; as it stands it keeps. Nobody works at the nose by the light of a telephone.",
            asked_once=True,
            where=frozenset(("dark",)),
            source="29 CFR 1926.56: 5 foot-candles for general work (value from memory); the rest common practice",
        ),
    )
}
