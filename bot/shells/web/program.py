"""The program that runs behind one page of the browser: the screen, drawn for it."""

from __future__ import annotations

import sys


def main() -> int:
    """Opens the screen; the corpus folder, where one was named, is the only word."""
    from bot.shells.tui.app import run

    return run(sys.argv[1] if len(sys.argv) > 1 else None)


if __name__ == "__main__":
    sys.exit(main())
