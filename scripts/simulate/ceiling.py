"""How often any way of asking could be right: a classifier given every answer that each person can give.

It learns from trailers of another seed of this simulator and has no stop, no cost and no dangerous question to leave
out. What it reaches is in the answers. It is no proof that no more is: the shares for a quarter and a half of the
learning set show how much more trailers would still add. The share lost is put down to missing tools, to "don't know",
to wrong answers and slips (each taken away in turn), and what is left then to causes that look alike.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from bot.corpus.place import corpus_folder
from scripts.simulate.complaint import complain
from scripts.simulate.faults import OUTSIDE
from scripts.simulate.pages import Repairs, needs_of, repairs_of
from scripts.simulate.person import Need
from scripts.simulate.play import Case, Options, make_case

OTHER_SEED = 200_003  # added to the seed: no trailer of the learning set is among those that are scored
GEARS = ("one_motor", "two_motor", "manual")
_LEAST = 3  # trailers of a cause in a gear, below which a fold cannot learn it


@dataclass(frozen=True)
class Row:
    """All that can be known of one trailer: answers, what the first line told, and what is planted."""

    cause: str
    gear: str
    known: dict[str, str | float]


def row_of(case: Case, needs: dict[str, Need]) -> Row:
    """Every question that is asked of anybody, answered as this person would; what the first line tells besides."""
    known: dict[str, str | float] = {}
    for finding, need in needs.items():
        if need.asked:
            value = case.person.answers(finding)
            known[f"missing {finding}"] = str(value is None)
            if value is not None:
                known[finding] = value
    for finding in complain(case.person, case.causes).told:
        known[f"told {finding}"] = "yes"
        value = case.person.sees(finding)
        if value is not None:
            known[finding] = value
    return Row(case.causes[0], case.t.gear, known)


def rows(options: Options, count: int, needs: dict[str, Need]) -> list[Row]:
    """Rows of that many trailers of a seed; those that are no landing gear are left out, the words alone tell them."""
    made = (make_case(options, n, needs) for n in range(count))
    return [row_of(c, needs) for c in made if c.causes[0] not in OUTSIDE]


def _drops(known: dict[str, str | float]) -> dict[str, float]:
    """Differences and resistances of readings: what a tech works out from two of them."""

    def of(name: str) -> float | None:
        value = known.get(name)
        return value if isinstance(value, float) else None

    found = {}
    chain = ("volts_battery_resting", "volts_battery_loaded", "volts_switch_in", "volts_switch_out", "volts_relay_in",
             "volts_relay_out", "volts_motor_loaded", "volts_ground_drop")  # fmt: skip
    amps = of("amps")
    for i, first in enumerate(chain):
        for second in chain[i + 1 :]:
            a, b = of(first), of(second)
            if a is not None and b is not None:
                found[f"{first} - {second}"] = a - b
                if amps is not None and amps > 3:
                    found[f"({first} - {second}) / amps"] = (a - b) / amps
    a, b, c = of("volts_battery_loaded"), of("volts_motor_loaded"), of("volts_ground_drop")
    if a is not None and b is not None and c is not None:
        found["feed side"] = a - b - c
    rating = of("motor_rating_a")
    if amps is not None and rating:
        found["amps / rating"] = amps / rating
    if amps is not None and amps > 3 and b is not None:
        found["motor ohms"] = b / amps
    return found


class Table:
    """Columns of a learning set: words one column each, numbers as they are and cut into ten parts."""

    def __init__(self, learn: Sequence[Row]):
        import numpy as np

        self.np = np
        full = [{**r.known, **_drops(r.known)} for r in learn]
        self.words = sorted({(k, v) for f in full for k, v in f.items() if isinstance(v, str)})
        self.numbers = sorted({k for f in full for k, v in f.items() if isinstance(v, float)})
        self.cuts = {
            name: np.unique(np.quantile([f[name] for f in full if name in f], np.linspace(0.05, 0.95, 19)))
            for name in self.numbers
        }

    def trees(self, some: Sequence[Row]) -> Any:
        """Words as 0 and 1, numbers as they are, "not a number" where not known."""
        np, full = self.np, [{**r.known, **_drops(r.known)} for r in some]
        words = [[float(f.get(k) == v) for k, v in self.words] for f in full]
        numbers = [[f.get(name, np.nan) for name in self.numbers] for f in full]
        return np.hstack([np.array(words), np.array(numbers, dtype=float).reshape(len(full), -1)])

    def lines(self, some: Sequence[Row]) -> Any:
        """Words and parts of numbers as 0 and 1."""
        np = self.np
        blocks = [self.trees(some)[:, : len(self.words)]]
        full = [{**r.known, **_drops(r.known)} for r in some]
        for name in self.numbers:
            block = np.zeros((len(full), len(self.cuts[name]) + 1))
            for i, f in enumerate(full):
                if name in f:
                    block[i, np.searchsorted(self.cuts[name], f[name])] = 1.0
            blocks.append(block)
        return np.hstack(blocks)


@dataclass(frozen=True)
class Guess:
    """The two likeliest causes of a row."""

    row: Row
    first: str
    second: str


def _chances(learn: Sequence[Row], score: Sequence[Row]) -> tuple[list[str], dict[str, Any]]:
    """Chances of each cause by boosted trees, by a forest, by a logistic regression, and the mean of the three."""
    import numpy as np
    from sklearn.ensemble import ExtraTreesClassifier, HistGradientBoostingClassifier
    from sklearn.linear_model import LogisticRegression

    enough = {c for c, n in Counter(r.cause for r in learn).items() if n >= _LEAST}
    learn = [r for r in learn if r.cause in enough]
    table, causes = Table(learn), [r.cause for r in learn]
    names = sorted(enough)
    x, z = table.trees(learn), table.trees(score)
    boosted = HistGradientBoostingClassifier(
        max_iter=70, learning_rate=0.1, max_leaf_nodes=8, min_samples_leaf=8, l2_regularization=2.0,
        max_features=0.25, random_state=0,
    ).fit(x, causes)  # fmt: skip
    forest = ExtraTreesClassifier(200, min_samples_leaf=2, max_features=0.15, n_jobs=1, random_state=0)
    forest.fit(np.nan_to_num(x, nan=-50.0), causes)
    lines = LogisticRegression(C=0.15, max_iter=100).fit(table.lines(learn), causes)
    found = {
        "boosted trees": boosted.predict_proba(z),
        "forest": forest.predict_proba(np.nan_to_num(z, nan=-50.0)),
        "logistic": lines.predict_proba(table.lines(score)),
    }
    found["all three"] = sum(np.log(p + 1e-4) for p in found.values())
    return names, found


def guesses(learn: Sequence[Row], score: Sequence[Row]) -> dict[str, list[Guess]]:
    """The two likeliest causes of every row by each classifier, learnt for each gear apart."""
    import warnings

    from threadpoolctl import threadpool_limits

    found: dict[str, list[Guess]] = {}
    for gear in GEARS:
        some = [r for r in score if r.gear == gear]
        if not some:
            continue
        # One thread: several wait for each other on a busy machine. The regression is stopped before it has settled.
        with threadpool_limits(1), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            names, chances = _chances([r for r in learn if r.gear == gear], some)
        for which, table in chances.items():
            for row, line in zip(some, table, strict=True):
                order = sorted(range(len(names)), key=lambda i: -line[i])
                found.setdefault(which, []).append(Guess(row, names[order[0]], names[order[1]]))
    return found


def mends(repairs: Repairs, gear: str) -> Callable[[str, str], bool]:
    """Whether a repair for one cause mends the other: the same page mends both on that gear."""

    def both(said: str, cause: str) -> bool:
        return said == cause or any(
            {said, cause} <= set(r.mends) and gear in r.gears for r in repairs.procedures.values()
        )

    return both


def shares(found: list[Guess], outside: int, repairs: Repairs) -> tuple[float, float, float]:
    """First right, right within two, and first repair mends it; those outside count as right in all three."""
    n = len(found) + outside
    first = sum(g.first == g.row.cause for g in found) + outside
    two = sum(g.row.cause in (g.first, g.second) for g in found) + outside
    mended = sum(mends(repairs, g.row.gear)(g.first, g.row.cause) for g in found) + outside
    return first / n, two / n, mended / n


VARIANTS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("tools as people have them", {}),
    ("all tools, a helper, a truck", {"tools": "all"}),
    ("and nothing unknown", {"tools": "all", "dont_know": 0.0}),
    ("and nothing mistaken or mistyped", {"tools": "all", "dont_know": 0.0, "wrong": 0.0, "slip": 0.0}),
)


def ceiling(options: Options, count: int, learning: int, cells: int, variants: int = len(VARIANTS)) -> str:
    """The table of the best that can be reached, and the causes that are taken for each other."""
    place = corpus_folder(None)
    needs, repairs = needs_of(place), repairs_of(place)
    lines = [
        f"{'learnt from ' + str(learning) + ', scored on ' + str(count):44s}{'first':>8s}{'two':>8s}{'mends':>8s}"
    ]
    for name, change in VARIANTS[:variants]:
        here = replace(options, **change)
        score = rows(here, count, needs)
        learn = rows(replace(here, seed=options.seed + OTHER_SEED), learning, needs)
        outside = count - len(score)
        if not change:
            for share in (0.25, 0.5):
                part = guesses(learn[: int(len(learn) * share)], score)["all three"]
                lines.append(
                    _line(f"  {name}, {share:g} of the learning set", shares(part, outside, repairs))
                )
        found = guesses(learn, score)
        for which, some in found.items():
            lines.append(_line(f"{name}, {which}", shares(some, outside, repairs)))
        best = max(found.values(), key=lambda some: shares(some, outside, repairs)[0])
        wrong = Counter((g.row.cause, g.first) for g in best if g.first != g.row.cause)
        lines += [f"    {n / count:.4f}  {cause} -> {said}" for (cause, said), n in wrong.most_common(cells)]
        lines.append(f"    {sum(wrong.values()) / count:.4f}  all that is missed")
        print("\n".join(lines), flush=True)
        lines = []
    return "\n".join(lines)


def _line(name: str, values: tuple[float, ...]) -> str:
    return f"{name:60s}" + "".join(f"{v:8.3f}" for v in values)


__all__ = ["VARIANTS", "Guess", "Row", "ceiling", "guesses", "row_of", "rows", "shares"]
