"""The repair step by step: ticked, at hand, to come; what one looks at; what holds the nose; a timer for waits."""

from __future__ import annotations

import re

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from bot.shells.tui.harmless import harmless, shortened, wrapped
from bot.shells.tui.views.base import View
from bot.shells.tui.waits import left, wait_of


def picture_of(text: str) -> tuple[str, ...]:
    """The lines of the first drawing in a text of a page; none where it has none."""
    found = re.search(r"```[a-z]*\n(.*?)```", text, re.S)
    return tuple(found.group(1).rstrip("\n").split("\n")) if found else ()


class StepsView(View):
    """The tick list. A step behind a shut stop is counted, never shown."""

    KEYS = "Up Down move  t starts the wait of this step"

    def compose(self) -> ComposeResult:
        """One page."""
        with VerticalScroll(id="steps-page"):
            yield Static("", id="steps-text", markup=False)

    def lines(self) -> list[str]:
        """The tick list as text."""
        from bot.safety.holds import holds_before
        from bot.talk.state import Stage

        state, knowledge = self.state, self.knowledge
        out = [f"The nose: {state.support}."]
        walk = state.walk
        if walk is None:
            return [*out, "", "No repair is under way. It begins with a yes to the verdict."]
        procedure = knowledge.procedures[walk.document]
        many = len(procedure.steps)
        out += ["", procedure.page.title, ""]
        for step in procedure.steps[: walk.step - 1]:
            out.append(f"[x] {step.number:2d}  {step.text}")
        if walk.step <= many:
            step = procedure.steps[walk.step - 1]
            out.append(f"[>] {step.number:2d}  {step.text}")
            for hold in holds_before(procedure, step.number):
                mark = "open" if hold.key in walk.opened else "shut"
                out.append(f"        stop, {mark}: {hold.name}")
            if state.stage is Stage.REPAIRING:
                out += [f"        done when: {step.done_when}"] if step.done_when else []
                wait = wait_of(step.text, step.done_when)
                out += [f"        wait: {left(wait)}   (t starts it)"] if wait else []
        if walk.step < many:
            out.append(f"[ ] {walk.step + 1:2d} to {many}, each behind its own stops")
        if state.stage is Stage.PROVING:
            out += ["[>] the proof:", *(f"    {b}" for b in procedure.page.bullets("Prove it"))]
        cause = knowledge.causes.get(state.verdict.cause) if state.verdict else None
        section = cause.page.section("What it is") if cause is not None else None
        picture = picture_of(
            procedure.page.sections[0].text if procedure.page.sections else ""
        ) or picture_of(section.text if section else "")
        room = max(20, self.app.size.width - 4)
        return (
            [*out, "", "what one looks at:", *(shortened(row, room) for row in picture)] if picture else out
        )

    def draw(self) -> None:
        """The list anew."""
        width = max(20, self.app.size.width - 4)
        rows = [row for line in self.lines() for row in wrapped(harmless(line), width, 8)]
        self.query_one("#steps-text", Static).update("\n".join(rows))

    def take_keys(self) -> None:
        """The page moves."""
        self.query_one("#steps-page", VerticalScroll).focus()

    def on_key(self, event: object) -> None:
        """The key t starts the wait that the step at hand asks for."""
        if getattr(event, "key", "") == "t":
            self.start_wait()

    def start_wait(self) -> bool:
        """Starts the wait of the step at hand; whether it asks for one."""
        from bot.talk.state import Stage

        walk = self.state.walk
        if walk is None or self.state.stage is not Stage.REPAIRING:
            return False
        step = self.knowledge.procedures[walk.document].steps[walk.step - 1]
        wait = wait_of(step.text, step.done_when)
        return wait is not None and self.talk.start_wait(f"timer {wait} s")
