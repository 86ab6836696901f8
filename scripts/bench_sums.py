"""How long each sum takes once it is loaded: its own example, typed as in the help. Nothing is asserted here.

.venv/bin/python scripts/bench_sums.py

Two figures a sum, in milliseconds: working it out from plain numbers, and the whole of it (reading the texts,
working it out, the page of 80 columns). Each is the median and the slowest of a hundred in a row, in processor
time, so that a busy machine changes little.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bot.sums.answers import Taken, by_name, read_answer  # noqa: E402
from bot.sums.catalogue import CATALOGUE, Sum  # noqa: E402
from bot.sums.draw import page  # noqa: E402

RUNS = 100


def given(one: Sum) -> dict[str, object]:
    """The inputs of the sum's example, by name. Raises ValueError where one of them is refused."""
    texts = dict(zip(one.example[::2], one.example[1::2], strict=True))
    found: dict[str, object] = {}
    for wanted in one.inputs:
        text = texts.get(f"--{wanted.option}")
        if text is not None:
            taken = read_answer(one, wanted, text)
            if not isinstance(taken, Taken):
                raise ValueError(taken.reply)
            found |= by_name(wanted, taken.value)
    return found


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """Median and slowest of a hundred [ms], after one that loads what is needed."""
    work()
    times = []
    for _ in range(RUNS):
        began = time.process_time()
        work()
        times.append((time.process_time() - began) * 1000)
    return statistics.median(times), max(times)


def main() -> None:
    """Prints the table."""
    print(f"{'ms, once loaded':14} {'worked out':>10} {'slowest':>8} {'whole':>8} {'slowest':>8}")
    for name, one in CATALOGUE.items():
        inputs = given(one)
        bare = timed(lambda one=one, inputs=inputs: one.run(inputs))  # type: ignore[misc]
        whole = timed(lambda one=one: page(one.run(given(one)), 80))  # type: ignore[misc]
        print(f"{name:14} {bare[0]:10.3f} {bare[1]:8.3f} {whole[0]:8.3f} {whole[1]:8.3f}")


if __name__ == "__main__":
    main()
