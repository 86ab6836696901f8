"""One knowledge for the whole run, prepared in a folder of the run's own."""

import os

import pytest
from hypothesis import settings

from bot.assemble import assemble
from bot.find.search import Search
from bot.talk.knowledge import Knowledge

#: The same draws in every run, so that a change is judged by what it changed; LEGLINE_DRAW=fresh draws anew.
settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("fresh", derandomize=False, deadline=None)
if os.environ.get("LEGLINE_DRAW") != "as set":  # scripts/mutate.py sets its own
    settings.load_profile("fresh" if os.environ.get("LEGLINE_DRAW") == "fresh" else "same")


@pytest.fixture(scope="session", autouse=True)
def _own_folders(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Caches and cases of the run stay out of the person's own folders."""
    base = tmp_path_factory.getbasetemp().parent
    os.environ.setdefault("LEGLINE_CACHE", str(base / "cache"))
    os.environ.pop("LEGLINE_CORPUS", None)
    os.environ["LEGLINE_DATA"] = str(tmp_path_factory.mktemp("data"))


@pytest.fixture(scope="session")
def prepared(_own_folders: None) -> tuple[Knowledge, Search]:
    """The shipped corpus, ready."""
    return assemble()


@pytest.fixture(scope="session")
def knowledge(prepared: tuple[Knowledge, Search]) -> Knowledge:
    """What the conversation knows."""
    return prepared[0]


@pytest.fixture(scope="session")
def search(prepared: tuple[Knowledge, Search]) -> Search:
    """The search over the shipped pages."""
    return prepared[1]
