"""A case's events -> its record: what a shop, a parts counter or the next person on the phone needs, in that order."""

from __future__ import annotations

from itertools import pairwise

from bot.reason.chances import standing
from bot.shells.paper.history import History, clock, history
from bot.shells.paper.model import Block, Drawing, Items, Paper, Part, Table, Text
from bot.shells.paper.order import order_part
from bot.sums.draw import drawing
from bot.sums.result import Result
from bot.talk.events import Event
from bot.talk.explain import cause_title, for_and_against
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import found_words, percent, plain_title, value_words
from bot.talk.state import Found, Stage, State
from bot.talk.sum_told import work_out
from bot.talk.sums import all_results
from bot.talk.used import Used, layers_line, pages_used, used_lines
from bot.talk.view import chances_of, power_path
from bot.units import show

WIDTH = 84  # columns of a drawing on paper


def gather(
    number: int | None,
    events: tuple[Event, ...],
    knowledge: Knowledge,
    title: str = "",
    pages: tuple[Used, ...] = (),
) -> Paper:
    """The record of a case, whole. A part that has nothing to say is left out.

    `pages` are those the store kept; without them the pages as they are now stand in the record.
    """
    told = history(events, knowledge)
    state = told.state
    name = title or (f"Case {number}" if number is not None else "Case (not kept)")
    parts = [
        _complaint(told),
        _verdict(state, knowledge),
        _findings(told, knowledge),
        _readings(told, knowledge),
        _sums(told, knowledge),
        _standing(state, knowledge),
        _holds(told),
        _steps(told, knowledge),
        _proof(told, knowledge),
        order_part(state, knowledge),
        _words(told),
        _pages(told, knowledge, pages),
    ]
    return Paper(
        name,
        "Front legs of a fifth-wheel trailer",
        tuple(_facts(told, knowledge)),
        tuple(p for p in parts if p is not None),
        f"Made by Legline from what was typed. {layers_line(knowledge)} "
        "The label on the part and local rules go before this record.",
        state.units,
        _outcome(state, knowledge),
    )


def _facts(told: History, knowledge: Knowledge) -> list[tuple[str, str]]:
    state = told.state
    gear, support = state.value("gear"), state.value("support")
    facts = []
    if told.said:
        facts += [
            ("begun", clock(told.said[0][0]) + " UTC" if told.said[0][0] else "not kept"),
            ("last line", clock(told.said[-1][0]) + " UTC" if told.said[-1][0] else "not kept"),
        ]
    facts.append(
        ("gear", value_words(knowledge.checks.get("gear"), gear, state.units) if gear else "not told")
    )
    held = next((f for f in state.found if f.name == "support"), None)
    facts.append(
        ("nose", found_words(held, state, knowledge) if held and support else "not told what holds it")
    )
    facts.append(("stands at", _outcome(state, knowledge)))
    return facts


def _outcome(state: State, knowledge: Knowledge) -> str:
    """How the case stands, in a few words."""
    if state.stage is Stage.CLOSED:
        return "closed: mended, as told"
    if state.stage is Stage.DANGER:
        return "danger told and not yet over"
    if state.stage is Stage.OUTSIDE:
        return "not the front legs, as told"
    if state.walk is not None and state.stage in (Stage.HELD, Stage.REPAIRING):
        steps = len(knowledge.procedures[state.walk.document].steps)
        return f"step {state.walk.step} of {steps}" + (", at a stop" if state.stage is Stage.HELD else "")
    if state.stage is Stage.PROVING:
        return "all steps done, not proved yet"
    if state.verdict is not None:
        return "cause named, repair not begun"
    check = knowledge.checks.get(state.asking.finding) if state.asking else None
    return f"open question: {plain_title(check.page.title)}" if check else "complaint not told yet"


def _complaint(told: History) -> Part | None:
    return Part("Complaint", (Text(told.said[0][1], quoted=True),)) if told.said else None


def _verdict(state: State, knowledge: Knowledge) -> Part | None:
    tried = ", ".join(cause_title(t, knowledge) for t in state.tried)
    vain: list[Block] = [Text(f"Tried in vain: {tried}.")] if tried else []
    if state.verdict is None:
        return Part("Verdict", (Text("No verdict yet."), *vain)) if vain else None
    cause = state.verdict.cause
    now = standing(knowledge.model, state.findings(), state.tried)
    raised, lowered = for_and_against(cause, state, knowledge, now)
    title = cause_title(cause, knowledge)
    blocks: list[Block] = [
        Text(f"{title[0].upper() + title[1:]}, {percent(state.verdict.chance)} in 100."),
        Text("By the team's own weights, not by counted repairs."),
        Items(
            (
                "for it: " + ("; ".join(raised) or "how common it is"),
                "against it: " + ("; ".join(lowered) or "nothing so far"),
            )
        ),
    ]
    page = knowledge.pages.get(state.verdict.document)
    if page is not None:
        blocks.append(Text(f"What mends it: {page.title}."))
    return Part("Verdict", (*blocks, *vain))


def _is_reading(found: Found, knowledge: Knowledge) -> bool:
    check = knowledge.checks.get(found.name)
    return check is not None and check.kind == "quantity"


def _findings(told: History, knowledge: Knowledge) -> Part:
    state = told.state
    told_here = [f for f in state.found if not _is_reading(f, knowledge)]
    rows = tuple(
        (told.time(f.turn), found_words(f, state, knowledge).rstrip("."), line)
        for f, line in zip(told_here, _lines(told_here, told), strict=True)
    )
    blocks: list[Block] = [Table(("time", "finding", "from the line"), rows)] if rows else [Text("None yet.")]
    unknown = [plain_title(knowledge.checks[u].page.title) for u in state.unknown if u in knowledge.checks]
    if unknown:
        blocks.append(Text("Asked and not known: " + "; ".join(unknown) + "."))
    return Part("Findings", tuple(blocks))


def _lines(found: list[Found], told: History) -> list[str]:
    """The line each finding came from, written out once where several came from one."""
    turns = [0, *(f.turn for f in found)]
    return ["as above" if now == last else told.line(now) for last, now in pairwise(turns)]


def _readings(told: History, knowledge: Knowledge) -> Part | None:
    state = told.state
    rows = []
    read = [f for f in state.found if _is_reading(f, knowledge)]
    for found, line in zip(read, _lines(read, told), strict=True):
        check = knowledge.checks[found.name]
        value = value_words(check, found.value, state.units)
        if found.low is not None and found.high is not None and found.high > found.low:
            low, high = (value_words(check, v, state.units) for v in (found.low, found.high))
            value += f" ({low} to {high})" if low != high else ""
        rows.append((told.time(found.turn), plain_title(check.page.title), value, line))
    return (
        Part("Readings", (Table(("time", "what", "value", "from the line"), tuple(rows)),)) if rows else None
    )


def _sums(told: History, knowledge: Knowledge) -> Part | None:
    """Every sum that was told, with its last figures, and those that the findings make possible."""
    state = told.state
    results = {opened.name: work_out(opened.name, opened.given) for opened in told.sums}
    results.update(all_results(state, knowledge))
    blocks: list[Block] = []
    for result in results.values():
        if not isinstance(result, str):
            blocks += _sum(result, "metric" if state.units == "metric" else "us")
    return Part("Sums", tuple(blocks)) if blocks else None


def _sum(result: Result, family: str) -> list[Block]:
    first = result.values[0]
    low, high = show(result.low, first.unit, family), show(result.high, first.unit, family)
    words = f"{first.name}: {show(first.value, first.unit, family)}"
    words += f", from {low} to {high}" if low != high else ""
    blocks: list[Block] = [Text(words + "."), Drawing(result.working)]
    drawn = drawing(result, WIDTH, family)
    if drawn:
        blocks.append(Drawing(drawn))
    notes = [f"Assumed: {'; '.join(result.assumptions)}."] if result.assumptions else []
    notes += [f"What would narrow it most: {result.narrow}."] if result.narrow else []
    notes += [f"Source: {'; '.join(result.sources)}."] if result.sources else []
    return [*blocks, Items((*result.notes, *notes))] if notes or result.notes else blocks


def _standing(state: State, knowledge: Knowledge) -> Part | None:
    if not state.found:
        return None
    by_state: dict[str, list[str]] = {}
    for link in power_path(state, knowledge):
        by_state.setdefault(link.state, []).append(link.name)
    order = ("suspect", "sound", "untested", "not fitted")
    path = tuple(f"{name}: {', '.join(by_state[name])}" for name in order if name in by_state)
    rows = tuple(
        (percent(chance), cause_title(cause, knowledge))
        for cause, chance in chances_of(state, knowledge)[:5]
        if chance > 0.02
    )
    return Part("Where it stands", (Table(("in 100", "cause"), rows), Items(path)))


def _holds(told: History) -> Part | None:
    rows = tuple((told.short(h.at), h.step, h.hold, h.question, h.text) for h in told.holds)
    return (
        Part("Stops answered", (Table(("time", "step", "stop", "asked", "answer"), rows),)) if rows else None
    )


def _steps(told: History, knowledge: Knowledge) -> Part | None:
    blocks: list[Block] = []
    for document in dict.fromkeys(s.document for s in told.steps):
        rows = tuple(
            (told.short(s.at), str(s.number), s.text, s.done_when)
            for s in told.steps
            if s.document == document
        )
        blocks += [
            Text(knowledge.pages[document].title + "."),
            Table(("time", "step", "what was done", "done when"), rows),
        ]
    walk = told.state.walk
    if walk is not None and told.state.stage in (Stage.HELD, Stage.REPAIRING):
        left = len(knowledge.procedures[walk.document].steps) - walk.step + 1
        blocks.append(Text(f"{left} {'step' if left == 1 else 'steps'} of it not done."))
    return Part("Steps done", tuple(blocks)) if blocks else None


def _proof(told: History, knowledge: Knowledge) -> Part | None:
    state = told.state
    blocks: list[Block] = [
        Text(
            f"{clock(at)}  {knowledge.pages[document].title}: asked whether it holds up, the answer was “{words}”."
        )
        for at, document, words in told.proofs
    ]
    document = state.walk.document if state.walk else state.verdict.document if state.verdict else ""
    procedure = knowledge.procedures.get(document)
    bullets = procedure.page.bullets("Prove it") if procedure is not None else ()
    if bullets and state.stage is not Stage.CLOSED:
        blocks += [Text("Still to be proved:"), Items(bullets, boxes=True)]
    elif bullets:
        blocks.append(Items(bullets))
    return Part("Proof", tuple(blocks)) if blocks else None


def _words(told: History) -> Part | None:
    rows = tuple((told.short(at), text) for at, text in told.said)
    return Part("What was said", (Table(("time", "words"), rows),), aside=True) if rows else None


def _pages(told: History, knowledge: Knowledge, pages: tuple[Used, ...]) -> Part | None:
    lines = used_lines(pages or pages_used(told.state, knowledge), knowledge)
    items = tuple(line.removeprefix("- ") for line in lines)
    return Part("Pages used", (Items(items),), aside=True) if items else None
