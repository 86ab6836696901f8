"""Walks every procedure with every gear it fits and prints what the search saw, a walk a line."""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from bot.assemble import assemble
from tests.safety.walking import MOVES, walk_all


def main() -> int:
    """Prints the counts; 1 where a walk shows what must not be."""
    import os

    with tempfile.TemporaryDirectory() as cache:
        os.environ.setdefault("LEGLINE_CACHE", cache)
        knowledge, _ = assemble()
        start = time.process_time()
        walks = walk_all(knowledge.procedures.values(), knowledge)
        spent = time.process_time() - start
    for procedure, gear, states, transitions in walks.rows:
        print(f"{procedure:45} {gear:10} {states:7,} states {transitions:9,} transitions")
    print(
        f"{len(walks.rows)} walks with {len(MOVES)} moves: {walks.states:,} states,"
        f" {walks.transitions:,} transitions,"
        f" {sum(walks.shown.values()):,} times a step was shown, {spent:.0f} s of processor time"
    )
    print(
        "States by what was waited for: " + ", ".join(f"{k} {v:,}" for k, v in sorted(walks.stages.items()))
    )
    rules = sorted({v.rule for v in walks.violations})
    print("Unsafe: " + (", ".join(f"{r} {len(walks.of(r))}" for r in rules) or "none"))
    for violation in walks.violations[:20]:
        print("  " + str(violation))
    return 1 if walks.violations else 0


if __name__ == "__main__":
    raise SystemExit(main())
