"""Chances on random models against two inference libraries, pyAgrum and pgmpy, within 1e-9.

Both are test extras. A missing one fails where LEGLINE_OUTSIDE=1, and is named in the skip otherwise. The models hold
what the shipped one holds: causes that some gear cannot have, checks of two to four answers, and findings that hang on
whether the motor turns (a node of its own in the network, never observed).
"""

from __future__ import annotations

import importlib
import os
import warnings
from dataclasses import dataclass
from typing import Any

import pytest

from bot.corpus.model import Cause, Check, Page
from bot.reason.chances import ELSE, Model, standing
from scripts.simulate.draws import Random, stream

TOLERANCE = 1e-9
SEEDS = range(12)


def library(name: str) -> Any:
    """The library, or a skip (a failure where outside programs are required) that names it."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a warning raised while its C++ part loads ends the process
            return importlib.import_module(name)
    except ImportError:
        if os.environ.get("LEGLINE_OUTSIDE") == "1":
            pytest.fail(f"{name} is required here and is not installed")
        pytest.skip(f"{name} is not installed: this comparison was not made")


@dataclass(frozen=True)
class Drawn:
    """A random model and random answers, with the tables that made them."""

    model: Model
    priors: list[float]
    turns: list[float]
    tables: dict[
        str, tuple[list[list[float]], list[list[float]]]
    ]  # check -> a row a cause: turning, standing
    findings: dict[str, str | float]


def _page(name: str) -> Page:
    return Page(name, "causes", name, name, {}, {}, ())


def _split(draw: Random, n: int) -> list[float]:
    raw = [draw.random() + 0.01 for _ in range(n)]
    return [x / sum(raw) for x in raw]


def drawn(seed: int) -> Drawn:
    """A model of that seed: 3 to 9 causes and "something else", 4 to 9 checks, about half of them answered."""
    draw = stream(seed, 0, "random model")
    n = draw.randint(3, 9)
    causes = tuple(
        Cause(_page(f"c{i}"), f"c{i}", ("one_motor",) if draw.random() < 0.8 else ("manual",), 1.0, "none", "", 1.0,
              "no part", ())
        for i in range(n)
    )  # fmt: skip
    names = (*(c.name for c in causes), ELSE)
    priors = [draw.choice((1.0, 2.0, 4.0, 8.0)) for _ in names]
    turns = [draw.random() for _ in names]
    checks, rows, still, tables = {}, {}, {}, {}
    for k in range(draw.randint(4, 9)):
        answers = tuple(f"a{j}" for j in range(draw.randint(2, 4)))
        turning = [_split(draw, len(answers)) for _ in names]
        standing_ = [_split(draw, len(answers)) for _ in names] if draw.random() < 0.6 else turning
        name = f"t{k}"
        checks[name] = Check(_page(name), name, "choice", answers, "", 0, 0, ("one_motor",), "none", 1, (), 1, "",
                             "outside", (), False, (), "", "", "")  # fmt: skip
        rows[name] = {a: tuple(c[j] for c in turning) for j, a in enumerate(answers)}
        still[name] = {a: tuple(c[j] for c in standing_) for j, a in enumerate(answers)}
        tables[name] = (turning, standing_)
    findings: dict[str, str | float] = {"gear": "one_motor"}
    findings |= {name: draw.choice(check.choices) for name, check in checks.items() if draw.random() < 0.5}
    model = Model(
        causes, names, tuple(priors), checks, rows, (((0.0,) * 9,),), (0,) * len(names),
        {x: i for i, x in enumerate(names)}, still, {"one_motor": tuple(turns)},
    )  # fmt: skip
    fits = [p if i == n or "one_motor" in causes[i].fits else 0.0 for i, p in enumerate(priors)]
    return Drawn(model, [p / sum(fits) for p in fits], turns, tables, findings)


@pytest.mark.parametrize("seed", SEEDS)
def test_chances_of_a_random_model_equal_pyagrum(seed: int) -> None:
    gum = library("pyagrum")
    d = drawn(seed)
    net = gum.BayesNet()
    cause = net.add(gum.LabelizedVariable("cause", "", list(d.model.names)))
    turning = net.add(gum.LabelizedVariable("turns", "", ["yes", "no"]))
    net.addArc(cause, turning)
    net.cpt(cause).fillWith(d.priors)
    for i, name in enumerate(d.model.names):
        net.cpt(turning)[{"cause": name}] = [d.turns[i], 1 - d.turns[i]]
    for check, (one, other) in d.tables.items():
        node = net.add(gum.LabelizedVariable(check, "", list(d.model.checks[check].choices)))
        net.addArc(cause, node)
        net.addArc(turning, node)
        for i, name in enumerate(d.model.names):
            net.cpt(node)[{"cause": name, "turns": "yes"}] = one[i]
            net.cpt(node)[{"cause": name, "turns": "no"}] = other[i]
    engine = gum.LazyPropagation(net)
    engine.setEvidence({k: v for k, v in d.findings.items() if k != "gear"})
    engine.makeInference()
    wanted = engine.posterior("cause").tolist()
    now = standing(d.model, d.findings)
    assert max(abs(a - b) for a, b in zip(now.chances, wanted, strict=True)) < TOLERANCE
    share = engine.posterior("turns").tolist()[0]
    assert sum(now.split[::2]) == pytest.approx(share, abs=TOLERANCE)


@pytest.mark.filterwarnings("ignore")  # what pgmpy says of its own next version
@pytest.mark.parametrize("seed", SEEDS)
def test_chances_of_a_random_model_equal_pgmpy(seed: int) -> None:
    library("pgmpy")
    TabularCPD = library("pgmpy.factors.discrete").TabularCPD
    VariableElimination = library("pgmpy.inference").VariableElimination
    DiscreteBayesianNetwork = library("pgmpy.models").DiscreteBayesianNetwork
    d = drawn(seed)
    names = list(d.model.names)
    net = DiscreteBayesianNetwork(
        [("cause", "turns"), *((p, c) for c in d.tables for p in ("cause", "turns"))]
    )
    states = {"cause": names, "turns": ["yes", "no"]}
    tables = [
        TabularCPD("cause", len(names), [[p] for p in d.priors], state_names={"cause": names}),
        TabularCPD(
            "turns", 2, [d.turns, [1 - t for t in d.turns]], ["cause"], [len(names)], state_names=states
        ),
    ]
    for check, (one, other) in d.tables.items():
        answers = list(d.model.checks[check].choices)
        # pgmpy's columns run over the last parent first: turning and standing under each cause in turn
        values = [
            [x for i in range(len(names)) for x in (one[i][j], other[i][j])] for j in range(len(answers))
        ]
        tables.append(
            TabularCPD(check, len(answers), values, ["cause", "turns"], [len(names), 2],
                       state_names={check: answers, **states})
        )  # fmt: skip
    net.add_cpds(*tables)
    evidence = {k: v for k, v in d.findings.items() if k != "gear"}
    found = VariableElimination(net).query(["cause"], evidence=evidence, show_progress=False)
    wanted = [float(found.get_value(cause=name)) for name in names]
    now = standing(d.model, d.findings)
    assert max(abs(a - b) for a, b in zip(now.chances, wanted, strict=True)) < TOLERANCE
