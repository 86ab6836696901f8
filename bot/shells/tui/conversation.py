"""What was said, scrolling back. One widget a turn; the text is laid out for the width it has."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from bot.shells.tui.harmless import harmless, wrapped
from bot.sums.draw import Drawn

if TYPE_CHECKING:
    from bot.sums.result import Result
    from bot.talk.phrasing import Line

# Role -> (label, style of the text). No meaning hangs on colour: labels, or the words themselves, carry it.
ROLES = {
    "you": ("you", "$text-muted"),
    "taken": ("", "$success"),
    "say": ("", ""),
    "ask": ("next", "bold"),
    "choices": ("", "$text-muted"),
    "note": ("", ""),
    "sum": ("sum", "$accent"),
    "step": ("step", "bold"),
    "hold": ("", "bold $warning"),
    "danger": ("DANGER", "bold #ffffff on #8b1a1a"),
}
GUTTER = 7
NARROW = 60  # columns; below it the label leads the text instead of standing beside it
MOST_TYPED = 2000
MOST_TURNS = 400  # older ones leave the screen; the record keeps everything


def laid_out(lines: Sequence[tuple[str, str]], width: int) -> list[tuple[str, str, str]]:
    """(label, text, style) of every screen row of the (role, text) lines at that width."""
    rows: list[tuple[str, str, str]] = []
    for role, text in lines:
        label, style = ROLES.get(role, ("", ""))
        if isinstance(text, Drawn):
            edge = 0 if width < NARROW else GUTTER
            rows += [(" " * edge, harmless(row), style) for row in text.at(width - edge)]
            continue
        clean = harmless(text)
        if width < NARROW:
            lead = f"{label}: " if label else ""
            rows += [("", row, style) for row in wrapped(lead + clean, width, 2)]
            continue
        for i, row in enumerate(wrapped(clean, width - GUTTER, 2)):
            rows.append(((label if i == 0 else "").ljust(GUTTER), row, style))
    return rows


def drawn_rows(results: Sequence[Result], width: int, units: str) -> list[tuple[str, str, str]]:
    """(label, text, style) of the rows that draw these sums at that width."""
    from bot.sums.draw import drawing

    lead = "" if width < NARROW else " " * GUTTER
    room = max(30, width - len(lead))
    family = "metric" if units == "metric" else "us"
    return [(lead, harmless(row), "$accent") for result in results for row in drawing(result, room, family)]


class Entry(Widget):
    """One turn's lines of one side, with the drawings of its sums under the last line of a sum."""

    def __init__(
        self, lines: Sequence[tuple[str, str]], results: Sequence[Result] = (), units: str = "us"
    ) -> None:
        super().__init__()
        self.lines = tuple(lines)
        self.results, self.units = tuple(results), units

    def rows(self, width: int) -> list[tuple[str, str, str]]:
        """Every row at that width."""
        sums = [i for i, (role, _) in enumerate(self.lines, 1) if role == "sum"]
        if not sums or not self.results or any(isinstance(text, Drawn) for _, text in self.lines):
            return laid_out(self.lines, width)
        upto, rest = self.lines[: sums[-1]], self.lines[sums[-1] :]
        return laid_out(upto, width) + drawn_rows(self.results, width, self.units) + laid_out(rest, width)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Rows the lines take at that width."""
        return len(self.rows(max(1, width)))

    def render(self) -> Content:
        """The rows as text; never markup."""
        rows = self.rows(max(1, self.content_size.width))
        return Content("\n").join(
            Content.assemble((label, "$text-muted"), (text, style)) for label, text, style in rows
        )


class Conversation(VerticalScroll):
    """All turns shown so far."""

    can_focus = False

    class Moved(Message):
        """The part that shows has changed."""

    def __init__(self) -> None:
        super().__init__(id="conversation")
        self.said: list[tuple[str, str]] = []  # (role, text) of everything shown, oldest first

    def add_said(self, text: str) -> None:
        """What the person typed, as much of it as the conversation takes."""
        self._add(
            [("you", text if len(text) <= MOST_TYPED else text[:MOST_TYPED] + " … (the rest is left out)")]
        )

    def add_replies(self, lines: Sequence[Line], results: Sequence[Result] = (), units: str = "us") -> None:
        """The lines of one reply, and the sums that it draws."""
        if lines:
            self._add([(line.role, line.text) for line in lines], results, units)

    def _add(self, lines: list[tuple[str, str]], results: Sequence[Result] = (), units: str = "us") -> None:
        self.said += lines
        entry = Entry(lines, results, units)
        self.mount(entry)
        if len(self.children) > MOST_TURNS:
            self.children[0].remove()
        self.call_after_refresh(self._bring, entry)

    def _bring(self, entry: Entry) -> None:
        """Shows a new entry whole; where it is taller than the place, from its first line, to be read downwards."""
        if not entry.is_attached:
            return
        if entry.size.height > self.scrollable_content_region.height:
            self.scroll_to(y=entry.virtual_region.y, animate=False)
        else:
            self.scroll_end(animate=False)
        self.post_message(self.Moved())

    @property
    def more_below(self) -> bool:
        """Whether something stands below the part that shows."""
        return self.max_scroll_y - self.scroll_offset.y > 0

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Tells the screen, which says when there is more."""
        super().watch_scroll_y(old_value, new_value)
        self.post_message(self.Moved())
