"""Labels that a step must carry because of what stands beside them or of what the step says is done.

A label that was left out is silent: the step looks harmless and no stop is derived. Two kinds of rule
make it speak. `BESIDE` knows which hazards of this job come together while their controls are in force;
`SAID` knows the words of the acts themselves. Both err to the side of one label more. Common practice,
no source, but for the order of lockout (29 CFR 1910.147(d) and (e)): a control that was put on stays in
mind until a step takes it off.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from bot.corpus.model import Procedure, Step
from bot.frozen import dataclass
from bot.problems import Problem

Names = frozenset[str]


def _of(*hazards: str) -> Names:
    return frozenset(hazards)


@dataclass(frozen=True)
class When:
    """When a rule looks at a step: controls in force or not, labels it has or has not."""

    in_force: Names = _of()
    not_in_force: Names = _of()
    lists: Names = _of()
    unless: Names = _of()
    making: Names = _of()  # not at a step that makes one of these safe

    def holds(self, step: Step, force: Names) -> bool:
        """Whether the rule looks at this step."""
        return (
            self.in_force <= force
            and not self.not_in_force & force
            and self.lists <= set(step.hazards)
            and not self.unless & set(step.hazards)
            and not self.making & set(step.makes_safe)
        )


@dataclass(frozen=True)
class Beside:
    """A step of which `when` holds lists `also`."""

    also: str
    when: When
    why: str
    but: re.Pattern[str] | None = None  # an act that this does not go for


def _words(text: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{text})", re.I)


_HANGS = "the nose hangs on the truck as long as this goes on"
_OPEN = "the circuit is held open because hands are at the gear"
_LEAD = "the lead is off because bare metal is touched"
_DRIVEN = "the legs can be driven here"
BESIDE = (
    Beside(
        "rolling",
        When(in_force=_of("rolling"), lists=_of("raised nose")),
        "where the nose can come down the trailer can roll too",
    ),
    Beside(
        "rolling",
        When(in_force=_of("rolling"), lists=_of("person under the nose")),
        "who has to stay out from below the nose has to stay clear of a trailer that rolls",
        _words("look along"),
    ),
    Beside("raised nose", When(in_force=_of("raised nose"), lists=_of("rolling")), _HANGS),
    Beside("raised nose", When(in_force=_of("raised nose"), lists=_of("motor start")), _HANGS),
    Beside(
        "raised nose",
        When(
            in_force=_of("raised nose"),
            making=_of("person under the nose", "motor start"),
            unless=_of("heavy part", "pinch"),
        ),
        _HANGS,
    ),
    Beside(
        "motor start",
        When(in_force=_of("motor start"), lists=_of("raised nose"), making=_of("rolling")),
        _OPEN,
    ),
    Beside("motor start", When(in_force=_of("motor start"), lists=_of("pinch", "ground giving way")), _OPEN),
    Beside(
        "motor start", When(in_force=_of("motor start", "live circuit"), lists=_of("live circuit")), _OPEN
    ),
    Beside(
        "live circuit",
        When(
            in_force=_of("motor start", "live circuit"),
            not_in_force=_of("raised nose"),
            lists=_of("motor start"),
            unless=_of("ground giving way"),
        ),
        _LEAD,
    ),
    Beside(
        "pinch",
        When(
            lists=_of("raised nose", "rolling"),
            unless=_of("ground giving way"),
            making=_of("person under the nose"),
        ),
        "the gear or the hitch can move here",
    ),
    Beside("pinch", When(lists=_of("rolling", "stored energy")), "what lets go moves something here"),
    Beside(
        "person under the nose",
        When(in_force=_of("person under the nose"), not_in_force=_of("raised nose"), lists=_of("rolling")),
        "nothing but its own legs holds the nose",
    ),
    Beside(
        "person under the nose",
        When(
            in_force=_of("person under the nose"),
            not_in_force=_of("motor start"),
            lists=_of("raised nose", "rolling"),
        ),
        _DRIVEN,
    ),
)


@dataclass(frozen=True)
class Said:
    """A step that says `act` (and not `but`), and of which `when` holds, carries the hazard under `label`."""

    label: str  # hazard, or makes safe
    hazard: str
    act: re.Pattern[str]
    when: When = When()
    but: re.Pattern[str] | None = None
    alone: bool = False  # even at a step that has no other hazard


_RN, _PUTN = _of("raised nose"), _of("person under the nose")
SAID = (
    Said("makes safe", "rolling", _words("chock the|set its parking brake")),
    Said(
        "makes safe",
        "person under the nose",
        _words(
            "(?:send|ask|get) (?:everybody|children|everyone)|everybody out|nobody is below"
            "|people are away|work below the nose"
        ),
        but=_words("gas smell|no flame"),
    ),
    Said(
        "makes safe",
        "ground giving way",
        _words("lay a wide|look at both feet|look at feet|rated stand on its pad|wait ten minutes"),
    ),
    Said(
        "makes safe",
        "motor start",
        _words(
            "(?:take|pull) (?:out )?(?:the |both )?(?:motor )?fuses?\\b.{0,40}\\b(?:out|keep)|(?:take"
            "|pull) the fuses of"
            "|take the minus lead off|take the crank handle off and keep"
        ),
    ),
    Said("makes safe", "live circuit", _words("take the minus lead off")),
    Said("makes safe", "raised nose", _words("jaws close round")),
    Said("makes safe", "hot part", _words("cool until")),
    Said("hazard", "raised nose", _words("set its parking brake"), When(in_force=_RN), alone=True),
    Said(
        "hazard",
        "raised nose",
        _words("cool until|slide (?:both|the) stands|stands or crib"),
        When(in_force=_RN),
        alone=True,
    ),
    Said(
        "hazard",
        "rolling",
        _words("jaws close round|look at both feet|rated stand|lay a wide pad on"),
        When(in_force=_of("rolling")),
        alone=True,
    ),
    Said("hazard", "hot part", _words("unplug|undo the motor bolts"), When(in_force=_of("hot part"))),
    Said("hazard", "live circuit", _words("unplug"), When(in_force=_of("live circuit", "motor start"))),
    Said(
        "hazard",
        "stored energy",
        _words(
            "drive (?:what|the pin out(?! of the gear)|one shaft pin)|pins? out\\b(?! of the gear)"
            "|no twist|twist out|swing\\b|turn the way|easy turns"
            "|slide each drop leg|motor straight off(?! the gearbox)|take the motor off|draw (?:the"
            "|one) pin|pin and spring|handle on, turn"
            "|rock the (?:gear|leg)|fine jet|pull on the wrench|wind both legs down"
        ),
    ),
    Said(
        "hazard",
        "heavy part",
        _words(
            "two people|second person (?:carrying|steadying)|lift it out|lift the (?:leg|drop leg"
            "|gearbox)|strap it down"
            "|jack with a flat block|shaft off .{0,20}stub and tie|carry the|draw (?:the|one) pin"
            "|wood (?:out|away)|timbers"
            "|crib layers|pad in from the side|move the motor|fingers out from below"
        ),
    ),
    Said(
        "hazard",
        "ground giving way",
        _words(
            "(?:run|wind) .{0,20}\\bdown|take weight|down first|rated stand|rated jack|wood below the foot of"
            "|jack with a flat block|with the jack|crib:|stand:|up to the rail|push the nose"
            "|crib layers|work below the nose"
            "|lift the nose|legs longer|handle on, turn|handle fully|handle's swing"
            "|handle off the shaft|carry the heavy"
            "|water tank|each thing where it stands"
        ),
        When(in_force=_of("ground giving way")),
    ),
    Said(
        "hazard",
        "person under the nose",
        _words(
            "rated stand|rated jack|frame rail|crib:|stand:|up to the rail|push the nose|lay a wide pad"
            "|handle on|handle off"
            "|easy turns|motor from the side|seen from the side|hoses|pad in from the side"
            "|rake the spot"
        ),
        When(in_force=_PUTN),
    ),
    Said(
        "hazard",
        "pinch",
        _words(
            "jaws close round|run (?:the|both)|wind (?:the|both)|press the button|crank socket"
            "|rated stand|rated jack|wood|lift the"
            "|stands? (?:out|or)|tie or wedge|crib|stand:|up to the rail|jack with|new leg|tie the run"
            "|side by side"
        ),
        When(lists=_of("rolling")),
    ),
    Said("hazard", "pinch", _words("away from the trailer, move|on the bench")),
    Said("hazard", "traffic", _words("moving traffic|next scale")),
)


def missing(procedure: Procedure) -> Iterator[tuple[Step, str, str, str]]:
    """Each label that should stand and does not: the step, the label, the hazard, and why."""
    force: Names = frozenset()
    for step in procedure.steps:
        yield from _of_step(step, force)
        force = (force | set(step.makes_safe)) - set(step.undoes)


def _of_step(step: Step, force: Names) -> Iterator[tuple[Step, str, str, str]]:
    labels = {"hazard": {*step.hazards, *step.makes_safe}, "makes safe": set(step.makes_safe)}
    if not (step.hazards or step.makes_safe or step.undoes or step.no_hazard_because):
        yield step, "hazard", "", "no label says whether it can hurt"
        return
    for power, other in (("motor start", "live circuit"), ("live circuit", "motor start")):
        if power in step.undoes and other in force and other not in step.undoes:
            yield (
                step,
                "undoes",
                other,
                f'it ends the control of "{power}", and the same lead or fuse held both',
            )
    for rule in BESIDE:
        if (
            step.hazards
            and rule.also not in labels["hazard"]
            and not (rule.but and rule.but.search(step.text))
            and rule.when.holds(step, force)
        ):
            yield step, "hazard", rule.also, rule.why
    for said in SAID:
        match = said.act.search(step.text)
        if (
            match
            and (step.hazards or said.alone or said.label != "hazard")
            and said.hazard not in labels[said.label]
            and not (said.but and said.but.search(step.text))
            and said.when.holds(step, force)
        ):
            yield step, said.label, said.hazard, f'it says "{match.group(0)}"'


def expected_labels(procedure: Procedure) -> list[Problem]:
    """A problem for each label that should stand and does not."""
    found = []
    for step, label, hazard, why in missing(procedure):
        if hazard:
            what = f'step {step.number} lacks "{label}: {hazard}": {why}.'
            fix = f"Add the label {label}: {hazard}"
        else:
            what = f"step {step.number} carries no hazard, makes safe or undoes: {why}."
            fix = "Label it, or write hazard: none, because …"
        found.append(Problem(procedure.page.file, step.line, what, fix))
    return found
