"""Named points in the work of the store where a test may end the process, to see that nothing is lost.

`LEGLINE_FAULT=before commit:3` ends this process with SIGKILL at the third passing of that point. Without it a
point costs one comparison.
"""

from __future__ import annotations

import os

POINTS = (
    "line heard",
    "file begun",
    "file linked",
    "opened",
    "begun",
    "case written",
    "events written",
    "shortcut written",
    "before commit",
    "after commit",
    "reply ready",
)

_armed: list[tuple[str, int]] = []


def arm(text: str) -> None:
    """Sets the point ("name:count") at which this process ends itself; "" for none. Raises ValueError."""
    _armed.clear()
    if text:
        name, _, count = text.rpartition(":")
        if name not in POINTS:
            raise ValueError(f"{name!r} is no point; points are: {', '.join(POINTS)}")
        _armed.append((name, int(count)))


def reached(name: str) -> None:
    """Passes the point, or ends the process there."""
    if not _armed or _armed[0][0] != name:
        return
    left = _armed[0][1] - 1
    _armed[0] = (name, left)
    if left <= 0:
        import signal

        os.kill(os.getpid(), signal.SIGKILL)


arm(os.environ.get("LEGLINE_FAULT", ""))
