"""The order sheet: what is known and from which words, what is missing and which page measures it; the commands."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from bot.assemble import check_corpus
from bot.cli import main
from bot.corpus.place import corpus_folder
from bot.parts.known import sheet_for
from bot.parts.order import order
from bot.shells.export import record_markdown, record_plain
from bot.shells.records import Store
from bot.shells.session import Session
from bot.talk.knowledge import Knowledge
from bot.talk.order import case_of, ordered
from bot.talk.state import Found, Stage, State, Verdict
from tests.parts.lists import raw

DEMO = str(corpus_folder() / "parts" / "demo-list.csv")
TOLD = (
    "the left leg is bent, it rubs at one spot, dragged it off the site with the legs down",
    "everybody is safe, hitched, jaws locked",
    "one motor with a bar",
    "the crank will not turn freely, no squeal",
    "outer tube is 2 1/2 in, stroke 14 in, pin weight is 2600 lb",
)


def judged(cause: str, *found: Found, unknown: tuple[str, ...] = ()) -> State:
    return State(stage=Stage.OFFERED, found=found, unknown=unknown, verdict=Verdict(cause, 0.9, "x"))


def test_sheet_names_what_is_known_its_words_and_what_measures_the_rest(knowledge: Knowledge) -> None:
    state = judged(
        "leg_bent",
        Found("outer_tube_in", 2.5, "two and a half", 1),
        Found("stroke_in", 14.0, "about 14", 2, 13.3, 14.7),
        unknown=("inner_tube_in",),
    )
    sheet = ordered(state, knowledge)
    assert sheet is not None
    lines = sheet.lines()
    assert '[x] Width of the outer tube: 2.5 in (from: "two and a half")' in lines
    assert '[x] Stroke of the leg: 14 in (13.3 in to 14.7 in) (from: "about 14")' in lines
    inner = next(line for line in lines if "inner tube" in line)
    assert inner.startswith("[ ] ")
    assert inner.endswith("Not known when asked. Page: inner-tube-in")
    assert any(line.startswith("[ ] mounting: bolted or welded") for line in lines)
    assert lines[0] == f"Order sheet for a leg: 2 of {len(sheet.entries)} known."
    named = {page for e in sheet.missing if e.page for page in e.page.split(", ")}
    assert {"inner-tube-in", "gear", "pin-weight-lb", "gross-weight-lb"} <= named <= set(knowledge.pages)


def test_load_of_one_leg_is_worked_out_where_a_weight_is_known(knowledge: Knowledge) -> None:
    sheet = ordered(judged("leg_bent", Found("pin_weight_lb", 2600.0, "2600", 1)), knowledge)
    assert sheet is not None
    # 2600 lb within 1 %, legs 4 to 8 ft and axles 20 to 32 ft behind the pin: 2574 x 32/28 / 2, 2626 x 20/12 / 2
    assert any("from 1471 lb to 2188 lb" in line for line in sheet.lines())
    bare = ordered(judged("leg_bent"), knowledge)
    assert bare is not None
    assert bare.worked_out == ()


def test_points_come_from_the_page_and_not_from_the_code(knowledge: Knowledge) -> None:
    for sheet in knowledge.corpus.sheets:
        filled = order(sheet, None, {}, knowledge.checks)
        assert len(filled.entries) == len(sheet.points)
        text = (corpus_folder() / "parts" / f"{sheet.page.id}.md").read_text(encoding="utf-8")
        points = text.split("## Points\n")[1].split("\n\n")[0].splitlines()
        assert len(points) == len(filled.entries)
        for line, entry in zip(points, filled.entries, strict=True):
            assert entry.how == line.removeprefix("- ").partition(": ")[2]


def test_every_cause_gets_a_sheet_with_the_label_first(knowledge: Knowledge) -> None:
    for name, cause in knowledge.causes.items():
        sheet = ordered(judged(name), knowledge)
        assert sheet is not None
        assert any("label" in b for b in sheet.before), name
        for bullet in cause.page.bullets("What to order"):
            label, _, rest = bullet.partition(": ")
            if label == "measure":
                title = knowledge.checks[rest].page.title
                assert any(
                    rest in (e.page, e.name) or title == e.name or rest.replace("_", "-") in e.page
                    for e in sheet.entries
                ), (name, rest)
            if label == "photograph":
                assert rest in sheet.photographs, (name, rest)


def test_cause_without_a_part_lists_what_its_own_page_says(knowledge: Knowledge) -> None:
    assert sheet_for(knowledge.causes["mounting_loose"], knowledge.corpus) is None
    sheet = ordered(judged("mounting_loose"), knowledge)
    assert sheet is not None
    assert sheet.part == ""
    assert any(e.name == "bolt" and "grade mark" in e.how for e in sheet.entries)


def test_metric_case_is_shown_in_metric(knowledge: Knowledge) -> None:
    state = judged("leg_bent", Found("outer_tube_in", 2.5, "63.5 mm", 1))
    from dataclasses import replace

    sheet = ordered(replace(state, units="metric"), knowledge)
    assert sheet is not None
    assert any("63.5 mm (from" in line for line in sheet.lines())


def test_case_of_keeps_value_range_and_words(knowledge: Knowledge) -> None:
    found = case_of(State(found=(Found("amps", 30.0, "30 or so", 1, 28.5, 31.5),)), knowledge)["amps"]
    assert found.span == (30.0, 28.5, 31.5)
    assert found.words == "30 or so"


# --- in the dialogue ----------------------------------------------------------------------------------------


def said(session: Session, text: str) -> str:
    return "\n".join(line.text for line in session.hear(text).replies)


def told(knowledge: Knowledge, store: Store | None = None) -> Session:
    session = Session(knowledge, store)
    for text in TOLD:
        session.hear(text)
    for _ in range(12):
        if session.state.verdict is not None:
            break
        session.hear("don't know")
    assert session.state.verdict is not None
    assert session.state.verdict.cause == "leg_bent"
    return session


@pytest.mark.parametrize(
    "words", ["what do I order", "what should we buy", "order sheet", "which part do i need?"]
)
def test_asked_after_the_verdict_it_shows_the_sheet_and_keeps_the_question(
    words: str, knowledge: Knowledge
) -> None:
    session = told(knowledge)
    asking, verdict = session.state.asking, session.state.verdict
    reply = said(session, words)
    assert "Order sheet for a leg" in reply
    assert "[x] Width of the outer tube: 2.5 in" in reply
    assert "Shall we go through the repair" in reply
    assert (session.state.asking, session.state.verdict) == (asking, verdict)


def test_asked_before_the_verdict_it_sells_nothing(knowledge: Knowledge) -> None:
    session = Session(knowledge, None)
    session.hear("it just clicks")
    asking = session.state.asking
    reply = said(session, "what do I order")
    assert "Nothing to order yet" in reply
    assert "[ ]" not in reply
    assert session.state.asking == asking
    assert "Order sheet for a motor" in said(session, "what do I order for the motor")


def test_asked_at_a_stop_the_stop_stays_shut(knowledge: Knowledge) -> None:
    session = told(knowledge)
    said(session, "yes")
    for _ in range(20):
        if session.state.stage is Stage.HELD:
            break
        said(session, "done")
    assert session.state.stage is Stage.HELD
    before = session.state.walk
    said(session, "what do I order")
    assert session.state.stage is Stage.HELD
    assert session.state.walk == before


def test_lines_that_only_hold_the_word_are_no_question(knowledge: Knowledge) -> None:
    session = told(knowledge)
    for text in ("i ordered a new motor", "what is the order of the wires", "is it in order"):
        assert "Order sheet" not in said(session, text)


# --- record and commands ------------------------------------------------------------------------------------


@pytest.fixture
def kept(knowledge: Knowledge, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    monkeypatch.setenv("LEGLINE_DATA", str(tmp_path / "data"))
    session = told(knowledge, Store(tmp_path / "data"))
    assert session.number == 1
    return session


def test_export_has_the_sheet(kept: Session, knowledge: Knowledge) -> None:
    text = record_markdown(1, kept.state.log, knowledge)
    section = text.split("## Order sheet")[1].split("\n## ")[0]
    assert '- \\[x\\] Width of the outer tube: 2.5 in (from: "2 1/2 in")' in section
    assert "Page: inner-tube-in" in section
    plain = json.loads(json.dumps(record_plain(1, kept.state.log, knowledge)))
    assert plain["order"]["part"] == "leg"
    stroke = next(p for p in plain["order"]["points"] if p["point"] == "Stroke of the leg")
    assert stroke["known"] == "14 in"
    assert stroke["page"] == "stroke-in"


def test_case_order_prints_the_sheet(kept: Session, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["case", "order", "1"]) == 0
    out = capsys.readouterr().out
    assert "Order sheet for a leg" in out
    assert "[x] Pin weight: 2600 lb" in out
    assert main(["case", "order", "1", "--part", "breakers", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["part"] == "fuse"
    assert main(["case", "order", "1", "--part", "hat"]) == 1
    assert '"hat" is no part' in capsys.readouterr().err
    assert main(["case", "order", "7"]) == 1


def test_case_without_a_verdict_has_no_sheet_of_its_own(
    knowledge: Knowledge, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LEGLINE_DATA", str(tmp_path))
    Session(knowledge, Store(tmp_path)).hear("it just clicks")
    assert main(["case", "order", "1"]) == 1
    assert "no verdict yet" in capsys.readouterr().err
    assert main(["parts", DEMO, "--case", "1"]) == 1
    assert "--part" in capsys.readouterr().err
    assert main(["parts", DEMO, "--case", "1", "--part", "leg"]) == 0


def test_parts_lists_and_checks(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", DEMO]) == 0
    out = capsys.readouterr().out
    assert "15 parts" in out
    assert "Invented: a demo list" in out
    assert "outer tube 2.52 in (64 mm)" in out
    bad = tmp_path / "bad.csv"
    bad.write_bytes(raw("[/red]A,leg,wide,,,,,,", "B,leg,2,,,,,,"))
    assert main(["parts", str(bad)]) == 1
    shown = capsys.readouterr()
    assert 'row 2, column "outer tube"' in shown.out
    assert "1 to mend" in shown.err
    assert main(["parts", str(bad), "--json"]) == 1
    plain = json.loads(capsys.readouterr().out)
    assert [p["part"] for p in plain["parts"]] == ["B"]
    assert plain["faults"][0]["row"] == 2


def test_parts_are_held_against_the_case_point_by_point(
    kept: Session, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["parts", DEMO, "--case", "1"]) == 0
    out = capsys.readouterr().out
    assert re.search(r"Hollow leg D \(row 6\): does not fit \(outer tube\)", out)
    assert 'outer tube: does not fit. Listed 3 in, 2.5 in measured ("2 1/2 in"): 0.5 in more.' in out
    assert (
        "Hollow leg A (row 3): unknown, nothing against it so far; open: inner tube, mounting, shaft." in out
    )
    assert "Invented" in out
    assert "The label on the part goes before this sheet." in out
    assert "Hollow motor" not in out
    assert main(["parts", DEMO, "--case", "1", "--json"]) == 0
    plain = json.loads(capsys.readouterr().out)
    assert [m["part"] for m in plain["matched"]][-1] == "Hollow leg D"


@pytest.mark.parametrize(
    ("words", "status", "says"),
    [
        (["parts"], 2, "one CSV file"),
        (["parts", "a", "b"], 2, "one CSV file"),
        (["parts", "/no/such.csv"], 1, "There is no file"),
        (["parts", "/"], 1, "is a folder"),
        (["parts", DEMO, "--part", "leg"], 2, "goes with --case"),
        (["parts", DEMO, "--case", "x"], 2, "number of a case"),
        (["parts", DEMO, "--case", "99"], 1, "there is no case 99"),
    ],
)
def test_call_that_cannot_be_done_is_said(
    words: list[str],
    status: int,
    says: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setenv("LEGLINE_DATA", str(tmp_path))
    assert main(words) == status
    shown = capsys.readouterr()
    assert says in shown.err
    assert shown.out == ""


def test_parts_pages_pass_the_check() -> None:
    assert [str(p) for p in check_corpus()[0] if p.file.startswith("parts/")] == []
