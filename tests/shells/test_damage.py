"""A file that is cut short, flipped, locked, full or not to be written: clear words, the sound part kept, a copy put aside."""

from __future__ import annotations

import io
import os
import resource
import shutil
import signal
import sqlite3
import stat
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from bot.cli import main
from bot.find.search import Search
from bot.shells.plain import served, talk
from bot.shells.records import Store, StoreProblem
from bot.shells.session import Session
from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from tests.shells.killing import forked

AT = "2026-11-25T01:00:00Z"
PAGE = 4096
CASES, LINES = 40, 12


def _filled(folder: Path, cases: int = CASES, lines: int = LINES) -> Path:
    """A closed store with that many cases; every line says which it is."""
    store = Store(folder)
    for n in range(1, cases + 1):
        store.begin(
            AT, f"about {n}", "c", "0", [Said(f"case {n} line {i} {'x' * 60}", AT) for i in range(lines)]
        )
    store.close()
    assert store.file.stat().st_size > 8 * PAGE
    return store.file


def _kept(store: Store, cases: int = CASES) -> dict[int, int]:
    """Case -> how many of its lines are there; every one of them has to be the right one."""
    found = {}
    for number in sorted({*store.numbers(), *range(1, cases + 1)}):
        store.row(number)
        texts = [e.text for e in store.events(number) if isinstance(e, Said)]
        if number <= cases:  # others were begun after the damage
            assert texts == [f"case {number} line {i} {'x' * 60}" for i in range(len(texts))]
            found[number] = len(texts)
    return found


def _all_told(kept: dict[int, int], told: str, cases: int = CASES, lines: int = LINES) -> bool:
    """Whether every line that is missing is told of: by its case, or by the case's number among those gone."""
    return (kept == dict.fromkeys(range(1, cases + 1), lines)) or bool(told)


def _after_damage(file: Path, folder: Path) -> tuple[dict[int, int], str]:
    """What a person has and is told after opening a damaged store; it can be used again, and is sound."""
    damaged = {p.name: p.read_bytes() for p in (file, Path(f"{file}-wal")) if p.exists()}
    store = Store(folder)
    kept = _kept(store)
    kept = _kept(store)
    number = store.begin(AT, "new", "c", "0", [Said("goes on", AT)])
    assert store.events(number) == (Said("goes on", AT),)
    store.check()
    told = " ".join(store.told())
    assert _all_told(kept, told)
    if "was damaged." in told:
        copies = [p for p in folder.glob("cases.damaged-*") if not p.name.endswith("-wal")]
        assert any(p.read_bytes() == damaged[file.name] for p in copies)
        assert all(stat.S_IMODE(p.stat().st_mode) == 0o600 for p in copies)
    store.close()
    with sqlite3.connect(store.file) as raw:
        assert raw.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    raw.close()
    return kept, told


@pytest.mark.parametrize("keep", [1, 99, 100, 4095, 4096, 4097, 3 * PAGE, 5 * PAGE + 17, -1, -PAGE])
def test_file_cut_short(tmp_path: Path, keep: int) -> None:
    file = _filled(tmp_path)
    raw = file.read_bytes()
    file.write_bytes(raw[:keep])
    kept, told = _after_damage(file, tmp_path)
    assert "was damaged" in told
    assert "put aside" in told or "was put into" in told
    if keep < 0:
        assert sum(kept.values()) >= (CASES - 4) * LINES


def test_file_emptied_is_told(tmp_path: Path) -> None:
    file = _filled(tmp_path)
    file.write_bytes(b"")
    kept, told = _after_damage(file, tmp_path)
    assert sum(kept.values()) == 0
    assert "was there but empty" in told


@pytest.mark.parametrize("page", range(8))
def test_page_overwritten(tmp_path: Path, page: int) -> None:
    file = _filled(tmp_path)
    raw = bytearray(file.read_bytes())
    raw[page * PAGE : (page + 1) * PAGE] = b"\xa5" * PAGE
    file.write_bytes(raw)
    kept, told = _after_damage(file, tmp_path)
    # A page holds about 25 lines; what is lost is on the page itself, or comes after it in a case. The page at the
    # root of the lines holds one of every page below, so it costs half of many cases.
    assert sum(kept.values()) >= (CASES // 2 if page == 3 else CASES - 4) * LINES
    assert "was damaged" in told


def test_first_page_gone_and_all_cases_still_there(tmp_path: Path) -> None:
    file = _filled(tmp_path)
    raw = bytearray(file.read_bytes())
    raw[:PAGE] = bytes(PAGE)
    file.write_bytes(raw)
    kept, told = _after_damage(file, tmp_path)
    assert kept == dict.fromkeys(range(1, CASES + 1), LINES)
    assert f"{CASES} cases were kept whole" in told


def test_every_flipped_bit_is_harmless_or_told(tmp_path: Path) -> None:
    base = tmp_path / "base"
    file = _filled(base, 12, 40)
    raw = file.read_bytes()
    step = max(1, len(raw) * 8 // 80)
    told_of = 0
    for i in range(80):
        folder = tmp_path / str(i)
        folder.mkdir()
        flipped = bytearray(raw)
        bit = i * step + i % 8
        flipped[bit // 8] ^= 1 << bit % 8
        (folder / file.name).write_bytes(flipped)
        store = Store(folder)
        kept = _kept(store, 12)
        told = " ".join(store.told())
        assert _all_told(kept, told, 12, 40), f"bit {bit}: {kept}"
        told_of += bool(told)
        store.close()
        shutil.rmtree(folder)
    assert told_of > 15  # most bits are bits of words, and each of those is noticed


def _journalled(folder: Path) -> Path:
    """A store whose last lines stand in the journal alone, as a killed process leaves it."""
    file = _filled(folder)

    def work() -> None:
        store = Store(folder)
        for n in range(1, 11):
            store.take(n)
            for i in range(LINES, LINES + 3):
                store.append(n, i, Said(f"case {n} line {i} {'x' * 60}", AT), AT, "open", "")
        os.kill(os.getpid(), signal.SIGKILL)

    os.waitpid(forked(work), 0)
    assert Path(f"{file}-wal").stat().st_size > 20 * PAGE
    return file


def test_sound_journal_of_a_killed_process_is_read(tmp_path: Path) -> None:
    _journalled(tmp_path)
    store = Store(tmp_path)
    assert _kept(store) == {n: LINES + 3 * (n <= 10) for n in range(1, CASES + 1)}
    assert store.told() == []
    store.close()


@pytest.mark.parametrize("part", [0.02, 0.3, 0.6, 0.95])
def test_bit_flipped_in_the_journal_loses_nothing_silently(tmp_path: Path, part: float) -> None:
    file = _journalled(tmp_path)
    journal = Path(f"{file}-wal")
    raw = bytearray(journal.read_bytes())
    frame = 24 + PAGE
    at = 32 + int(part * ((len(raw) - 32) // frame)) * frame + 24 + 2000
    raw[at] ^= 4
    journal.write_bytes(raw)
    store = Store(tmp_path)
    kept = _kept(store)
    told = " ".join(store.told())
    wanted = {n: LINES + 3 * (n <= 10) for n in range(1, CASES + 1)}
    assert kept == wanted or "was damaged" in told
    assert sum(kept.values()) >= sum(wanted.values()) - 45
    store.close()


def test_damage_under_an_open_conversation(tmp_path: Path, prepared: tuple[Knowledge, Search]) -> None:
    knowledge, search = prepared
    file = _filled(tmp_path)
    session = Session(knowledge, Store(tmp_path))
    session.hear("it just clicks")
    raw = bytearray(file.read_bytes())
    raw[PAGE * 2 : PAGE * 5] = b"\x5a" * (3 * PAGE)
    file.write_bytes(raw)
    lines = [t for said in ("hitched", "one motor", "cases", "why") for t in served(session, search, said)[0]]
    assert lines
    session.farewell()
    _after_damage(file, tmp_path)


def test_damaged_file_of_the_first_schema(tmp_path: Path) -> None:
    kept = (Path(__file__).parent / "stores" / "schema-1.sqlite3").read_bytes()
    for at in range(0, len(kept), PAGE):
        folder = tmp_path / str(at)
        folder.mkdir()
        raw = bytearray(kept)
        raw[at : at + 64] = b"\xff" * 64
        (folder / "cases.sqlite3").write_bytes(raw)
        store = Store(folder)
        found = {n: len(store.events(n)) for n in store.numbers()}
        told = " ".join(store.told())
        assert found == {1: 6, 2: 1, 3: 2} or "was damaged" in told
        store.close()


def test_disk_full_in_the_middle(tmp_path: Path, prepared: tuple[Knowledge, Search]) -> None:
    """The limit of a file's size stands for a full disk; it is lifted again as if room had been made."""
    knowledge, search = prepared
    report = tmp_path / "report"

    def work() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        session = Session(knowledge, Store(tmp_path / "cases"))
        out = []
        for i, text in enumerate(
            ("it just clicks", "hitched", "one motor", "why", "12.4 V at rest", "dont know")
        ):
            if i == 2:
                size = sum(
                    p.stat().st_size for p in (tmp_path / "cases").iterdir() if p.name.endswith("-wal")
                )
                resource.setrlimit(resource.RLIMIT_FSIZE, (size + 100, resource.RLIM_INFINITY))
            if i == 5:
                resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
            if i == 4:
                out.append(" ".join(t.text for t in served(session, search, "put aside")[0]))
            lines, _ = served(session, search, text)
            out.append(" ".join(t.text for t in lines))
        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
        report.write_text("\n".join(out), encoding="utf-8")

    os.waitpid(forked(work), 0)
    said = report.read_text(encoding="utf-8").splitlines()
    assert len(said) == 7
    assert "does not take it" in said[2] or "disk is full" in said[2]
    assert "does not take it" in said[4] or "disk is full" in said[4]  # asked to put it aside meanwhile
    assert "would be lost" in said[4]
    assert "is on disk again" in said[6]
    store = Store(tmp_path / "cases")
    texts = [e.text for e in store.events(1) if isinstance(e, Said)]
    assert texts == [
        "it just clicks",
        "hitched",
        "one motor",
        "why",
        "put aside",
        "12.4 V at rest",
        "dont know",
    ]
    store.close()


def _as_nobody(work: Callable[[], None]) -> None:
    """Runs the work in a child without the rights of root, which no read-only folder stops."""

    def without() -> None:
        if os.geteuid() == 0:
            os.setgroups([])
            os.setgid(65534)
            os.setuid(65534)
        work()

    _, status = os.waitpid(forked(without), 0)
    assert status == 0


def test_read_only_folder_shows_cases_and_says_that_nothing_is_kept(
    prepared: tuple[Knowledge, Search],
) -> None:
    knowledge, search = prepared
    folder = Path(f"/tmp/legline-read-only-{os.getpid()}")  # noqa: S108 -- pytest's own folders let no other user in
    try:
        file = _journalled(folder)
        Path(f"{file}-shm").unlink(missing_ok=True)
        if os.geteuid() == 0:
            for path in (folder, *folder.iterdir()):
                os.chown(path, 65534, 65534)
        file.chmod(0o400)
        folder.chmod(0o500)
        sink = io.StringIO()

        def work() -> None:
            store = Store(folder)
            kept = _kept(store)
            assert kept == {n: LINES + 3 * (n <= 10) for n in range(1, CASES + 1)}
            talk(
                Session(knowledge, Store(folder)),
                search,
                io.StringIO("it just clicks\nhitched\ncases\n"),
                sink,
                False,
            )
            said = " ".join(sink.getvalue().split())
            assert "read-only" in said
            assert "about 40" in said
            assert "Nothing was kept" not in said
            assert said.count("cannot be written: the file or its folder is read-only") <= 2

        _as_nobody(work)
    finally:
        folder.chmod(0o700)
        shutil.rmtree(folder)


def test_folder_that_cannot_be_made(prepared: tuple[Knowledge, Search], tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    session = Session(prepared[0], Store(blocked / "deeper"))
    said = " ".join(t.text for t in served(session, prepared[1], "it just clicks")[0])
    assert "cannot be opened" in said
    assert "could not be kept" in session.farewell()


def test_file_locked_by_another_program(tmp_path: Path, prepared: tuple[Knowledge, Search]) -> None:
    knowledge, search = prepared
    file = _filled(tmp_path)
    other = sqlite3.connect(file, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    session = Session(knowledge, Store(tmp_path, patience=0.2))
    said = " ".join(t.text for t in served(session, search, "it just clicks")[0])
    assert "another program has held them" in said
    assert "is locked" not in said
    other.execute("ROLLBACK")
    other.close()
    said = " ".join(t.text for t in served(session, search, "hitched")[0])
    assert "on disk again" in said
    assert session.number == CASES + 1
    assert session.store is not None
    assert [e.text for e in session.store.events(CASES + 1) if isinstance(e, Said)] == [
        "it just clicks",
        "hitched",
    ]


def test_clock_going_backwards(tmp_path: Path, knowledge: Knowledge, monkeypatch: pytest.MonkeyPatch) -> None:
    from bot.shells import session as seat

    times = iter(
        ["2030-01-01T00:00:00Z", "1970-01-01T00:00:00Z", "2026-11-25T01:00:00Z", "0001-01-01T00:00:00Z"] * 20
    )
    monkeypatch.setattr(seat, "now", lambda: next(times))
    session = Session(knowledge, Store(tmp_path))
    for text in ("it just clicks", "hitched", "one motor", "back", "two motors"):
        session.hear(text)
    again = Session(knowledge, Store(tmp_path))
    session.farewell()
    again.take_up(1)
    assert again.state.found == session.state.found
    assert again.store is not None
    assert [e.text for e in again.store.events(1) if isinstance(e, Said)][-1] == "two motors"


def test_rights_are_the_owners_alone_whatever_they_were(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    old = os.umask(0)
    try:
        file = _filled(folder)
        file.chmod(0o666)
        store = Store(folder)
        number = store.begin(AT, "a", "c", "0", [Said("x", AT)])
        for path in folder.iterdir():
            assert stat.S_IMODE(path.stat().st_mode) == 0o600, path
        assert len(list(folder.iterdir())) >= 4
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700
        store.delete(number)
        store.close()
    finally:
        os.umask(old)


def test_deleted_words_are_in_no_file_while_the_store_is_open(tmp_path: Path, knowledge: Knowledge) -> None:
    store = Store(tmp_path)
    for n in range(30):
        session = Session(knowledge, store)
        for i in range(6):
            session.hear(f"quincunx{n}q{i} the legs click")
    assert any(b"quincunx7q" in p.read_bytes() for p in tmp_path.iterdir())
    for n in (8, 20, 30):
        assert store.delete(n)
        for path in tmp_path.iterdir():
            raw = path.read_bytes()
            assert f"quincunx{n - 1}q".encode() not in raw, path
    assert any(b"quincunx6q" in p.read_bytes() for p in tmp_path.iterdir())
    store.close()


def test_delete_tells_of_copies_and_takes_those_of_the_case(tmp_path: Path) -> None:
    file = _filled(tmp_path, 3, 60)
    raw = file.read_bytes()
    file.write_bytes(raw.replace(b"case 2 line 5 ", b"case 2 line 6 ", 1))
    store = Store(tmp_path)
    assert len(store.events(2)) == 5
    assert list(tmp_path.glob("case-2.damaged-*"))
    store.told()
    (tmp_path / "cases.damaged-20260101-000000.sqlite3").write_bytes(raw)
    store.delete(2)
    assert not list(tmp_path.glob("case-2.damaged-*"))
    assert "cases.damaged-20260101-000000.sqlite3" in " ".join(store.told())
    store.close()


def test_leftovers_of_ended_processes_are_taken_away(tmp_path: Path) -> None:
    _filled(tmp_path, 30)
    old = tmp_path / "cases-mended-abc.sqlite3"
    old.write_bytes(b"words")
    folder = tmp_path / "cases-mended-xyz.sqlite3-wal"
    folder.write_bytes(b"words")
    now = tmp_path / "cases-new-abc.sqlite3"
    now.write_bytes(b"")
    for path in (old, folder):
        os.utime(path, (time.time() - 3600, time.time() - 3600))
    store = Store(tmp_path)
    store.delete(1)
    assert not old.exists()
    assert not folder.exists()
    assert now.exists()
    store.close()


def test_command_line_tells_of_damage_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LEGLINE_DATA", str(tmp_path))
    file = _filled(tmp_path)
    raw = bytearray(file.read_bytes())
    raw[3 * PAGE : 4 * PAGE] = b"\xa5" * PAGE
    file.write_bytes(raw)
    assert main(["case", "export", "40"]) in (0, 1)
    assert main(["case", "list", "about"]) == 0
    out = capsys.readouterr()
    assert "was damaged. A copy of it was put aside" in out.err
    assert "Traceback" not in out.err
    assert not (tmp_path / "faults.log").exists()
    assert main(["case", "backup", str(tmp_path / "b")]) == 0
    assert main(["case", "backup", str(tmp_path / "b")]) == 1
    assert main(["case", "restore", str(tmp_path / "b")]) == 0
    assert main(["case", "restore"]) == 2
    out = capsys.readouterr()
    assert "were here already" in out.out


def test_two_seats_find_the_damage_at_once_and_one_mends(tmp_path: Path) -> None:
    file = _filled(tmp_path)
    raw = bytearray(file.read_bytes())
    raw[:PAGE] = bytes(PAGE)
    file.write_bytes(raw)

    def work() -> None:
        store = Store(tmp_path)
        assert len(_kept(store)) >= CASES
        store.begin(AT, "mine", "c", "0", [Said("mine", AT)])

    children = [forked(work) for _ in range(8)]
    assert [os.waitpid(c, 0)[1] for c in children] == [0] * 8
    store = Store(tmp_path)
    assert [r.about for r in store.cases(words="mine")] == ["mine"] * 8
    assert len([p for p in tmp_path.glob("cases.damaged-*") if not p.name.endswith("-wal")]) == 1
    store.close()


def test_store_problem_is_told_by_the_command_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    monkeypatch.setenv("LEGLINE_DATA", str(blocked))
    assert main(["case", "list"]) == 1
    assert "cannot be opened" in capsys.readouterr().err
    with pytest.raises(StoreProblem, match="cannot be opened"):
        Store(blocked).cases()
