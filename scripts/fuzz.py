"""Bad input through every door: how many, how long the slowest took, what slipped through, how memory went.

python scripts/fuzz.py [COUNT] [--salt TEXT] [--door NAME]    default a million over all doors
"""

import argparse
import gc
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bot.assemble import assemble
from tests.fuzzing.doors import REPLIES, SHARES, doors, put_through


def _resident_mb() -> float:
    pages = Path("/proc/self/statm").read_text(encoding="ascii").split()[1]
    return int(pages) * 4096 / 1e6


def main() -> None:
    """Prints a row a door; ends with status 1 where something slipped through."""
    words = argparse.ArgumentParser()
    words.add_argument("count", nargs="?", type=int, default=1_000_000)
    words.add_argument("--salt", default="1")
    words.add_argument("--door", choices=list(SHARES))
    asked = words.parse_args()
    whole, total, bad, slow = sum(SHARES.values()), 0, 0, 0
    began = time.perf_counter()
    print(
        f"{'door':16s} {'inputs':>9s} {'characters':>12s} {'mean':>8s} {'99.9 %':>8s} {'longest':>8s}  ms of CPU; over 200 ms; MB before, after warm-up, after"
    )
    with tempfile.TemporaryDirectory(prefix="legline-fuzz-") as folder:
        for name, door in doors(assemble(), Path(folder)).items():
            if asked.door not in (None, name):
                continue
            count = asked.count if asked.door else -(-asked.count * SHARES[name] // whole)
            times, size, before, warm = [], 0, _resident_mb(), 0.0
            wrong: Counter[str] = Counter()
            seeds: dict[str, int] = {}
            late = []
            for done, (seed, length, seconds, slipped) in enumerate(
                put_through(name, door, range(count), asked.salt)
            ):
                times.append(seconds)
                size += length
                if seconds > 0.2:
                    late.append((seconds, seed))
                if slipped:
                    wrong[slipped[:300]] += 1
                    seeds.setdefault(slipped[:300], seed)
                if done == count // 5:
                    gc.collect()
                    warm = _resident_mb()
            gc.collect()
            ordered = sorted(times)
            print(
                f"{name:16s} {count:9,d} {size:12,d} {sum(times) / count * 1000:8.3f} {ordered[int(0.999 * (count - 1))] * 1000:8.1f} {ordered[-1] * 1000:8.1f}  {len(late)}; {before:.0f}, {warm:.0f}, {_resident_mb():.0f}",
                flush=True,
            )
            for seconds, seed in sorted(late, reverse=True)[:5]:
                print(f"    seed {seed}: {seconds * 1000:.0f} ms", flush=True)
            for what, times_seen in wrong.most_common(8):
                print(f"    {times_seen} times, first at seed {seeds[what]}: {what!r}", flush=True)
            total += count
            bad += sum(wrong.values())
            slow += len(late) if name in REPLIES else 0
    print(
        f"{total:,} inputs in {time.perf_counter() - began:.0f} s: {bad} slipped through, {slow} replies over 200 ms"
    )
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
