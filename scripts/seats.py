"""Many seats in one store at once: nothing lost, and how long a turn took.

python scripts/seats.py [--seats 50] [--seconds 60] [--pause 0.2] [--restart]   a PostgreSQL server of its own
python scripts/seats.py --file --seats 20 --seconds 120                          the file, 20 processes
`--restart` stops the server in the middle and starts it again; `--pause` is what a person takes between two lines.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bot.assemble import assemble
from bot.shells.records import Store
from tests.shells.crowd import compare, crowd, spread
from tests.shells.server import Server


def main() -> None:
    """Prints what was kept and the times."""
    words = argparse.ArgumentParser()
    words.add_argument("--seats", type=int, default=50)
    words.add_argument("--seconds", type=float, default=60.0)
    words.add_argument("--pause", type=float, default=0.2)
    words.add_argument("--file", action="store_true")
    words.add_argument("--restart", action="store_true")
    asked = words.parse_args()
    prepared = assemble()
    with tempfile.TemporaryDirectory(prefix="legline-seats-") as name:
        folder = Path(name)
        server = None if asked.file else Server()
        try:
            url = ""
            if server is not None:
                server.start()
                url = server.fresh()

            def make() -> Store:
                return Store(folder / "cases", url=url)

            def restart() -> None:
                assert server is not None
                time.sleep(asked.seconds / 2)
                server.stop()
                time.sleep(2.0)
                server.start()

            meanwhile = restart if asked.restart and server is not None else None
            heard = crowd(asked.seats, asked.seconds, make, prepared, folder / "out", meanwhile, asked.pause)
            store = make()
            count = compare(store, heard)
            store.close()
        finally:
            if server is not None:
                server.close()
    print(f"{asked.seats} seats, {heard.cases} cases, {count} lines acknowledged, every one in the store")
    print(f"{len(heard.troubles)} replies told of trouble with the store")
    print(f"a turn, written: {spread(heard.seconds)}")


if __name__ == "__main__":
    main()
