"""How fast the screen is, as ratios measured in one run. Nothing is asserted here.

.venv/bin/python scripts/bench_screen.py [ROUNDS]

First paint and ready: both programs are started in turn on a terminal of their own (a pty), and the clock runs until
their words come out of it: a Textual app of one line, Legline's first paint, Legline with its first words, ready to
answer. Each round gives one ratio; the middle one counts, so that a busy machine slows both alike.
A turn: the same ten lines, said to a conversation of 10 messages and to one of 200, until the reply is drawn.
"""

import asyncio
import fcntl
import os
import pty
import re
import select
import signal
import statistics
import struct
import sys
import tempfile
import termios
import time
from itertools import cycle, islice
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

ROUNDS = 15
SMALL = """
from textual.app import App
from textual.widgets import Static

class Small(App):
    def compose(self):
        yield Static("nothing but this line")

Small().run()
"""
_SEQUENCE = re.compile(rb"\x1b\[[0-?]*[ -/]*[@-~]|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\\\)|\x1b.")
SAID = ("12.4 at the battery at rest", "why", "12.5 at the battery at rest", "one motor", "don't know", "how", "path",
        "the fuse is good", "12.2 at the battery with the button held", "what do you know")  # fmt: skip


def seconds_until(words: list[str], marks: tuple[bytes, ...], folder: str) -> list[float]:
    """Seconds from the start of a program until each mark is on its terminal."""
    began = time.perf_counter()
    pid, terminal = pty.fork()
    if pid == 0:
        os.environ.update(TERM="xterm-256color", LEGLINE_DATA=folder, COLUMNS="120", LINES="40")
        os.execv(words[0], words)
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    seen, found = b"", []
    try:
        while len(found) < len(marks):
            if not select.select([terminal], [], [], 60)[0]:
                raise TimeoutError(f"{marks[len(found)]!r} never came: {seen[-400:]!r}")
            seen += os.read(terminal, 65536)
            if marks[len(found)] in _SEQUENCE.sub(b"", seen):
                found.append(time.perf_counter() - began)
    finally:
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        os.close(terminal)
    return found


def starts(rounds: int) -> None:
    """Prints the ratios of first paint and of ready to the small app's first paint."""
    paints, readies = [], []
    small = [sys.executable, "-c", SMALL]
    legline = [sys.executable, "-m", "bot"]
    os.chdir(TOP)
    with tempfile.TemporaryDirectory() as folder:
        for turn in range(rounds + 1):
            (floor,) = seconds_until(small, (b"nothing but this line",), folder)
            paint, ready = seconds_until(
                legline, (b"Reading the pages", b"Tell me in your own words"), folder
            )
            if turn:  # the first round fills the file cache and the prepared copy of the pages
                paints.append(paint / floor)
                readies.append(ready / floor)
    for name, ratios in (("first paint", paints), ("ready to answer", readies)):
        ratios.sort()
        print(
            f"{name:28s} {statistics.median(ratios):5.2f} x a Textual app of one line"
            f"  (from {ratios[0]:.2f} to {ratios[-1]:.2f} in {rounds} rounds)"
        )


async def turns(count: int) -> tuple[float, float]:
    """Seconds a reply takes to be drawn with 10 messages said and with `count`, in one conversation; the middle of ten each."""
    from bot.assemble import assemble
    from bot.shells.tui.app import LeglineApp
    from bot.shells.tui.conversation import Conversation

    ready = assemble()
    app = LeglineApp(lambda: ready, None)
    async with app.run_test(size=(120, 40)) as pilot:
        while app.talk.session is None:
            await pilot.pause()
        talk = app.talk.query_one(Conversation)

        async def say(text: str) -> float:
            shown = len(talk.children)
            began = time.perf_counter()
            app.talk.hear(text)
            while len(talk.children) < shown + 2 or not talk.children[-1].size.height:
                await asyncio.sleep(0)
            await app.animator.wait_for_idle()
            await pilot.pause(0)
            return time.perf_counter() - began

        async def measured() -> float:
            return statistics.median([await say(text) for text in SAID])

        await say("front legs wont come up, it just clicks")
        for text in SAID:  # once unmeasured: what a line needs for the first time is read then
            await say(text)
        app.talk.hear("new case")
        while len(talk.children) < 10:
            await say("why")
        early = await measured()
        for text in islice(cycle(SAID), count):
            if len(talk.children) >= count - 10:
                break
            await say(text)
        return early, await measured()


def main() -> None:
    """Prints the table."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    starts(rounds)
    for count in (200, 380):
        early, late = asyncio.run(turns(count))
        print(
            f"{f'a turn at {count} messages':28s} {late / early:5.2f} x a turn at 10  ({early * 1000:.0f} ms then)"
        )


if __name__ == "__main__":
    main()
