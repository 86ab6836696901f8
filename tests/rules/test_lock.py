"""What CI installs is locked: every package the project names has its one version, inside the limits named."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

TOP = Path(__file__).resolve().parents[2]


def test_every_named_package_is_locked_within_its_limits() -> None:
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    named = [
        *project["dependencies"],
        *(d for some in project["optional-dependencies"].values() for d in some),
    ]
    lines = (TOP / ".ci" / "lock.txt").read_text(encoding="utf-8").splitlines()
    assert all(re.fullmatch(r"[a-z0-9-]+==[^ =]+", line) for line in lines[1:])
    locked = {name: version for name, _, version in (line.partition("==") for line in lines[1:])}
    assert len(named) > 10
    for text in named:
        wanted = Requirement(text)
        version = locked.get(canonicalize_name(wanted.name))
        assert version is not None, f"{wanted.name}: run scripts/lock.py"
        assert wanted.specifier.contains(version), f"{wanted} and {version}: run scripts/lock.py"


def test_every_run_time_package_has_an_upper_limit_and_a_reason() -> None:
    text = (TOP / "pyproject.toml").read_text(encoding="utf-8")
    project = tomllib.loads(text)["project"]
    remarks = " ".join(line.lstrip("# ") for line in text.splitlines() if "#" in line).lower()
    for one in project["dependencies"]:
        wanted = Requirement(one)
        assert any(s.operator in ("<", "==") for s in wanted.specifier), one
        assert wanted.name.lower() + ":" in remarks, f"{wanted.name} stands without a reason"
