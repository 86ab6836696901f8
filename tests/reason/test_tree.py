"""The printed tree: every group has a page, shares add up, every way ends, and no question stands twice on a way."""

from __future__ import annotations

from collections import Counter

import pytest

from bot.cli import main
from bot.reason.groups import groups
from bot.reason.tree import Node, tree
from bot.shells.tree_command import names, page
from bot.talk.knowledge import Knowledge

COARSE = 0.02


def _of(knowledge: Knowledge, name: str) -> list[Node]:
    group = next(g for g in groups(knowledge.model) if g.name == name)
    return list(tree(knowledge.model, group.findings, COARSE))


def test_groups_cover_every_gear_and_every_sound_of_the_button(knowledge: Knowledge) -> None:
    found = [g.findings for g in groups(knowledge.model)]
    assert {f["gear"] for f in found} == {"manual", "one_motor", "two_motor"}
    heard = Counter(f.get("button_response") for f in found if f["gear"] == "one_motor")
    assert heard == {"silent": 1, "clicks": 1, "hums": 1, "motor_runs": 3}
    assert len(set(names(knowledge))) == len(found)


@pytest.mark.parametrize("name", ["manual-one-leg", "two-motor-hums"])
def test_ways_are_likelier_than_the_least_and_shares_add_up(name: str, knowledge: Knowledge) -> None:
    nodes = _of(knowledge, name)
    assert nodes[0].path == 1.0
    assert all(n.path > COARSE for n in nodes)
    for at, node in enumerate(nodes):
        below = []
        for n in nodes[at + 1 :]:
            if n.depth <= node.depth:
                break
            if n.depth == node.depth + 1:
                below.append(n.path)
        assert sum(below) <= node.path + 1e-9


def test_no_question_stands_twice_on_a_way_and_every_end_is_a_repair_or_a_call(knowledge: Knowledge) -> None:
    way: list[str] = []
    nodes = _of(knowledge, "manual-one-leg")
    for node in nodes:
        del way[node.depth :]
        way.append(node.choice.ask.finding if node.choice.ask else "")
        assert len(set(way)) == len(way)
        if node.choice.ask is None and node.choice.act is not None:
            assert 0.0 < node.chance <= 1.0
    assert any(n.choice.act == "cross_shaft_parted" and n.choice.ask is None for n in nodes)


def test_page_names_its_group_and_says_each_answer_with_its_share(knowledge: Knowledge) -> None:
    group = next(g for g in groups(knowledge.model) if g.name == "manual-one-leg")
    text = page(group, knowledge, COARSE)
    assert text.startswith("manual-one-leg\nstarts with: ")
    assert "in 100" in text.splitlines()[-1] or "?" in text.splitlines()[-1]
    assert any(line.lstrip().startswith("yes (") for line in text.splitlines())


def test_unknown_group_is_refused_with_the_names(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["corpus", "tree", "nothing-of-the-kind"]) == 2
    assert "manual-one-leg" in capsys.readouterr().err
