"""Kills of our own child processes in the middle of conversations (kill -9), and what was there afterwards.

python scripts/kills.py [COUNT]     default 1000; asserts after each kill, ends at the first loss
"""

import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bot.assemble import assemble
from tests.shells.killing import kill_round, plan


def main() -> None:
    """Prints how many were killed, where, and that nothing was lost."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    prepared = assemble()
    began, killed, stops = time.perf_counter(), 0, 0
    where: Counter[str] = Counter()
    at = 0
    while killed < count:
        kills = plan(at + 10)[at:]
        at += 10
        with tempfile.TemporaryDirectory(prefix="legline-kills-") as folder:
            one, open_stops = kill_round(prepared, Path(folder), kills)
        killed += one
        stops += open_stops
        where.update(
            "at a moment" if after is not None else point.partition(":")[0] for point, after in kills
        )
    print(f"{killed} kills in {time.perf_counter() - began:.0f} s, {stops} of them with stops open")
    for name, n in sorted(where.items()):
        print(f"  {n:5d}  {name}")
    print("0 acknowledged lines lost, 0 files unsound, 0 stops left open")


if __name__ == "__main__":
    main()
