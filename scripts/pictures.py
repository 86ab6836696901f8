"""The pictures of the README, taken from the running program: the same invented case, played to it by its keys.

.venv/bin/python scripts/pictures.py            writes .pictures/*.svg
.venv/bin/python scripts/pictures.py --check    prints those that differ, exit 1
"""

import asyncio
import re
import sys
import tempfile
from collections.abc import Awaitable, Callable
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

from bot.assemble import assemble  # noqa: E402
from bot.shells.records import Store  # noqa: E402
from bot.shells.tui.app import LeglineApp  # noqa: E402
from bot.shells.tui.conversation import Conversation  # noqa: E402
from tests.shells.driving import TOLD, Told, loaded, say, walk_to_a_stop  # noqa: E402

FOLDER = TOP / ".pictures"


def own_svg(svg: str, about: str) -> str:
    """The screenshot as a file that fetches nothing: no fonts from elsewhere, no window drawn round it."""
    svg = re.sub(r"@font-face\s*\{.*?\}", "", svg, flags=re.S)
    svg = re.sub(r"font-family:[^;]*;", "font-family: 'DejaVu Sans Mono', Menlo, Consolas, monospace;", svg)
    svg = re.sub(
        r"<g transform=\"translate\(26,22\)\">.*?</g>", "", svg, flags=re.S
    )  # the three dots of a window
    svg = re.sub(r"<text class=\"[^\"]*-title\".*?</text>", "", svg, flags=re.S)
    svg = re.sub(r"<!--.*?-->", "", svg, flags=re.S)
    svg = svg.replace('fill="#292929"', 'fill="#3f6f7f"')
    svg = re.sub(r"\n\s*\n+", "\n", svg)
    return re.sub(r"<svg ([^>]*)>", rf"<svg \1 role='img' aria-label='{about}'>", svg, count=1)


async def conversation(pilot: Told, app: LeglineApp) -> None:
    """A case with its readings told: path, sum, likely causes."""
    await loaded(pilot, app)
    for line in TOLD:
        await say(pilot, app, line)
    app.talk.query_one(Conversation).show_entry(-2, top=True)


async def stop(pilot: Told, app: LeglineApp) -> None:
    """The same case at the first stop of its repair."""
    app.theme = "legline-light"
    await walk_to_a_stop(pilot, app)


PICTURES: dict[str, tuple[Callable[[Told, LeglineApp], Awaitable[None]], tuple[int, int], str]] = {
    "conversation": (
        conversation,
        (120, 40),
        "The screen at 120 columns: power path above, conversation with a drawn sum, likely causes and readings beside it",
    ),
    "stop": (stop, (80, 24), "The screen at 80 columns: a stop stands in the place where one types"),
}


def taken() -> dict[str, str]:
    """Each picture as SVG by its name."""
    ready, out = assemble(), {}
    for name, (story, size, about) in PICTURES.items():
        with tempfile.TemporaryDirectory() as folder:
            store = Store(Path(folder))
            app = LeglineApp(lambda: ready, store)

            async def run(app: LeglineApp = app, story=story, size=size, name=name, about=about) -> None:  # type: ignore[no-untyped-def]
                async with app.run_test(size=size) as pilot:
                    await story(pilot, app)
                    for _ in range(4):
                        await pilot.pause()
                    out[name] = own_svg(app.export_screenshot(), about)

            asyncio.run(run())
            store.close()
    return out


def main() -> int:
    """Returns the exit status."""
    FOLDER.mkdir(exist_ok=True)
    differ = []
    for name, svg in taken().items():
        file = FOLDER / f"{name}.svg"
        if not file.exists() or file.read_text(encoding="utf-8") != svg:
            differ.append(file)
            if "--check" not in sys.argv:
                file.write_text(svg, encoding="utf-8")
    for file in differ:
        print(file.relative_to(TOP))
    return 1 if differ and "--check" in sys.argv else 0


if __name__ == "__main__":
    sys.exit(main())
