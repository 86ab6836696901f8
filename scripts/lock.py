"""Writes .ci/lock.txt: the exact versions, here and now, of all that pyproject.toml names and of what that needs.

.venv/bin/python scripts/lock.py [NAME ...]     more names to lock beside those of pyproject.toml
"""

import sys
import tomllib
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

TOP = Path(__file__).resolve().parents[1]


def locked(names: list[str]) -> dict[str, str]:
    """Name -> version of the packages and, step by step, of what they need in this environment."""
    found: dict[str, str] = {}
    left = [Requirement(name) for name in names]
    while left:
        wanted = left.pop()
        if wanted.marker is not None and not wanted.marker.evaluate({"extra": ""}):
            continue
        name = canonicalize_name(wanted.name)
        try:
            there = distribution(name)
        except PackageNotFoundError:
            sys.exit(f"{name} is named and not installed here: scripts/setup '[test]' first")
        known, found[name] = name in found, there.version
        for text in there.requires or ():
            needed = Requirement(text)
            by_extra = needed.marker is not None and any(
                needed.marker.evaluate({"extra": e}) for e in wanted.extras
            )
            if by_extra:
                needed.marker = None
            if not known or by_extra:
                left.append(needed)
    return found


def main() -> None:
    """Writes the file."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    named = [
        *project["dependencies"],
        *(d for some in project["optional-dependencies"].values() for d in some),
    ]
    found = locked([*named, *sys.argv[1:]])
    head = (
        "# Made by scripts/lock.py; what CI installs. Python "
        + ".".join(map(str, sys.version_info[:2]))
        + "\n"
    )
    text = head + "".join(f"{name}=={version}\n" for name, version in sorted(found.items()))
    (TOP / ".ci" / "lock.txt").write_text(text, encoding="utf-8")
    print(f"{len(found)} packages locked")


if __name__ == "__main__":
    main()
