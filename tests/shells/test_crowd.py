"""Many processes in one store at once: no line lost, nobody told of a lock."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from bot.find.search import Search
from bot.shells.records import Store
from bot.talk.knowledge import Knowledge
from tests.shells.crowd import compare, crowd
from tests.shells.server import Server

MakeStore = Callable[[], Store]


def test_twenty_processes_in_the_same_store(
    make: MakeStore, prepared: tuple[Knowledge, Search], tmp_path: Path
) -> None:
    heard = crowd(20, 3.0, make, prepared, tmp_path / "out")
    assert heard.troubles == []
    assert heard.cases >= 20
    assert compare(make(), heard) >= 20 * 7


def test_server_stopped_and_started_in_the_middle(
    server: Server, prepared: tuple[Knowledge, Search], tmp_path: Path
) -> None:
    url = server.fresh()

    def make() -> Store:
        return Store(tmp_path, url=url)

    def stop_and_start() -> None:
        time.sleep(1.5)
        server.stop()
        time.sleep(1.0)
        server.start()

    heard = crowd(6, 6.0, make, prepared, tmp_path / "out", stop_and_start, pause=0.02)
    assert heard.troubles, "somebody talked while the server was down"
    for said in heard.troubles:
        assert "The cases on" in said or "on disk" in said, said
        assert "Traceback" not in said
    store = make()
    assert compare(store, heard) >= 6 * 7
    store.close()
