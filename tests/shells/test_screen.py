"""The screen, driven by its keys: what shows, what a stop takes, and that its words are those of the plain lines."""

from __future__ import annotations

import io
import re
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from textual.events import Paste
from textual.widgets import Input, OptionList

from bot.assemble import assemble
from bot.shells.plain import as_text, talk
from bot.shells.records import Store
from bot.shells.session import Session
from bot.shells.tui.app import LeglineApp
from bot.shells.tui.composer import HoldCard, HoldField
from bot.shells.tui.conversation import Conversation
from bot.shells.tui.pages import PageScreen, SearchScreen
from bot.talk.phrasing import Line
from bot.talk.state import Stage
from bot.talk.turn import Turn
from bot.talk.view import chances_of
from tests.shells.driving import (
    COMPLAINT,
    TOLD,
    Ready,
    Told,
    flowing,
    loaded,
    play,
    rows,
    say,
    stage,
    told,
    typing_place,
    until,
    walk_to_a_stop,
)


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Ready:
    """The shipped pages, prepared once."""
    patch = pytest.MonkeyPatch()
    patch.setenv("LEGLINE_CACHE", str(tmp_path_factory.mktemp("cache")))
    made = assemble()
    patch.undo()
    return made


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """An empty store in a folder of the test."""
    return Store(tmp_path / "cases")


def test_complaint_typed_key_by_key_is_answered_and_the_next_question_stands_below(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await pilot.press(*"legs wont go up", "enter")
        await until(
            pilot, app, lambda: app.talk.session is not None and app.talk.session.state.turn == 1, "one turn"
        )
        assert ("you", "legs wont go up") in told(app)
        assert any(role == "ask" and "what holds it up right now" in text for role, text in told(app))
        await say(pilot, app, "legs")
        assert rows(app)[0].endswith("nose: legs")

    play(ready, story)


def test_stop_takes_the_place_of_the_input_and_only_a_typed_yes_opens_it(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        assert not app.talk.query_one("#typing").display
        assert app.talk.query_one(HoldCard).display
        assert isinstance(app.focused, HoldField)
        assert "HOLD wheels chocked. Are the wheels chocked" in flowing(rows(app)).replace("┃ ", "")
        session = app.talk.session
        assert session is not None
        walk = session.state.walk
        for line in ("next", "done", "yes please", "y"):
            await say(pilot, app, line)
            assert stage(app) is Stage.HELD, line
            assert session.state.walk == walk, line
        await say(pilot, app, "yes")
        assert session.state.walk is not None
        assert walk is not None
        assert len(session.state.walk.opened) == len(walk.opened) + 1

    play(ready, story)


def test_input_comes_back_once_every_stop_before_the_step_is_open(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        for _ in range(6):
            if stage(app) is not Stage.HELD:
                break
            await say(pilot, app, "yes")
        assert stage(app) is Stage.REPAIRING
        assert app.talk.query_one("#typing").display
        assert not app.talk.query_one(HoldCard).display
        assert typing_place(app).id == "composer"

    play(ready, story)


def test_paste_never_answers_a_stop(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        field = app.talk.query_one(HoldField)
        for text in ("yes\nyes\n", "yes", "no\r\nyes"):
            before = len(told(app))
            field.post_message(Paste(text))
            await until(
                pilot, app, lambda: "nothing that was pasted" in flowing(rows(app)), "the refusal shows"
            )
            await pilot.press("enter")
            assert field.text == ""
            assert len(told(app)) == before
            assert stage(app) is Stage.HELD

    play(ready, story)


def test_lines_that_arrive_in_one_burst_do_not_answer_a_stop(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        from textual.events import Key

        await walk_to_a_stop(pilot, app)
        field = app.talk.query_one(HoldField)
        before = len(told(app))
        # As a terminal sends a paste it does not mark: every key at once.
        for key in ("y", "e", "s", "enter", "x", "y", "e", "s", "enter"):
            field.post_message(Key(key, key if len(key) == 1 else "\r"))
        await until(
            pilot, app, lambda: "faster than anybody types" in flowing(rows(app)), "the refusal shows"
        )
        assert field.text == ""
        assert len(told(app)) == before
        assert stage(app) is Stage.HELD

    play(ready, story)


def test_key_pressed_before_the_stop_was_shown_is_not_taken_by_it(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        from textual.events import Key

        early = [Key(key, key if len(key) == 1 else "\r") for key in ("y", "e", "s", "enter")]
        await walk_to_a_stop(pilot, app)
        before = len(told(app))
        field = app.talk.query_one(HoldField)
        for key in early:
            field.post_message(key)
        await pilot.pause()
        assert field.text == ""
        assert len(told(app)) == before

    play(ready, story)


def test_pasted_lines_stay_until_enter_and_are_sent_as_one_pasted_line(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        place = typing_place(app)
        place.post_message(Paste("legs wont go up\nthey click\n"))
        await until(
            pilot, app, lambda: "2 pasted lines are kept here" in flowing(rows(app)), "the person is told"
        )
        assert place.text == "legs wont go up\nthey click"
        assert not any(role == "you" for role, _ in told(app))
        await pilot.press("enter")
        await until(
            pilot, app, lambda: app.talk.session is not None and app.talk.session.state.turn == 1, "one turn"
        )
        assert app.talk.session is not None
        event = app.talk.session.state.log[-1]
        assert getattr(event, "pasted", False) is True
        assert getattr(event, "text", "") == "legs wont go up\nthey click"
        assert "kept here" not in flowing(rows(app))

    play(ready, story)


def test_escape_clears_pasted_lines_and_what_is_typed_next_is_not_marked_pasted(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        typing_place(app).post_message(Paste("a\nb"))
        await until(pilot, app, lambda: typing_place(app).text == "a\nb", "the paste stands there")
        await pilot.press("escape")
        assert typing_place(app).text == ""
        await say(pilot, app, COMPLAINT)
        assert app.talk.session is not None
        assert getattr(app.talk.session.state.log[-1], "pasted", None) is False

    play(ready, story)


@pytest.mark.parametrize("width", [40, 80, 120])
@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("[/", "[/"),
        ("[b] x", "[b] x"),
        ("[/b] plan [link=a]", "[/b] plan [link=a]"),
        ("reads 0.3 [V]", "reads 0.3 [V]"),
        ("a\x1b[2Jb\x1b]0;title\x07c", "abc"),
        ("a\x9b2Jb\x00c\u202ed", "a2Jbcd"),
    ],
)
def test_hostile_text_is_shown_as_text_and_steers_nothing(
    ready: Ready, width: int, typed: str, shown: str
) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        before = len(told(app))
        app.talk.hear(typed)
        await until(pilot, app, lambda: len(told(app)) > before + 1, "a reply")

        def at_the_top() -> bool:
            app.talk.query_one(Conversation).scroll_home(animate=False)
            return shown in flowing(rows(app))

        await until(pilot, app, at_the_top, "the text stands on the screen")
        seen = rows(app)
        assert not any(ord(c) < 32 or 127 <= ord(c) < 160 or c == "\u202e" for row in seen for c in row)

    play(ready, story, size=(width, 24))


def test_hostile_words_in_a_kept_case_are_shown_as_text_when_it_is_offered(
    ready: Ready, store: Store
) -> None:
    before = Session(ready[0], store)
    before.hear("[/ legs wont go up \x1b[31mred")

    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        assert 'Case 1 is still open: "[/ legs wont go up red"' in flowing(rows(app))

    play(ready, story, store=store)


def test_same_lines_give_the_same_words_as_the_plain_shell(ready: Ready) -> None:
    lines = [
        *TOLD[:3],
        "why", "how", "[b] nonsense [/", "don't know", "path", "find ground strap", "what do you know", *TOLD[3:],
        "other causes", "done", "done", "done", "next", "why", "yes", "no", "record", "my hand is caught under the leg",
    ]  # fmt: skip
    sink = io.StringIO()
    talk(Session(ready[0], None), ready[1], io.StringIO("\n".join(lines) + "\n"), sink, interactive=False)

    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        for line in lines:
            app.talk.hear(line)
        await pilot.pause()
        shown.extend(told(app))

    shown: list[tuple[str, str]] = []
    play(ready, story)
    replies: list[list[Line]] = [[]]
    for role, text in shown:
        if role == "you":
            replies.append([])
        else:
            replies[-1].append(Line(role, text))
    assert len(replies) == len(lines) + 1
    assert as_text(replies[-1]).startswith("Bot: Call your local emergency number now")
    # The record carries the time of each line; a run over the edge of a second or a minute must not decide.
    stamp = r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ|\d\d-\d\d \d\d:\d\d UTC"
    on_screen = "\n".join(as_text(reply) for reply in replies) + "\n"
    assert re.sub(stamp, "TIME", on_screen) == re.sub(stamp, "TIME", sink.getvalue())


def test_lines_typed_before_the_pages_are_read_are_taken_afterwards_in_order(ready: Ready) -> None:
    go = threading.Event()

    def slow() -> Ready:
        assert go.wait(30)
        return ready

    async def story(pilot: Told, app: LeglineApp) -> None:
        try:
            typing_place(app).insert(COMPLAINT)
            await pilot.press("enter")
            await until(pilot, app, lambda: f"Kept: {COMPLAINT}" in flowing(rows(app)), "the line is kept")
            typing_place(app).insert("legs")
            await pilot.press("enter")
            assert told(app) == []
        finally:
            go.set()
        await until(
            pilot, app, lambda: app.talk.session is not None and app.talk.session.state.turn == 2, "both"
        )
        assert [text for role, text in told(app) if role == "you"] == [COMPLAINT, "legs"]
        assert app.talk.session is not None
        assert app.talk.session.state.support == "legs"

    play(ready, story, load=slow)


def test_pages_that_cannot_be_read_end_the_screen_with_their_fault_kept(ready: Ready) -> None:
    from bot.corpus.place import CorpusNotFound

    async def story(pilot: Told, app: LeglineApp) -> None:
        await until(pilot, app, lambda: bool(app.talk.faults), "the fault")

    def none() -> Ready:
        return assemble("/nowhere/at/all")

    app = play(ready, story, load=none)
    assert isinstance(app.talk.faults[0], CorpusNotFound)
    assert app.return_code == 1


def test_fault_of_ours_is_told_in_one_line_and_the_conversation_goes_on(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, COMPLAINT)
        session = app.talk.session
        assert session is not None
        before, hear = session.state, session.hear

        def broken(text: str, pasted: bool = False) -> Turn:
            raise ZeroDivisionError("made for this test")

        session.hear = broken  # type: ignore[method-assign]
        await say(pilot, app, "legs")
        assert told(app)[-1][1].startswith("That is our mistake, not yours")
        assert session.state == before
        session.hear = hear  # type: ignore[method-assign]
        await say(pilot, app, "legs")
        assert session.state.support == "legs"

    app = play(ready, story)
    assert [type(fault) for fault in app.talk.faults] == [ZeroDivisionError]


def test_disk_that_cannot_be_written_is_said_once_and_the_conversation_goes_on(
    ready: Ready, tmp_path: Path
) -> None:
    blocked = tmp_path / "a file, no folder"
    blocked.write_text("", encoding="utf-8")

    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, COMPLAINT)
        await say(pilot, app, "legs")
        assert app.talk.session is not None
        assert app.talk.session.state.support == "legs"
        assert sum("is kept in memory but not on disk" in text for _, text in told(app)) == 1

    app = play(ready, story, store=Store(blocked))
    assert app.talk.faults == []


def test_open_case_is_offered_and_taken_up_after_a_typed_yes_with_its_stop_shut(
    ready: Ready, store: Store
) -> None:
    async def first(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)

    play(ready, first, store=store)

    async def second(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        assert f'Case 1 is still open: "{COMPLAINT}"' in flowing(rows(app))
        assert app.talk.session is not None
        assert app.talk.session.number is None
        await say(pilot, app, "yes")
        assert app.talk.session.number == 1
        assert app.talk.session.state.walk is not None
        assert app.talk.session.state.walk.opened == frozenset()
        assert any(role == "hold" for role, _ in told(app))

    play(ready, second, store=store)


def test_stop_of_a_case_taken_up_again_is_asked_before_anything_else(ready: Ready, store: Store) -> None:
    async def first(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)

    play(ready, first, store=store)

    async def second(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, "yes")
        assert app.talk.session is not None
        assert app.talk.session.state.walk is not None
        step = app.talk.session.state.walk.step
        assert isinstance(app.focused, HoldField)
        await say(pilot, app, "done")
        assert app.talk.session.state.walk.step == step

    play(ready, second, store=store)


def test_danger_told_instead_of_yes_or_no_is_answered_at_once(ready: Ready, store: Store) -> None:
    Session(ready[0], store).hear(COMPLAINT)

    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, "my brother is pinned under the nose")
        assert stage(app) is Stage.DANGER
        replies = told(app)[[role for role, _ in told(app)].index("you") + 1 :]
        assert replies[0][0] == "danger"
        assert replies[-1] == ("note", "Case 1 stays kept; say case 1 to take it up.")

    play(ready, story, store=store)


def test_no_to_the_offer_begins_a_fresh_case_and_keeps_the_old(ready: Ready, store: Store) -> None:
    Session(ready[0], store).hear(COMPLAINT)

    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, "no")
        await say(pilot, app, "left leg bent")
        assert app.talk.session is not None
        assert app.talk.session.number == 2
        assert [row.number for row in store.cases()] == [2, 1]

    play(ready, story, store=store)


def test_search_hits_change_at_every_key_and_the_page_opens_with_its_stops(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await pilot.press("f8")
        await until(pilot, app, lambda: isinstance(app.screen, SearchScreen), "the search box")
        hits = app.screen.query_one(OptionList)
        seen: list[list[str | None]] = []
        words = "clean the ground"
        for place, key in enumerate(words, 1):
            await pilot.press(key)
            box = app.screen.query_one(Input)
            await until(pilot, app, lambda n=place, b=box: len(b.value) == n, "the key")  # type: ignore[misc]
            wanted: list[str | None] = [hit.id for hit in ready[1].hits(words[:place].strip(), 12)]
            got = [hits.get_option_at_index(i).id for i in range(hits.option_count)]
            assert got == (list(wanted) or [None])
            seen.append(got)
        assert len({tuple(found) for found in seen}) > 2
        ids = seen[-1]
        for _ in range(ids.index("clean-the-ground")):
            await pilot.press("down")
        await pilot.press("enter")
        await until(pilot, app, lambda: isinstance(app.screen, PageScreen), "the page")
        assert isinstance(app.screen, PageScreen)
        assert "Clean the ground of the leg motor" in rows(app)[0]
        assert "HOLD before 3: wheels chocked." in app.screen.text
        await pilot.press("escape", "escape")
        await until(pilot, app, lambda: app.screen is app.talk, "back in the talk")
        await say(pilot, app, COMPLAINT)

    play(ready, story)


def test_search_waits_while_a_stop_is_open(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        await pilot.press("f8")
        await until(pilot, app, lambda: "search opens after it" in flowing(rows(app)), "it says so")
        assert app.screen is app.talk

    play(ready, story)


@pytest.mark.parametrize(
    ("key", "word"),
    [("f1", "help"), ("f2", "why"), ("f3", "how"), ("f4", "back"), ("f5", "don't know"), ("f7", "record")],
)
def test_key_does_what_its_typed_word_does(ready: Ready, key: str, word: str) -> None:
    ends: list[list[tuple[str, str]]] = []
    for by_key in (True, False):

        async def story(pilot: Told, app: LeglineApp, by_key: bool = by_key) -> None:
            await loaded(pilot, app)
            await say(pilot, app, COMPLAINT)
            before = len(told(app))
            if by_key:
                await pilot.press(key)
                await until(pilot, app, lambda: len(told(app)) > before + 1, "a reply")
            else:
                await say(pilot, app, word)
            ends.append([line for line in told(app)[before:] if "T" not in line[1] or "Z" not in line[1]])

        play(ready, story)
    assert ends[0] == ends[1]
    assert ends[0][0] == ("you", word)


def test_put_aside_by_key_keeps_the_case_and_begins_a_fresh_one(ready: Ready, store: Store) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, COMPLAINT)
        await pilot.press("f6")
        await until(pilot, app, lambda: any("Case 1 put aside" in text for _, text in told(app)), "put aside")
        assert app.talk.session is not None
        assert app.talk.session.number is None
        assert rows(app)[0].startswith("New case")
        row = store.row(1)
        assert row is not None
        assert row.standing == "aside"

    play(ready, story, store=store)


@pytest.mark.parametrize("way", ["ctrl+q", "quit"])
def test_leaving_by_key_or_word_says_how_to_take_the_case_up(ready: Ready, store: Store, way: str) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, COMPLAINT)
        if way == "quit":
            typing_place(app).insert("quit")
            await pilot.press("enter")
        else:
            await pilot.press(way)
        await until(pilot, app, lambda: bool(app.talk.farewell), "the last words")

    app = play(ready, story, store=store)
    assert app.talk.farewell == "Case 1 is kept. Take it up with: legline case resume 1"


# What each size must show, written by hand. The rows named by number are fixed furniture; the rest may stand anywhere.
FOOTER_80 = [
    "F1 help  F2 why  F3 how  F4 back  F5 don't know  F6 put aside  F7 record",
    "F8 search  F9 look  F10 cases  ^T swap  ^O pair  ^L wording  ^N units  ^Q leave",
]
FOOTER_40 = [
    "F1 help  F2 why  F3 how  F4 back",
    "F5 don't know  F6 put aside  F7 record",
    "F8 search  F9 look  F10 cases  ^Q leave",
]
FOOTER_120 = [
    "F1 help  F2 why  F3 how  F4 back  F5 don't know  F6 put aside  F7 record  F8 search  F9 look  F10 cases  ^T swap",
    "^O pair  ^L wording  ^N units  ^Q leave",
]
LINKS = (
    "battery",
    "fuse",
    "switch",
    "relay",
    "motor",
    "gearbox",
    "cross shaft",
    "left leg",
    "right leg",
    "foot",
    "ground",
)


@pytest.mark.parametrize(
    ("size", "top", "footer", "links", "there", "absent"),
    [
        (
            (40, 24),
            ("New case · owner · US", "nose: legs"),
            FOOTER_40,
            ("! suspect:",),
            ("you: 12.1 at the battery", "▼ more below: PgDn"),
            ("likely causes", "│"),
        ),
        (
            (80, 24),
            ("New case · owner wording · US units", "nose: legs"),
            FOOTER_80,
            (*LINKS, "! suspect", "? untested", "+ sound"),
            ("sum lost = 12.1 V - 6.8 V = 5.3 V",),
            ("likely causes", "│"),
        ),
        (
            (120, 40),
            ("New case · owner wording · US units", "nose: legs"),
            FOOTER_120,
            (*LINKS, "! suspect", "? untested", "+ sound"),
            ("likely causes, in 100", "▇", "readings", "12.5 V", "6.8 V", "12.1 V", "4.4 V"),
            ("none yet",),
        ),
    ],
)
def test_screen_rows_hold_what_their_size_has_room_for(
    ready: Ready,
    tmp_path: Path,
    size: tuple[int, int],
    top: tuple[str, str],
    footer: list[str],
    links: tuple[str, ...],
    there: tuple[str, ...],
    absent: tuple[str, ...],
) -> None:
    snapshot = tmp_path / f"screen-{size[0]}x{size[1]}.txt"

    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        for line in TOLD:
            await say(pilot, app, line)

        # The beginning of the last reply, with the line it answers.
        def at_the_line() -> bool:
            app.talk.query_one(Conversation).show_entry(-2, top=True)
            return "12.1 at the battery with" in flowing(rows(app))

        await until(pilot, app, at_the_line, "the last line and its reply")
        snapshot.write_text("\n".join(rows(app)), encoding="utf-8")

    play(ready, story, size=size)
    shown = snapshot.read_text(encoding="utf-8").split("\n")
    text = flowing(shown)
    assert len(shown) == size[1]
    assert all(len(row) <= size[0] for row in shown)
    assert shown[0].startswith(top[0])
    assert shown[0].endswith(top[1])
    assert shown[-len(footer) :] == footer
    path = flowing(shown[1:6])
    for words in links:
        assert words in path, words
    for words in there:
        assert words in text, (words, "\n".join(shown))
    for words in absent:
        assert words not in text, words


@pytest.mark.parametrize("size", [(39, 24), (80, 9)])
def test_below_the_least_size_it_says_the_size_it_needs_and_nothing_else(
    ready: Ready, size: tuple[int, int]
) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        text = flowing(rows(app))
        assert f"{size[0]} columns and {size[1]} rows are too few. Legline needs 40 by 10." in text
        assert "Tell me in your own words" not in text
        await pilot.resize_terminal(40, 10)
        await until(pilot, app, lambda: "too few" not in flowing(rows(app)), "room again")
        await say(pilot, app, "legs wont go up")
        assert any("what holds it up" in words for _, words in told(app))

    play(ready, story, size=size)


def test_stop_at_the_least_size_still_shows_its_question_and_the_place_to_answer(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        shown = rows(app)
        assert len(shown) == 10
        text = flowing(shown)
        assert "HOLD wheels chocked." in text
        assert "yes or no:" in text
        assert "^Q leave" in shown[-1]
        before = shown
        await pilot.press("down")
        await until(pilot, app, lambda: rows(app) != before, "the words of the stop move")

    play(ready, story, size=(40, 10))


def test_causes_show_how_far_the_last_answer_moved_them(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        for line in TOLD[:-1]:
            await say(pilot, app, line)
        session = app.talk.session
        assert session is not None
        then = dict(chances_of(session.state, ready[0]))["bad_ground"]
        await say(pilot, app, TOLD[-1])
        now = dict(chances_of(session.state, ready[0]))["bad_ground"]
        assert f"{round(100 * now)} {round(100 * now) - round(100 * then):+d}" in flowing(rows(app))

    play(ready, story, size=(120, 40))


def test_bar_and_change_say_the_chance_in_marks_and_figures() -> None:
    from bot.shells.tui.side import bar, change

    assert bar(0.5) == "▇▇▇▇····"
    assert bar(0.001) == "▇·······"
    assert bar(1.0) == "▇" * 8
    assert change(62, 31) == "+31"
    assert change(21, 25) == "-4"
    assert change(9, 9) == ""
    assert change(9, None) == ""


def test_wide_characters_are_wrapped_by_the_cells_they_take() -> None:
    from rich.cells import cell_len

    from bot.shells.tui.harmless import wrapped

    out = wrapped("電池は 12.5 V " + "腿" * 30, 20, 2)
    assert all(cell_len(row) <= 20 for row in out)
    assert "".join(out).replace(" ", "") == "電池は12.5V" + "腿" * 30


def test_first_paint_needs_neither_pages_nor_index_nor_units() -> None:
    heavy = (
        "bot.assemble",
        "bot.talk.turn",
        "bot.find.index",
        "bot.units",
        "whoosh",
        "pint",
        "rapidfuzz",
        "pydantic",
    )
    code = f"import sys, bot.shells.tui.app; print([m for m in {heavy!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_without_colour_every_state_is_told_by_mark_and_word(
    ready: Ready, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")

    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        colours = {
            style.color.triplet
            for strip in app.screen._compositor.render_strips()
            for style in (segment.style for segment in strip)
            if style is not None and style.color is not None and style.color.triplet is not None
        }
        assert app.no_color
        assert colours
        assert all(c.red == c.green == c.blue for c in colours)
        text = flowing(rows(app))
        for words in ("ground ! suspect", "? untested", "+ sound", "HOLD wheels chocked", "yes or no:"):
            assert words in text, words

    play(ready, story)
