"""`legline corpus tree`: the likely ways of every symptom group as indented text, one group a page, for a technician."""

from __future__ import annotations

from collections.abc import Iterator

from bot.reason.chances import part_words
from bot.reason.circuit import READINGS
from bot.reason.groups import Group, groups
from bot.reason.tree import LEAST_PATH, Node, tree
from bot.talk.explain import cause_title
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import plain_title, title_of

PAGE = "\f"  # a printer and a pager start a new page here


def names(knowledge: Knowledge) -> tuple[str, ...]:
    """The symptom groups there are."""
    return tuple(g.name for g in groups(knowledge.model))


def pages(knowledge: Knowledge, wanted: str = "", least: float = LEAST_PATH) -> Iterator[str]:
    """The text of every group, or of the one wanted; a form feed stands between two."""
    chosen = [g for g in groups(knowledge.model) if wanted in ("", g.name)]
    for n, group in enumerate(chosen):
        yield (PAGE if n else "") + page(group, knowledge, least)


def page(group: Group, knowledge: Knowledge, least: float) -> str:
    """One group: where it starts, then every question, answer and end with its share of the group in 100."""
    nodes = list(tree(knowledge.model, group.findings, least))
    start = ", ".join(
        f"{title_of(n, knowledge)} {str(v).replace('_', ' ')}" for n, v in group.findings.items()
    )
    lines = [
        group.name, f"starts with: {start}",
        f"ways likelier than {least * 100:g} in 100, everything at hand; in brackets the share of this group; "
        f"{len(nodes)} places", "",
    ]  # fmt: skip
    return "\n".join([*lines, *(_line(node, knowledge) for node in nodes)])


def _line(node: Node, knowledge: Knowledge) -> str:
    said = ""
    if node.asked:
        answer = (
            part_words(node.asked, node.answer) if node.asked in READINGS else node.answer.replace("_", " ")
        )
        said = f"{answer} ({node.path * 100:.1f}): "
    if node.choice.ask is not None:
        finding = node.choice.ask.finding
        return "  " * node.depth + said + f"{plain_title(knowledge.checks[finding].page.title)}? [{finding}]"
    if node.choice.act is None:
        return "  " * node.depth + said + "-> no repair is worth trying: call for help"
    sure = "" if node.choice.sure_enough else ", a guess"
    return (
        "  " * node.depth
        + said
        + f"-> {cause_title(node.choice.act, knowledge)} {node.chance * 100:.0f} in 100{sure}"
    )
