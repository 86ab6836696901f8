"""The views of the case at hand, one at a time, each by its key."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import ContentSwitcher, Input, OptionList, Static

from bot.shells.tui.harmless import harmless, shortened
from bot.shells.tui.views.base import View
from bot.shells.tui.views.cases import CasesView
from bot.shells.tui.views.causes import CausesView
from bot.shells.tui.views.path import PathView
from bot.shells.tui.views.readings import ReadingsView
from bot.shells.tui.views.steps import StepsView
from bot.shells.tui.views.sums import SumsView

if TYPE_CHECKING:
    from bot.shells.tui.talk import Talk

_NARROW = 60  # columns; below it what stands side by side stands one above the other

VIEWS: dict[str, type[View]] = {
    "path": PathView,
    "causes": CausesView,
    "readings": ReadingsView,
    "sums": SumsView,
    "steps": StepsView,
    "cases": CasesView,
}


class LookScreen(ModalScreen[None]):
    """One view of the case, the names of the others above, what holds the nose always in sight."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "back", priority=True),
        *(Binding(f"f{i}", f"view({name!r})", name, priority=True) for i, name in enumerate(VIEWS, 1)),
        Binding("f10", "view('cases')", "cases", priority=True),
        Binding("tab", "tab", "next", priority=True),
        Binding("down", "arrow(1)", "down", priority=True),
        Binding("up", "arrow(-1)", "up", priority=True),
        Binding("pagedown", "page(1)", "down", priority=True),
        Binding("pageup", "page(-1)", "up", priority=True),
        Binding("enter", "enter", "choose", priority=True),
        Binding("ctrl+q", "app.quit", "leave", priority=True),
    ]

    def __init__(self, talk: Talk, view: str = "path") -> None:
        super().__init__()
        self.talk, self.at = talk, view if view in VIEWS else "path"

    def compose(self) -> ComposeResult:
        """The names, the support, the view, its keys."""
        yield Static("", id="look-top", markup=False)
        yield Static("", id="look-names", markup=False)
        with ContentSwitcher(initial=f"view-{self.at}", id="looking"):
            for name, kind in VIEWS.items():
                yield kind(self.talk, f"view-{name}")
        yield Static("", id="look-keys", classes="keys", markup=False)

    def on_mount(self) -> None:
        """The view that was asked for."""
        self.action_view(self.at)

    def on_screen_resume(self) -> None:
        """Back from a page: drawn anew, since the case may have moved."""
        if self.is_mounted:
            self._draw()

    def on_resize(self) -> None:
        """Drawn anew for the size there is."""
        self._draw()

    @property
    def view(self) -> View:
        """The view that shows."""
        return self.query_one(f"#view-{self.at}", View)

    def action_view(self, name: str) -> None:
        """Another view."""
        self.at = name
        self.query_one(ContentSwitcher).current = f"view-{name}"
        self._draw()
        self.view.take_keys()

    def _draw(self) -> None:
        assert self.talk.session is not None
        width, session = self.app.size.width, self.talk.session
        self.set_class(width < _NARROW, "-narrow")
        case = f"Case {session.number}" if session.number else "New case"
        nose = f"nose: {harmless(session.state.support)}"
        lead = shortened(case, width - len(nose) - 1)
        self.query_one("#look-top", Static).update(lead.ljust(width - len(nose)) + nose)
        parts: list[tuple[str, str]] = []
        for i, name in enumerate(VIEWS, 1):
            here = name == self.at
            parts.append(
                (f"[F{i}\u00a0{name}]" if here else f" F{i}\u00a0{name} ", "bold reverse" if here else "")
            )
        self.query_one("#look-names", Static).update(Content.assemble(*parts))
        self.query_one("#look-keys", Static).update(f"{self.view.KEYS}  Esc back  ^Q leave")
        self.view.draw()

    def action_back(self) -> None:
        """Out of what is open in the view, then out of the view."""
        view = self.view
        if isinstance(view, (PathView, ReadingsView)) and view.back():
            return
        self.dismiss()

    def action_tab(self) -> None:
        """In the cases the next standing; elsewhere the next view."""
        if isinstance(self.view, CasesView):
            self.view.next_standing()
        else:
            names = list(VIEWS)
            self.action_view(names[(names.index(self.at) + 1) % len(names)])

    def action_arrow(self, by: int) -> None:
        """Moves the list that has the keys, or the text."""
        view, focused = self.view, self.focused
        if isinstance(view, CasesView):
            view.move(by)
        elif isinstance(focused, OptionList):
            (focused.action_cursor_down if by > 0 else focused.action_cursor_up)()
        elif focused is not None and not isinstance(focused, Input):
            focused.scroll_relative(y=by, animate=False)

    def action_page(self, by: int) -> None:
        """A page down or up."""
        view, focused = self.view, self.focused
        if isinstance(view, SumsView):
            view.scroll_drawing(by)
        elif isinstance(focused, OptionList):
            for _ in range(8):
                (focused.action_cursor_down if by > 0 else focused.action_cursor_up)()
        elif focused is not None:
            focused.scroll_relative(y=by * 8, animate=False)

    async def action_enter(self) -> None:
        """Chooses what is marked; in the cases, takes it up."""
        view, focused = self.view, self.focused
        if isinstance(view, CasesView):
            number = view.chosen()
            if number is not None:
                self.dismiss()
                self.talk.take_up(number)
        elif isinstance(focused, OptionList):
            focused.action_select()
        elif isinstance(focused, Input):
            await focused.action_submit()
