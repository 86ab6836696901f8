"""Plain lines, JSON and the store: same words, nothing lost, cases put aside and taken up."""

import io
import json
import os
import sqlite3
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from bot.cli import main
from bot.find.search import Search
from bot.shells.plain import talk, talk_json
from bot.shells.records import SCHEMA, Store, StoreProblem
from bot.shells.session import Session, replay
from bot.talk.events import Said, Set
from bot.talk.knowledge import Knowledge

LINES = [
    "legs wont come up, it just clicks",
    "we are hitched, jaws closed",
    "no its two motors, battery 12.4 at rest, wires are 10 ga about 18 ft",
    "why",
    "don't know",
    "back",
    "12.1 at the battery with the button held",
    "6.2 at the motor with the button held",
]


def _json_run(
    knowledge: Knowledge, search: Search, lines: list[str], store: Store | None = None
) -> list[dict[str, Any]]:
    sink = io.StringIO()
    talk_json(Session(knowledge, store), io.StringIO("".join(f"{t}\n" for t in lines)), sink, search)
    return [json.loads(line) for line in sink.getvalue().splitlines()]


def test_one_object_for_the_greeting_and_one_for_each_line(knowledge: Knowledge, search: Search) -> None:
    turns = _json_run(knowledge, search, LINES)
    assert len(turns) == len(LINES) + 1
    assert [t["turn"] for t in turns] == list(range(len(LINES) + 1))
    wanted = {
        "turn",
        "say",
        "asking",
        "alert",
        "findings",
        "causes",
        "documents",
        "verdict",
        "holds",
        "step",
        "closed",
    }
    for turned in turns:
        assert wanted <= set(turned)
        assert sum(c["chance"] for c in turned["causes"]) <= 1.0005


def test_plain_lines_and_json_give_the_same_words(knowledge: Knowledge, search: Search) -> None:
    sink = io.StringIO()
    talk(Session(knowledge, None), search, io.StringIO("".join(f"{t}\n" for t in LINES)), sink, False)
    plain = " ".join(sink.getvalue().replace("Bot:", " ").split())
    for turned in _json_run(knowledge, search, LINES):
        for text in turned["say"]:
            assert " ".join(text.split()) in plain


def test_several_facts_in_one_line_are_all_taken_down(knowledge: Knowledge, search: Search) -> None:
    last = _json_run(knowledge, search, LINES[:3])[-1]["findings"]
    assert last["gear"] == "two_motor"
    assert last["volts_battery_resting"] == 12.4
    assert last["wire_gauge_awg"] == 10
    assert last["wire_length_ft"] == 18


def test_control_characters_and_markup_pass_harmlessly(knowledge: Knowledge, search: Search) -> None:
    turns = _json_run(
        knowledge, search, ["[/ \x1b[31mred\x1b]0;title\x07 \u202eright [b + x", "", "\x00\x01"]
    )
    for turned in turns:
        for text in turned["say"]:
            assert not any(ord(c) < 32 or 0x7F <= ord(c) < 0xA0 or c == "\u202e" for c in text)


def test_third_answer_corrected_gives_what_a_fresh_conversation_gives(
    knowledge: Knowledge, search: Search
) -> None:
    told = ["it just clicks, no movement", "hitched", "one motor", "12.6 V at the battery at rest"]
    corrected = _json_run(knowledge, search, [*told, "no, each leg has its own motor"])[-1]
    fresh = _json_run(knowledge, search, [told[0], told[1], "each leg has its own motor", told[3]])[-1]
    assert corrected["findings"]["gear"] == "two_motor"
    for a, b in zip(corrected["causes"], fresh["causes"], strict=True):
        assert a["cause"] == b["cause"]
        assert a["chance"] == pytest.approx(b["chance"], abs=1e-9)


def test_case_put_aside_is_taken_up_by_its_number_where_it_stood(
    knowledge: Knowledge, search: Search, tmp_path: Path
) -> None:
    store = Store(tmp_path)
    turns = _json_run(
        knowledge, search, ["it just clicks", "hitched", "put aside", "left leg is dead", "case 1"], store
    )
    assert "Case 1 put aside" in turns[3]["say"][-2] or any("Case 1 put aside" in t for t in turns[3]["say"])
    assert turns[4]["findings"].get("legs_moving") == "right"
    assert turns[5]["findings"] == turns[2]["findings"]
    assert turns[5]["asking"] == turns[2]["asking"]
    assert {r.number for r in store.cases()} == {1, 2}


def test_every_event_is_on_disk_before_its_reply(knowledge: Knowledge, tmp_path: Path) -> None:
    session = Session(knowledge, Store(tmp_path))
    for i, text in enumerate(LINES, 1):
        session.hear(text)
        rows = (
            sqlite3.connect(tmp_path / "cases.sqlite3")
            .execute("SELECT event FROM events WHERE event LIKE '%said%'")
            .fetchall()
        )
        assert len(rows) == i


def test_replaying_the_stored_events_gives_the_same_state(knowledge: Knowledge, tmp_path: Path) -> None:
    session = Session(knowledge, Store(tmp_path), "phone", "metric")
    for text in LINES:
        session.hear(text)
    assert session.number is not None
    again = replay(session.store.events(session.number), knowledge)  # type: ignore[union-attr]
    assert (again.found, again.asking, again.stage, again.wording) == (
        session.state.found,
        session.state.asking,
        session.state.stage,
        "phone",
    )


def test_store_is_readable_by_its_owner_alone(tmp_path: Path) -> None:
    store = Store(tmp_path / "new")
    store.begin("2026-01-01T00:00:00Z", "about", "c", "p")
    assert stat.S_IMODE(os.stat(store.file).st_mode) == 0o600  # noqa: PTH116


def test_deleted_case_leaves_no_word_behind(tmp_path: Path) -> None:
    store = Store(tmp_path)
    number = store.begin("2026-01-01T00:00:00Z", "quincunx wording", "c", "p")
    store.append(
        number, 0, Said("quincunx wording", "2026-01-01T00:00:00Z"), "2026-01-01T00:00:00Z", "open", ""
    )
    assert store.delete(number)
    store.close()
    assert all(b"quincunx" not in f.read_bytes() for f in tmp_path.iterdir())


def test_store_from_a_newer_program_is_left_alone_with_clear_words(tmp_path: Path) -> None:
    Store(tmp_path).begin("2026-01-01T00:00:00Z", "about", "c", "p")
    with sqlite3.connect(tmp_path / "cases.sqlite3") as connection:
        connection.execute(f"PRAGMA user_version={SCHEMA + 1}")
    with pytest.raises(StoreProblem, match="newer"):
        Store(tmp_path).cases()


def test_conversation_goes_on_where_nothing_can_be_written(knowledge: Knowledge, tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    session = Session(knowledge, Store(blocked))
    turned = session.hear("it just clicks")
    assert any("cannot be opened" in line.text for line in turned.replies)
    assert session.state.value("button_response") == "clicks"


def test_settings_of_a_case_are_kept_with_it(knowledge: Knowledge, tmp_path: Path) -> None:
    session = Session(knowledge, Store(tmp_path), "tech")
    session.hear("it just clicks")
    assert session.store is not None
    assert Set("wording", "tech") in session.store.events(1)


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["nonsense"], 2),
        (["talk", "--for", "nobody"], 2),
        (["ask"], 2),
        (["read", "no-such-page"], 1),
        (["case", "show", "99999"], 1),
        (["case", "show"], 2),
        (["serve", "--host", "0.0.0.0"], 2),
        (["find"], 2),
        (["--help"], 0),
        (["read", "clean-the-ground"], 0),
        (["corpus", "check", "/nowhere"], 1),
    ],
)
def test_exit_status_follows_the_contract(
    words: list[str], status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == status
    out = capsys.readouterr()
    if status:
        assert out.out == ""
        assert out.err.startswith("legline: ")
        assert "Traceback" not in out.err


def test_ask_prints_one_answer_and_keeps_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", "left leg wont go down", "--json"]) == 0
    turned = json.loads(capsys.readouterr().out)
    assert turned["findings"]["legs_moving"] == "right"
    assert turned["asking"] is not None
    assert main(["case", "list"]) == 0
    assert "left leg wont" not in capsys.readouterr().out


def test_page_is_read_with_the_stops_the_program_derives(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["read", "take-the-lead-leg-off-and-put-it-back"]) == 0
    text = capsys.readouterr().out
    assert "HOLD before" in text
    assert text.index("hitched to the truck") < text.index("PROVE IT")


def test_broken_pipe_is_no_fault() -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from bot.cli import main; main(['read','how-the-gear-works'])"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        check=False,
        timeout=60,
    )
    assert b"Traceback" not in done.stderr
