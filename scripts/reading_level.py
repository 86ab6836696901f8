"""Prints how many of the owner's wordings are at reading grade 8 or below, and those that are not.

.venv/bin/python scripts/reading_level.py          the shares
.venv/bin/python scripts/reading_level.py --show   each wording above the grade too
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from bot.assemble import assemble
from tests.corpus.reading import GRADE, questions, share_within, steps


def main() -> int:
    """Prints the shares; 1 where fewer than nine in ten questions are within the grade."""
    with tempfile.TemporaryDirectory() as cache:
        os.environ.setdefault("LEGLINE_CACHE", cache)
        knowledge, _ = assemble()
    enough = True
    for name, found in (
        ("questions to the owner", list(questions(knowledge))),
        ("steps of pages an owner may walk", list(steps(knowledge))),
    ):
        within = share_within(found)
        print(
            f"{name}: {within:.1%} of {len(found)} at grade {GRADE:.0f} or below"
            f" (mean {sum(w.grade for w in found) / len(found):.1f})"
        )
        enough &= within >= 0.9
        if "--show" in sys.argv:
            for w in sorted(found, key=lambda w: -w.grade):
                if w.grade > GRADE:
                    print(f"  {w.grade:4.1f}  {w.page}, {w.place}: {w.text}")
    return 0 if enough else 1


if __name__ == "__main__":
    raise SystemExit(main())
