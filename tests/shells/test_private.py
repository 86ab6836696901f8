"""Nothing leaves the machine, a case holds what was typed and no more of a person, deleted is deleted, files are one's own."""

from __future__ import annotations

import getpass
import json
import os
import platform
import socket
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from bot.find.search import Search
from bot.shells.plain import served
from bot.shells.records import Store
from bot.shells.session import Session
from bot.shells.store.parcel import backup
from bot.talk.knowledge import Knowledge

TOP = Path(__file__).resolve().parents[2]
# What a program asks the system for when it wants a line out, or another program to have one.
_FORBIDDEN = (
    "socket.",
    "subprocess.Popen",
    "os.system",
    "os.exec",
    "os.posix_spawn",
    "urllib.",
    "ftplib.",
    "smtplib.",
    "webbrowser.",
)
_GUARD = f"""
import sys
def guard(event, args):
    if event.startswith({_FORBIDDEN!r}):
        sys.stderr.write("ASKED FOR " + event + "\\n"); sys.stderr.flush(); import os; os._exit(99)
sys.addaudithook(guard)
from bot.cli import main
sys.exit(main(sys.argv[1:]))
"""


def _run(words: list[str], home: Path, typed: str = "") -> subprocess.CompletedProcess[str]:
    env = {
        **os.environ,
        "LEGLINE_DATA": str(home / "data"),
        "LEGLINE_CACHE": str(home / "cache"),
        "HOME": str(home),
        "LEGLINE_SETTINGS": str(home / "none"),
    }
    return subprocess.run(
        [sys.executable, "-c", _GUARD, *words],
        input=typed,
        capture_output=True,
        text=True,
        cwd=TOP,
        env=env,
        timeout=300,
    )


def test_a_whole_conversation_from_an_empty_machine_asks_for_no_line_out(tmp_path: Path) -> None:
    """Python's own audit hook ends the process at the first socket, and at the first other program."""
    typed = "legs wont come up, it just clicks\nhitched\none motor\n12.5 at the battery\nfind ground\nwhy\nrecord\nquit\n"
    done = _run(["talk"], tmp_path, typed)
    assert done.returncode == 0, done.stderr
    assert "ASKED FOR" not in done.stderr
    assert "Case 1 is kept" in done.stdout
    for words in (["case", "list"], ["case", "export", "1"], ["case", "check"], ["case", "backup", str(tmp_path / "copy")],
                  ["find", "sync", "legs"], ["ask", "it hums"], ["case", "delete", "1"]):  # fmt: skip
        done = _run(words, tmp_path)
        assert done.returncode == 0, (words, done.stderr)


def test_the_guard_ends_a_process_that_asks_for_a_line_out(tmp_path: Path) -> None:
    asks = _GUARD.replace("from bot.cli import main", "import socket; socket.socket()")
    done = subprocess.run([sys.executable, "-c", asks], capture_output=True, text=True, cwd=TOP, check=False)
    assert done.returncode == 99
    assert "ASKED FOR socket" in done.stderr


def test_a_case_holds_what_was_typed_and_nothing_else_of_a_person(
    prepared: tuple[Knowledge, Search], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEGLINE_SEAT", "desk 7")
    store = Store(tmp_path, url="")
    session = Session(prepared[0], store)
    for text in ("left leg wont go down", "hitched", "one motor"):
        served(session, prepared[1], text)
    number = session.number or 0
    keys = {key for event in store.whole(number).events for key in json.loads(event)}  # type: ignore[union-attr]
    assert keys <= {"event", "text", "at", "pasted", "name", "value", "why"}
    session.farewell()
    backup(store, tmp_path / "copy")
    store.close()
    about = {getpass.getuser(), platform.node(), socket.gethostname(), str(Path.home()), str(tmp_path)}
    for file in (store.file, tmp_path / "copy"):
        raw = file.read_bytes()
        assert b"left leg wont go down" in raw
        for word in about - {"root", "localhost", "user", "/", "/root"}:
            assert len(word) < 5 or word.encode() not in raw, (file.name, word)


def test_deleted_words_are_in_no_file_of_the_folder(
    prepared: tuple[Knowledge, Search], tmp_path: Path
) -> None:
    store = Store(tmp_path, url="")
    kept, gone = Session(prepared[0], store), Session(prepared[0], store)
    served(kept, prepared[1], "the ordinary lamp hums")
    for text in ("a rosebush-secret in my complaint", "hitched", "rosebush again, one motor"):
        served(gone, prepared[1], text)

    def holders() -> list[str]:
        return [p.name for p in tmp_path.rglob("*") if p.is_file() and b"rosebush" in p.read_bytes()]

    assert holders()
    store.delete(gone.number or 0)
    assert store.told() == []
    assert holders() == []
    assert [r.number for r in store.cases()] == [kept.number]
    store.close()
    assert holders() == []


def test_every_file_and_folder_is_ones_own(prepared: tuple[Knowledge, Search], tmp_path: Path) -> None:
    old = os.umask(0)
    try:
        store = Store(tmp_path / "data", url="")
        session = Session(prepared[0], store)
        served(session, prepared[1], "it just clicks")
        backup(store, tmp_path / "copy")
        made = [p for p in (tmp_path / "data").rglob("*")] + [tmp_path / "data", tmp_path / "copy"]
        assert len(made) > 3
        loose = {p.name: oct(p.stat().st_mode) for p in made if stat.S_IMODE(p.stat().st_mode) & 0o077}
        assert loose == {}
        store.close()
    finally:
        os.umask(old)
