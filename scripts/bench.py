"""How fast, as ratios measured in one run: python -c pass is 1. Nothing is asserted here.

.venv/bin/python scripts/bench.py
"""

import json
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

RUNS = 9


def _seconds(words: list[str], stdin: str = "") -> float:
    times = []
    for _ in range(RUNS):
        began = time.perf_counter()
        subprocess.run(words, input=stdin, capture_output=True, text=True, check=True, cwd=TOP)
        times.append(time.perf_counter() - began)
    return statistics.median(times)


def _spread(name: str, times: list[float]) -> None:
    times = sorted(times)
    p50, p95, p99 = (times[int(q * (len(times) - 1))] * 1000 for q in (0.5, 0.95, 0.99))
    print(
        f"{name:44s} {p50:8.2f} {p95:8.2f} {p99:8.2f}  ms at the 50th, 95th, 99th percentile of {len(times)}"
    )


def _timed(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def main() -> None:
    """Prints the table."""
    python = sys.executable
    script = Path(python).with_name("legline")
    legline = [str(script)] if script.exists() else [python, "-m", "bot"]
    subprocess.run([*legline, "ask", "warm the cache"], capture_output=True, check=True, cwd=TOP)
    floor = _seconds([python, "-c", "pass"])
    print(f"{'python -c pass':44s} {floor * 1000:8.1f} ms = 1")
    for name, words, stdin in (
        ("ask, cold", [*legline, "ask", "legs wont come up, it just clicks"], ""),
        ("talk to the greeting", [*legline, "talk", "--no-record"], ""),
        ("find", [*legline, "find", "sync", "legs"], ""),
        (
            "sum harness",
            [*legline, "sum", "harness", "--gauge", "10 AWG", "--length", "18 ft", "--amps", "30 A"],
            "",
        ),
    ):
        print(f"{name:44s} {_seconds(words, stdin) / floor:8.1f} x")
    from bot.assemble import assemble
    from bot.reason.chances import standing
    from bot.reason.policy import Means, choose
    from bot.shells.session import Session
    from bot.talk.understand import understand

    print(f"{'assemble, prepared':44s} {_timed(assemble) / floor:8.1f} x")
    knowledge, search = assemble()
    lines = [
        json.loads(t)["complaint"]
        for t in (TOP / "tests/lines/cases_a.jsonl").read_text(encoding="utf-8").splitlines()
    ]
    for text in lines:
        understand(text, None, knowledge.reader)
    _spread("read a line", [_timed(lambda t=text: understand(t, None, knowledge.reader)) for text in lines])  # type: ignore[misc]
    search.hits("warm")
    _spread("search", [_timed(lambda t=text: search.hits(t[:40])) for text in lines])  # type: ignore[misc]
    turns, choices = [], []
    for text in lines:
        session = Session(knowledge, None)
        for said in (text, "hitched", "one motor", "don't know", "12.4 V", "yes", "no"):
            turns.append(_timed(lambda s=said, c=session: c.hear(s)))  # type: ignore[misc]
        findings = session.state.findings()
        now = standing(knowledge.model, findings)
        choices.append(_timed(lambda n=now, f=findings: choose(knowledge.model, n, f, frozenset(), Means())))  # type: ignore[misc]
    _spread("choose the next question", choices)
    _spread("a whole turn, nothing written", turns)


if __name__ == "__main__":
    main()
