"""Where one types, and the card that takes that place while a stop is open."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.timer import Timer
from textual.widgets import Static, TextArea

from bot.shells.tui.harmless import harmless, wrapped

_QUIET = 0.08  # seconds without a key after Enter before an answer to a stop counts
_LULL = 0.3  # seconds of silence that end a burst


class Composer(TextArea):
    """A text area that grows. Enter sends; a paste stays here until Enter."""

    class Sent(Message):
        """A line is ready: its text, and whether any of it was pasted."""

        def __init__(self, text: str, pasted: bool) -> None:
            super().__init__()
            self.text, self.pasted = text, pasted

    class Kept(Message):
        """How many pasted lines wait here; 0 when none do any more."""

        def __init__(self, lines: int) -> None:
            super().__init__()
            self.lines = lines

    HINT = "Type here. Enter sends."

    def __init__(self, id: str) -> None:
        super().__init__(
            id=id,
            compact=True,
            highlight_cursor_line=False,
            tab_behavior="focus",
            placeholder=Content(self.HINT),
        )
        self.pasted = False

    async def _on_paste(self, event: events.Paste) -> None:
        event.stop()
        event.prevent_default()
        text = harmless(event.text).strip("\n")
        if not text:
            return
        self.pasted = True
        self.insert(text)
        lines = self.text.count("\n") + 1
        self.post_message(self.Kept(lines if lines > 1 else 0))

    async def _on_key(self, event: events.Key) -> None:
        if event.key == "enter":
            event.stop()
            event.prevent_default()
            self.send()
        elif event.key == "escape":
            event.stop()
            event.prevent_default()
            self.empty()
        else:
            await super()._on_key(event)

    def send(self) -> None:
        """Sends what stands here, where something does."""
        text, pasted = self.text, self.pasted
        if text.strip():
            self.empty()
            self.post_message(self.Sent(text, pasted))

    def empty(self) -> None:
        """Takes everything out."""
        self.text = ""
        self.pasted = False
        self.post_message(self.Kept(0))


class HoldField(Composer):
    """One typed line for a stop: no paste, no key from before the stop was shown, no line that came in a burst."""

    HINT = ""

    class Refused(Message):
        """Why something was not taken."""

        def __init__(self, why: str) -> None:
            super().__init__()
            self.why = why

    def __init__(self, id: str) -> None:
        super().__init__(id)
        self.shown_at = 0.0
        self._burst_until = 0.0
        self._about_to_send: Timer | None = None

    async def _on_paste(self, event: events.Paste) -> None:
        event.stop()
        event.prevent_default()
        self.empty()
        self.post_message(self.Refused("A stop takes nothing that was pasted. Type it."))

    async def _on_key(self, event: events.Key) -> None:
        if event.time < self.shown_at or event.time < self._burst_until:
            if event.time < self._burst_until:
                self._burst_until = event.time + _LULL
            event.stop()
            event.prevent_default()
            return
        if self._about_to_send is not None:
            # A terminal without marked pastes sends them as keys: more keys right behind Enter are such a paste.
            self._about_to_send.stop()
            self._about_to_send = None
            self._burst_until = event.time + _LULL
            self.empty()
            event.stop()
            event.prevent_default()
            self.post_message(
                self.Refused("That came faster than anybody types, so it was not taken. Type it.")
            )
            return
        await super()._on_key(event)

    def action_cursor_up(self, select: bool = False) -> None:
        """The words of the stop move; the line itself has nowhere to go."""
        self._words().scroll_up(animate=False)

    def action_cursor_down(self, select: bool = False) -> None:
        """The words of the stop move."""
        self._words().scroll_down(animate=False)

    def _words(self) -> VerticalScroll:
        card = next(a for a in self.ancestors if isinstance(a, HoldCard))
        return card.query_one("#hold-words", VerticalScroll)

    def send(self) -> None:
        """Sends once no further key has followed."""
        if self.text.strip():
            self._about_to_send = self.set_timer(_QUIET, self._send_now)

    def _send_now(self) -> None:
        self._about_to_send = None
        super().send()


class HoldCard(Vertical):
    """The open stop in the place where one types."""

    def compose(self) -> ComposeResult:
        """The stop's words above, the place for the answer below."""
        with VerticalScroll(id="hold-words", can_focus=False):
            yield Static("", id="hold-text", markup=False)
        with Horizontal(id="hold-line"):
            yield Static("yes or no: ", id="hold-prompt", markup=False)
            yield HoldField("hold-field")

    @property
    def overflows(self) -> bool:
        """Whether the stop has more words than the card shows."""
        return self.query_one("#hold-words", VerticalScroll).max_scroll_y > 0

    def show(self, texts: Sequence[str], at: float, width: int, prompt: str = "yes or no: ") -> None:
        """Shows these texts in that many columns, the prompt before the answer; only keys from `at` on count."""
        self.query_one("#hold-prompt", Static).update(prompt)
        shown = [row for text in texts for row in wrapped(harmless(text), max(20, width - 5))]
        self.query_one("#hold-text", Static).update("\n".join(shown))
        self.query_one("#hold-words", VerticalScroll).scroll_home(animate=False)
        field = self.query_one(HoldField)
        field.shown_at = at
        field.empty()
