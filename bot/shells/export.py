"""The record of a case as Markdown and as plain data: worked out from its events."""

from __future__ import annotations

from typing import Any

from bot.reason.chances import standing
from bot.shells.session import replay
from bot.talk.events import Event, Said, event_to_plain
from bot.talk.explain import cause_title, for_and_against
from bot.talk.knowledge import Knowledge
from bot.talk.order import ordered
from bot.talk.phrasing import found_words, percent
from bot.talk.state import State
from bot.talk.sums import all_sum_lines
from bot.talk.turn import turn
from bot.talk.used import Used, layers_line, pages_used, used_lines
from bot.talk.view import as_json, chances_of, path_line

_MARKDOWN = str.maketrans({c: "\\" + c for c in "\\`*_{}[]<>#|"})


def escaped(text: str) -> str:
    """Text of a person made harmless inside Markdown."""
    return " ".join(text.split()).translate(_MARKDOWN)


def _walked(
    events: tuple[Event, ...], knowledge: Knowledge
) -> tuple[State, list[tuple[str, str]], list[tuple[str, str, str]], list[str]]:
    """The last state, the lines said, the holds answered, and the steps done."""
    state = State()
    said: list[tuple[str, str]] = []
    holds: list[tuple[str, str, str]] = []
    steps: list[str] = []
    for event in events:
        before = state
        state = turn(state, event, knowledge).state
        if not isinstance(event, Said):
            continue
        said.append((event.at, event.text))
        answer = event.text.strip().lower().rstrip(".!")
        if before.asking is not None and before.asking.kind == "hold" and answer in ("yes", "no"):
            holds.append((event.at, before.asking.finding.removeprefix("hold: "), event.text))
        if (
            before.walk
            and state.walk
            and state.walk.document == before.walk.document
            and state.walk.step > before.walk.step
        ):
            step = knowledge.procedures[before.walk.document].steps[before.walk.step - 1]
            steps.append(f"{event.at}  step {step.number}: {step.text}")
    return state, said, holds, steps


def record_markdown(
    number: int | None, events: tuple[Event, ...], knowledge: Knowledge, pages: tuple[Used, ...] = ()
) -> str:
    """The record as one Markdown page: complaint, findings, readings, sums, verdict, holds, steps, order sheet.

    `pages` are those the store kept; without them the pages as they are now stand in the record.
    """
    state, said, holds, steps = _walked(events, knowledge)
    name = f"Case {number}" if number is not None else "Case (not kept)"
    out = [f"# {name}", ""]
    if said:
        out += [
            f"Begun {said[0][0]}, last line {said[-1][0]}.",
            "",
            "## Complaint",
            "",
            "> " + escaped(said[0][1]),
            "",
        ]
    out += ["## Findings", ""]
    out += [
        f'- {escaped(found_words(f, state, knowledge))} (from: "{escaped(f.words[:80])}")'
        for f in state.found
    ] or ["- none yet"]
    if state.unknown:
        out += ["", "Not known: " + ", ".join(u.replace("_", " ") for u in state.unknown) + "."]
    sums = all_sum_lines(state, knowledge)
    if sums:
        out += ["", "## Sums", ""] + [f"    {line.text}" for line in sums if line.role != "drawing"]
    out += ["", "## Where it stands", "", path_line(state, knowledge), ""]
    for cause, chance in chances_of(state, knowledge)[:5]:
        if chance > 0.02:
            out.append(f"- {percent(chance)} in 100: {cause_title(cause, knowledge)}")
    if state.verdict:
        now = standing(knowledge.model, state.findings(), state.tried)
        raised, lowered = for_and_against(state.verdict.cause, state, knowledge, now)
        out += ["", "## Verdict", "", f"{cause_title(state.verdict.cause, knowledge)}, {percent(state.verdict.chance)} in 100 by the team's own weights.",
                "", "- for it: " + escaped("; ".join(raised) or "how common it is"), "- against it: " + escaped("; ".join(lowered) or "nothing so far")]  # fmt: skip
    sheet = ordered(state, knowledge)
    if sheet is not None:
        out += ["", "## Order sheet", "", *(f"- {escaped(line)}" for line in sheet.lines())]
    if state.tried:
        out += ["", "Tried in vain: " + ", ".join(cause_title(t, knowledge) for t in state.tried) + "."]
    if holds:
        out += ["", "## Stops answered", ""] + [
            f'- {at}  {hold}: "{escaped(text)}"' for at, hold, text in holds
        ]
    if steps:
        out += ["", "## Steps done", ""] + [f"- {escaped(s)}" for s in steps]
    out += ["", "## What was said", ""] + [f"- {at}  {escaped(text)}" for at, text in said]
    out += ["", "## Pages used", "", *used_lines(pages or pages_used(state, knowledge), knowledge)]
    out += [
        "",
        f"{layers_line(knowledge)} The label on the part and local rules go before this record.",
        "",
    ]
    return "\n".join(out)


def record_plain(
    number: int | None, events: tuple[Event, ...], knowledge: Knowledge, pages: tuple[Used, ...] = ()
) -> dict[str, Any]:
    """The record as plain data: the events and the state they lead to."""
    state = replay(events, knowledge)
    return {
        "case": number,
        "corpus": knowledge.corpus.fingerprint,
        "layers": [
            {"role": role, "fingerprint": mark, "files": count}
            for role, mark, count in knowledge.corpus.layers
        ],
        "pages": [one._asdict() for one in pages or pages_used(state, knowledge)],
        "events": [event_to_plain(e) for e in events],
        "order": sheet.plain() if (sheet := ordered(state, knowledge)) else None,
        "state": as_json(state, (), knowledge),
    }
