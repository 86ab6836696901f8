"""Prints, or writes with --write, the table "What is dangerous where" of procedure pages as their labels stand.

    .venv/bin/python scripts/hazard_table.py [--write] corpus/procedures/NAME.md ...

Read each line against the steps before you keep it: the table is there so that a slip at a step shows.
"""

import argparse
import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bot.corpus.model import Procedure  # noqa: E402
from bot.corpus.reader import read_corpus  # noqa: E402
from bot.safety.ledger import SECTION, ledger  # noqa: E402


def written(text: str, procedure: Procedure) -> str:
    """The page with that section made anew, before its steps."""
    table = f"## {SECTION}\n" + "".join(f"- {line}\n" for line in ledger(procedure)) + "\n"
    text = re.sub(rf"^## {SECTION}\n(?:.*\n)*?(?=## )", "", text, flags=re.M)
    return re.sub(r"^## Steps$", table.replace("\\", r"\\") + "## Steps", text, count=1, flags=re.M)


def main() -> None:
    """Prints or writes."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--write", action="store_true")
    parser.add_argument("pages", nargs="+", type=Path)
    options = parser.parse_args()
    folders = {path.resolve().parents[1] for path in options.pages}
    read = {folder: read_corpus(folder)[0] for folder in folders}
    for path in options.pages:
        corpus = read[path.resolve().parents[1]]
        procedure = next(p for p in corpus.procedures if p.id == path.stem)
        if options.write:
            path.write_text(written(path.read_text(encoding="utf-8"), procedure), encoding="utf-8")
        else:
            print(f"{path.stem}\n" + "\n".join("  - " + line for line in ledger(procedure)))


if __name__ == "__main__":
    main()
