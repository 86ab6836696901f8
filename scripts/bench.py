"""How fast, as ratios measured in one run: `python -c pass` is 1. Prints a table and each figure's floor; asserts nothing.

.venv/bin/python scripts/bench.py [start] [turn] [resume] [cases] [pages] [screen] [--most N]   default: all but pages
"""

import gc
import json
import os
import pty
import resource
import select
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

RUNS = 11
_CLI = "import sys; from bot.cli import main; sys.exit(main(sys.argv[1:]))"
_SMALLEST_SCREEN = "from textual.app import App\nfrom textual.widgets import Static\nclass A(App):\n    def compose(self):\n        yield Static('ready to read')\nA().run()"
# A byte code cache is what an installed program has; some shells forbid Python to write one.
_ENV = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}


def _row(name: str, figure: str, floor: str = "", aim: str = "") -> None:
    print(f"{name:46s} {figure:>34s}   {aim:22s} {floor}", flush=True)


def _once(words: list[str], stdin: str = "") -> tuple[float, float]:
    """(seconds on the clock, seconds of CPU) of one command."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(words, input=stdin, capture_output=True, text=True, check=True, cwd=TOP, env=_ENV)
    clock, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    return clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _spread(name: str, times: list[float], floor: str = "", aim: str = "") -> None:
    times = sorted(times)
    p50, p95, p99 = (times[int(q * (len(times) - 1))] * 1000 for q in (0.5, 0.95, 0.99))
    _row(name, f"{p50:.2f}  {p95:.2f}  {p99:.2f} ms", floor, aim)


def _timed(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def _resident_mb() -> float:
    gc.collect()
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * 4096 / 1e6


def start() -> None:
    """Cold starts; the three commands take turns, so that a busy machine slows all of them alike."""
    python = sys.executable
    commands = {
        "python -c pass": ([python, "-c", "pass"], "", "", ""),
        "imports of the standard library alone": (
            [python, "-c", "import re, json, enum, typing, pathlib, hashlib, textwrap, datetime, unicodedata, tempfile"], "", "", "",
        ),
        "ask, cold": ([python, "-c", _CLI, "ask", "legs wont come up, it just clicks"], "", "at most 15", "the library's imports, reading the kept pages (3 MB), one turn"),
        "talk to the greeting": ([python, "-c", _CLI, "talk", "--no-record"], "", "at most 12", "the library's imports, reading the kept pages"),
        "find": ([python, "-c", _CLI, "find", "sync", "legs"], "", "", "as ask, and the index's import"),
        "sum harness": ([python, "-c", _CLI, "sum", "harness", "--gauge", "10 AWG", "--length", "18 ft", "--amps", "30 A"], "", "", "pint's import"),
    }  # fmt: skip
    for words, stdin, _, _ in commands.values():
        _once(words, stdin)  # byte code and prepared pages are there
    found: dict[str, list[tuple[float, float]]] = {name: [] for name in commands}
    for _ in range(RUNS):
        for name, (words, stdin, _, _) in commands.items():
            found[name].append(_once(words, stdin))
    clock, cpu = (statistics.median(t[i] for t in found["python -c pass"]) for i in (0, 1))
    for name, (_, _, aim, floor) in commands.items():
        one, other = (statistics.median(t[i] for t in found[name]) for i in (0, 1))
        _row(name, f"{one * 1000:.0f} ms = {one / clock:.1f} x; CPU {other / cpu:.1f} x", floor, aim)


def _painted(words: list[str], marks: tuple[bytes, ...]) -> list[float]:
    """Seconds until each mark stands in what a program paints on a terminal of 100 by 30."""
    began = time.perf_counter()
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update(_ENV, TERM="xterm-256color", COLUMNS="100", LINES="30")
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.chdir(TOP)
        os.execv(words[0], words)
    out, at, until = b"", [], began + 60
    while len(at) < len(marks) and time.perf_counter() < until:
        if select.select([terminal], [], [], 0.2)[0]:
            try:
                out += os.read(terminal, 1 << 16)
            except OSError:
                break
            while len(at) < len(marks) and marks[len(at)] in out:
                at.append(time.perf_counter() - began)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    os.close(terminal)
    return at


def screen() -> None:
    """First paint and ready for typing, against the smallest screen of the same library."""
    with tempfile.TemporaryDirectory() as data:
        _ENV["LEGLINE_DATA"] = data
        smallest, ours = [], []
        for _ in range(5):
            smallest.append(_painted([sys.executable, "-c", _SMALLEST_SCREEN], (b"ready to read",)))
            ours.append(_painted([sys.executable, "-c", _CLI], (b"\x1b[?1049h", b"front legs")))
    floor = statistics.median(t[0] for t in smallest if t)
    _row("smallest screen of the library", f"{floor * 1000:.0f} ms = 1")
    for i, name in enumerate(("screen, first paint", "screen, ready")):
        times = [t[i] for t in ours if len(t) > i]
        if times:
            _row(
                name,
                f"{statistics.median(times) * 1000:.0f} ms = {statistics.median(times) / floor:.2f} x",
                "the smallest screen",
            )
        else:
            _row(name, "not seen within 60 s")


def turn() -> None:
    """A turn's parts and the whole of it, over the complaints of the tests and the answers after them."""
    from bot.assemble import assemble
    from bot.reason.chances import standing
    from bot.reason.policy import Means, choose
    from bot.shells.plain import as_text, served
    from bot.shells.records import Store
    from bot.shells.session import Session
    from bot.talk.understand import understand

    assemble()
    _row(
        "load, prepared",
        f"{statistics.median(_timed(assemble) for _ in range(5)) * 1000:.1f} ms",
        "reading 3 MB",
    )
    knowledge, search = assemble()
    lines = [
        json.loads(t)["complaint"]
        for t in (TOP / "tests/lines/cases_a.jsonl").read_text(encoding="utf-8").splitlines()
    ]
    read, chances, choices, phrase, write, turns, searches, busy = [], [], [], [], [], [], [], []
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder), url="")
        plain_write = store.write

        def timed_write(*values: object, **named: object) -> None:
            write.append(_timed(lambda: plain_write(*values, **named)))  # type: ignore[arg-type]

        store.write = timed_write  # type: ignore[method-assign]
        Session(knowledge, None).prime()
        for text in lines:
            session = Session(knowledge, store)
            for said in (text, "hitched", "one motor", "don't know", "12.4 V", "yes", "no"):
                began, own = time.perf_counter(), time.thread_time()
                replies, _ = served(session, search, said)
                shown = time.perf_counter()
                as_text(replies)
                turns.append(time.perf_counter() - began)
                busy.append(time.thread_time() - own)
                phrase.append(time.perf_counter() - shown)
            findings = session.state.findings()
            chances.append(_timed(lambda f=findings: standing(knowledge.model, f)))  # type: ignore[misc]
            now = standing(knowledge.model, findings)
            choices.append(
                _timed(lambda n=now, f=findings: choose(knowledge.model, n, f, frozenset(), Means()))
            )  # type: ignore[misc]
            session.farewell()
        store.close()
    for text in lines:
        read.append(_timed(lambda t=text: understand(t, None, knowledge.reader)))  # type: ignore[misc]
    search.hits("warm", 8)
    for text in lines:
        searches.append(_timed(lambda t=text: search.hits(t[:40], 8)))  # type: ignore[misc]
    with tempfile.TemporaryDirectory() as folder:
        disk = [_timed(lambda: _synced(Path(folder) / "x")) for _ in range(100)]
    print(f"{'a turn, at the 50th, 95th, 99th percentile':46s}")
    _spread("  one line safe on this disk (fsync alone)", disk)
    for name, times, floor, aim in (
        ("  read the line", read, "", ""), ("  chances", chances, "", ""), ("  next question", choices, "", ""),
        ("  search", searches, "", ""), ("  phrase", phrase, "", ""), ("  write", write, "one fsync", ""),
        ("  the whole turn, written and shown", turns, "one fsync", "95th at most 30 ms"),
        ("  the same, CPU of its own (other programs left out)", busy, "", ""),
    ):  # fmt: skip
        _spread(name, times, floor, aim)


def _synced(file: Path) -> None:
    with file.open("ab") as out:
        out.write(b"x" * 300)
        out.flush()
        os.fsync(out.fileno())


def resume() -> None:
    """A case of a thousand events taken up again, in a store of its own."""
    from bot.assemble import assemble
    from bot.shells.records import Store
    from bot.shells.session import Session

    knowledge, _ = assemble()
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder), url="")
        session = Session(knowledge, store)
        told = ("it just clicks", "hitched", "one motor", "don't know", "12.4 V", "back", "why", "no", "yes")
        for number in range(998):
            session.hear(told[number % len(told)])
        number = session.number or 0
        session.farewell()
        times = [_timed(lambda: Session(knowledge, store).take_up(number)) for _ in range(9)]
        _row(
            "resume a case of 1,000 events",
            f"{statistics.median(times) * 1000:.0f} ms",
            "reading 1,000 rows",
            "at most 300 ms",
        )
        store.close()


def cases(most: int = 100_000) -> None:
    """List, search and resume among many cases."""
    from bot.assemble import assemble
    from bot.shells.records import Store
    from bot.shells.session import Session
    from bot.shells.store.mend import fill, make_empty
    from bot.shells.store.rows import CaseRow, Whole

    knowledge, _ = assemble()
    events = tuple(
        json.dumps({"event": "said", "text": t})
        for t in ("it just clicks", "hitched", "one motor", "dont know")
    )
    size = 100
    while size <= most:
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "cases.sqlite3"
            make_empty(file)
            at = "2026-01-01T00:00:00Z"
            fill(file, [
                Whole(CaseRow(n, at, at, "open", f"left leg number {n} clicks", "gear"), "c", "p", len(events), events)
                for n in range(1, size + 1)
            ])  # fmt: skip
            store = Store(Path(folder), url="")
            store.cases()
            shown = statistics.median(_timed(store.cases) for _ in range(9))
            words = f"number {size // 2} clicks"
            found = statistics.median(_timed(lambda s=store, w=words: s.cases(words=w)) for _ in range(9))  # type: ignore[misc]
            taken = statistics.median(
                _timed(lambda n=n, s=store: Session(knowledge, s).take_up(n))
                for n in range(1, 20, 2)  # type: ignore[misc]
            )
            _row(
                f"{size:,} cases: list, search, resume",
                f"{shown * 1000:.1f}  {found * 1000:.1f}  {taken * 1000:.1f} ms",
                "list and resume: none; search: one pass over the table",
            )
            store.close()
        size *= 10


def pages(most: int = 10_000) -> None:
    """Corpora of many pages: made ready once, loaded, searched, and what they take of memory; each in a process of its own."""
    size = 100
    while size <= most:
        with tempfile.TemporaryDirectory() as folder:
            own = Path(folder) / "own" / "guides"
            own.mkdir(parents=True)
            sides = ("left", "right", "front", "upper", "lower")
            for n in range(size):
                (own / f"note-{n}.md").write_text(
                    f"---\ntitle: Note {n} on the {sides[n % 5]} leg\nfits: manual, one_motor, two_motor\nlink: none\nfor: owner\nsource: made up to measure with\n---\n\n## What it is\n\nThe {sides[n % 5]} leg of trailer {n} wants grease {n % 37} times.\n\n- look at bolt {n % 101}\n- look at pin {n % 13}\n",
                    encoding="utf-8",
                )
            _ENV["LEGLINE_CACHE"] = f"{folder}/cache"
            code = (
                "import sys, time, json; sys.path.insert(0, sys.argv[1])\n"
                "from scripts.bench import _timed, _resident_mb\nfrom bot.assemble import assemble\n"
                "made = _timed(lambda: assemble(sys.argv[2]))\n"
                "before = _resident_mb(); found = []; load = _timed(lambda: found.append(assemble(sys.argv[2])))\n"
                "search = found[0][1]; search.hits('grease', 8)\n"
                "times = sorted(_timed(lambda w=w: search.hits(w, 8)) for w in ('grease the left leg', 'bolt 45', 'pin', 'trailer 77', 'motor clicks') * 8)\n"
                "print(json.dumps([made, load, times[len(times) // 2], times[-2], _resident_mb()]))"
            )
            done = subprocess.run(
                [sys.executable, "-c", code, str(TOP), str(own.parent)],
                capture_output=True,
                text=True,
                cwd=TOP,
                env=_ENV,
                check=False,
            )
            if done.returncode:
                _row(f"{size:,} pages of one's own", "failed: " + done.stderr.strip()[-60:])
            else:
                made, load, half, late, memory = json.loads(done.stdout.splitlines()[-1])
                _row(
                    f"{size:,} pages: made once, load, search, memory",
                    f"{made:.1f} s  {load * 1000:.0f} ms  {half * 1000:.1f}/{late * 1000:.1f} ms  {memory:.0f} MB",
                )
        size *= 10


def main() -> None:
    """Prints the table."""
    words = sys.argv[1:]
    most = int(words[words.index("--most") + 1]) if "--most" in words else 0
    wanted = [w for w in words if w.isalpha()] or ["start", "turn", "resume", "cases", "screen"]
    for name in wanted:
        work = {"start": start, "turn": turn, "resume": resume, "screen": screen}.get(name)
        if work is not None:
            work()
        elif name in ("cases", "pages"):
            {"cases": cases, "pages": pages}[name](*((most,) if most else ()))
        else:
            sys.exit(f"{name} is no part; parts are start, turn, resume, cases, pages, screen")


if __name__ == "__main__":
    main()
