"""What to measure for the part to order, with what the case knows filled in."""

from __future__ import annotations

from bot.shells.paper.model import Part, Table, Text
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import plain_title, value_words
from bot.talk.state import State


def order_part(state: State, knowledge: Knowledge) -> Part | None:
    """The order sheet of the case; None while there is no verdict or its page orders nothing."""
    if state.verdict is None:
        return None
    rows = []
    for bullet in knowledge.causes[state.verdict.cause].page.bullets("What to order"):
        wanted = bullet.removeprefix("measure: ").strip()
        check = knowledge.checks.get(wanted)
        value = state.value(wanted)
        shown = value_words(check, value, state.units) if check is not None and value is not None else ""
        if check is not None:
            wanted = plain_title(check.page.title)
        rows.append((wanted.removeprefix("measure: ").rstrip("."), shown))
    if not rows:
        return None
    note = "Order by what was measured on the trailer and by the label on the part, never by a picture alone."
    return Part("Order sheet", (Text(note), Table(("measure or read off", "value"), tuple(rows))))
