"""Renews the text snapshots of the screen after a change that was meant. Look at the difference before you commit it.

.venv/bin/python scripts/snapshots.py          writes them
.venv/bin/python scripts/snapshots.py --check  prints those that differ, exit 1
"""

import sys
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

from bot.assemble import assemble  # noqa: E402
from tests.shells.views_shown import FOLDER, SIZES, file_of, views_shown  # noqa: E402


def main() -> int:
    """Returns the exit status."""
    ready, differ = assemble(), []
    FOLDER.mkdir(exist_ok=True)
    wanted = set()
    for size in SIZES:
        for name, text in views_shown(ready, size).items():
            file = file_of(name, size)
            wanted.add(file)
            if not file.exists() or file.read_text(encoding="utf-8") != text:
                differ.append(file)
                if "--check" not in sys.argv:
                    file.write_text(text, encoding="utf-8")
    for old in set(FOLDER.glob("*.txt")) - wanted:
        differ.append(old)
        if "--check" not in sys.argv:
            old.unlink()
    for file in sorted(differ):
        print(file.relative_to(TOP))
    return 1 if differ and "--check" in sys.argv else 0


if __name__ == "__main__":
    sys.exit(main())
