"""kill -9 at every point of a turn: what was acknowledged is there, the stops are shut, the file is sound."""

from pathlib import Path

import pytest

from bot.find.search import Search
from bot.shells.store.points import POINTS
from bot.talk.knowledge import Knowledge
from tests.shells.killing import kill_round, plan

ONCE = ("file begun", "file linked", "opened", "case written")


@pytest.mark.parametrize("point", POINTS)
def test_killed_at_a_point_nothing_acknowledged_is_lost(
    prepared: tuple[Knowledge, Search], tmp_path: Path, point: str
) -> None:
    # Each tuple is a store of its own; every second kill in it comes after the case was taken up again.
    stores = (
        ((1,), (1,))
        if point in ONCE
        else ((1,), (2,))
        if point == "shortcut written"
        else ((1, 3, 12, 2, 4, 6),)
    )
    for i, counts in enumerate(stores):
        kills = [(f"{point}:{n}", None) for n in counts]
        killed, _ = kill_round(prepared, tmp_path / str(i), kills)
        assert killed == len(kills)


def test_killed_at_moments_of_their_own_with_stops_open(
    prepared: tuple[Knowledge, Search], tmp_path: Path
) -> None:
    kills = [k for k in plan(100) if k[1] is not None][:12]
    late = [(f"reply ready:{n}", None) for n in (20, 22, 23, 24)]
    killed, with_stops = 0, 0
    for i, kill in enumerate([*kills, *late]):
        one, stops = kill_round(prepared, tmp_path / str(i), [kill])
        killed += one
        with_stops += stops
    assert killed >= 10
    assert with_stops >= 3
