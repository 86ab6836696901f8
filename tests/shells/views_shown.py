"""Every view of the screen as rows of text, for one invented case at one size: what the snapshots hold."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

from bot.shells.records import Store
from bot.shells.tui.app import LeglineApp
from bot.shells.tui.conversation import Conversation
from bot.shells.tui.look import VIEWS, LookScreen
from bot.shells.tui.reader import PageScreen
from bot.shells.tui.sumform import SumScreen
from bot.talk.state import Stage
from tests.shells.driving import TOLD, Ready, Told, loaded, rows, say, stage, until

SIZES = ((40, 24), (80, 24), (120, 40))
FOLDER = Path(__file__).parent / "snapshots"


def file_of(name: str, size: tuple[int, int]) -> Path:
    """Where the snapshot of a view at a width lies."""
    return FOLDER / f"{name}-{size[0]}.txt"


def as_text(shown: list[str]) -> str:
    """Rows as a snapshot keeps them."""
    return "\n".join(shown).replace("\u00a0", " ").rstrip("\n") + "\n"


def views_shown(ready: Ready, size: tuple[int, int]) -> dict[str, str]:
    """The text of every view by its name."""
    out: dict[str, str] = {}
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder))
        app = LeglineApp(lambda: ready, store)

        async def run() -> None:
            async with app.run_test(size=size) as pilot:
                await _walk(pilot, app, out)

        asyncio.run(run())
        store.close()
    return out


async def _walk(pilot: Told, app: LeglineApp, out: dict[str, str]) -> None:
    async def keep(name: str) -> None:
        await _settled(pilot, app)
        out[name] = as_text(rows(app))

    await loaded(pilot, app)
    await keep("begin")
    for line in TOLD:
        await say(pilot, app, line)
    await keep("verdict")
    entry = app.talk.query_one(Conversation).children[-1]
    app.talk.query_one(Conversation).scroll_to_widget(entry, animate=False, top=True)
    await keep("sum-inline")
    await pilot.press("f9")
    await until(pilot, app, lambda: isinstance(app.screen, LookScreen), "the views")
    for number, name in enumerate(VIEWS, 1):
        await pilot.press(f"f{number}")
        if name != "steps":
            await keep(f"look-{name}")
    await pilot.press("escape", "f8", *"ground strap")
    await until(pilot, app, lambda: "Bad ground" in as_text(rows(app)), "hits")
    await keep("search")
    await pilot.press("escape")
    await until(pilot, app, lambda: app.screen is app.talk, "the talk")
    session = app.talk.session
    assert session is not None
    app.push_screen(PageScreen("clean-the-ground", session.knowledge, app.talk.active))
    await until(pilot, app, lambda: isinstance(app.screen, PageScreen), "a page")
    await keep("page")
    await pilot.press("escape")
    app.push_screen(SumScreen("path", session.state))
    await until(pilot, app, lambda: isinstance(app.screen, SumScreen), "a sum")
    await keep("sum-form")
    await pilot.press("escape")
    for _ in range(6):
        if stage(app) is Stage.HELD:
            break
        await say(pilot, app, "done")
    await keep("hold")
    while stage(app) is Stage.HELD:
        await say(pilot, app, "yes")
    await keep("step")
    await pilot.press("f9", "f5")
    await until(
        pilot, app, lambda: isinstance(app.screen, LookScreen) and app.screen.at == "steps", "the steps"
    )
    await keep("look-steps")


async def _settled(pilot: Told, app: LeglineApp) -> None:
    """Waits until the rows stay the same over a pause, with the cursor of the place to type left out."""
    last: list[str] = []
    for _ in range(50):
        await pilot.pause()
        now = rows(app)
        if now == last:
            return
        last = now
    raise AssertionError("the screen does not come to rest")
