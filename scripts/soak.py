"""A hundred thousand turns in one process: how memory and the time of a turn go. Ends with status 1 where they grow.

python scripts/soak.py [TURNS]     cases are written to a store of its own; memory within 5 % after a tenth of the turns
"""

import gc
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bot.assemble import assemble
from bot.shells.plain import as_text, served
from bot.shells.records import Store
from bot.shells.session import Session
from bot.talk.state import Stage
from tests.fuzzing.bad import INTO, lines

_INTO = (*INTO, "why", "back", "skip")
_LENGTH = 40  # lines of a conversation before the next begins
_MOST_GROWTH = 1.05


def _said() -> Iterator[str]:
    """Complaints and answers in a fixed order that does not come round within the run."""
    told = lines()
    for number in range(10**9):
        yield told[number * 7919 % len(told)] if number % 3 == 0 else _INTO[number * 31 % len(_INTO)]


def _resident_mb() -> float:
    gc.collect()
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * 4096 / 1e6


def main() -> None:
    """Prints a row every tenth of the turns."""
    turns = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    knowledge, search = assemble()
    said, done, rows = _said(), 0, []
    print(
        f"{'turns':>8s} {'cases':>7s} {'resident':>9s} {'mean':>7s} {'95 %':>7s} {'99 %':>7s}  ms of CPU a turn, all in"
    )
    with tempfile.TemporaryDirectory(prefix="legline-soak-") as folder:
        store = Store(Path(folder), url="")
        session, cases, times = Session(knowledge, store), 1, []
        while done < turns:
            began = time.thread_time()
            replies, leave = served(session, search, next(said))
            as_text(replies)
            times.append(time.thread_time() - began)
            done += 1
            if leave or session.state.stage is Stage.CLOSED or session.state.turn >= _LENGTH:
                session.fresh()
                cases += 1
            if done % (turns // 10) == 0:
                times.sort()
                mean, p95, p99 = (
                    sum(times) / len(times),
                    times[int(0.95 * len(times))],
                    times[int(0.99 * len(times))],
                )
                rows.append((_resident_mb(), mean))
                print(
                    f"{done:8,d} {cases:7,d} {rows[-1][0]:6.1f} MB {mean * 1000:7.2f} {p95 * 1000:7.2f} {p99 * 1000:7.2f}",
                    flush=True,
                )
                times = []
        kept = len(store.numbers())
        store.close()
    growth, slower = rows[-1][0] / rows[0][0], rows[-1][1] / rows[0][1]
    print(f"{kept:,} cases in the store; memory after warm-up x {growth:.3f}, time of a turn x {slower:.3f}")
    sys.exit(0 if growth <= _MOST_GROWTH and slower <= 1.2 else 1)


if __name__ == "__main__":
    main()
