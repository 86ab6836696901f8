"""What comes into the conversation. Everything the core must know of the world is an event; time comes with it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from bot.frozen import dataclass


@dataclass(frozen=True)
class Said:
    """One line a person typed. `pasted` marks one of several lines that came in at once."""

    text: str
    at: str = ""
    pasted: bool = False


@dataclass(frozen=True)
class Resumed:
    """The case was taken up again, perhaps by somebody else."""

    at: str = ""


@dataclass(frozen=True)
class Set:
    """A setting changed: wording (owner, phone, tech) or units (us, metric)."""

    name: str
    value: str
    at: str = ""


@dataclass(frozen=True)
class NotSaved:
    """The shell could not write the last event."""

    why: str
    at: str = ""


Event = Said | Resumed | Set | NotSaved
_KINDS: dict[str, type[Any]] = {"said": Said, "resumed": Resumed, "set": Set, "not saved": NotSaved}


def event_to_plain(event: Event) -> dict[str, Any]:
    """The event as it is written down."""
    kind = next(k for k, t in _KINDS.items() if type(event) is t)
    return {"event": kind, **{k: v for k, v in vars(event).items() if v not in ("", False)}}


def event_from_plain(plain: Mapping[str, Any]) -> Event:
    """The event that was written down. Raises KeyError or TypeError where it is none."""
    rest = {k: v for k, v in plain.items() if k != "event"}
    if plain["event"] == "said":
        rest.setdefault("text", "")  # an empty line is written without its text
    event: Event = _KINDS[plain["event"]](**rest)
    return event
