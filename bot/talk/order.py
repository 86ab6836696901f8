"""The order sheet in the conversation: what the case knows of the part that the verdict orders."""

from __future__ import annotations

from bot.corpus.model import Sheet
from bot.parts.known import Case, Known, sheet_for, sheet_named
from bot.parts.order import Order, order
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, value_words
from bot.talk.state import State


def case_of(state: State, knowledge: Knowledge) -> dict[str, Known]:
    """Every finding of the conversation as parts know it: value in words, and the words it came from."""
    found = {}
    for one in state.found:
        check = knowledge.checks.get(one.name)
        text = value_words(check, one.value, state.units).rstrip(".")
        span = ""
        if check and check.kind == "quantity" and one.low is not None and one.high is not None:
            low, high = value_words(check, one.low, state.units), value_words(check, one.high, state.units)
            span = f" ({low} to {high})" if low != high else ""
        found[one.name] = Known(one.name, text + span, one.words.strip(), one.value, one.low, one.high)
    return found


def cause_of(state: State) -> str:
    """The cause the case acts on: the verdict, else the last one tried; "" where there was none."""
    return state.verdict.cause if state.verdict else state.tried[-1] if state.tried else ""


def ordered(state: State, knowledge: Knowledge, part: Sheet | None = None) -> Order | None:
    """The filled sheet of the part named, or of the part that the verdict orders; None where there is neither."""
    cause = knowledge.causes.get(cause_of(state))
    sheet = part or (sheet_for(cause, knowledge.corpus) if cause else None)
    if sheet is None and cause is None:
        return None
    named_otherwise = part is not None and (cause is None or sheet_for(cause, knowledge.corpus) != part)
    case: Case = case_of(state, knowledge)
    return order(
        sheet, None if named_otherwise else cause, case, knowledge.checks, state.unknown, state.units
    )


def order_lines(state: State, text: str, knowledge: Knowledge) -> tuple[Line, ...]:
    """The answer to "what do I order": the sheet, or why there is none yet and how to get one."""
    sheet = ordered(state, knowledge, sheet_named(text, knowledge.corpus))
    if sheet is None:
        parts = ", ".join(s.part for s in knowledge.corpus.sheets)
        return (
            Line(
                "say",
                "Nothing to order yet: what is at fault is still open, and a part bought now may be bought in vain.",
            ),
            Line("note", f"For the sheet of a part all the same, say: what do I order for the … ({parts})."),
        )
    return (Line("page", "\n".join(sheet.lines())),)
