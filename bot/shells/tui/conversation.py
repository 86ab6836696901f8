"""What was said, scrolling back; the text is laid out for the width it has."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.selection import Selection
from textual.strip import Strip
from textual.style import Style
from textual.visual import Visual

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
MOST_TURNS = 2000  # older ones leave the screen; the record keeps everything
LOW = 16  # rows of the window; below it no row is left free

Row = tuple[str, str, str]  # label, text, style of the text


def laid_out(lines: Sequence[tuple[str, str]], width: int) -> list[Row]:
    """(label, text, style) of every screen row of the (role, text) lines at that width."""
    rows: list[Row] = []
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


def drawn_rows(results: Sequence[Result], width: int, units: str) -> list[Row]:
    """(label, text, style) of the rows that draw these sums at that width."""
    from bot.sums.draw import drawing

    lead = "" if width < NARROW else " " * GUTTER
    room = max(30, width - len(lead))
    family = "metric" if units == "metric" else "us"
    return [(lead, harmless(row), "$accent") for result in results for row in drawing(result, room, family)]


class Entry:
    """One turn's lines of one side, with the drawings of its sums under the last line of a sum."""

    def __init__(
        self, lines: Sequence[tuple[str, str]], results: Sequence[Result] = (), units: str = "us"
    ) -> None:
        self.lines = tuple(lines)
        self.results, self.units = tuple(results), units

    def rows(self, width: int) -> list[Row]:
        """Every row at that width."""
        sums = [i for i, (role, _) in enumerate(self.lines, 1) if role == "sum"]
        if not sums or not self.results or any(isinstance(text, Drawn) for _, text in self.lines):
            return laid_out(self.lines, width)
        upto, rest = self.lines[: sums[-1]], self.lines[sums[-1] :]
        return laid_out(upto, width) + drawn_rows(self.results, width, self.units) + laid_out(rest, width)


class Conversation(ScrollView):
    """All turns shown so far, as rows of one long text: a turn costs the same however many came before it."""

    can_focus = False

    class Moved(Message):
        """The part that shows has changed."""

    def __init__(self) -> None:
        super().__init__(id="conversation")
        self.said: list[tuple[str, str]] = []  # (role, text) of everything shown, oldest first
        self.entries: list[Entry] = []
        self._starts: list[int] = []  # the first row of each entry
        self._rows: list[Row] = []
        self._laid = (0, False)  # the width of the rows, and whether no row is left free between turns
        self._strips: dict[int, Strip] = {}
        self._shows: int | None = None  # the entry to be shown once the rows are laid out
        self._at_end = True  # whether the last row showed when one last scrolled

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
        self.entries.append(Entry(lines, results, units))
        if len(self.entries) > MOST_TURNS:
            del self.entries[: MOST_TURNS // 4]
            self._lay_all()
        else:
            self._lay(self.entries[-1])
            self._grown()
        self._at_end = False  # what shows next is settled by show_entry
        self.call_after_refresh(self.show_entry)

    def _lay(self, entry: Entry) -> None:
        width, low = self._laid
        self._starts.append(len(self._rows))
        if width:
            self._rows += entry.rows(width)
            self._rows += [] if low else [("", "", "")]

    def _lay_all(self) -> None:
        self._rows.clear()
        self._starts.clear()
        self._strips.clear()
        for entry in self.entries:
            self._lay(entry)
        self._grown()

    def _grown(self) -> None:
        self.virtual_size = Size(self._laid[0], len(self._rows))
        self.refresh()

    def on_resize(self) -> None:
        """Laid out anew for another width; what showed first goes on showing, or the end where that was shown."""
        laid = (max(0, self.scrollable_content_region.width - 2), self.app.size.height < LOW)
        at_end = self._at_end or not self._rows
        if laid == self._laid:
            if at_end:
                self.call_after_refresh(self.scroll_end, animate=False)
            return
        if self._shows is None:  # else another width came before the last one was shown
            self._shows = max(0, bisect_right(self._starts, self.scroll_offset.y) - 1)
        self._laid = laid
        self._lay_all()
        if at_end:
            self._shows = None
            self.call_after_refresh(self.scroll_end, animate=False)
        elif self.entries:
            self.call_after_refresh(self.show_entry, self._shows, top=True)

    def show_entry(self, number: int = -1, top: bool = False) -> None:
        """Shows an entry whole; where it is taller than the place, or `top`, from its first line downwards."""
        self._shows = None
        if not self.entries:
            return
        start = self._starts[number]
        after = (
            self._starts[number + 1] if number != -1 and number + 1 < len(self._starts) else len(self._rows)
        )
        if top or after - start > self.scrollable_content_region.height:
            self.scroll_to(y=start, animate=False, immediate=True)
        else:
            self.scroll_to(
                y=max(0, after - self.scrollable_content_region.height), animate=False, immediate=True
            )
        self._at_end = not self.more_below
        self.post_message(self.Moved())

    @property
    def more_below(self) -> bool:
        """Whether something stands below the part that shows."""
        return self.max_scroll_y - self.scroll_offset.y > 0

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Tells the screen, which says when there is more."""
        super().watch_scroll_y(old_value, new_value)
        self._at_end = new_value >= self.max_scroll_y
        self.post_message(self.Moved())

    def notify_style_update(self) -> None:
        """Other colours: every row is drawn anew."""
        super().notify_style_update()
        self._strips.clear()

    def selection_updated(self, selection: Selection | None) -> None:
        """What is marked with the mouse is drawn marked."""
        self._strips.clear()
        self.refresh()

    def get_selection(self, selection: Selection) -> tuple[str, str] | None:
        """The marked text, to be copied."""
        return selection.extract("\n".join(self._plain(row) for row in self._rows)), "\n"

    @staticmethod
    def _plain(row: Row) -> str:
        return f" {row[0]}{row[1]}"

    def render_line(self, y: int) -> Strip:
        """One row of the screen; never markup."""
        place, width = self.scroll_offset.y + y, self.size.width
        if place >= len(self._rows):
            if -1 not in self._strips:
                self._strips[-1] = Strip.blank(width, self.rich_style)
            return self._strips[-1]
        if place not in self._strips:
            label, text, style = self._rows[place]
            content = Content.assemble((" " + label, "$text-muted"), (text, style))
            selection = self.text_selection
            span = selection.get_span(place) if selection is not None else None
            if span is not None:
                start, end = span
                marked = Style.from_styles(self.screen.get_component_styles("screen--selection"))
                content = content.stylize(marked, start, len(content) if end == -1 else end)
            drawn = Visual.to_strips(self, content, width, 1, self.visual_style, apply_selection=False)
            strip = drawn[0] if drawn else Strip.blank(width, self.rich_style)
            self._strips[place] = strip.adjust_cell_length(width, self.rich_style).apply_offsets(0, place)
        return self._strips[place]
