"""Outside programs the checks run against: demanded in CI, named when they are missing elsewhere."""

import importlib
import os
import shutil
from typing import Any

import pytest

#: Set to 1 where every outside program has to be there (CI): then a missing one is a failure.
DEMANDED = os.environ.get("LEGLINE_OUTSIDE") == "1"


def _missing(what: str, how: str) -> None:
    words = f"{what} is not installed; {how}. These cases were not run against it."
    if DEMANDED:
        pytest.fail(words)
    pytest.skip(words)


def library(name: str) -> Any:
    """The imported library, or a skip that says so (a failure where it is demanded)."""
    try:
        return importlib.import_module(name)
    except ImportError:
        _missing(name, "pip install it with the test extras")
        raise


def ngspice() -> str | None:
    """The path of ngspice; None where it is missing and not demanded."""
    found = shutil.which("ngspice")
    if found is None and DEMANDED:
        pytest.fail("ngspice is not installed; apt-get install ngspice.")
    return found
