"""Many processes of our own that hold scripted conversations in the same store at once."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from bot.find.search import Search
from bot.shells.plain import served
from bot.shells.records import Store
from bot.shells.session import Session
from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from tests.shells.killing import forked

SCRIPTS = (
    ("front jacks wont go up just click click", "legs", "one motor", "dont know", "12.5 at the battery at rest", "why", "6.8 at the motor with the button held", "back", "record"),
    ("left leg wont go down, the right one does", "hitched", "two motors", "no", "yes", "12.4 V at rest", "skip", "other causes"),
    ("cranks hard halfway", "on stands", "manual", "yes", "why", "that did not fix it", "how"),
    ("motor hums and nothing moves", "truck is hooked up and locked", "one motor", "find grease", "tech", "metric", "no meter"),
)  # fmt: skip


@dataclass
class Heard:
    """What the processes saw: lines acknowledged by case, seconds of each turn, replies that told of trouble."""

    lines: dict[int, list[str]]
    seconds: list[float]
    troubles: list[str]
    cases: int = 0


def _converse(seat: int, make: Callable[[], Store], prepared: tuple[Knowledge, Search], seconds: float, out: Path,
              pause: float) -> None:  # fmt: skip
    knowledge, search = prepared
    os.environ["LEGLINE_SEAT"] = f"desk {seat}"
    store = make()
    until, turns, kept, troubles, turned = time.monotonic() + seconds, [], {}, [], seat
    while time.monotonic() < until:
        session = Session(knowledge, store)
        script = SCRIPTS[turned % len(SCRIPTS)]
        turned += 1
        for text in script:
            began = time.perf_counter()
            lines, _ = served(session, search, text)
            turns.append(time.perf_counter() - began)
            said = " ".join(line.text for line in lines).replace(
                "they cannot be reached from outside", ""
            )  # a page
            if any(w in said for w in ("not on disk", "is locked", "cannot be", "another seat", "could not")):
                troubles.append(said[-300:])
            assert lines
            time.sleep(pause)
        assert session.number is not None or troubles
        patience = time.monotonic() + 30
        while session.flush() and time.monotonic() < patience:
            time.sleep(0.1)
        if session.number is not None:
            # A command of the shell (find) is no line of the case.
            kept[session.number] = [t for t in script if not t.startswith("find ")]
        session.farewell()
    out.write_text(json.dumps({"lines": kept, "seconds": turns, "troubles": troubles}), encoding="utf-8")
    os._exit(0)


def crowd(count: int, seconds: float, make: Callable[[], Store], prepared: tuple[Knowledge, Search], folder: Path,
          meanwhile: Callable[[], None] | None = None, pause: float = 0.0) -> Heard:  # fmt: skip
    """Runs that many seats for some seconds, and reads back what they saw. Raises AssertionError where one failed."""
    folder.mkdir(parents=True, exist_ok=True)
    for script in SCRIPTS:  # what a program has read after its first lines
        session = Session(prepared[0], None)
        for text in script:
            served(session, prepared[1], text)
    children = []
    for seat in range(count):
        out = folder / f"seat-{seat}.json"
        children.append(forked(lambda s=seat, o=out: _converse(s, make, prepared, seconds, o, pause)))  # type: ignore[misc]
    if meanwhile is not None:
        meanwhile()
    assert [os.waitpid(child, 0)[1] for child in children] == [0] * count
    heard = Heard({}, [], [])
    for seat in range(count):
        plain = json.loads((folder / f"seat-{seat}.json").read_text(encoding="utf-8"))
        for number, lines in plain["lines"].items():
            assert int(number) not in heard.lines, f"two seats were given case {number}"
            heard.lines[int(number)] = lines
        heard.seconds += plain["seconds"]
        heard.troubles += plain["troubles"]
    heard.cases = len(heard.lines)
    return heard


def compare(store: Store, heard: Heard) -> int:
    """How many acknowledged lines are in the store, each in its case and place. Raises AssertionError at a loss."""
    count = 0
    assert sorted(heard.lines) == store.numbers()
    for number, lines in heard.lines.items():
        there = [e.text for e in store.events(number) if isinstance(e, Said)]
        assert there == lines, f"case {number}: {there} instead of {lines}"
        count += len(lines)
    assert store.told() == []
    return count


def spread(seconds: list[float]) -> str:
    """The times at the 50th, 95th and 99th percentile, and the longest, in ms."""
    ordered = sorted(seconds)
    p50, p95, p99 = (ordered[int(q * (len(ordered) - 1))] * 1000 for q in (0.5, 0.95, 0.99))
    return f"{p50:.1f}, {p95:.1f}, {p99:.1f} ms at the 50th, 95th, 99th percentile, longest {ordered[-1] * 1000:.0f} ms"


__all__ = ["SCRIPTS", "Heard", "compare", "crowd", "spread"]
