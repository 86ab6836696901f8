"""What the store promises, on the file and on the server alike."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bot.find.search import Search
from bot.shells.plain import served
from bot.shells.records import Store, StoreProblem, TakenOver
from bot.shells.session import Session, replay
from bot.shells.store.mend import salvage
from bot.shells.store.parcel import backup, restore
from bot.talk.events import Event, Said, Set
from bot.talk.knowledge import Knowledge
from bot.talk.state import State
from bot.talk.used import pages_used

MakeStore = Callable[[], Store]
AT = "2026-11-25T01:00:00Z"
HARD = (
    "plain",
    "läuft nicht, 2¼ in, 🔧, \u202eabc",
    "nul \x00 in it",
    "half \ud800 pair",
    "'; DROP TABLE cases; --",
    "? %s %(x)s $1 {}",
    "x" * 100_000,
    "",
)


def _texts(store: Store, number: int) -> list[str]:
    return [e.text for e in store.events(number) if isinstance(e, Said)]


def _says(lines: Any) -> str:
    return " ".join(line.text for line in lines)


def test_events_come_back_as_they_were_written(make: MakeStore) -> None:
    store = make()
    events: list[Event] = [Set("wording", "phone"), *(Said(t, AT, i % 2 == 0) for i, t in enumerate(HARD))]
    number = store.begin(AT, "about \x00 it", "corpus", "0", events[:3])
    for place, event in enumerate(events[3:], 3):
        store.append(number, place, event, AT, "open", "a \x00 question")
    store.close()
    assert list(make().events(number)) == events
    row = make().row(number)
    assert row is not None
    assert (row.opened, row.standing, row.about) == (AT, "open", "about  it")


def test_a_write_done_twice_is_done_once(make: MakeStore) -> None:
    store = make()
    number = store.begin(AT, "a", "c", "0", [Said("one", AT)])
    for _ in range(3):
        store.write(number, 1, [Said("two", AT), Said("three", AT)], AT, "open", "")
    assert _texts(store, number) == ["one", "two", "three"]
    with pytest.raises(StoreProblem, match="expected"):
        store.write(number, 1, [Said("other", AT)], AT, "open", "")


def test_a_case_begun_again_after_a_broken_line_is_the_same_case(make: MakeStore) -> None:
    store = make()
    first = store.begin(AT, "a", "c", "0", [Said("one", AT)])
    other = store.begin(AT, "a", "c", "0", [Said("one", AT)])
    assert other != first
    store._newest = first  # as if the answer to the second had not come
    assert store.begin(AT, "a", "c", "0", [Said("one", AT), Said("two", AT)], again=True) == other
    assert _texts(store, other) == ["one", "two"]
    assert store.begin(AT, "a", "c", "0", [Said("one", AT)], again=True) > other
    assert _texts(store, first) == ["one"]


def test_last_changed_comes_first_whatever_the_clock_says(make: MakeStore) -> None:
    store = make()
    first = store.begin("2026-11-25T10:00:00Z", "first", "c", "0", [Said("a")])
    second = store.begin(
        "2020-01-01T00:00:00Z", "second, after the clock was set back", "c", "0", [Said("b")]
    )
    assert [r.number for r in store.cases()] == [second, first]
    store.append(first, 1, Said("c"), "1999-01-01T00:00:00Z", "open", "")
    assert [r.number for r in store.cases()] == [first, second]
    assert _texts(store, first) == ["a", "c"]


def test_cases_are_found_by_words(make: MakeStore) -> None:
    store = make()
    for about in ("left leg 100% dead", "Left leg grinds", "right_leg", "rightXleg"):
        store.begin(AT, about, "c", "0")
    assert [r.about for r in store.cases(words="LEFT leg")] == ["Left leg grinds", "left leg 100% dead"]
    assert [r.about for r in store.cases(words="100%")] == ["left leg 100% dead"]
    assert [r.about for r in store.cases(words="right_leg")] == ["right_leg"]
    assert store.cases(words="nothing like it") == []
    assert len(store.cases(most=2)) == 2


def test_numbers_are_not_used_again(make: MakeStore) -> None:
    store = make()
    first, second = (store.begin(AT, "a", "c", "0") for _ in range(2))
    assert store.delete(second)
    assert not store.delete(second)
    assert store.begin(AT, "a", "c", "0") > second > first


def test_absent_cases_are_no_fault(make: MakeStore) -> None:
    store = make()
    for number in (0, -1, 7, 2**40, 2**70):
        assert store.row(number) is None
    assert store.events(7) == ()
    assert store.whole(7) is None
    assert store.cases() == []


def test_case_open_at_another_seat_says_so_and_can_be_taken_over(
    make: MakeStore, prepared: tuple[Knowledge, Search], monkeypatch: pytest.MonkeyPatch
) -> None:
    knowledge, search = prepared
    monkeypatch.setenv("LEGLINE_SEAT", "desk one")
    one = Session(knowledge, make())
    one.hear("it just clicks")
    one.hear("hitched")
    monkeypatch.setenv("LEGLINE_SEAT", "desk two")
    two = Session(knowledge, make())
    assert one.number is not None
    assert "open at another seat (desk one)" in _says(served(two, search, f"case {one.number}")[0])
    assert two.number is None
    said = _says(served(two, search, f"take over {one.number}")[0])
    assert "Taken up again" in said
    assert two.state.found == one.state.found
    two.hear("one motor")
    refused = one.hear("two motors")
    assert "taken over at another seat (desk two)" in _says(refused.replies)
    assert "not put into it" in _says(refused.replies)
    assert one.state.value("gear") is None
    assert _texts(make(), one.number) == ["it just clicks", "hitched", "one motor"]
    two.farewell()
    back = _says(served(one, search, f"case {one.number}")[0])
    assert "Taken up again" in back
    assert one.state.value("gear") == "one_motor"


def test_case_put_aside_is_free_for_every_seat(make: MakeStore, prepared: tuple[Knowledge, Search]) -> None:
    knowledge, search = prepared
    one, two = Session(knowledge, make()), Session(knowledge, make())
    one.hear("it just clicks")
    number = one.number
    served(one, search, "put aside")
    assert "Taken up again" in _says(served(two, search, f"case {number}")[0])
    row = two.store.row(number or 0) if two.store else None
    assert row is not None
    assert row.standing == "open"


def test_case_deleted_at_another_seat_is_told(make: MakeStore, knowledge: Knowledge) -> None:
    one = Session(knowledge, make())
    one.hear("it just clicks")
    assert make().delete(one.number or 0)
    assert "deleted at another seat" in _says(one.hear("hitched").replies)


def test_two_seats_cannot_write_the_same_place(make: MakeStore) -> None:
    one, two = make(), make()
    number = one.begin(AT, "a", "c", "0", [Said("one")])
    assert two.take(number, over=True) == ""
    two.append(number, 1, Said("from two"), AT, "open", "")
    with pytest.raises(TakenOver):
        one.append(number, 1, Said("from one"), AT, "open", "")
    assert _texts(one, number) == ["one", "from two"]


def test_changed_event_is_noticed_and_the_sound_beginning_kept(
    make: MakeStore, prepared: tuple[Knowledge, Search], tmp_path: Path
) -> None:
    knowledge, _ = prepared
    store = make()
    number = store.begin(AT, "a", "c", "0", [Said(f"line {i}", AT) for i in range(6)])
    keeper = store._keeper
    keeper.write(
        lambda do: do.run("UPDATE events SET event=replace(event, 'line 3', 'line 7') WHERE place=3") and None
    )
    assert _texts(store, number) == ["line 0", "line 1", "line 2"]
    told = " ".join(store.told())
    assert "first 3 entries are kept, 3 after them could not be trusted" in told
    copy = next((tmp_path / "cases").glob(f"case-{number}.damaged-*.jsonl"))
    assert str(copy) in told
    text = copy.read_text()
    assert all(f"line {i}" in text for i in (0, 1, 2, 7, 4, 5))
    assert copy.stat().st_mode & 0o077 == 0
    session = Session(knowledge, store)
    session.take_up(number)
    session.hear("it just clicks")
    assert _texts(make(), number) == ["line 0", "line 1", "line 2", "it just clicks"]
    assert store.told() == []


def test_lost_events_are_noticed(make: MakeStore) -> None:
    store = make()
    number = store.begin(AT, "a", "c", "0", [Said(f"line {i}", AT) for i in range(6)])
    store._keeper.write(lambda do: do.run("DELETE FROM events WHERE place>=4") and None)
    assert _texts(store, number) == [f"line {i}" for i in range(4)]
    assert "first 4 entries are kept, 2 after them" in " ".join(store.told())


def test_backup_restores_into_an_empty_store_and_twice_changes_nothing(
    make: MakeStore, tmp_path: Path
) -> None:
    store = make()
    numbers = [store.begin(AT, f"case {i}", "c", "0", [Said(t, AT) for t in HARD]) for i in range(3)]
    assert store.delete(numbers[1])
    store.stand(numbers[2], "aside", AT)
    file = tmp_path / "all.backup"
    assert backup(store, file) == 2
    assert file.stat().st_mode & 0o077 == 0
    assert not list(tmp_path.glob(".legline-backup*"))
    other = Store(tmp_path / "other")
    assert "2 cases restored" in restore(other, file)[0]
    assert "2 were here already" in restore(other, file)[0]
    for number in (numbers[0], numbers[2]):
        assert other.events(number) == store.events(number)
        assert other.row(number) == store.row(number)
    assert other.begin(AT, "new", "c", "0") > numbers[2]
    assert "0 cases restored, 0 under a new number, 2 were here already." in restore(store, file)[0]


def test_restore_writes_over_nothing(make: MakeStore, tmp_path: Path) -> None:
    store = make()
    number = store.begin(AT, "mine", "c", "0", [Said("mine", AT)])
    other = Store(tmp_path / "other")
    other.begin(AT, "theirs", "c", "0", [Said("theirs", AT)])
    backup(other, tmp_path / "theirs")
    said = restore(store, tmp_path / "theirs")
    assert "1 under a new number" in said[0]
    assert _texts(store, number) == ["mine"]
    assert sorted(_texts(store, n)[0] for n in store.numbers()) == ["mine", "theirs"]
    assert store.begin(AT, "new", "c", "0") > max(store.numbers()[:-1])


@pytest.mark.parametrize("raw", [b"", b"no backup at all", b"SQLite format 3\x00" + b"\xff" * 8000])
def test_what_is_no_backup_is_refused(make: MakeStore, tmp_path: Path, raw: bytes) -> None:
    file = tmp_path / "it"
    file.write_bytes(raw)
    with pytest.raises(StoreProblem, match="backup|no cases"):
        restore(make(), file)
    with pytest.raises(StoreProblem, match="there already"):
        backup(make(), file)
    with pytest.raises(StoreProblem, match="cannot be read"):
        restore(make(), tmp_path / "absent")
    assert file.read_bytes() == raw


def test_taken_up_by_its_kept_state_is_as_replayed(
    make: MakeStore, prepared: tuple[Knowledge, Search]
) -> None:
    knowledge, search = prepared
    one = Session(knowledge, make(), "phone", "metric")
    lines = ["it just clicks", "hitched", "one motor", "why", "back", "12.4 V at rest", "tech", "dont know",
             "4.4 on the ground side with it held", "yes", "done", "yes", "my foot is pinned", "all safe now"]  # fmt: skip
    for text in lines * 3:
        served(one, search, text)
    number = one.number or 0
    store = make()
    kept = store.shortcut(number)
    assert kept is not None
    assert kept[0] >= 40
    two = Session(knowledge, store)
    one.farewell()
    state = two._restored(number, store.events(number))
    again: State | None = replay(store.events(number), knowledge)
    links = 0
    at: State | None = state
    while at is not None or again is not None:
        assert at == again
        assert at is not None
        assert again is not None
        at, again, links = at.before, again.before, links + 1
    assert links > 30


def test_kept_state_that_was_tampered_with_is_not_used(make: MakeStore, knowledge: Knowledge) -> None:
    import pickle
    import zlib

    one = Session(knowledge, make())
    for text in ["it just clicks", "hitched", "one motor", *["why"] * 9]:
        one.hear(text)
    number = one.number or 0
    store = make()
    wanted = replay(store.events(number), knowledge)

    class Bad:
        def __reduce__(self) -> Any:
            return (exec, ("raise SystemExit('ran')",))

    for body in (
        b"",
        b"junk",
        zlib.compress(pickle.dumps([Bad()])),
        zlib.compress(pickle.dumps([])),
        zlib.compress(pickle.dumps([({"nothing": 1}, 3)])),
    ):
        store._keeper.write(lambda do, b=body: do.run("UPDATE shortcuts SET body=?", (b,)) and None)  # type: ignore[misc]
        assert Session(knowledge, store)._restored(number, store.events(number)) == wanted


def test_deleting_takes_the_kept_state_too(make: MakeStore, knowledge: Knowledge) -> None:
    one = Session(knowledge, make())
    for _ in range(12):
        one.hear("it just clicks")
    store = make()
    assert store.shortcut(one.number or 0) is not None
    store.delete(one.number or 0)
    assert store.shortcut(one.number or 0) is None
    assert store._keeper.read("SELECT count(*) FROM events") == [(0,)]


def test_file_of_the_first_schema_is_brought_to_todays(tmp_path: Path, knowledge: Knowledge) -> None:
    kept = Path(__file__).parent / "stores" / "schema-1.sqlite3"
    (tmp_path / "cases.sqlite3").write_bytes(kept.read_bytes())
    with sqlite3.connect(kept) as raw:
        assert raw.execute("PRAGMA user_version").fetchone()[0] == 1
        texts = {
            n: [t for (t,) in raw.execute("SELECT event FROM events WHERE number=? ORDER BY place", (n,))]
            for n in (1, 2, 3)
        }
    raw.close()
    store = Store(tmp_path)
    assert [r.number for r in store.cases()] == [2, 1, 3]  # by when they were last touched
    for number in (1, 2, 3):
        whole = store.whole(number)
        assert whole is not None
        assert list(whole.events) == texts[number]
    assert [r.standing for r in store.cases()] == ["open", "aside", "closed"]
    session = Session(knowledge, store)
    session.take_up(1)
    session.hear("hitched")
    assert _texts(store, 1) == ["front jacks wont go up just click click", "legs", "one motor", "hitched"]
    assert store.told() == []
    with sqlite3.connect(tmp_path / "cases.sqlite3") as raw:
        assert raw.execute("PRAGMA user_version").fetchone()[0] == 3
    raw.close()


@pytest.mark.parametrize(("name", "version"), [("schema-1-pages", 1), ("schema-2", 2)])
def test_file_of_each_later_schema_is_brought_to_todays(
    name: str, version: int, tmp_path: Path, knowledge: Knowledge
) -> None:
    """Each file was written by the code of its own time; the first of them has a table of pages, the second has none."""
    kept = Path(__file__).parent / "stores" / f"{name}.sqlite3"
    (tmp_path / "cases.sqlite3").write_bytes(kept.read_bytes())
    with sqlite3.connect(kept) as raw:
        assert raw.execute("PRAGMA user_version").fetchone()[0] == version
        tables = {n for (n,) in raw.execute("SELECT name FROM sqlite_master WHERE type='table'")}
        pages = (
            sorted(raw.execute("SELECT number, role, page, digest, corpus FROM pages"))
            if "pages" in tables
            else []
        )
    raw.close()
    assert bool(pages) == (version == 1)
    store = Store(tmp_path)
    assert sorted(store._keeper.read("SELECT number, role, page, digest, corpus FROM pages")) == pages
    session = Session(knowledge, store)
    session.take_up(1)
    session.hear("none of them")
    assert _texts(store, 1)[3:] == ["battery 12.6 at rest, 12.3 with the button held", "quit", "none of them"]
    now_used = {u.page for u in pages_used(session.state, knowledge)}
    assert {u.page for u in store.pages(1)} >= now_used != set()
    assert store.told() == []


def test_pages_go_with_the_case_through_backup_restore_and_mending(
    tmp_path: Path, knowledge: Knowledge
) -> None:
    store = Store(tmp_path / "a")
    session = Session(knowledge, store)
    session.hear("left leg is bent")
    session.hear("hitched")
    pages = store.pages(session.number or 0)
    assert {u.page for u in pages} >= {u.page for u in pages_used(session.state, knowledge)} != set()
    backup(store, tmp_path / "copy")
    other = Store(tmp_path / "b")
    restore(other, tmp_path / "copy")
    assert other.pages(session.number or 0) == pages
    store.close()
    [whole] = salvage(store.file)
    assert whole.pages == pages
    store.delete(session.number or 0)
    assert store._keeper.read("SELECT count(*) FROM pages") == [(0,)]
