"""Kills of our own child processes in the middle of a conversation, and what has to be true after each.

A child talks JSON lines through pipes, as any program would; a reply that came out of its pipe counts as
acknowledged. The child ends itself with SIGKILL at a named point of the store, or is killed after some milliseconds.
"""

from __future__ import annotations

import json
import os
import select
import signal
import sqlite3
import sys
import time
import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from bot.find.search import Search
from bot.shells.plain import talk_json
from bot.shells.records import Store
from bot.shells.session import Session
from bot.shells.store.points import POINTS, arm
from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from bot.talk.view import as_json

# Down to a repair whose first stops are answered, so that there are open stops to shut.
LINES = (
    "front jacks wont go up just click click",
    "hitched to the truck, jaws locked",
    "one motor with a bar across",
    "12.5 at the battery at rest, 6.8 at the motor with the button held, 12.1 at the battery with it held",
    "4.4 on the ground side with it held",
    "yes",
    *(["done", "yes"] * 9),
)


@dataclass(frozen=True)
class Ended:
    """What came out of a child: replies acknowledged, the stops open in the last of them, and whether it was killed."""

    acknowledged: int
    open_stops: int
    killed: bool


def forked(work: Callable[[], None]) -> int:
    """A child process that does the work and ends; its process number."""
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore", DeprecationWarning
        )  # a child of a threaded runner: it only runs our own code
        child = os.fork()
    if child == 0:
        status = 1
        try:
            work()
            status = 0
        except BaseException as fault:
            sys.stderr.write(f"child: {fault!r}\n")
        finally:
            os._exit(status)
    return child


def converse(prepared: tuple[Knowledge, Search], make: Callable[[], Store], lines: Sequence[str], point: str = "",
             after: float | None = None) -> Ended:  # fmt: skip
    """One conversation in a child that is killed at a point ("name:count") or after some seconds."""
    knowledge, search = prepared
    to_child, from_child = os.pipe(), os.pipe()

    def work() -> None:
        os.close(to_child[1])
        os.close(from_child[0])
        arm(point)
        with (
            os.fdopen(to_child[0], encoding="utf-8") as source,
            os.fdopen(from_child[1], "w", encoding="utf-8") as sink,
        ):
            talk_json(Session(knowledge, make()), source, sink, search)

    child = forked(work)
    os.close(to_child[0])
    os.close(from_child[1])
    os.write(to_child[1], "".join(f"{t}\n" for t in lines).encode())
    os.close(to_child[1])
    out, until = b"", time.monotonic() + (after if after is not None else 60.0)
    while True:
        ready, _, _ = select.select([from_child[0]], [], [], max(0.0, until - time.monotonic()))
        if not ready:
            os.kill(child, signal.SIGKILL)
            until = time.monotonic() + 60.0
            continue
        part = os.read(from_child[0], 1 << 20)
        if not part:
            break
        out += part
    os.close(from_child[0])
    _, status = os.waitpid(child, 0)
    whole = [json.loads(line) for line in out.split(b"\n")[:-1]]
    stops = sum(h["open"] for h in whole[-1]["holds"]) if whole else 0
    return Ended(max(0, len(whole) - 1), stops, os.WIFSIGNALED(status))


def said(store: Store, number: int) -> list[str]:
    """The lines a person typed, as the store has them."""
    return [e.text for e in store.events(number) if isinstance(e, Said)]


def check(prepared: tuple[Knowledge, Search], make: Callable[[], Store], number: int, before: Sequence[str],
          lines: Sequence[str], ended: Ended) -> list[str]:  # fmt: skip
    """What must hold after a kill; the lines the case has now. Raises AssertionError."""
    store = make()
    if store.file.exists():
        with sqlite3.connect(store.file) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        connection.close()
    kept = said(store, number)
    sure = [*before, *lines[: ended.acknowledged]]
    perhaps = [*before, *lines[: ended.acknowledged + 1]]
    assert kept in (sure, perhaps), f"acknowledged {sure}, kept {kept}"
    if kept:
        session = Session(prepared[0], store)
        session.take_up(number)
        assert session.number == number, "a case of a dead process is free to be taken up"
        assert session.state.walk is None or not session.state.walk.opened
        assert not any(h["open"] for h in as_json(session.state, (), session.knowledge)["holds"])
        session.farewell()
    assert store.told() == []
    store.close()
    return kept


def kill_round(prepared: tuple[Knowledge, Search], folder: Path, kills: Sequence[tuple[str, float | None]],
               make: Callable[[], Store] | None = None) -> tuple[int, int]:  # fmt: skip
    """Kills one after the other in the same store, every second one in the case of the one before. Counts (killed, with open stops)."""
    build = make or (lambda: Store(folder))
    number, killed, with_stops = 0, 0, 0
    lines_so_far: list[str] = []
    for i, (point, after) in enumerate(kills):
        again = bool(i % 2 and lines_so_far)
        if again:
            lines: list[str] = [f"case {number}", *LINES[len(lines_so_far) : len(lines_so_far) + 8]]
        else:
            number, lines_so_far, lines = _next_number(build()), [], list(LINES)
        ended = converse(prepared, build, lines, point, after)
        if again:  # the first reply is to "case N", which is no line of the case
            ended = Ended(max(0, ended.acknowledged - 1), ended.open_stops, ended.killed)
            lines = lines[1:]
        killed += ended.killed
        with_stops += ended.killed and ended.open_stops > 0
        lines_so_far = check(prepared, build, number, lines_so_far, lines, ended)
    return killed, with_stops


def _next_number(store: Store) -> int:
    """The number a new case gets; a store that is not there yet is not made by asking."""
    number = max([0, *store.numbers()]) + 1 if store.file.exists() else 1
    store.close()
    return number


def plan(count: int) -> list[tuple[str, float | None]]:
    """That many kills: every point at every passing in turn, and every fifth at a moment of its own."""
    kills: list[tuple[str, float | None]] = []
    step = 0
    while len(kills) < count:
        step += 1
        if step % 5 == 0:
            kills.append(("", 0.003 + (step * 7919 % 997) / 997 * 0.25))
            continue
        point = POINTS[step % len(POINTS)]
        once = point in ("file begun", "file linked", "opened", "case written")
        kills.append((f"{point}:{1 if once else 1 + step // len(POINTS) % 24}", None))
    return kills


__all__ = ["LINES", "Ended", "check", "converse", "forked", "kill_round", "plan", "said"]
