"""Which pages a conversation has leaned on so far, each by role, name and fingerprint."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:  # the store names pages by this, and loads none of the conversation for it
    from bot.talk.knowledge import Knowledge
    from bot.talk.state import State

SHOWN = 12  # hex digits of a fingerprint that people compare by eye; the record keeps all 64


class Used(NamedTuple):
    """One page as it was read: role of its folder, kind/id, SHA-256 of its text, and the corpus it stood in."""

    role: str
    page: str
    digest: str
    corpus: str


def pages_used(state: State, knowledge: Knowledge) -> tuple[Used, ...]:
    """The pages behind what the state holds: checks of its findings and of the open question, causes judged or
    tried, the procedure offered or walked, and the order sheet of the verdict. In that order, none twice.

    What merely had a chance in the reckoning is not listed: that is every cause, and the corpus's own fingerprint
    says which they were.
    """
    names = [f.name for f in state.found] + ([state.asking.finding] if state.asking else [])
    pages = [knowledge.checks[n].page for n in names if n in knowledge.checks]
    causes = [*state.tried, *([state.verdict.cause] if state.verdict else [])]
    pages += [knowledge.causes[c].page for c in causes if c in knowledge.causes]
    documents = [state.verdict.document] if state.verdict else []
    documents += [state.walk.document] if state.walk else []
    pages += [knowledge.pages[d] for d in documents if d in knowledge.pages]
    pages += [s.page for s in knowledge.corpus.sheets if any(c in s.causes for c in causes)]
    mark = knowledge.corpus.fingerprint
    return tuple(dict.fromkeys(Used(p.role, f"{p.kind}/{p.id}", p.digest, mark) for p in pages))


def layers_line(knowledge: Knowledge) -> str:
    """The folders the pages came from, each with its fingerprint and number of files."""
    parts = [f"{role} {mark[:SHOWN]} ({count} files)" for role, mark, count in knowledge.corpus.layers]
    return f"Pages of corpus {knowledge.corpus.fingerprint}: " + ", ".join(parts) + "."


def used_lines(used: tuple[Used, ...], knowledge: Knowledge) -> list[str]:
    """One line a page: name, role, the first digits of its fingerprint, and whether it has changed since."""
    now = {f"{p.kind}/{p.id}": p.digest for p in knowledge.pages.values()}
    lines = []
    for one in used:
        since = (
            ""
            if now.get(one.page) == one.digest
            else "; changed since"
            if one.page in now
            else "; gone since"
        )
        lines.append(f"- {one.page}: {one.role}, {one.digest[:SHOWN]}{since}")
    return lines
