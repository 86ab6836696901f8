"""Mutation testing of one package: how many small mistakes, put in on purpose, the tests notice.

    python scripts/mutate.py sums              every mutant of bot/sums, about 20 minutes on one core
    python scripts/mutate.py safety            every mutant of bot/safety, about 3 minutes on one core
    python scripts/mutate.py sums --only legs  one module
    python scripts/mutate.py sums --stride 2   every second mutant

Prints the counts by module and each survivor as `file:line: old -> new`. A survivor that means the same as the
original stands in tests/PACKAGE/survivors.txt with its reason. Exit 1 where a survivor is missing there, where
an entry is no survivor any more, or where fewer mutants die than the package wants (LEAST below).

What a mutant is: scripts/mutants.py. Why this is a runner of our own:
- mutmut 3.8.1 was run over bot/sums. It leaves out every function under a decorator, and here each sum and most
  formulas carry their limits in one; it leaves out tables, which are half of what can be wrong; and most of its
  survivors are messages in capitals.
- cosmic-ray 8.7.0 lists 13,685 mutants and starts pytest anew for each: 12 s apiece, two days.

How it runs: pytest collects once, runs every test once while the lines it reaches are written down, then each
mutant of a function's body or defaults gets a forked process in which the function's code is exchanged and the
tests that reach its statement run, quickest first, up to the first that notices. What is made while a module is
read (tables, limits, lists of inputs) gets a forked process that reads everything anew: first with the tests
named in FIRST, then with all. Both begin with a
mutant that changes nothing: where the tests notice that one, the run stops. Hypothesis draws the same examples
each time. A mutant that takes ten
seconds of processor time more than twice what its tests take without it counts as noticed.
"""

from __future__ import annotations

import argparse
import ast
import gc
import importlib
import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import signal
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from types import FrameType, ModuleType
from typing import Any

TOP = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(TOP))
sys.path.insert(0, str(TOP / "scripts"))
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from exchange import Exchange  # noqa: E402
from mutants import Mutant, applied, mutants  # noqa: E402

SAFETY = [
    *("tests/safety/test_rules.py", "tests/safety/test_holds.py", "tests/safety/test_carried.py"),
    *("tests/safety/test_ledger.py", "tests/safety/test_authoring.py", "tests/safety/test_power_back.py"),
    *("tests/safety/test_beside.py", "tests/safety/test_said.py", "tests/safety/test_proofs.py"),
]
TESTS = {
    "sums": ["tests/sums", "bot/sums"],
    # Each module by itself. The walks (tests/safety/test_walks.py), the planted mistakes of tests/corpus and the
    # conversations of tests/talk notice more, but take minutes, too long to be made for every mutant.
    "safety": [*SAFETY, "bot/safety"],
}
#: What is read anew is first held against these; only what they miss meets every test.
FIRST = {
    "sums": [
        *("tests/sums/test_limits_both_ways.py", "tests/sums/test_rows.py", "tests/sums/test_assumptions.py"),
        *("tests/sums/test_edges_answers.py", "tests/sums/test_edges_drawn.py"),
        *("tests/sums/test_edges_catalogue.py", "tests/sums/test_edges_electric.py"),
        *("tests/sums/test_edges_mechanic.py", "tests/sums/test_edges_tables.py"),
        *("tests/sums/test_bounds_told.py", "tests/sums/test_bounds_electric.py"),
        "tests/sums/test_bounds_mechanic.py",
    ],
    "safety": SAFETY,
}
#: Share of the mutants that has to die [%].
LEAST = {"sums": 90.0, "safety": 95.0}
#: Tests that measure time: on a busy machine they would notice mutants that are not there.
TIMED = ("quick", "fast")
#: A mutant may take so much processor time, and twice that of its tests.
TOO_LONG_S = 10.0
NOTICED, TOO_LONG, SURVIVED = "noticed", "too long", "survived"

#: Loaded once and shared by all forks: nothing of the project may be among it.
OURS = ("bot", "tests", "conftest", "mutants", "__main__", "_pytest", "pytest", "_hypothesis_pytestplugin")


def quiet_hypothesis() -> None:
    """The same draws every time, nothing kept, no limit on a busy machine."""
    from hypothesis import HealthCheck, Phase, settings

    settings.register_profile(
        "mutants",
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.explicit, Phase.generate],  # a failing example need not be made small
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.differing_executors],
    )
    settings.load_profile("mutants")
    os.environ["LEGLINE_DRAW"] = "as set"


def forked(work: Callable[[], bool], seconds: float) -> int:
    """The id of a process that does the work in silence; it ends with 1 where the work says noticed."""
    pid = os.fork()
    if pid:
        return pid
    code = 1
    try:
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        signal.signal(signal.SIGPROF, signal.SIG_DFL)
        signal.setitimer(signal.ITIMER_PROF, TOO_LONG_S + 2 * seconds)
        code = int(work())
    finally:
        os._exit(code)


class Pool:
    """At most so many forks at a time; what became of each is written down."""

    def __init__(self, jobs: int, log: Path | None) -> None:
        self.jobs, self.log = jobs, log
        self.running: dict[int, str] = {}
        self.fates: dict[str, str] = {}

    def start(self, key: str, seconds: float, work: Callable[[], bool]) -> None:
        while len(self.running) >= self.jobs:
            self.wait()
        self.running[forked(work, seconds)] = key

    def wait(self) -> None:
        pid, status = os.wait()
        key = self.running.pop(pid, None)
        if key is None:
            return
        if os.WIFSIGNALED(status):
            self.fates[key] = TOO_LONG if os.WTERMSIG(status) == signal.SIGPROF else NOTICED
        else:
            self.fates[key] = SURVIVED if os.WEXITSTATUS(status) == 0 else NOTICED
        if self.log and self.fates[key] != NOTICED:
            with self.log.open("a", encoding="utf-8") as log:
                log.write(f"{self.fates[key]}: {key}\n")

    def finish(self) -> dict[str, str]:
        while self.running:
            self.wait()
        return self.fates


# --- what is made while a module is read -----------------------------------------------------------------


class Changed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Reads one module from a changed tree."""

    def __init__(self, name: str, path: Path, tree: ast.Module) -> None:
        self.name, self.path, self.tree = name, path, tree

    def find_spec(self, name: str, path: object, target: object = None) -> Any:
        if name != self.name:
            return None
        spec = importlib.util.spec_from_file_location(name, self.path, loader=self)
        return spec

    def create_module(self, spec: importlib.machinery.ModuleSpec) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(self.tree, str(self.path), "exec"), module.__dict__)


class Quickest:
    """Puts the collected tests in order of the time they took, and takes those out that measure time."""

    def __init__(self, seconds: dict[str, float]) -> None:
        self.seconds = seconds

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        items[:] = [item for item in items if not any(word in item.name for word in TIMED)]
        items.sort(key=lambda item: self.seconds.get(item.nodeid, 0.0))


def options(tests: Sequence[str]) -> list[str]:
    return [*tests, "-x", "--assert=plain", "-p", "no:cacheprovider", "-p", "no:xdist", "--tb=no", "-q"]


def anew(one: Mutant | None, tree: ast.Module, tests: Sequence[str], seconds: dict[str, float]) -> bool:
    """Whether the tests notice the mutant when everything is read anew."""
    import pytest

    if one is not None:
        name = one.file.removesuffix(".py").replace("/", ".").removesuffix(".__init__")
        sys.meta_path.insert(0, Changed(name, TOP / one.file, applied(tree, one.site)))
    return pytest.main(options(tests), plugins=[Quickest(seconds)]) != 0


# --- what is exchanged in the loaded program --------------------------------------------------------------


class Runner:
    """A pytest plugin that runs the mutants in the place of the tests, once all are collected."""

    def __init__(
        self, package: str, chosen: dict[str, list[int]], jobs: int, log: Path | None, out: Path
    ) -> None:
        self.package, self.chosen, self.jobs, self.out = package, chosen, jobs, out
        self.log = log
        self.read_early: set[tuple[str, int]] = set()
        self.reached: dict[str, dict[int, set[int]]] = defaultdict(lambda: defaultdict(set))
        self.at = 0

    # Functions that run while modules are read or tests collected cannot be exchanged afterwards.
    def early(self, frame: FrameType, event: str, argument: object) -> None:
        if event == "call" and f"/bot/{self.package}/" in frame.f_code.co_filename:
            self.read_early.add((frame.f_code.co_filename, frame.f_code.co_firstlineno))

    def trace(self, frame: FrameType, event: str, argument: object) -> Any:
        name = frame.f_code.co_filename
        if f"/bot/{self.package}/" not in name:
            return None
        lines = self.reached[name]

        def line(frame: FrameType, event: str, argument: object) -> Any:
            if event == "line":
                lines[frame.f_lineno].add(self.at)
            return line

        lines[frame.f_lineno].add(self.at)
        return line

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        items[:] = [item for item in items if not any(word in item.name for word in TIMED)]

    def pytest_runtestloop(self, session: Any) -> bool:
        sys.setprofile(None)
        from _pytest.runner import runtestprotocol

        items, seconds = session.items, []
        for self.at, item in enumerate(items):
            began = time.process_time()
            sys.settrace(self.trace)
            # The first test follows the last one: what is set up for the whole run stays up.
            reports = runtestprotocol(item, log=False, nextitem=items[(self.at + 1) % len(items)])
            sys.settrace(None)
            seconds.append(time.process_time() - began)
            failed = [report for report in reports if report.failed]
            if failed:
                say(f"{item.nodeid} does not pass without a mutant:\n{failed[0].longreprtext}")
                os._exit(2)
        say(f"{len(items)} tests pass without a mutant, {sum(seconds):.0f} s with their lines written down")
        slow = self.run_all(session, seconds)
        by_name = {item.nodeid: spent for item, spent in zip(items, seconds, strict=True)}
        loaded = [name for name in sys.modules if name.split(".")[0] not in OURS]
        self.out.write_text(json.dumps([self.fates, slow, by_name, loaded]), encoding="utf-8")
        return True

    def run_all(self, session: Any, seconds: list[float]) -> dict[str, list[int]]:
        gc.collect()
        gc.freeze()
        exchange = Exchange(self.package, self.read_early)
        by_file: dict[str, set[int]] = defaultdict(set)
        for at, item in enumerate(session.items):
            by_file[str(item.path)].add(at)
        first = {at for path, found in by_file.items() for at in found if self.is_first(path)}
        control = Pool(1, None)
        in_order = sorted(range(len(seconds)), key=lambda at: (seconds[at], at))
        control.start("none", 10 * sum(seconds), lambda: bool(self.complain(session, in_order)))
        if control.finish()["none"] != SURVIVED:
            say("a mutant that changes nothing is noticed: the figures would be worth nothing")
            os._exit(2)
        pool, slow = Pool(self.jobs, self.log), defaultdict(list)
        began, count = time.monotonic(), 0
        for file, numbers in self.chosen.items():
            tree, all_of_it = mutants(file, (TOP / file).read_text(encoding="utf-8"))
            for number in numbers:
                one = all_of_it[number]
                kind = exchange.kind(one)
                if not kind:
                    slow[file].append(number)
                    continue
                relevant = set() if kind == "body" else set(first)
                lines, files = exchange.shows(one)
                for path, low, high in lines:
                    for line in range(low, high + 1):
                        relevant |= self.reached[path].get(line, set())
                for path in map(str, files):
                    relevant |= by_file[path]
                quickest = sorted(relevant, key=lambda at: (seconds[at], at))
                spent = sum(seconds[at] for at in quickest)
                pool.start(one.key, spent, partial(self.noticed, session, exchange, tree, one, quickest))
                count += 1
                if count % 200 == 0:
                    say(f"  {count} done by exchange, {time.monotonic() - began:.0f} s")
        self.fates = pool.finish()
        say(f"  {count} done by exchange, {time.monotonic() - began:.0f} s")
        return slow

    def complain(self, session: Any, chosen: list[int]) -> str:
        failed = self.run(session, chosen)
        if failed:
            say(f"{failed} passes once and not again")
        return failed

    def is_first(self, path: str) -> bool:
        return any(path.startswith(str(TOP / name)) for name in FIRST[self.package])

    def run(self, session: Any, chosen: list[int]) -> str:
        """The first of the tests that fails, "" where none does."""
        from _pytest.runner import runtestprotocol

        items = [session.items[at] for at in chosen]
        session._setupstate.teardown_exact(items[0])
        for item, after in zip(items, [*items[1:], items[0]], strict=True):
            anew_in_its_module(item)
            if any(report.failed for report in runtestprotocol(item, log=False, nextitem=after)):
                return str(item.nodeid)
        return ""

    def noticed(
        self, session: Any, exchange: Exchange, tree: ast.Module, one: Mutant, relevant: list[int]
    ) -> bool:
        if not relevant:
            return False
        exchange.put(one, tree)
        by = self.run(session, relevant)
        if by and self.log:
            with self.log.open("a", encoding="utf-8") as log:
                log.write(f"{one.key}: noticed by {by}\n")
        return bool(by)


def anew_in_its_module(item: Any) -> None:
    """A doctest forgets its names once it has run; it gets those that its module has now."""
    test = getattr(item, "dtest", None)
    if test is not None:
        name = item.parent.obj.__name__
        test.globs = dict(vars(sys.modules[name]))


def say(text: str) -> None:
    os.write(SAYING, (text + "\n").encode())


SAYING = os.dup(1)


def first_stage(package: str, chosen: dict[str, list[int]], jobs: int, log: Path | None, out: Path) -> bool:
    import pytest

    quiet_hypothesis()
    runner = Runner(package, chosen, jobs, log, out)
    sys.setprofile(runner.early)
    pytest.main(options(TESTS[package]), plugins=[runner])
    return not out.exists()


def second_stage(
    rounds: list[list[str]],
    slow: dict[str, list[int]],
    seconds: dict[str, float],
    loaded: Iterable[str],
    jobs: int,
    log: Path | None,
) -> dict[str, str]:
    """The mutants that are read anew; those that the first tests miss meet all of them."""
    import warnings

    import pytest  # noqa: F401  # shared by the forks

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for name in loaded:
            try:
                importlib.import_module(name)
            except Exception:  # a module that is only there under pytest
                continue
    quiet_hypothesis()
    gc.collect()
    gc.freeze()
    left: dict[str, list[int]] = slow
    fates: dict[str, str] = {}
    all_s = sum(seconds.values())
    for tests in rounds:
        tests = [name for name in tests if (TOP / name.partition("::")[0]).exists()]
        control = Pool(1, None)
        control.start("none", 10 * all_s, partial(anew, None, ast.Module([], []), tests, seconds))
        if control.finish()["none"] != SURVIVED:
            say("a mutant that changes nothing is noticed when read anew: the figures would be worth nothing")
            raise SystemExit(2)
        pool = Pool(jobs, log)
        began, again = time.monotonic(), defaultdict(list)
        for file, numbers in left.items():
            tree, all_of_it = mutants(file, (TOP / file).read_text(encoding="utf-8"))
            for number in numbers:
                one = all_of_it[number]
                pool.start(one.key, all_s, partial(anew, one, tree, tests, seconds))
        fates |= pool.finish()
        for file, numbers in left.items():
            all_of_it = mutants(file, (TOP / file).read_text(encoding="utf-8"))[1]
            again[file] = [n for n in numbers if fates[all_of_it[n].key] == SURVIVED]
        say(f"  {sum(map(len, left.values()))} read anew, {time.monotonic() - began:.0f} s")
        left = again
    return fates


def listed(package: str) -> dict[str, str]:
    """The survivors that are accounted for, with their reasons."""
    file = TOP / "tests" / package / "survivors.txt"
    found: dict[str, str] = {}
    if file.exists():
        for line in file.read_text(encoding="utf-8").splitlines():
            if line.strip() and not line.startswith("#"):
                key, _, reason = line.rpartition(" | ")
                if not reason.strip() or key in found:
                    raise SystemExit(f"{file.name}: no reason, or twice: {line}")
                found[key] = reason
    return found


def main() -> int:
    """Prints the counts and the survivors; 1 where one is not accounted for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("package", choices=sorted(TESTS))
    parser.add_argument("--only", action="append", default=[], help="a module of the package")
    parser.add_argument("--stride", type=int, default=1, help="take every so many-th mutant")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--short", action="store_true", help="hold what is read anew against FIRST alone")
    parser.add_argument("--log", type=Path, help="write there what became of each")
    parser.add_argument("--keys", type=Path, help="write the survivors' keys there")
    chosen_args = parser.parse_args()
    os.chdir(TOP)
    began, package = time.monotonic(), chosen_args.package
    everything: dict[str, list[Mutant]] = {}
    for path in sorted((TOP / "bot" / package).glob("*.py")):
        if not chosen_args.only or path.stem in chosen_args.only:
            file = str(path.relative_to(TOP))
            everything[file] = mutants(file, path.read_text(encoding="utf-8"))[1]
    chosen = {file: list(range(0, len(every), chosen_args.stride)) for file, every in everything.items()}
    say(f"bot/{package}: {sum(map(len, chosen.values()))} mutants")
    with tempfile.TemporaryDirectory() as work:
        out = Path(work) / "first.json"
        pid = os.fork()
        if not pid:
            os._exit(int(first_stage(package, chosen, chosen_args.jobs, chosen_args.log, out)))
        if os.waitpid(pid, 0)[1] or not out.exists():
            return 2
        fates, slow, seconds, loaded = json.loads(out.read_text(encoding="utf-8"))
    rounds = [FIRST[package]] if chosen_args.short else [FIRST[package], TESTS[package]]
    fates |= second_stage(rounds, slow, seconds, loaded, chosen_args.jobs, chosen_args.log)
    return report(package, everything, chosen, fates, time.monotonic() - began, chosen_args.keys)


def report(
    package: str,
    everything: dict[str, list[Mutant]],
    chosen: dict[str, list[int]],
    fates: dict[str, str],
    spent: float,
    keys: Path | None,
) -> int:
    known, met, new = listed(package), set(), []
    total = dead = same = 0
    print(f"{'module':32} {'mutants':>8} {'die':>6} {'of them too long':>17} {'live':>6} {'share':>7}")
    for file, numbers in chosen.items():
        ones = [everything[file][number] for number in numbers]
        alive = [one for one in ones if fates[one.key] == SURVIVED]
        slow = sum(fates[one.key] == TOO_LONG for one in ones)
        met |= {one.key for one in ones}
        new += [one for one in alive if one.key not in known]
        same += sum(one.key in known for one in alive)
        total, dead = total + len(ones), dead + len(ones) - len(alive)
        share = f"{100 * (1 - len(alive) / len(ones)):6.1f}%" if ones else "-"
        print(f"{file:32} {len(ones):8} {len(ones) - len(alive):6} {slow:17} {len(alive):6} {share:>7}")
    share_dead = 100 * dead / total if total else 0.0
    print(f"{'all':32} {total:8} {dead:6} {'':17} {total - dead:6} {share_dead:6.1f}%   {spent / 60:.1f} min")
    print(
        f"{same} survivors mean the same as the original (tests/{package}/survivors.txt), {len(new)} do not:"
    )
    for one in new:
        print(f"{one.file}:{one.line}: {one.old} -> {one.new}")
    if keys:
        keys.write_text("".join(f"{one.key}\n" for one in new), encoding="utf-8")
    whole = all(len(numbers) == len(everything[file]) for file, numbers in chosen.items())
    gone = [
        key
        for key in known
        if (key in met and fates[key] != SURVIVED)
        or (whole and key not in met and key.partition(" | ")[0] in everything)
        or not (TOP / key.partition(" | ")[0]).exists()
    ]
    for key in gone:
        print(f"listed, and no survivor any more: {key}")
    if share_dead < LEAST[package]:
        print(f"wanted: {LEAST[package]:.0f} %")
    return 1 if new or gone or share_dead < LEAST[package] else 0


if __name__ == "__main__":
    raise SystemExit(main())
