"""A second cause, after a repair that helped and did not mend: which findings the first cause had explained.

With one fault mended, what it had brought about says nothing of the other fault: a reading taken before the repair, or a
slow motor, may have been the first one's alone. Such findings are asked for again; what they would not have been under
the first cause stays, for it was the second one's even then (explaining away).
"""

from __future__ import annotations

from bot.reason.chances import Findings, fitting, row_of
from bot.reason.circuit import READINGS
from bot.reason.model import Model, discrete

# What stands whatever is mended: the gear, and what holds the nose.
_STANDS = frozenset(("gear", "support", "hitched", "kingpin_locked"))
_AT_REST = "volts_battery_resting"


def explained(model: Model, findings: Findings, cause: str) -> frozenset[str]:
    """The findings that were likelier under this cause than under the others of the gear, by their priors, in the mean.

    A reading with the button held is one where the cause changes the circuit; the battery at rest where it changes the
    battery. Empty for a cause the model does not know.
    """
    if cause not in model.index:
        return frozenset()
    at = model.index[cause]
    said = findings.get("gear")
    gear = str(said) if said is not None else None
    others = [
        0.0 if i == at or not fits else prior
        for i, (prior, fits) in enumerate(zip(model.priors, fitting(model, gear), strict=True))
    ]
    total = sum(others)
    changed = {r.element for r in model.causes[at].circuit} if at < len(model.causes) else set()
    electric = model.draws_of_cause[at] != model.draws_of_cause[-1]
    found = set()
    for name, value in findings.items():
        if name in _STANDS:
            continue
        if name in READINGS:
            if electric if name != _AT_REST else any(e.startswith("battery ") for e in changed):
                found.add(name)
            continue
        answer = discrete(model, name, value)
        if answer is None:
            continue
        row = row_of(model, name, answer, gear)
        if row[at] > sum(o * r for o, r in zip(others, row, strict=True)) / total:
            found.add(name)
    return frozenset(found)


__all__ = ["explained"]
