"""Labels that a step must carry because of what stands beside them or of what the step says is done.

A label that was left out is silent: the step looks harmless and no stop is derived. Two kinds of rule make it speak.
`BESIDE` knows which hazards of this job come together while their controls are in force; `SAID` knows the words of
the acts themselves. Both err to the side of one label more. Common practice, no source, but for the order of
lockout (29 CFR 1910.147(d) and (e)): a control that was put on stays in mind until a step takes it off.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Beside:
    """A step that lists `listed`, and not `unless`, lists `also` too."""

    listed: frozenset[str]
    also: str
    in_force: frozenset[str] = frozenset()  # only while these are made safe and not undone
    not_in_force: frozenset[str] = frozenset()  # only while none of these is
    unless: frozenset[str] = frozenset()
    why: str = ""


def _of(*hazards: str) -> frozenset[str]:
    return frozenset(hazards)


BESIDE = (
    Beside(_of("raised nose"), "rolling", _of("rolling"), unless=_of("away"), why="where the nose can come down the trailer can roll too"),
    Beside(_of("rolling"), "raised nose", _of("raised nose"), why="the nose hangs on the truck as long as this goes on"),
    Beside(_of("motor start"), "raised nose", _of("raised nose"), why="the nose hangs on the truck as long as this goes on"),
    Beside(_of("raised nose"), "motor start", _of("motor start"), why="the circuit is held open because hands are at the gear"),
    Beside(_of("live circuit"), "motor start", _of("motor start", "live circuit"), why="one lead off holds both"),
    Beside(_of("motor start"), "live circuit", _of("motor start", "live circuit"), why="one lead off holds both"),
    Beside(_of("raised nose", "rolling"), "pinch", why="the gear or the hitch can move here"),
    Beside(_of("rolling"), "person under the nose", _of("person under the nose"), _of("raised nose"), why="nothing but its own legs holds the nose"),
    Beside(_of("raised nose", "rolling"), "person under the nose", _of("person under the nose"), _of("motor start"), why="the legs can be driven here"),
    Beside(_of("ground giving way"), "person under the nose", _of("person under the nose"), unless=_of("heavy part"), why="the ground carries the nose here"),
)  # fmt: skip
