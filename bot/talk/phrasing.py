"""Replies in words: plain lines with a role each. Facts come in; the three wordings differ only in how they ask."""

from __future__ import annotations

import re

from bot.corpus.model import Check, Procedure, Step
from bot.corpus.vocabulary import GEAR_WORDS
from bot.frozen import dataclass
from bot.safety.holds import Hold
from bot.safety.proofs import Proof
from bot.talk.knowledge import Knowledge
from bot.talk.state import Asking, Found, State
from bot.units import show


@dataclass(frozen=True)
class Line:
    """One line of a reply. Roles: taken, say, ask, choices, sum, step, hold, danger, note, page (a text of
    several lines, shown as it is).
    """

    role: str
    text: str


def first_lower(text: str) -> str:
    """The text with a small first letter, unless it starts with an abbreviation or a unit."""
    return text if len(text) < 2 or text[1].isupper() or text[1] in ". -" else text[0].lower() + text[1:]


def title_of(finding: str, knowledge: Knowledge) -> str:
    """What a finding is called on its page."""
    check = knowledge.checks.get(finding)
    return plain_title(check.page.title) if check else finding.replace("_", " ")


def value_words(check: Check | None, value: str | float, units: str) -> str:
    """A finding's value in words, with its unit."""
    if check is None:
        return str(value)
    if check.kind == "quantity":
        return show(float(value), check.unit, "metric" if units == "metric" else "us")
    if check.finding == "gear":
        return GEAR_WORDS.get(str(value), str(value))
    return dict(check.choice_words).get(str(value), str(value))


def found_words(found: Found, state: State, knowledge: Knowledge) -> str:
    """One finding as it is read back."""
    check = knowledge.checks.get(found.name)
    said = value_words(check, found.value, state.units)
    if found.name == "support" and found.value == "hitched" and state.value("kingpin_locked") != "yes":
        return "on the truck, as told; the jaws are checked before anything comes off"
    if found.name == "hitched" and found.value == "yes" and state.value("kingpin_locked") != "yes":
        return "hitched, as told"
    if check is not None and check.kind == "choice":
        return first_lower(said)
    if check is not None and check.kind == "quantity" and found.low is not None and found.high is not None:
        wide = found.high - found.low > 0.12 * abs(float(found.value) or 1.0)
        said = "about " + said if wide else said
    named = check is not None and check.kind == "yes_no" and check.link != "none"
    if check is not None and named and dict(check.choice_words).get(str(found.value)):
        return f"{check.link}: {first_lower(said).rstrip('.')}"
    return f"{title_of(found.name, knowledge)}: {first_lower(said)}"


def plain_title(title: str) -> str:
    """A page's title as a heading for its value: without a leading "whether"."""
    return first_lower(re.sub(r"^[Ww]hether ", "", title))


def taken_down(
    new: tuple[Found, ...], changed: tuple[Found, ...], state: State, knowledge: Knowledge
) -> list[Line]:
    """What was understood, before anything is asked."""
    lines = []
    # Hitched and support are told in one breath; saying it once is enough.
    new = tuple(f for f in new if f.name != "hitched" or not any(g.name == "support" for g in new))
    changed = tuple(
        f for f in changed if f.name != "hitched" or not any(g.name == "support" for g in changed)
    )
    if new:
        lines.append(
            Line("taken", "Taken down: " + "; ".join(found_words(f, state, knowledge) for f in new) + ".")
        )
    if changed:
        lines.append(
            Line("taken", "Changed: " + "; ".join(found_words(f, state, knowledge) for f in changed) + ".")
        )
    if any(f.name == "volts_battery_resting" for f in (*new, *changed)):
        lines.append(
            Line(
                "note",
                "A battery at rest can read well and still fail: what counts is the reading with the button held.",
            )
        )
    return lines


def question(check: Check, state: State) -> str:
    """How a check is asked in the wording of the moment."""
    return {"phone": check.ask_phone, "tech": check.ask_tech}.get(state.wording, check.ask_owner)


def choices_line(asking: Asking, check: Check | None) -> Line | None:
    """The choices of a question in words, where there are more than yes and no."""
    if asking.kind != "choice" or check is None:
        return None
    return Line(
        "choices", "Say: " + ", ".join(c.replace("_", " ") for c in asking.choices) + ", or don't know."
    )


def wanted_lines(step: Step, procedure: Procedure, check: Check, state: State) -> list[Line]:
    """What a stop's sum wants to know before the stop is asked."""
    lines = [
        Line("step", f"Next is step {step.number} of {len(procedure.steps)}: {step.text}"),
        Line("note", "Before its stop is asked, the load on what goes under the nose is worked out."),
        Line("ask", question(check, state)),
    ]
    said = choices_line(Asking(check.finding, check.kind, check.unit, check.choices), check)
    return [*lines, said] if said is not None else lines


def hold_lines(
    step: Step, procedure: Procedure, holds: tuple[Hold, ...], says: Proof | None = None
) -> list[Line]:
    """The stop before a step: what must be so, one question at a time, with what its sum says."""
    lines = [Line("step", f"Next is step {step.number} of {len(procedure.steps)}: {step.text}")]
    first = holds[0]
    lines.append(
        Line(
            "hold",
            f"HOLD  {first.name}. {first.question}"
            + (
                f" Seen by: {first_lower(first.proof)}."
                if first.proof and first.proof.rstrip(".") not in first.question
                else ""
            ),
        )
    )
    lines += [Line("sum", text) for text in (says.lines if says else ())]
    if says is not None and not says.passes:
        lines.append(Line("ask", "This stop stays shut. Give a changed figure, or say: back, put aside, talk to a person."))  # fmt: skip
        return lines
    lines += [Line("note", f"then: {h.name} (not asked yet)") for h in holds[1:]]
    lines.append(Line("ask", "Type yes or no."))
    return lines


def step_lines(step: Step, procedure: Procedure) -> list[Line]:
    """A step as it is shown once its holds are open."""
    lines = [Line("step", f"Step {step.number} of {len(procedure.steps)}: {step.text}")]
    if step.tools:
        lines.append(Line("note", "With: " + ", ".join(step.tools) + "."))
    if step.measure:
        lines.append(Line("note", "Measure: " + step.measure.replace("_", " ") + "."))
    if step.photograph:
        lines.append(Line("note", "Photograph: " + step.photograph + "."))
    if step.torque:
        lines.append(Line("note", "Torque: " + step.torque + "."))
    if step.done_when:
        lines.append(Line("note", "Done when: " + step.done_when.rstrip(".") + "."))
    lines.append(Line("ask", "Say done when it is so, or: why, how, back, that did not fix it, put aside."))
    return lines


def percent(chance: float) -> str:
    """A chance out of 100, never 100 and never 0."""
    return str(min(99, max(1, round(100 * chance))))
