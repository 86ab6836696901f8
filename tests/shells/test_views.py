"""Views of a case, search, reader, sums, two cases side by side, settings: driven by keys, waiting for conditions."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input, OptionList

from bot.shells.kept import read_kept
from bot.shells.records import Store
from bot.shells.session import Session
from bot.shells.tui.app import LeglineApp
from bot.shells.tui.conversation import Conversation
from bot.shells.tui.keys import KEYS, MORE, TYPED, footer
from bot.shells.tui.look import VIEWS, LookScreen
from bot.shells.tui.pages import KINDS, SearchScreen
from bot.shells.tui.reader import PageScreen, leads_of
from bot.shells.tui.sumform import KNOWN_AS, SumScreen, answer, filled_in
from bot.shells.tui.talk import Talk
from bot.shells.tui.views.cases import matching
from bot.shells.tui.views.readings import sentence
from bot.shells.tui.views.steps import StepsView
from bot.sums.catalogue import CATALOGUE
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from bot.talk.understand import understand
from bot.talk.view import chances_of, power_path
from bot.units import show
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
    until,
    walk_to_a_stop,
)  # fmt: skip

SIZES = [(40, 24), (80, 24), (120, 40)]


@pytest.fixture
def ready(prepared: Ready) -> Ready:
    """The shipped pages."""
    return prepared


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """An empty store in a folder of the test."""
    return Store(tmp_path / "cases")


async def look(pilot: Told, app: LeglineApp, view: str) -> LookScreen:
    await pilot.press("f9")
    await until(pilot, app, lambda: isinstance(app.screen, LookScreen), "the view")
    screen = app.screen
    assert isinstance(screen, LookScreen)
    await pilot.press(f"f{list(VIEWS).index(view) + 1}")
    await until(pilot, app, lambda: screen.at == view, view)
    return screen


async def tell(pilot: Told, app: LeglineApp, *lines: str) -> None:
    await loaded(pilot, app)
    for line in lines:
        await say(pilot, app, line)


def option_ids(app: LeglineApp, which: str) -> list[str | None]:
    options = app.screen.query_one(which, OptionList)
    return [options.get_option_at_index(i).id for i in range(options.option_count)]


def state_of(app: LeglineApp) -> State:
    assert app.talk.session is not None
    return app.talk.session.state


# ---- readings


def test_every_reading_typed_into_the_table_is_heard_as_that_reading_and_nothing_else(
    knowledge: Knowledge,
) -> None:
    heard = {}
    for name, check in knowledge.checks.items():
        if check.kind != "quantity":
            continue
        value = check.low + (check.high - check.low) * 0.4
        value = round(value) if check.unit in ("AWG", "A", "lb") else round(value, 1)
        meaning = understand(sentence(check, show(value, check.unit)), None, knowledge.reader)
        got = {r.finding: r.value for r in meaning.readings}
        heard[name] = (got, dict(meaning.findings), value)
    wrong = {n: h for n, h in heard.items() if h[0] != {n: pytest.approx(h[2], rel=0.01)} or h[1]}
    assert not wrong


def test_value_without_a_unit_takes_the_unit_of_its_place(knowledge: Knowledge) -> None:
    assert sentence(knowledge.checks["volts_motor_loaded"], "6.5").endswith("6.5 V")
    assert sentence(knowledge.checks["stroke_in"], "500 mm").endswith("500 mm")


@pytest.mark.parametrize("size", SIZES)
def test_reading_edited_in_place_does_what_saying_it_does(ready: Ready, size: tuple[int, int]) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, *TOLD)
        await look(pilot, app, "readings")
        listed = option_ids(app, "#readings-list")
        shown = app.screen.query_one("#readings-list", OptionList)
        shown.highlighted = listed.index("volts_motor_loaded")
        await pilot.press("enter")
        box = app.screen.query_one("#reading-value", Input)
        await until(pilot, app, lambda: box.has_focus, "the place to type")
        assert box.value == "6.8 V"
        box.value = ""
        await pilot.press(*"11.3", "enter")
        await until(pilot, app, lambda: state_of(app).value("volts_motor_loaded") == 11.3, "the new value")
        assert "Said: volts at the motor with the button held: 11.3 V" in flowing(rows(app))
        edited.append(dict(state_of(app).findings()))
        edited.append(told(app)[-1])

    edited: list[object] = []
    play(ready, story, size=size)
    by_words = Session(ready[0], None)
    for line in (*TOLD, "volts at the motor with the button held: 11.3 V"):
        last = by_words.hear(line)
    assert edited[0] == by_words.state.findings()
    assert edited[1] == (last.replies[-1].role, last.replies[-1].text)


def test_reading_left_as_it_was_says_nothing(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, *TOLD)
        before = len(told(app))
        await look(pilot, app, "readings")
        for leaves in ("enter", "escape"):
            await pilot.press("enter")
            box = app.screen.query_one("#reading-value", Input)
            await until(pilot, app, lambda: box.has_focus, "the place to type")  # noqa: B023
            await pilot.press(leaves)
            await until(pilot, app, lambda: not box.display, "closed again")  # noqa: B023
        assert isinstance(app.screen, LookScreen)
        assert len(told(app)) == before

    play(ready, story)


# ---- path, causes, sums, steps


@pytest.mark.parametrize("size", SIZES)
def test_link_shows_its_findings_its_checks_and_its_pages(ready: Ready, size: tuple[int, int]) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, *TOLD)
        await look(pilot, app, "path")
        links = app.screen.query_one("#links", OptionList)
        path = power_path(state_of(app), ready[0])
        for place, link in enumerate(path):
            links.highlighted = place
            await until(
                pilot,
                app,
                lambda: option_text(app, "#of-link", 0).startswith(f"{link.name}:"),  # noqa: B023
                link.name,
            )
            assert link.state in option_text(app, "#of-link", 0)
            everything = "\n".join(
                option_text(app, "#of-link", i)
                for i in range(app.screen.query_one("#of-link", OptionList).option_count)
            )
            for finding in link.findings:
                assert finding in everything
        ids = set(option_ids(app, "#of-link")) - {None}
        assert "clean-the-ground" in ids  # the last link is the ground
        assert {"bad-ground", "ground-clean", "volts-ground-drop"} <= ids
        await pilot.press("enter", "enter")
        await until(pilot, app, lambda: isinstance(app.screen, PageScreen), "the page of the first check")
        await pilot.press("escape")
        await until(pilot, app, lambda: isinstance(app.screen, LookScreen), "back in the path")
        await pilot.press("escape")
        await until(pilot, app, lambda: links.has_focus, "back to the links")
        await pilot.press("escape")
        await until(pilot, app, lambda: app.screen is app.talk, "back in the talk")
        await say(pilot, app, "why")

    play(ready, story, size=size)


def option_text(app: LeglineApp, which: str, place: int) -> str:
    options = app.screen.query_one(which, OptionList)
    return str(options.get_option_at_index(place).prompt).strip() if place < options.option_count else ""


@pytest.mark.parametrize("size", SIZES)
def test_causes_are_listed_with_bars_chances_and_the_last_change(ready: Ready, size: tuple[int, int]) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, *TOLD[:-1])
        then = {n: round(100 * c) for n, c in chances_of(state_of(app), ready[0])}
        await say(pilot, app, TOLD[-1])
        await look(pilot, app, "causes")
        shown = flowing(rows(app))
        for name, chance in chances_of(state_of(app), ready[0])[:2]:
            now = min(99, max(1, round(100 * chance)))
            assert f"{now} {now - then[name]:+d}" in " ".join(shown.split())
        assert "▇" in shown
        assert "bad-ground" in option_ids(app, "#causes-list")

    play(ready, story, size=size)


@pytest.mark.parametrize("size", SIZES)
def test_sum_is_drawn_in_the_conversation_and_whole_in_its_view(ready: Ready, size: tuple[int, int]) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, *TOLD)
        entry = app.talk.query_one(Conversation).children[-1]
        drawn = [text for _, text, style in entry.rows(entry.size.width) if style == "$accent"]  # type: ignore[attr-defined]
        assert any(text.startswith("battery") and "###" in text for text in drawn)
        assert all(len(text) <= max(30, entry.size.width) for text in drawn)
        assert not any("###" in text for _, text in told(app))  # words stay those of the plain lines
        await look(pilot, app, "sums")
        shown = flowing(rows(app))
        assert "lost in all: 5.3 V" in shown
        await pilot.press("enter")
        await until(pilot, app, lambda: isinstance(app.screen, SumScreen), "the sum to type into")
        assert app.screen.query_one(Input).value == '--battery "12.1 V" --motor "6.8 V" --ground "4.4 V"'
        assert "5.3 V" in flowing(rows(app))

    play(ready, story, size=size)


def test_what_a_sum_takes_from_the_case_names_findings_and_inputs_that_are_there(
    knowledge: Knowledge,
) -> None:
    assert set(KNOWN_AS.values()) <= set(knowledge.checks)
    assert set(KNOWN_AS) <= {i.name for one in CATALOGUE.values() for i in one.inputs}
    session = Session(knowledge, None)
    session.hear("14000 lb gross, pin weight 2800 lb, one motor")
    assert filled_in(CATALOGUE["leg-load"], session.state) == '--gross "14000 lb" --pin "2800 lb"'


def test_answer_of_a_sum_follows_what_is_typed_and_says_what_is_missing() -> None:
    assert "3640 lb" in answer(
        "leg-load", '--gross "14000 lb" --pin "2800 lb" --pin-to-axles "26 ft" --pin-to-legs "6 ft"', "us"
    )
    assert answer("leg-load", '--gross "14000', "us") == "A quote is still open."
    assert "no --grosz" in answer("leg-load", "--grosz 3", "us")
    assert answer("leg-load", "", "us") == ""


@pytest.mark.parametrize("size", SIZES)
def test_steps_are_ticked_and_a_step_behind_a_shut_stop_is_counted_not_shown(
    ready: Ready, size: tuple[int, int]
) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        view = StepsView(app.talk.active, "free")
        lines = view.lines()
        walk = state_of(app).walk
        assert walk is not None
        procedure = ready[0].procedures[walk.document]
        ticked = [line for line in lines if line.startswith("[x]")]
        assert len(ticked) == walk.step - 1 > 0
        assert lines[0] == "The nose: legs."
        assert any("stop, shut" in line for line in lines)
        for later in procedure.steps[walk.step :]:
            assert not any(later.text in line for line in lines)
        before = len(told(app))
        await pilot.press("f9")
        await until(pilot, app, lambda: "look opens after it" in flowing(rows(app)), "the stop comes first")
        assert len(told(app)) == before
        while stage(app) is Stage.HELD:
            await say(pilot, app, "yes")
        await look(pilot, app, "steps")
        shown = flowing(rows(app))
        assert "[x] 1" in shown
        assert "[>] 3" in shown
        assert "stop, open" in shown
        assert "nose: legs" in rows(app)[0]

    play(ready, story, size=size)


def test_wait_of_a_step_is_started_by_its_word_and_shown_beside_the_support(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, COMPLAINT, "legs")
        before = len(told(app))
        app.talk.hear("timer 15 minutes")
        await until(pilot, app, lambda: "wait 1" in rows(app)[0], "the wait shows")
        assert rows(app)[0].endswith("nose: legs")
        app.talk.hear("timer 1 s")
        await until(pilot, app, lambda: "The wait is over." in flowing(rows(app)), "the end of the wait")
        assert "wait" not in rows(app)[0]
        assert len(told(app)) == before

    play(ready, story)


# ---- search and reader


def test_search_is_narrowed_by_kind_and_by_gear(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, COMPLAINT, "legs", "hand crank, no motor")
        await pilot.press("f8")
        await until(pilot, app, lambda: isinstance(app.screen, SearchScreen), "the search")
        await pilot.press(*"leg")
        await until(pilot, app, lambda: option_ids(app, "#hits") != [], "hits")
        pages = ready[0].pages
        for kind in KINDS[1:]:
            await pilot.press("tab")
            await until(
                pilot,
                app,
                lambda: {pages[i].kind for i in option_ids(app, "#hits") if i} == {kind},  # noqa: B023
                kind,
            )
        await pilot.press(*["shift+tab"] * 2, "f2")
        await until(
            pilot,
            app,
            lambda: all("manual" in pages[i].head["fits"] for i in option_ids(app, "#hits") if i),
            "only what fits a crank",
        )
        assert option_ids(app, "#hits")

    play(ready, story)


@pytest.mark.parametrize("size", SIZES)
def test_words_are_found_in_a_page_and_its_sections_lead_to_their_place(
    ready: Ready, size: tuple[int, int]
) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, *TOLD)
        page = PageScreen("clean-the-ground", ready[0], app.talk.active)
        app.push_screen(page)
        await until(pilot, app, lambda: app.screen is page, "the page")
        await pilot.press("slash", *"breakaway")
        await until(pilot, app, lambda: "1 of 1 rows with “breakaway”" in flowing(rows(app)), "found")
        assert any("breakaway" in row for row in rows(app)[:-3])
        await pilot.press("escape", "o")
        outline = page.query_one("#outline", OptionList)
        await until(pilot, app, lambda: outline.has_focus, "the sections")
        ids = option_ids(app, "#outline")
        assert "head PROVE IT" in ids
        outline.highlighted = ids.index("head PROVE IT")
        await pilot.press("enter")
        await until(pilot, app, lambda: "PROVE IT" in flowing(rows(app)), "its place")
        await pilot.press("o")
        await until(pilot, app, lambda: outline.has_focus, "the sections again")
        outline.highlighted = ids.index("sum path")
        await pilot.press("enter")
        await until(pilot, app, lambda: isinstance(app.screen, SumScreen), "the sum")
        assert '--motor "6.8 V"' in app.screen.query_one(Input).value

    play(ready, story, size=size)


def test_page_of_a_check_says_what_the_case_knows_of_it(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, *TOLD)
        app.push_screen(PageScreen("volts-motor-loaded", ready[0], app.talk.active))
        await until(
            pilot,
            app,
            lambda: "This case: volts at the motor with the button held: 6.8 V" in flowing(rows(app)),
            "known",
        )

    play(ready, story)


def test_every_lead_of_every_page_leads_somewhere(knowledge: Knowledge) -> None:
    from bot.shells.pages import page_text

    leads = {i: leads_of(i, page_text(i, knowledge), knowledge) for i in knowledge.pages}
    for where, _ in (lead for found in leads.values() for lead in found):
        kind, name = where.split(" ")
        assert name in (CATALOGUE if kind == "sum" else knowledge.pages)
    assert sum(map(len, leads.values())) > 100


# ---- cases, pair, settings


def three_cases(ready: Ready, store: Store) -> None:
    for line in ("left leg bent", "motor hums", "it just clicks"):
        session = Session(ready[0], store)
        session.hear(line)
        session.put_aside()


@pytest.mark.parametrize("size", SIZES)
def test_case_is_found_by_its_words_and_taken_up_with_enter(
    ready: Ready, store: Store, size: tuple[int, int]
) -> None:
    three_cases(ready, store)

    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, "right leg stays")
        await pilot.press("f10")
        await until(pilot, app, lambda: isinstance(app.screen, LookScreen), "the cases")
        assert option_ids(app, "#cases-list") == ["4", "3", "2", "1"]
        assert "aside" in flowing(rows(app))
        assert "waits for: What holds" in flowing(rows(app))
        await pilot.press(*"hums")
        await until(pilot, app, lambda: option_ids(app, "#cases-list") == ["2"], "one case")
        await pilot.press("enter")
        await until(pilot, app, lambda: app.screen is app.talk, "back in the talk")
        assert app.talk.session is not None
        assert app.talk.session.number == 2
        four = store.row(4)
        assert four is not None
        assert four.standing == "aside"
        await pilot.press("ctrl+t")
        await until(
            pilot, app, lambda: app.talk.session is not None and app.talk.session.number == 4, "swapped"
        )
        await pilot.press("ctrl+t")
        await until(
            pilot, app, lambda: app.talk.session is not None and app.talk.session.number == 2, "and back"
        )

    play(ready, story, size=size, store=store)


def test_tab_shows_only_cases_of_one_standing(ready: Ready, store: Store) -> None:
    three_cases(ready, store)

    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, "right leg stays")
        await pilot.press("f10")
        await until(pilot, app, lambda: isinstance(app.screen, LookScreen), "the cases")
        for wanted in (["4"], ["3", "2", "1"], [], ["4", "3", "2", "1"]):
            await pilot.press("tab")
            await until(
                pilot,
                app,
                lambda: option_ids(app, "#cases-list") == wanted,  # noqa: B023
                str(wanted),
            )

    play(ready, story, store=store)
    assert [r.number for r in matching(store.cases(), "bent left", "all")] == [1]
    store.close()


def test_two_cases_stand_side_by_side_and_each_hears_only_its_own_lines(ready: Ready, store: Store) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, COMPLAINT)
        await pilot.press("ctrl+o")
        await until(pilot, app, lambda: len(app.screen.query(Talk)) == 2, "two")
        left, right = app.screen.query(Talk)
        await until(
            pilot,
            app,
            lambda: app.talk.active is right and right.session is not None,
            "the right one has the keys",
        )
        await pilot.press(*"left leg bent", "enter")
        await until(
            pilot, app, lambda: right.session is not None and right.session.number == 2, "its own case"
        )
        assert left.session is not None
        assert left.session.number == 1
        assert left.session.state.turn == 1
        await pilot.press("tab", *"legs", "enter")
        await until(
            pilot,
            app,
            lambda: left.session is not None and left.session.state.support == "legs",
            "left hears",
        )
        assert right.session is not None
        assert right.session.state.turn == 1
        top = rows(app)[0]
        assert "Case 1" in top
        assert "Case 2" in top
        await pilot.press("ctrl+o")
        await until(pilot, app, lambda: len(app.screen.query(Talk)) == 1, "one again")
        assert app.talk.session is right.session

    play(ready, story, size=(120, 40), store=store)


def test_pair_in_a_window_too_narrow_says_how_wide_it_has_to_be(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, COMPLAINT)
        await pilot.press("ctrl+o")
        await until(pilot, app, lambda: "need 80 columns" in flowing(rows(app)), "the reason")
        assert len(app.screen.query(Talk)) == 1

    play(ready, story, size=(79, 24))


def test_wording_and_units_change_at_any_time_and_are_there_the_next_time(ready: Ready, store: Store) -> None:
    async def first(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        await pilot.press("ctrl+l", "ctrl+l", "ctrl+n")
        await until(
            pilot,
            app,
            lambda: "tech wording · METRIC" in rows(app)[0] or "tech wording · metric" in rows(app)[0],
            "both",
        )
        assert stage(app) is Stage.HELD

    play(ready, first, store=store)
    assert read_kept(store.folder)[:2] == ("tech", "metric")

    async def second(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, "no")
        assert "tech" in rows(app)[0]
        assert "metric" in rows(app)[0]
        await say(pilot, app, "owner wording")

    play(ready, second, store=store)
    assert read_kept(store.folder)[:2] == ("owner", "metric")


@pytest.mark.parametrize("spoilt", ["", "{", "[]", '{"wording": "rude", "units": 3, "colours": []}', "\x00"])
def test_spoilt_settings_are_the_settings_one_begins_with(tmp_path: Path, spoilt: str) -> None:
    (tmp_path / "screen.json").write_text(spoilt, encoding="utf-8")
    assert read_kept(tmp_path) == ("owner", "us", "")


@pytest.mark.parametrize("word", sorted(TYPED))
def test_typed_word_does_what_its_key_does(ready: Ready, store: Store, word: str) -> None:
    three_cases(ready, store)

    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, "right leg stays")
        before = (app.screen, rows(app)[0], len(app.screen.query(Talk)), app.theme)
        said = [t for r, t in told(app) if r == "you"]
        await pilot.press(*word, "enter")
        await until(
            pilot,
            app,
            lambda: (app.screen, rows(app)[0], len(app.screen.query(Talk)), app.theme) != before,
            f"{word} does something",
        )
        assert [t for r, t in told(app) if r == "you"] == said

    play(ready, story, size=(120, 40), store=store)


def test_words_of_the_screen_are_no_answer_to_a_stop_and_open_nothing_over_it(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await walk_to_a_stop(pilot, app)
        for word in ("look", "search"):
            await say(pilot, app, word)
            assert app.screen is app.talk
            assert stage(app) is Stage.HELD

    play(ready, story)


def test_help_names_every_key_that_the_narrow_footer_leaves_out(ready: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await tell(pilot, app, COMPLAINT)
        await pilot.press("f1")
        await until(
            pilot, app, lambda: all(f"{k.shown} {k.word}" in flowing(rows(app)) for k in MORE), "the keys"
        )

    play(ready, story, size=(60, 24))


def test_footer_never_passes_its_width_and_always_names_help_and_leave() -> None:
    for width in range(40, 160):
        for count in (1, 2, 3):
            lines = footer(width, count).split("\n")
            assert len(lines) <= count
            assert all(len(line) <= width for line in lines)
            assert "F1 help" in lines[0]
            assert "^Q leave" in lines[-1]
    assert all(k.word in footer(160, 2) for k in (*KEYS, *MORE))


# ---- the demo on the screen


@pytest.mark.parametrize("size", SIZES)
def test_demo_on_the_screen_stands_ready_line_by_line_but_leaves_the_stop_to_the_person(
    ready: Ready, size: tuple[int, int]
) -> None:
    from bot.shells.demo import BEATS, Guide

    guide = Guide()

    async def story(pilot: Told, app: LeglineApp) -> None:
        await until(pilot, app, lambda: bool(told(app)), "the first words")
        assert "invented" in flowing(rows(app)[:1])
        assert any("invented" in text for _, text in told(app)[:2])
        while stage(app) is not Stage.HELD:
            beat = guide.beat
            assert beat is not None
            composer = app.talk.query_one("#composer")
            await until(pilot, app, lambda: composer.text == beat.line, "the next line stands ready")  # type: ignore[attr-defined]  # noqa: B023
            await pilot.press("enter")
            await until(pilot, app, lambda: guide.beat is not beat, "sent")  # noqa: B023
        assert app.focused is not None
        assert app.focused.text == ""  # type: ignore[attr-defined]
        assert guide.beat is BEATS[10]

    app = LeglineApp(lambda: ready, None, guide)
    import asyncio

    async def run() -> None:
        async with app.run_test(size=size) as pilot:
            await story(pilot, app)

    asyncio.run(run())
