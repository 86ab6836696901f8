"""Every view at 40, 80 and 120 columns as it was last looked at; scripts/snapshots.py renews them after a change."""

from __future__ import annotations

import difflib

import pytest
from rich.cells import cell_len

from tests.shells.driving import Ready
from tests.shells.views_shown import FOLDER, SIZES, file_of, views_shown


@pytest.mark.parametrize("size", SIZES, ids=[str(s[0]) for s in SIZES])
def test_every_view_shows_what_its_snapshot_holds(prepared: Ready, size: tuple[int, int]) -> None:
    shown = views_shown(prepared, size)
    differ: list[str] = []
    for name, text in shown.items():
        file = file_of(name, size)
        kept = file.read_text(encoding="utf-8") if file.exists() else ""
        if kept != text:
            differ += difflib.unified_diff(
                kept.splitlines(), text.splitlines(), file.name, "now", lineterm=""
            )
        assert all(cell_len(row) <= size[0] for row in text.splitlines()), name
    assert not differ, "\n".join([*differ, "Where this was meant: python scripts/snapshots.py"])
    assert {f.name for f in FOLDER.glob(f"*-{size[0]}.txt")} == {file_of(n, size).name for n in shown}
