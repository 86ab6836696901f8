"""A page of the corpus as text to read, with the holds that the program derives."""

from __future__ import annotations

from bot.safety.holds import holds_before
from bot.talk.knowledge import Knowledge

_MODEL_ONLY = {"Expect", "Circuit", "Also called", "Match"}


def page_text(id_: str, knowledge: Knowledge) -> str:
    """One page: head, sections, and for a procedure every step with its stops."""
    page = knowledge.pages[id_]
    out = [page.title, f"({page.kind.rstrip('s')}, {page.id})"]
    for label in ("fits", "for", "people", "minutes", "tool", "mends", "source", "second reading"):
        if label in page.head:
            out.append(f"{label}: {page.head[label].replace('_', ' ')}")
    if page.role == "own":
        out.append(f"from your own corpus, fingerprint {page.digest[:12]}")
    procedure = knowledge.procedures.get(id_)
    for section in page.sections:
        if section.title in _MODEL_ONLY:
            continue
        out += ["", section.title.upper()]
        if section.title == "Steps" and procedure is not None:
            opened: set[str] = set()
            for step in procedure.steps:
                for hold in holds_before(procedure, step.number):
                    if hold.key not in opened:
                        out.append(f"   HOLD before {step.number}: {hold.name}. {hold.question}")
                        opened.add(hold.key)
                opened = {k for k in opened if k not in step.undoes}
                out.append(f"{step.number:2d}. {step.text}")
                if step.torque:
                    out.append(f"    torque: {step.torque}")
                if step.done_when:
                    out.append(f"    done when: {step.done_when}")
            continue
        out.append(section.text.strip("\n"))
    return "\n".join(out)
