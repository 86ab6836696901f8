"""How long a step says to wait, and what is left of a wait that runs."""

from __future__ import annotations

import re

_NUMBERS = {"one": 1, "two": 2, "three": 3, "five": 5, "ten": 10, "fifteen": 15, "twenty": 20, "thirty": 30}
_UNITS = {"s": 1, "m": 60, "h": 3600}
_SPAN = re.compile(
    r"\b(\d{1,4}|" + "|".join(_NUMBERS) + r")\s*(s|sec|secs|seconds?|m|min|mins|minutes?|h|hours?)\b", re.I
)
_WAITS = re.compile(r"\b(wait|leave|let|rest|soak|stand|settle|cool)\b", re.I)
MOST_S = 48 * 3600


def seconds_of(text: str) -> int | None:
    """The first span of time in a text, in seconds; None where there is none, or it is over two days.

    >>> seconds_of("wait ten minutes"), seconds_of("30 s"), seconds_of("no time"), seconds_of("99 hours")
    (600, 30, None, None)
    """
    found = _SPAN.search(text)
    if found is None:
        return None
    count = _NUMBERS.get(found.group(1).lower()) or int(found.group(1))
    seconds = count * _UNITS[found.group(2)[0].lower()]
    return seconds if 0 < seconds <= MOST_S else None


def wait_of(*texts: str) -> int | None:
    """The wait that a step asks for, in seconds: a span of time in a sentence that tells to wait.

    >>> wait_of("Oil the nut.", "oil shows; leave it 15 minutes"), wait_of("Hold the button two seconds.")
    (900, None)
    """
    for text in texts:
        if _WAITS.search(text):
            seconds = seconds_of(text)
            if seconds is not None:
                return seconds
    return None


def left(seconds: float) -> str:
    """The rest of a wait as hours, minutes and seconds.

    >>> left(65), left(3661), left(-2)
    ('1:05', '1:01:01', '0:00')
    """
    whole = max(0, round(seconds))
    hours, rest = divmod(whole, 3600)
    return f"{hours}:{rest // 60:02d}:{rest % 60:02d}" if hours else f"{rest // 60}:{rest % 60:02d}"
