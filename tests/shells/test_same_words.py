"""Every recorded conversation, said to the screen, to the plain lines and as JSON: the same words in each."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest
from rich.color import Color, ColorSystem

from bot.find.search import Search
from bot.shells.plain import as_text, talk, talk_json
from bot.shells.session import Session
from bot.shells.tui.app import LeglineApp
from bot.shells.tui.colours import DARK, LIGHT, theme_of
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from tests.shells.driving import TOLD, Ready, Told, loaded, play, say, told, walk_to_a_stop

FILES = sorted((Path(__file__).parents[1] / "conversations").glob("*.txt"))
STAMP = re.compile(r"\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:\d\dZ)?|(?<=- )\d\d:\d\d\b|\bat \d\d:\d\d UTC")


def recorded(file: Path) -> tuple[str, list[str]]:
    """The wording and the lines of the person in a recorded conversation."""
    lines = file.read_text(encoding="utf-8").splitlines()
    wording = lines[0].removeprefix("for: ") if lines[0].startswith("for: ") else "owner"
    return wording, [line[1:].strip() for line in lines if line.startswith(">")]


def _timeless(text: str) -> str:
    # The record carries the time of each line; a run over a second's edge must not decide.
    return STAMP.sub("TIME", text)


def in_json(session: Session, search: Search, lines: list[str]) -> list[list[Line]]:
    sink = io.StringIO()
    talk_json(session, io.StringIO("".join(f"{t}\n" for t in lines)), sink, search)
    turns = [json.loads(line) for line in sink.getvalue().splitlines()]
    return [[Line(r, s) for r, s in zip(t["roles"], t["say"], strict=True)] for t in turns]


def on_screen(ready: Ready, wording: str, lines: list[str]) -> list[list[Line]]:
    shown: list[tuple[str, str]] = []

    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        if wording != "owner":
            app.talk.active.session = Session(ready[0], None, wording)
        for line in lines:
            app.talk.hear(line)
        await pilot.pause()
        shown.extend(told(app))

    play(ready, story)
    replies: list[list[Line]] = [[]]
    for role, text in shown:
        if role == "you":
            replies.append([])
        else:
            replies[-1].append(Line(role, text))
    return replies


@pytest.mark.parametrize("file", FILES, ids=[f.stem for f in FILES])
def test_screen_plain_lines_and_json_give_the_same_words(
    prepared: Ready, knowledge: Knowledge, search: Search, file: Path
) -> None:
    wording, lines = recorded(file)
    assert lines
    told_in_json = in_json(Session(knowledge, None, wording), search, lines)
    told_on_screen = on_screen(prepared, wording, lines)
    assert len(told_in_json) == len(told_on_screen) == len(lines) + 1
    for said, json_lines, screen_lines in zip(["", *lines], told_in_json, told_on_screen, strict=True):
        if said:  # the first words of the screen came before the wording was set here
            assert [(x.role, _timeless(x.text)) for x in json_lines] == [
                (x.role, _timeless(x.text)) for x in screen_lines
            ], said
    sink = io.StringIO()
    talk(
        Session(knowledge, None, wording),
        search,
        io.StringIO("".join(f"{t}\n" for t in lines)),
        sink,
        interactive=False,
    )
    # The screen keeps a drawing as one, to be drawn for any width; in JSON it is text of an ordinary width.
    told_in_lines = [told_in_json[0], *told_on_screen[1:]]
    plain = "".join(as_text(lines_of) + "\n" for lines_of in told_in_lines if lines_of)
    assert _timeless(sink.getvalue()) == _timeless(plain)


@pytest.mark.parametrize("file", FILES, ids=[f.stem for f in FILES])
def test_plain_lines_hold_no_drawn_box_and_no_control(
    knowledge: Knowledge, search: Search, file: Path
) -> None:
    wording, lines = recorded(file)
    sink = io.StringIO()
    source = io.StringIO("".join(f"{t}\n" for t in [*lines, "path", "record"]))
    talk(Session(knowledge, None, wording), search, source, sink, interactive=False)
    odd = {c for c in sink.getvalue() if "\u2500" <= c <= "\u259f" or (ord(c) < 32 and c != "\n")}
    assert not odd
    assert all(line.startswith(("Bot:", " ", "#", ">", "-", "Power path")) or not line or line[0].isalnum()
               for line in sink.getvalue().splitlines())  # fmt: skip


def test_both_grounds_have_colours_of_their_own_and_are_chosen_by_what_the_terminal_says() -> None:
    assert theme_of("dark", {}) == DARK.name
    assert theme_of("light", {}) == LIGHT.name
    assert theme_of("plain", {"COLORFGBG": "0;15"}) == "ansi-light"
    assert theme_of("plain", {}) == "ansi-dark"


@pytest.mark.parametrize("colours", ["dark", "light"])
def test_every_letter_is_read_against_its_ground_in_full_colour_and_in_sixteen(
    prepared: Ready, colours: str
) -> None:
    """Contrast by the formula of WCAG 2 (relative luminance); 4.5 is its level AA for text."""

    def luminance(colour: Color) -> float:
        parts = [c / 255 for c in colour.get_truecolor()]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    def contrast(one: Color, other: Color) -> float:
        dim, bright = sorted((luminance(one), luminance(other)))
        return (bright + 0.05) / (dim + 0.05)

    poor: set[tuple[str, str]] = set()
    same: set[tuple[str, str]] = set()

    def look(app: LeglineApp) -> None:
        for strip in app.screen._compositor.render_strips():
            for segment in strip:
                style = segment.style
                if style is None or style.color is None or style.bgcolor is None:
                    continue
                text = "".join(c for c in segment.text if c.isalnum())
                if not text:
                    continue
                ink, ground = style.color, style.bgcolor
                if contrast(ink, ground) < 4.5 and len(text) > 1:
                    poor.add((f"{contrast(ink, ground):.2f}", segment.text.strip()))
                if ink.downgrade(ColorSystem.STANDARD) == ground.downgrade(ColorSystem.STANDARD):
                    same.add((str(ink), segment.text.strip()))

    async def story(pilot: Told, app: LeglineApp) -> None:
        app.theme = theme_of(colours, {})
        await loaded(pilot, app)
        for line in TOLD:
            await say(pilot, app, line)
            look(app)
        await pilot.press("f9")
        for key in ("f1", "f2", "f3", "f4", "f6"):
            await pilot.press(key)
            await pilot.pause()
            look(app)
        await pilot.press("escape")

    async def stopped(pilot: Told, app: LeglineApp) -> None:
        app.theme = theme_of(colours, {})
        await walk_to_a_stop(pilot, app)
        look(app)

    play(prepared, story, size=(120, 40))
    play(prepared, stopped, size=(80, 24))
    assert not poor
    assert not same
