"""What the tests of the screen share: a program run at a size, keys and lines put in, rows read off."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Awaitable, Callable

from textual.pilot import Pilot

from bot.find.search import Search
from bot.shells.records import Store
from bot.shells.tui.app import LeglineApp
from bot.shells.tui.composer import Composer
from bot.shells.tui.conversation import Conversation
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage

Ready = tuple[Knowledge, Search]
Told = Pilot[None]

# A case with made-up readings: 12.5 V at rest, 6.8 V at the motor, most of it lost on the ground side.
COMPLAINT = "front jacks wont go up just click click"
TOLD = (
    COMPLAINT,
    "on its legs, no truck",
    "one motor with a bar",
    "12.5 at the battery at rest, 6.8 at the motor with the button held",
    "12.1 at the battery with the button held, ground drop 4.4 V",
)


def play(
    ready: Ready,
    story: Callable[[Told, LeglineApp], Awaitable[None]],
    size: tuple[int, int] = (80, 24),
    store: Store | None = None,
    load: Callable[[], Ready] | None = None,
) -> LeglineApp:
    """Runs a story on a screen of that size and gives the program back."""
    app = LeglineApp(load or (lambda: ready), store)

    async def run() -> None:
        async with app.run_test(size=size) as pilot:
            await story(pilot, app)

    try:
        asyncio.run(run())
    finally:
        if store is not None:
            store.close()
    return app


def told(app: LeglineApp) -> list[tuple[str, str]]:
    """(role, text) of everything in the conversation."""
    return app.talk.query_one(Conversation).said


async def until(pilot: Told, app: LeglineApp, so: Callable[[], bool], what: str) -> None:
    """Waits for a condition; without it the test fails and shows the conversation so far."""
    end = time.monotonic() + 30
    while not so():
        if time.monotonic() > end:
            raise AssertionError(f"never came about: {what}\n" + "\n".join(f"{r}: {t}" for r, t in told(app)))
        await pilot.pause()
    await pilot.pause()


async def loaded(pilot: Told, app: LeglineApp) -> None:
    await until(
        pilot, app, lambda: app.talk.session is not None and bool(told(app)), "pages read, first words shown"
    )


def stage(app: LeglineApp) -> Stage:
    assert app.talk.session is not None
    return app.talk.session.state.stage


def typing_place(app: LeglineApp) -> Composer:
    """The place that has the keys."""
    focused = app.focused
    assert isinstance(focused, Composer)
    return focused


async def say(pilot: Told, app: LeglineApp, text: str) -> None:
    """Puts a line where one types, presses Enter and waits for the reply."""
    before = len(told(app))
    typing_place(app).insert(text)
    await pilot.press("enter")
    await until(pilot, app, lambda: len(told(app)) > before + 1, f"a reply to {text!r}")


async def walk_to_a_stop(pilot: Told, app: LeglineApp) -> None:
    """A whole case up to the first open stop of its procedure."""
    await loaded(pilot, app)
    for line in TOLD:
        await say(pilot, app, line)
    assert stage(app) is Stage.OFFERED
    for _ in range(6):
        if stage(app) is Stage.HELD:
            return
        await say(pilot, app, "done")
    raise AssertionError("no stop was reached\n" + "\n".join(t for _, t in told(app)))


def rows(app: LeglineApp) -> list[str]:
    """The screen as rows of text."""
    strips = app.screen._compositor.render_strips()
    return ["".join(segment.text for segment in strip).rstrip() for strip in strips]


def flowing(shown: list[str]) -> str:
    """The rows as one text without the breaks that the width made."""
    return " ".join(" ".join(row.split()) for row in shown)
