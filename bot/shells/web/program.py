"""The program that runs behind one page of the browser: the screen, drawn for it."""

from __future__ import annotations

import sys

from bot.corpus.place import Wanted
from bot.shells.tui.app import run


def main() -> int:
    """Opens the screen; its words are how the pages of one's own are used, "own" or "alone", and their folder."""
    _, *words = sys.argv
    wanted = dict(zip(words[::2], words[1::2], strict=True))
    return run(Wanted(wanted.get("own"), wanted.get("alone")) if wanted else None)


if __name__ == "__main__":
    sys.exit(main())
