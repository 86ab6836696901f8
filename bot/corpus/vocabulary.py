"""The closed word lists of the corpus: what a page may say, and what each word stands for.

Technicians write these words; the reader checks pages against them and `scripts/author_guide.py` prints them.
The numbers behind the scale words are the team's judgement, not field data.
"""

from __future__ import annotations

GEARS = ("manual", "one_motor", "two_motor", "hydraulic")
GEAR_WORDS = {
    "manual": "hand crank",
    "one_motor": "one motor with a cross shaft",
    "two_motor": "a motor on each leg",
    "hydraulic": "hydraulic",
}

LINKS = (
    "battery",
    "fuse",
    "supply wire",
    "ground",
    "switch",
    "relay",
    "motor",
    "gearbox",
    "cross shaft",
    "leg",
    "foot",
    "mounting",
    "load",
    "none",
)

# What a finding is worth under a cause. Closed, so that a technician compares words, never digits.
SCALE = {"never": 0.01, "rarely": 0.08, "sometimes": 0.35, "often": 0.75, "nearly always": 0.96}
HOW_COMMON = {"very common": 8.0, "common": 4.0, "uncommon": 2.0, "rare": 1.0}
# Weight of "something this corpus does not know" beside the causes above.
SOMETHING_ELSE = 1.0

TOOLS = (
    "none",
    "meter",
    "clamp meter",
    "crank handle",
    "wrench",
    "hammer",
    "punch",
    "pin punch",
    "jumper lead",
    "tape",
    "scale",
    "jack",
    "grease gun",
    "wire brush",
    "light",
    "crimp tool",
    "torque wrench",
    "straightedge",
    "puller",
    "socket set",
    "screwdriver",
    "pliers",
    "stands",
    "chocks",
    "pad",
)

HAZARDS = (
    "raised nose",
    "rolling",
    "motor start",
    "live circuit",
    "stored energy",
    "pinch",
    "heavy part",
    "hot part",
    "ground giving way",
    "overloaded stand",
    "person under the nose",
    "children and animals",
    "traffic",
)

REACHES = ("outside", "beside", "under", "opened")
BUTTON = ("held", "at rest", "not used")
PART_COSTS = ("no part", "cheap part", "dear part")
# What a parts list of the user's own may say of a part that is held against the case.
PARTS_LIST_MATCHED = ("outer tube", "inner tube", "stroke", "rating", "mounting", "shaft")
REMOVABLE = ("leg", "motor", "gearbox", "shaft", "pin")

# Words in a step that show it could hurt somebody; such a step must carry a label that says how.
TRIGGER_WORDS = ("jack", "stand", "stands", "fuse", "battery", "weld", "under", "gear", "gears", "pin")

CHECK_UNITS = ("V", "A", "AWG", "ft", "in", "lb", "ohm", "s", "turns")

CIRCUIT_ELEMENTS = {
    "battery charge": "%",
    "battery inner": "mohm",
    "joint at battery": "mohm",
    "feed wire": "mohm",
    "fuse": "mohm",
    "switch": "mohm",
    "relay": "mohm",
    "motor leads": "mohm",
    "ground path": "mohm",
    "load torque": "times",
}
CIRCUIT_BREAKS = ("battery joint", "feed wire", "fuse", "switch", "relay", "motor", "ground path")
MOTOR_STATES = ("unloaded", "locked", "weak")

HEADS: dict[str, dict[str, bool]] = {  # label -> must be there
    "causes": {
        "title": True,
        "cause": True,
        "fits": True,
        "how common": True,
        "link": True,
        "mends": True,
        "costs if wrong": True,
        "source": True,
        "second reading": False,
        "told by": False,
        "pointer": False,
    },
    "checks": {
        "title": True,
        "finding": True,
        "answer": True,
        "plausible": False,
        "fits": True,
        "link": True,
        "minutes": True,
        "tool": True,
        "people": True,
        "button": True,
        "reach": True,
        "hazard": True,
        "needs weight off": True,
        "otherwise": False,
        "at a standstill": False,
        "stands in for": False,
        "follows from": False,
        "asked": False,
        "source": True,
        "second reading": False,
    },
    "procedures": {
        "title": True,
        "fits": True,
        "mends": True,
        "link": True,
        "for": True,
        "needs leg off": True,
        "needs truck": True,
        "people": True,
        "minutes": True,
        "tool": True,
        "source": True,
        "second reading": False,
    },
    "guides": {
        "title": True,
        "fits": True,
        "link": True,
        "for": True,
        "source": True,
        "second reading": False,
    },
    "parts": {
        "title": True,
        "part": True,
        "causes": True,
        "fits": False,
        "link": True,
        "guide": False,
        "source": True,
        "second reading": False,
    },
    "words": {"title": True, "source": False},
}

SECTIONS: dict[str, dict[str, bool]] = {  # heading -> must be there; guides and words have free headings
    "causes": {
        "What it is": True,
        "How it comes about": False,
        "What one sees, hears, measures": True,
        "Expect": True,
        "Circuit": False,
        "Mistaken for": False,
        "What mends it": True,
        "Stop-gap": False,
        "What to order": True,
        "Also called": False,
    },
    "checks": {
        "Ask the owner": True,
        "Ask the caller": True,
        "Ask a tech": True,
        "How": True,
        "What it means": True,
        "Usual mistakes": False,
        "Choices": False,
        "Also called": False,
    },
    "procedures": {
        "Use when": True,
        "Before you start": True,
        "What is dangerous where": True,
        "Steps": True,
        "Prove it": True,
        "What to order": False,
        "Also called": False,
    },
    "parts": {
        "Points": True,
        "Match": False,
        "Photographs": False,
        "Before you order": False,
        "Also called": False,
    },
}

STEP_LABELS = (
    "hazard",
    "makes safe",
    "undoes",
    "done when",
    "tool",
    "torque",
    "removes",
    "opens gears",
    "photograph",
    "measure",
)
