"""The record of a case in each form it is handed over in: Markdown, HTML, PDF, JSON. Nothing is written here."""

from __future__ import annotations

import json
from typing import Any

from bot.shells.paper.gather import gather
from bot.shells.paper.markdown import as_markdown, escaped
from bot.shells.paper.model import paper_plain
from bot.shells.session import replay
from bot.talk.events import Event, event_to_plain
from bot.talk.knowledge import Knowledge
from bot.talk.order import ordered
from bot.talk.used import Used, pages_used
from bot.talk.view import as_json

FORMS = ("md", "html", "pdf", "json")


def record_markdown(
    number: int | None, events: tuple[Event, ...], knowledge: Knowledge, pages: tuple[Used, ...] = ()
) -> str:
    """The record as one Markdown page.

    `pages` are those the store kept; without them the pages as they are now stand in the record.
    """
    return as_markdown(gather(number, events, knowledge, pages=pages))


def record_plain(
    number: int | None, events: tuple[Event, ...], knowledge: Knowledge, pages: tuple[Used, ...] = ()
) -> dict[str, Any]:
    """The record as plain data: the events, the state they lead to, and the parts of the page."""
    state = replay(events, knowledge)
    sheet = ordered(state, knowledge)
    return {
        "case": number,
        "corpus": knowledge.corpus.fingerprint,
        "layers": [
            {"role": role, "fingerprint": mark, "files": count}
            for role, mark, count in knowledge.corpus.layers
        ],
        "pages": [one._asdict() for one in pages or pages_used(state, knowledge)],
        "events": [event_to_plain(e) for e in events],
        "order": sheet.plain() if sheet is not None else None,
        "state": as_json(state, (), knowledge),
        "record": paper_plain(gather(number, events, knowledge, pages=pages)),
    }


def record_in(
    form: str,
    number: int | None,
    events: tuple[Event, ...],
    knowledge: Knowledge,
    pages: tuple[Used, ...] = (),
    title: str = "",
) -> bytes:
    """The record in one of FORMS, as the bytes of a file."""
    if form == "json":
        plain = record_plain(number, events, knowledge, pages)
        return (json.dumps(plain, ensure_ascii=False, indent=1) + "\n").encode()
    paper = gather(number, events, knowledge, title, pages=pages)
    if form == "html":
        from bot.shells.paper.html import as_html

        return as_html(paper).encode()
    if form == "pdf":
        from bot.shells.paper.pdf import as_pdf

        return as_pdf(paper)
    return as_markdown(paper).encode()


__all__ = ["FORMS", "escaped", "record_in", "record_markdown", "record_plain"]
