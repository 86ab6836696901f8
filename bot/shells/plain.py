"""The conversation as plain lines, and as one JSON object a line. No screen control, no box characters."""

from __future__ import annotations

import json
import re
import shutil
import textwrap
from collections.abc import Iterable
from typing import TextIO

from bot.find.search import Search
from bot.frozen import replace
from bot.shells.pages import page_text
from bot.shells.records import StoreProblem
from bot.shells.session import Session
from bot.shells.tidy import harmless
from bot.sums.draw import Drawn
from bot.talk.phrasing import Line
from bot.talk.state import Stage
from bot.talk.view import as_json, path_line

_COMMAND = re.compile(r"^(new case|take over(?: case)?|case|cases|read|find|path)\b\s*(.*)$", re.I | re.S)


def as_text(lines: Iterable[Line], width: int | None = None) -> str:
    """Reply lines under one "Bot:", wrapped; notes and sums are set in."""
    width = width or min(100, shutil.get_terminal_size((80, 24)).columns)
    out: list[str] = []
    for line in lines:
        if line.role == "page":
            out.append(line.text)
            continue
        if isinstance(line.text, Drawn):
            out += [("     " + row).rstrip() for row in line.text.at(width - 5)]
            continue
        lead = "Bot: " if not out else "     "
        inner = "    " if line.role in ("sum",) else "  " if line.role in ("note", "choices") else ""
        for i, part in enumerate(line.text.split("\n")):
            out += textwrap.wrap(
                part,
                width,
                initial_indent=(lead if i == 0 else "     ") + inner,
                subsequent_indent="     " + inner,
                break_long_words=True,
            ) or [lead.rstrip()]
    return harmless("\n".join(out))


def command(session: Session, search: Search, text: str) -> list[Line] | None:
    """What a shell word (case N, cases, read ID, find WORDS, sum NAME …) prints, or None where it is none."""
    match = _COMMAND.match(text.strip())
    if not match:
        return None
    word, rest = match.group(1).lower(), match.group(2).strip()
    if word == "new case" and not rest:
        said = session.put_aside() if session.state.stage is not Stage.CLOSED else ""
        if (
            session.number is not None and session.state.stage is not Stage.CLOSED
        ):  # it could not be put aside
            return [Line("note", said)]
        session.fresh()
        return [*([Line("say", said)] if said else []), *session.greet()]
    if word.startswith("take over") and re.fullmatch(r"#?\d{1,9}", rest):
        return list(session.take_up(int(rest.lstrip("#")), over=True))
    if word == "case" and re.fullmatch(r"#?\d{1,9}", rest):
        return list(session.take_up(int(rest.lstrip("#"))))
    if word == "cases" and not rest and session.store is not None:
        rows = session.store.cases(most=20)
        return [
            Line(
                "note",
                f"{r.number}  {r.standing}  {r.touched}  {r.about[:50]}  waiting for: {r.waiting or '-'}",
            )
            for r in rows
        ] or [Line("note", "No cases yet.")]
    if word == "read" and rest in session.knowledge.pages:
        return [Line("page", page_text(rest, session.knowledge))]
    if word == "find" and rest and session.state.stage not in (Stage.HELD, Stage.DANGER):
        return hit_lines(search, rest)
    if word == "path" and not rest:
        return [Line("note", path_line(session.state, session.knowledge))]
    return None


def hit_lines(search: Search, words: str) -> list[Line]:
    """Ranked pages, each with its reason."""
    hits = search.hits(words, 8)
    if not hits:
        return [Line("note", f'No page holds any word of "{words}". Try the part or what it does.')]
    return [
        Line("note", f'{i}  {h.title}   {h.kind.rstrip("s")}   {h.id}   "{h.sentence}"')
        for i, h in enumerate(hits, 1)
    ]


def served(session: Session, search: Search, text: str, pasted: bool = False) -> tuple[list[Line], bool]:
    """The reply to one line and whether the person leaves."""
    try:
        done = command(session, search, text)
    except StoreProblem as fault:
        return [Line("note", str(fault))], False
    if done is not None:
        return done, False
    turned = session.hear(text, pasted)
    lines = list(turned.replies)
    if "put aside" in turned.wants:
        said = session.put_aside()
        lines += [Line("say", said), *(session.greet() if session.state.turn == 0 else ())]
    if "record" in turned.wants:
        from bot.shells.export import record_markdown

        number = session.number
        if session.state.stage is Stage.CLOSED and number is not None:
            lines.append(Line("say", f"Record: legline case export {number}"))
        elif number is not None or session.store is None:
            record = record_markdown(number, session.state.log, session.knowledge, session.pages())
            lines.insert(0, Line("page", record))
    return lines, "leave" in turned.wants


def talk(
    session: Session,
    search: Search,
    source: TextIO,
    sink: TextIO,
    interactive: bool,
    start: list[Line] | None = None,
) -> int:
    """The conversation until end of input. Returns the exit status."""
    sink.write(as_text(start or session.greet()) + "\n")
    sink.flush()
    if interactive:
        session.prime()  # while the person reads and types
    while True:
        if interactive:
            sink.write("You: ")
            sink.flush()
        text = _line(source)
        if text is None:
            if interactive:
                sink.write("\n")
            if session.flush():
                sink.write(as_text([Line("note", session.farewell())]) + "\n")
            break
        lines, leave = served(session, search, text, pasted=interactive and _more_waiting(source))
        if lines:
            sink.write(as_text(lines) + "\n")
        sink.flush()
        if leave:
            kept = session.farewell()
            sink.write(as_text([Line("say", kept)]) + "\n")
            break
    return 0


def _line(source: TextIO) -> str | None:
    try:
        text = source.readline()
    except (UnicodeDecodeError, KeyboardInterrupt):
        return None
    return None if text == "" else text.rstrip("\n")


def _more_waiting(source: TextIO) -> bool:
    """Whether more lines are already waiting at a terminal: then this one came in a paste."""
    try:
        import select

        return bool(select.select([source], [], [], 0)[0])
    except (OSError, ValueError, ImportError):
        return False


def talk_json(session: Session, source: TextIO, sink: TextIO, search: Search) -> int:
    """One JSON object for the greeting, then one for each line, until end of input."""

    def show(lines: Iterable[Line]) -> None:
        said = tuple(replace(line, text=harmless(line.text)) for line in lines)
        sink.write(json.dumps(as_json(session.state, said, session.knowledge), ensure_ascii=False) + "\n")
        sink.flush()

    show(session.greet())
    while (text := _line(source)) is not None:
        lines, leave = served(session, search, text)
        show(lines)
        if leave:
            break
    return 0


__all__ = ["as_text", "command", "hit_lines", "served", "talk", "talk_json"]
