"""What to measure for the part to order, with what the case knows filled in."""

from __future__ import annotations

from bot.shells.paper.model import Items, Part
from bot.talk.knowledge import Knowledge
from bot.talk.order import ordered
from bot.talk.state import State


def order_part(state: State, knowledge: Knowledge) -> Part | None:
    """The order sheet of the case; None while there is no verdict."""
    sheet = ordered(state, knowledge)
    return Part("Order sheet", (Items(tuple(sheet.lines())),)) if sheet is not None else None
