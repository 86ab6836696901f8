"""On the corpus alone: in each procedure's graph the control, and its stop, stand before every step
they guard.

A step dominates another when every way to the second goes through the first. The outside check is networkx
(immediate_dominators; Cooper, Harvey and Kennedy's algorithm), which knows nothing of trailers.
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
import pytest

from bot.corpus.model import Procedure
from bot.safety.holds import carried, holds_before, shut_before
from bot.safety.rules import RULES
from bot.talk.knowledge import Knowledge


def _pages(knowledge: Knowledge) -> Iterator[Procedure]:
    yield from knowledge.procedures.values()


def step_graph(procedure: Procedure) -> nx.DiGraph:
    """Steps in order from "start"; after each one may go on, stay, or go back by any number of steps."""
    graph = nx.DiGraph()
    graph.add_edge("start", 1)
    for step in procedure.steps:
        if step.number < len(procedure.steps):
            graph.add_edge(step.number, step.number + 1)
        graph.add_edges_from((step.number, earlier) for earlier in range(1, step.number + 1))
    return graph


def dominators(graph: nx.DiGraph, node: object) -> set[object]:
    """Every node that all ways from "start" to `node` go through."""
    nearest = nx.immediate_dominators(graph, "start")
    found: set[object] = set()
    while node in nearest and nearest[node] not in (node, None):
        node = nearest[node]
        found.add(node)
    return found


def uncontrolled(procedure: Procedure) -> list[tuple[int, str]]:
    """Steps and hazards that need a control, where no step that makes them safe dominates, or one is
    undone between.

    Undone between: with the controls of that hazard taken out of the graph, a step that undoes it still
    leads here without going back.
    """
    graph = step_graph(procedure)
    onward = nx.DiGraph((a, b) for a, b in graph.edges if a == "start" or b > a)
    found = []
    for step in procedure.steps:
        before = dominators(graph, step.number)
        for hazard in step.hazards:
            if not RULES[hazard].needs_control or hazard in step.makes_safe:
                continue
            controls = {s.number for s in procedure.steps if hazard in s.makes_safe}
            undoing = {s.number for s in procedure.steps if hazard in s.undoes} - controls
            bare = onward.subgraph(set(onward) - (controls - {step.number}))
            lost = any(u in bare and u != step.number and nx.has_path(bare, u, step.number) for u in undoing)
            if not controls & before or lost:
                found.append((step.number, hazard))
    return found


def stop_graph(procedure: Procedure) -> tuple[nx.DiGraph, set[tuple[int, frozenset[str]]]]:
    """Every (step, stops open) with what leads on: a yes opens one stop, a done goes on, a break shuts all.

    Also returns the situations in which the step is shown.
    """
    graph = nx.DiGraph()
    shown: set[tuple[int, frozenset[str]]] = set()
    start = (1, frozenset[str]())
    graph.add_edge("start", start, opens="")
    waiting = [start]
    while waiting:
        at = waiting.pop()
        number, opened = at
        shut = shut_before(procedure, number, opened)
        ways: list[tuple[tuple[int, frozenset[str]], str]] = [
            ((n, frozenset()), "") for n in range(1, number + 1)
        ]
        if shut:
            ways.append(((number, opened | {shut[0].key}), shut[0].key))
        else:
            shown.add(at)
            if number < len(procedure.steps):
                step, following = procedure.steps[number - 1], procedure.steps[number]
                ways.append(((number + 1, carried(step, following, opened)), ""))
        for way, opens in ways:
            if way not in graph:
                waiting.append(way)
            if way != at:
                graph.add_edge(at, way, opens=opens)
    return graph, shown


def test_every_hazard_is_dominated_by_its_control(knowledge: Knowledge) -> None:
    wrong = {p.id: found for p in _pages(knowledge) if (found := uncontrolled(p))}
    assert wrong == {}
    guarded = sum(RULES[h].needs_control for p in _pages(knowledge) for s in p.steps for h in s.hazards)
    assert guarded > 500  # the proof is about something


def test_every_part_comes_off_behind_truck_and_circuit(knowledge: Knowledge) -> None:
    seen = 0
    for procedure in _pages(knowledge):
        graph = step_graph(procedure)
        hitched = {s.number for s in procedure.steps if "raised nose" in s.makes_safe}
        dead = {s.number for s in procedure.steps if "motor start" in s.makes_safe}
        for step in procedure.steps:
            before = dominators(graph, step.number)
            if {"leg", "motor", "gearbox", "shaft"} & set(step.removes):
                assert hitched & before, (procedure.id, step.number)
                assert dead & before, (procedure.id, step.number)
                seen += 1
            if step.opens_gears:
                assert dead & before, (procedure.id, step.number)
    assert seen >= 10


def test_no_way_to_a_step_goes_round_a_stop(knowledge: Knowledge) -> None:
    """With the yes to one stop taken away, no step that lists its hazard is reached; with it, each is."""
    for procedure in _pages(knowledge):
        graph, shown = stop_graph(procedure)
        assert {n for n, _ in shown} == {s.number for s in procedure.steps}
        for step in procedure.steps:
            for hold in holds_before(procedure, step.number):
                without = nx.DiGraph((a, b) for a, b, opens in graph.edges(data="opens") if opens != hold.key)
                reached = nx.descendants(without, "start")
                assert not [at for at in shown if at[0] == step.number and at in reached], (
                    procedure.id,
                    step.number,
                    hold.name,
                )


@pytest.mark.parametrize("hazard", ["raised nose", "motor start", "rolling", "person under the nose"])
def test_a_page_without_its_control_is_seen(hazard: str, knowledge: Knowledge) -> None:
    """The check can fail: take the controls of one hazard out of a page and it names the steps."""
    from dataclasses import replace

    procedure = next(p for p in _pages(knowledge) if any("leg" in s.removes for s in p.steps))
    steps = tuple(
        replace(s, makes_safe=tuple(h for h in s.makes_safe if h != hazard)) for s in procedure.steps
    )
    assert {h for _, h in uncontrolled(replace(procedure, steps=steps))} == {hazard}


def test_an_undoing_in_between_is_seen(knowledge: Knowledge) -> None:
    from dataclasses import replace

    procedure = next(p for p in _pages(knowledge) if any("leg" in s.removes for s in p.steps))
    at = next(s.number for s in procedure.steps if "leg" in s.removes)
    undone = replace(procedure.steps[at - 2], undoes=("motor start",))
    steps = (*procedure.steps[: at - 2], undone, *procedure.steps[at - 1 :])
    assert (at, "motor start") in uncontrolled(replace(procedure, steps=steps))
