"""How the open question is answered on the screen: by number, from memory, in the card of a stop; and what is copied."""

from __future__ import annotations

from dataclasses import replace

from textual._xterm_parser import XTermParser
from textual.geometry import Offset
from textual.selection import Selection

from bot.safety.holds import holds_before
from bot.shells.tui.app import LeglineApp
from bot.shells.tui.choices import choices_of
from bot.shells.tui.composer import HoldField
from bot.shells.tui.conversation import Conversation
from bot.talk.knowledge import Knowledge
from bot.talk.repair import show, stop_opens
from bot.talk.state import Asking, Stage, State, Walk
from bot.talk.understand import understand
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
)


def _stands(knowledge: Knowledge) -> tuple[str, int]:
    """A procedure and the first of its steps with stands under the nose."""
    return next(
        (procedure.id, step.number)
        for procedure in knowledge.corpus.procedures
        for step in procedure.steps
        if any(hold.sum == "stand" for hold in holds_before(procedure, step.number))
    )


async def _walk_on(pilot: Told, app: LeglineApp, document: str, step: int) -> None:
    """A repair at one of its steps, with the truck hitched and every stop before that step open."""
    await loaded(pilot, app)
    session = app.talk.session
    assert session is not None
    state = replace(
        State(),
        stage=Stage.REPAIRING,
        walk=Walk(document, step, digest=session.knowledge.pages[document].digest),
    )
    session.state = show(state, session.knowledge).state
    app.talk.active.show_state()
    await until(pilot, app, lambda: isinstance(app.focused, HoldField), "the card of the stop")


def test_sum_that_a_stop_wants_is_asked_in_its_card_and_the_stop_opens_by_nothing_else(
    prepared: Ready,
) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await _walk_on(pilot, app, *_stands(prepared[0]))
        session = app.talk.session
        assert session is not None
        seen = []
        for _ in range(8):
            asking = session.state.asking
            assert asking is not None
            seen.append(asking.finding)
            shown = flowing(rows(app))
            if asking.finding == "gross_weight_lb":
                assert "the load on what goes under the nose is worked out" in shown
                assert "in lb:" in shown
                await say(pilot, app, "yes")
                assert session.state.asking == asking
                await say(pilot, app, "14000 lb")
            elif asking.finding == "prop_kind":
                assert "stands, crib" in shown
                await say(pilot, app, "stands")
            elif asking.finding == "stand_rating_lb":
                await say(pilot, app, "500 lb")
            elif "stays shut:" in shown:
                break
            else:
                await say(pilot, app, "yes")
        assert seen[-1].startswith("hold: ")
        assert {"gross_weight_lb", "prop_kind", "stand_rating_lb"} <= set(seen)
        assert "this stop does not open" in flowing(rows(app))
        assert not stop_opens(session.state, session.knowledge)
        opened = session.state.walk.opened if session.state.walk else frozenset()
        await say(pilot, app, "yes")
        assert stage(app) is Stage.HELD
        assert session.state.walk is not None
        assert session.state.walk.opened == opened

    play(prepared, story, size=(80, 24))


def test_answer_that_the_question_offers_goes_by_its_number_and_no_number_answers_a_stop(
    prepared: Ready,
) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        assert not app.talk.query("#choices")
        await say(pilot, app, COMPLAINT)
        assert "1 hitched 2 legs 3 stands 4 unsure 5 don't know" in flowing(rows(app))
        await pilot.press("alt+2")
        await until(pilot, app, lambda: ("you", "legs") in told(app), "the second answer")
        assert "1 manual 2 one motor 3 two motor" in flowing(rows(app))
        await say(pilot, app, "2")
        assert [t for role, t in told(app) if role == "you"][-1] == "one motor"
        session = app.talk.session
        assert session is not None
        assert session.state.value("gear") == "one_motor"
        await pilot.press("up")
        assert typing_place(app).text == "one motor"
        await pilot.press("escape")
        for line in TOLD[3:]:
            await say(pilot, app, line)
        for _ in range(6):
            if stage(app) is Stage.HELD:
                break
            await say(pilot, app, "done")
        before = len(told(app))
        await pilot.press("alt+1")
        for event in XTermParser().feed("\x1b1"):
            app.post_message(event)
        await pilot.pause()
        assert len(told(app)) == before
        assert not app.talk.query_one("#choices").display
        await say(pilot, app, "1")
        assert stage(app) is Stage.HELD
        assert session.state.walk is not None
        assert session.state.walk.opened == frozenset()

    play(prepared, story)


def test_alt_and_a_number_as_a_terminal_sends_them_answer(prepared: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, COMPLAINT)
        for event in XTermParser().feed("\x1b2"):
            app.post_message(event)
        await until(pilot, app, lambda: ("you", "legs") in told(app), "the second answer")
        assert typing_place(app).text == ""

    play(prepared, story)


def test_number_is_no_answer_where_a_figure_is_asked(prepared: Ready) -> None:
    asking = Asking("volts_battery_loaded", "quantity", "V")
    assert choices_of(replace(State(), stage=Stage.ASKING, asking=asking)) == ()
    assert (
        choices_of(replace(State(), stage=Stage.DANGER, asking=Asking("x", "yes_no", "", ("yes", "no"))))
        == ()
    )
    assert choices_of(State(), offered=True) == ("yes", "no")


def test_every_answer_on_offer_is_understood_as_typed(prepared: Ready) -> None:
    knowledge = prepared[0]
    for check in knowledge.checks.values():
        if check.kind != "choice":
            continue
        asking = Asking(check.finding, "choice", "", check.choices)
        for words in choices_of(replace(State(), stage=Stage.ASKING, asking=asking))[:-1]:
            found = dict(understand(words, asking, knowledge.reader).findings)
            assert found.get(check.finding, ("",))[0] == words.replace(" ", "_"), (check.finding, words)


def test_up_brings_back_an_earlier_line_but_never_into_a_stop(prepared: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, COMPLAINT)
        await say(pilot, app, "legs")
        await pilot.press("up", "up")
        assert typing_place(app).text == COMPLAINT
        await pilot.press("down")
        assert typing_place(app).text == "legs"
        await pilot.press("down")
        assert typing_place(app).text == ""
        await pilot.press(*"new", "up")
        assert typing_place(app).text == "new"
        await pilot.press("escape")
        for line in TOLD[2:]:
            await say(pilot, app, line)
        for _ in range(6):
            if stage(app) is Stage.HELD:
                break
            await say(pilot, app, "done")
        await say(pilot, app, "yes")
        assert stage(app) is Stage.HELD
        await pilot.press("up", "up")
        assert typing_place(app).text == ""

    play(prepared, story)


def test_last_reply_and_marked_text_are_copied_as_they_stand(prepared: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        await say(pilot, app, COMPLAINT)
        await pilot.press("ctrl+y")
        await until(pilot, app, lambda: bool(app.clipboard), "something to paste")
        assert app.clipboard.startswith("Bot: Taken down: no leg moves")
        assert "went to the clipboard" in flowing(rows(app))
        talk = app.talk.query_one(Conversation)
        found = talk.get_selection(Selection(Offset(8, 0), Offset(11, 0)))
        assert found is not None
        assert found[0] == "Tel"[: len(found[0])]
        assert len(found[0]) == 3

    play(prepared, story)


def test_place_in_the_conversation_is_kept_when_the_window_changes(prepared: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        for line in TOLD:
            await say(pilot, app, line)
        talk = app.talk.query_one(Conversation)
        assert talk.entries[2].lines[0][0] == "taken"
        talk.show_entry(2, top=True)
        await pilot.pause()
        await pilot.resize_terminal(60, 24)
        await pilot.pause()
        await until(pilot, app, lambda: "Taken down: no leg moves" in flowing(rows(app)), "the same turn")
        talk.scroll_end(animate=False)
        await until(pilot, app, lambda: not talk.more_below, "the end")
        await pilot.resize_terminal(78, 20)
        await pilot.pause()
        await until(pilot, app, lambda: not talk.more_below, "the end goes on showing")

    play(prepared, story, size=(80, 24))


def test_case_keeps_its_place_when_another_is_set_beside_it(prepared: Ready) -> None:
    async def story(pilot: Told, app: LeglineApp) -> None:
        await loaded(pilot, app)
        for line in TOLD:
            await say(pilot, app, line)
        talk = app.talk.query_one(Conversation)
        last = len(talk.entries) - 1
        await pilot.press("ctrl+o")
        await until(pilot, app, lambda: len(app.talk.talks) == 2 and talk.size.width < 70, "two cases")
        await until(
            pilot, app, lambda: "Taken down: volts at the battery" in flowing(rows(app)), "the last reply"
        )
        assert talk.entries[last].lines[0][0] == "taken"

    play(prepared, story, size=(120, 40))
