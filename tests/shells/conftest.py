"""Stores of both kinds: the file, and a real server where one is installed (demanded in CI)."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from bot.shells.records import Store
from tests.shells.server import Server, programs

MakeStore = Callable[[], Store]


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """A running server. Where none is installed the tests say so, and fail where LEGLINE_OUTSIDE=1 demands one."""
    if programs() is None:
        words = "no PostgreSQL server is installed; apt-get install postgresql. The store was not run against one."
        if os.environ.get("LEGLINE_OUTSIDE") == "1":
            pytest.fail(words)
        pytest.skip(words)
    pytest.importorskip("psycopg", reason="pip install 'legline[seats]'")
    running = Server()
    running.start()
    yield running
    running.close()


@pytest.fixture(params=["file", "server"])
def make(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[MakeStore]:
    """Makes one more seat on the same cases each time it is called; all are closed at the end."""
    made: list[Store] = []
    url = request.getfixturevalue("server").fresh() if request.param == "server" else ""

    def another() -> Store:
        made.append(Store(tmp_path / "cases", url=url))
        return made[-1]

    yield another
    for store in made:
        store.close()
