"""The screen of the conversation: one case, or two side by side, and the keys under them."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.screen import Screen
from textual.widgets import Static

from bot.shells.commands import COLOURS, UNITS, WORDINGS
from bot.shells.kept import keep, read_kept
from bot.shells.tui.colours import theme_of
from bot.shells.tui.conversation import Conversation
from bot.shells.tui.keys import KEYS, footer
from bot.shells.tui.loading import Load, Loaded, NotLoaded
from bot.shells.tui.speaking import Speaking
from bot.shells.tui.talk import Talk

if TYPE_CHECKING:
    from bot.find.search import Search
    from bot.shells.demo import Guide
    from bot.shells.records import Store
    from bot.shells.session import Session
    from bot.talk.knowledge import Knowledge

LEAST_COLUMNS, LEAST_ROWS = 40, 10
LEAST_BESIDE = 2 * LEAST_COLUMNS
_LOW = 16


class TalkScreen(Screen[None]):
    """The cases that are open, and the keys."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(k.key, f"say({k.says!r})", k.word, priority=True) for k in KEYS if k.says),
        Binding("f8", "want('search')", "search", priority=True),
        Binding("f9", "want('look')", "look", priority=True),
        Binding("f10", "want('look cases')", "cases", priority=True),
        Binding("ctrl+t", "want('swap')", "swap", priority=True),
        Binding("ctrl+o", "want('pair')", "pair", priority=True),
        Binding("ctrl+l", "want('wording')", "wording", priority=True),
        Binding("ctrl+n", "want('units')", "units", priority=True),
        Binding("tab", "turn_to_other", "the case beside", priority=True),
        Binding("pageup", "scroll_talk(-1)", "up", priority=True),
        Binding("pagedown", "scroll_talk(1)", "down", priority=True),
    ]

    def __init__(
        self, load: Load, store: Store | None, guide: Guide | None = None, wording: str = "", units: str = ""
    ) -> None:
        super().__init__()
        self.load, self.store = load, store
        kept = read_kept(store.folder if store is not None else None)
        self.wording, self.units = wording or kept.wording, units or kept.units
        self.active = Talk(store, guide, self.wording, self.units)
        self.active.add_class("-active")
        self.ready: tuple[Knowledge, Search] | None = None
        self.farewell = ""
        self._faults: list[Exception] = []

    @property
    def session(self) -> Session | None:
        """The session of the case that has the keys."""
        return self.active.session

    @property
    def faults(self) -> list[Exception]:
        """What went wrong by our own mistake, oldest first."""
        return self._faults + [fault for talk in self.talks for fault in talk.faults]

    @property
    def talks(self) -> list[Talk]:
        """The cases that are open, from left to right."""
        return list(self.query(Talk)) if self.is_attached else [self.active]

    def compose(self) -> ComposeResult:
        """The cases above, the keys below."""
        with Horizontal(id="cases"):
            yield self.active
        yield Static("", id="keys", classes="keys", markup=False)
        yield Static("", id="small", markup=False)

    def on_mount(self) -> None:
        """The first paint stands before the pages are read."""
        self.show_frame()
        self.active.show_state()
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.run_worker(self._read_pages, thread=True, exit_on_error=False)

    def _read_pages(self) -> None:
        try:
            import bot.shells.plain  # noqa: F401 -- the rest of the core, read here and not before the first paint

            knowledge, search = self.load()
        except Exception as fault:  # noqa: BLE001 -- told by the command line once the screen is gone
            self.post_message(NotLoaded(fault))
        else:
            self.post_message(Loaded(knowledge, search))

    def on_not_loaded(self, message: NotLoaded) -> None:
        """Without pages there is nothing to say: the fault is told by the command line."""
        self._faults.append(message.fault)
        self.app.exit(return_code=1)

    def on_loaded(self, message: Loaded) -> None:
        """Begins the conversation."""
        self.ready = (message.knowledge, message.search)
        self.active.begin(*self.ready)

    def hear(self, text: str, pasted: bool = False) -> None:
        """One line for the case that has the keys."""
        self.active.hear(text, pasted)

    def on_speaking_leaves(self, message: Speaking.Leaves) -> None:
        """The person typed a word for leaving."""
        message.stop()
        self.leave()

    def leave(self) -> None:
        """Ends the screen; every line is on disk already."""
        sessions = [talk.session for talk in self.talks if talk.session and talk.session.number]
        self.farewell = "\n".join(one.farewell() for one in sessions) or "Nothing was kept."
        self.app.exit()

    def action_say(self, words: str) -> None:
        """A key that stands for typed words."""
        if not self.has_class("-small"):
            self.hear(words)

    async def action_want(self, what: str) -> None:
        """A key for something of the screen."""
        await self._serve(self.active, what)

    async def on_speaking_wants(self, message: Speaking.Wants) -> None:
        """A typed word for something of the screen."""
        message.stop()
        await self._serve(self.active, message.what)

    async def _serve(self, talk: Talk, what: str) -> None:
        if talk.session is None or self.has_class("-small"):
            return
        if what in ("wording", "units"):
            self._switch(talk, what)
        elif what == "colours":
            self._colours(talk)
        elif what == "pair":
            await self._pair()
        elif talk.stopped and what not in ("look cases", "swap"):
            talk.tell(f"First the question above; {what} opens after it.")
        elif what == "swap":
            self._other_case(talk)
        else:
            self._view(talk, what)

    def _view(self, talk: Talk, what: str) -> None:
        """Opens the search or one of the views."""
        assert talk.find is not None
        assert talk.session is not None
        if what == "search":
            from bot.shells.tui.pages import SearchScreen

            self.app.push_screen(SearchScreen(talk.find, talk.session.knowledge, talk))
        else:
            from bot.shells.tui.look import LookScreen

            self.app.push_screen(LookScreen(talk, what.removeprefix("look").strip() or "path"))

    def _switch(self, talk: Talk, what: str) -> None:
        """The next wording or the other units, kept for the next time."""
        assert talk.session is not None
        state = talk.session.state
        every, now = (WORDINGS, state.wording) if what == "wording" else (UNITS, state.units)
        talk.set(what, every[(every.index(now) + 1) % len(every)])

    def _colours(self, talk: Talk) -> None:
        """The next colours, kept for the next time."""
        themes = [theme_of(each, os.environ) for each in COLOURS]
        at = themes.index(self.app.theme) if self.app.theme in themes else -1
        colours = COLOURS[(at + 1) % len(themes)]
        self.app.theme = themes[(at + 1) % len(themes)]
        if self.store is not None:
            keep(self.store.folder, colours=colours)
        talk.tell(f"Colours: {colours}.")

    def on_speaking_settled(self, message: Speaking.Settled) -> None:
        """Keeps wording and units for the next time, where they are not the ones it began with."""
        message.stop()
        now = (message.wording, message.units)
        if self.store is not None and now != (self.wording, self.units):
            self.wording, self.units = now
            keep(self.store.folder, wording=message.wording, units=message.units)

    def _other_case(self, talk: Talk) -> None:
        """Puts the case at hand aside and takes up the one it was put aside for, or the one touched last."""
        from bot.problems import LeglineError

        if self.store is None:
            talk.tell("No cases are kept here.")
            return
        try:
            rows = self.store.cases(most=50)
        except LeglineError as fault:
            talk.tell(str(fault))
            return
        taken = {t.session.number for t in self.talks if t.session}
        open_rows = [r for r in rows if r.standing != "closed" and r.number not in taken]
        other = next((r for r in open_rows if r.number == talk.left), next(iter(open_rows), None))
        if other is None:
            talk.tell("There is no other open case.")
        else:
            talk.take_up(other.number)

    async def _pair(self) -> None:
        """A second case beside the first; where two are open, the one that has the keys goes."""
        talks = self.talks
        if len(talks) == 2:
            other = next(t for t in talks if t is not self.active)
            gone, self.active = self.active, other
            await gone.remove()
            other.remove_class("-second")
            self._activate(other)
        elif self.size.width < LEAST_BESIDE:
            self.active.tell(
                f"Two cases beside each other need {LEAST_BESIDE} columns; F10 changes between cases."
            )
        elif self.ready is not None:
            second = Talk(self.store, None, self.wording, self.units)
            second.add_class("-second")
            await self.query_one("#cases").mount(second)
            second.begin(*self.ready, offer=False)
            self._activate(second)
            second.tell("Tab changes sides, F10 takes a case up here, ^O closes this side.")

    def _activate(self, talk: Talk) -> None:
        self.active = talk
        for each in self.talks:
            each.set_class(each is talk, "-active")
        talk.take_keys()

    def action_turn_to_other(self) -> None:
        """The keys go to the case beside."""
        other = next((t for t in self.talks if t is not self.active), None)
        if other is not None:
            self._activate(other)

    def on_descendant_focus(self) -> None:
        """A place to type that was clicked makes its case the one at hand."""
        owner = (
            next((a for a in self.focused.ancestors if isinstance(a, Talk)), None) if self.focused else None
        )
        if owner is not None and owner is not self.active:
            self._activate(owner)

    def action_scroll_talk(self, by: int) -> None:
        """A page of the conversation up or down."""
        talk = self.active.query_one(Conversation)
        talk.scroll_relative(y=by * max(1, talk.scrollable_content_region.height - 1), animate=False)

    def on_screen_resume(self) -> None:
        """Back from a view: the keys go to the case."""
        self.active.take_keys()

    def on_resize(self) -> None:
        """Everything is drawn for the size there is."""
        self.show_frame()
        self.active.show_state()

    def show_frame(self) -> None:
        """Draws the keys, or the one sentence for a window that is too small."""
        width, height = self.app.size
        small = width < LEAST_COLUMNS or height < LEAST_ROWS
        self.set_class(small, "-small")
        self.set_class(height < _LOW, "-low")
        if small:
            said = f"{width} columns and {height} rows are too few. Legline needs {LEAST_COLUMNS} by {LEAST_ROWS}. Make the window larger, or leave (Ctrl+Q) and use: legline talk"
            self.query_one("#small", Static).update(said)
        self.query_one("#keys", Static).update(footer(width, 1 if height < _LOW else 2 if height < 20 else 3))
