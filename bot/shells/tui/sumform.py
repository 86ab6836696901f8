"""A sum on the screen: what it takes stands ready with what the case knows, and the answer follows every key."""

from __future__ import annotations

import contextlib
import io
import os
import shlex
from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from bot.shells.tui.harmless import harmless, wrapped

if TYPE_CHECKING:
    from bot.sums.catalogue import Sum
    from bot.talk.state import State

# Argument of a sum -> the finding that gives it.
KNOWN_AS = {
    "gross_lb": "gross_weight_lb",
    "pin_lb": "pin_weight_lb",
    "gauge_awg": "wire_gauge_awg",
    "one_way_ft": "wire_length_ft",
    "amps": "amps",
    "rating_a": "fuse_rating_a",
    "fuse_a": "fuse_rating_a",
    "rated_a": "motor_rating_a",
    "stroke_in": "stroke_in",
    "volts_rest": "volts_battery_resting",
    "volts_loaded": "volts_battery_loaded",
    "volts_battery": "volts_battery_loaded",
    "volts_motor": "volts_motor_loaded",
    "volts_ground_side": "volts_ground_drop",
}


class _StillMissing(Exception):
    """The sum asks for something that was not typed yet."""


def filled_in(one: Sum, state: State | None) -> str:
    """The options of a sum that the case knows, as they would be typed."""
    words = []
    for wanted in one.inputs:
        value = state.value(KNOWN_AS.get(wanted.name, "")) if state is not None else None
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            unit = wanted.unit if wanted.kind != "gauge" else "AWG"
            words += [f"--{wanted.option}", f'"{value:g} {unit}"' if unit else f"{value:g}"]
    return " ".join(words)


@contextlib.contextmanager
def _columns(width: int) -> Iterator[None]:
    """The width that the command line would find, for as long as the answer is made."""
    before = os.environ.get("COLUMNS")
    os.environ["COLUMNS"] = str(width)
    try:
        yield
    finally:
        if before is None:
            del os.environ["COLUMNS"]
        else:
            os.environ["COLUMNS"] = before


def answer(name: str, text: str, units: str, width: int = 80) -> str:
    """The whole answer of a sum to the options as typed, or what is still missing or not understood."""
    from bot.shells.sum_command import run

    def ask(*asked: object) -> str:
        raise _StillMissing(str(asked[0]) if asked else "")

    said, wrong = io.StringIO(), io.StringIO()
    try:
        words = shlex.split(text)
    except ValueError:
        return "A quote is still open."
    if not words:
        return ""
    try:
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(wrong), _columns(width):
            run([name, *words, "--metric" if units == "metric" else "--us"], ask)
    except _StillMissing as missing:
        return f"Still wanted: {str(missing).strip().rstrip(':')}"
    return said.getvalue() or wrong.getvalue()


class SumScreen(ModalScreen[None]):
    """One sum: a line of options, the answer under it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", "back"),
        Binding("ctrl+q", "app.quit", "leave", priority=True),
        Binding("pageup,up", "scroll(-1)", "up", priority=True),
        Binding("pagedown,down", "scroll(1)", "down", priority=True),
    ]

    def __init__(self, name: str, state: State | None) -> None:
        super().__init__()
        from bot.sums.catalogue import CATALOGUE

        self.one = CATALOGUE[name]
        self.units = state.units if state is not None else "us"
        self.ready = filled_in(self.one, state)

    def compose(self) -> ComposeResult:
        """What it is, the options, the answer."""
        yield Static(f"{self.one.name}: {self.one.help}", id="sum-head", markup=False)
        yield Input(self.ready, id="sum-words", compact=True, select_on_focus=False)
        with VerticalScroll(id="sum-answer", can_focus=False):
            yield Static("", id="sum-text", markup=False)
        yield Static(
            "Type values, the answer follows  Up Down move it  Esc back", classes="keys", markup=False
        )

    def on_mount(self) -> None:
        """Ready to type, at the end of what is known."""
        box = self.query_one(Input)
        box.focus()
        box.cursor_position = len(self.ready)
        self._work()

    def on_input_changed(self) -> None:
        """Another value, another answer."""
        self._work()

    def on_resize(self) -> None:
        """Wrapped anew."""
        self._work()

    def _work(self) -> None:
        width = max(20, self.app.size.width - 3)
        said = answer(self.one.name, harmless(self.query_one(Input).value), self.units, width)
        options = "\n".join(
            f"--{w.option} [{' | '.join(w.choices) or w.unit or w.kind.replace('_', ' or ')}]  {w.prompt}"
            for w in self.one.inputs
        )
        rows = [
            row
            for line in f"{said}\n\nIt takes:\n{options}".split("\n")
            for row in wrapped(harmless(line), width, 4)
        ]
        self.query_one("#sum-text", Static).update("\n".join(rows).strip())

    def action_scroll(self, by: int) -> None:
        """Moves the answer."""
        self.query_one("#sum-answer", VerticalScroll).scroll_relative(y=by * 3, animate=False)
