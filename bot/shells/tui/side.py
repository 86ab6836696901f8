"""The right column: likely causes as bars with the change since the last answer, and the readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content

from bot.shells.tui.harmless import harmless, wrapped

if TYPE_CHECKING:
    from bot.talk.knowledge import Knowledge
    from bot.talk.state import State

_BAR = 8
_MOST = 6


def bar(chance: float, cells: int = _BAR) -> str:
    """A bar of that many cells; any chance above nothing shows at least one mark."""
    filled = min(cells, max(1 if chance > 0 else 0, round(chance * cells)))
    return "▇" * filled + "·" * (cells - filled)


def change(now: int, then: int | None) -> str:
    """The change in points with its sign; nothing where there is none or nothing to compare with."""
    return "" if then is None or now == then else f"{now - then:+d}"


def points_then(earlier: State | None, knowledge: Knowledge) -> dict[str, int]:
    """Each cause's chance in 100 in an earlier state; empty where there is nothing to compare with."""
    from bot.talk.phrasing import percent
    from bot.talk.view import chances_of

    if earlier is None or not earlier.found:
        return {}
    return {name: int(percent(chance)) for name, chance in chances_of(earlier, knowledge)}


def causes_content(state: State, earlier: State | None, knowledge: Knowledge, width: int) -> Content:
    """The likeliest causes, best first. `earlier` is the state before the last answer that changed a finding."""
    from bot.talk.explain import cause_title
    from bot.talk.phrasing import percent
    from bot.talk.view import chances_of

    before = points_then(earlier, knowledge)
    parts: list[tuple[str, str]] = [("likely causes, in 100\n", "bold")]
    for name, chance in chances_of(state, knowledge)[:_MOST]:
        points = int(percent(chance))
        if chance < 0.005:
            continue
        moved = change(points, before.get(name))
        title = wrapped(" " + harmless(cause_title(name, knowledge)), width)
        parts.append(("\n".join(title) + "\n", ""))
        parts += [(f"  {bar(chance)}", "$warning"), (f" {points:>2} {moved}\n", "")]
    return Content.assemble(*parts).rstrip()


def readings_content(state: State, knowledge: Knowledge, width: int) -> Content:
    """Every reading as it was understood: its value with unit, and where it was taken."""
    from bot.talk.phrasing import title_of, value_words

    rows: list[tuple[str, str]] = []
    for found in state.found:
        check = knowledge.checks.get(found.name)
        if check is not None and check.kind == "quantity":
            rows.append((value_words(check, found.value, state.units), title_of(found.name, knowledge)))
    if not rows:
        return Content.assemble(("readings\n", "bold"), (" none yet", "$text-muted"))
    parts: list[tuple[str, str]] = [("readings\n", "bold")]
    for value, title in rows:
        lines = wrapped(f"{value:>9}  {harmless(title)}", width, 8)
        parts.append(("\n".join(lines) + "\n", ""))
    return Content.assemble(*parts).rstrip()


def ticks_content(state: State, knowledge: Knowledge, width: int) -> Content:
    """The steps of the repair at hand: ticked, at hand, still to come. Empty where none is walked."""
    from bot.talk.state import Stage

    walk = state.walk
    if walk is None:
        return Content("")
    procedure = knowledge.procedures[walk.document]
    many, at = len(procedure.steps), min(walk.step, len(procedure.steps) + 1)
    parts: list[tuple[str, str]] = [("steps\n", "bold")]
    if at > 1:
        parts.append((f" [x] {'1' if at == 2 else f'1 to {at - 1}'}  done\n", "$success"))
    if at <= many:
        word = "at its stop" if state.stage is Stage.HELD else "at hand"
        parts.append((f" [>] {at}  {word}\n", "bold"))
    if at < many:
        parts.append((f" [ ] {f'{at + 1} to ' if at + 1 < many else ''}{many}  to come\n", ""))
    if state.stage is Stage.PROVING:
        parts.append((" [>] the proof\n", "bold"))
    title = wrapped(harmless(procedure.page.title), width)
    return Content.assemble(*parts, ("\n".join(title), "$text-muted"))
