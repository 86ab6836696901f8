"""The answers that the open question offers, as keys: a number by itself, or Alt and the number."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from bot.shells.tui.harmless import shortened

if TYPE_CHECKING:
    from bot.talk.state import State

MOST = 9
_YES_NO = ("yes", "no", "don't know")
_STEP = ("done", "how", "why", "back")
_OFFER = ("yes", "no", "why", "other causes", "what do I order")


def choices_of(state: State, offered: bool = False) -> tuple[str, ...]:
    """What may be answered with one key, in words that are understood when typed; none where a stop or danger stands.

    `offered` is the question whether a kept case goes on.
    """
    from bot.talk.asked import sum_asking
    from bot.talk.state import Stage

    if state.stage in (Stage.HELD, Stage.DANGER):
        return ()
    if offered:
        return _YES_NO[:2]
    if state.sum is not None:
        asking, ways = sum_asking(state), ("skip",)
        return tuple(_said(c) for c in asking.choices[: MOST - 1]) + ways if asking.choices else ()
    if state.stage is Stage.OFFERED:
        return _OFFER
    asked = state.asking
    if asked is None:
        return ()
    if asked.kind == "choice":
        return (*(_said(c) for c in asked.choices[: MOST - 1]), "don't know")
    return {"yes_no": _YES_NO, "step": _STEP}.get(asked.kind, ())


def _said(name: str) -> str:
    return name.replace("_", " ")


def strip_of(choices: tuple[str, ...], width: int) -> str:
    """The choices in one row with their numbers; those that have no room are left out, typed they count all the same."""
    lead = "Alt+number:  " if width >= 80 else ""
    return shortened(lead + "  ".join(f"{i} {words}" for i, words in enumerate(choices, 1)), width)


def meant(text: str, choices: tuple[str, ...]) -> str:
    """The words of a choice where its bare number was typed, else the text as it is.

    >>> meant("2", ("both", "left")), meant("2 V", ("both", "left")), meant("3", ("both", "left"))
    ('left', '2 V', '3')
    """
    bare = re.fullmatch(r"\s*([1-9])\s*", text)
    at = int(bare.group(1)) if bare else 0
    return choices[at - 1] if 0 < at <= len(choices) else text
