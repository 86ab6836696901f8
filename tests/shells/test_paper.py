"""The record on paper: what stands on it, that hostile text stays text, and that no file is written unasked."""

from __future__ import annotations

import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pypdf  # reads the PDF back independently of the library that wrote it
import pytest
from markdown_it import MarkdownIt

from bot.cli import main
from bot.safety.holds import shut_before
from bot.shells.export import FORMS, record_in
from bot.shells.paper.gather import gather
from bot.shells.paper.model import Drawing, Items, Paper, Table, Text
from bot.shells.records import Store
from bot.shells.session import Session
from bot.talk.events import Event, Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage

# Invented readings.
TOLD = (
    "front jacks wont go up just click click",
    "on its legs, no truck",
    "one motor with a bar",
    "12.5 at the battery at rest, 6.8 at the motor with the button held",
    "12.1 at the battery with the button held, ground drop 4.4 V",
)
HOSTILE = '<script>alert(1)</script> [x](javascript:1) **b** | `c` "q" & \x1b[31mred\x1b]0;t\x07 \u202eabc <img src=http://x>'


def _timed(session: Session) -> tuple[Event, ...]:
    """The events of a session, a minute apart on an invented day."""
    out: list[Event] = []
    for place, event in enumerate(e for e in session.state.log if isinstance(e, Said)):
        out.append(Said(event.text, f"2031-02-03T{9 + place // 60:02d}:{place % 60:02d}:00Z", event.pasted))
    return tuple(out)


def _stage(session: Session) -> Stage:
    return session.state.stage


@pytest.fixture(scope="module")
def walked(knowledge: Knowledge) -> tuple[Event, ...]:
    """A whole case from the complaint to the proof."""
    session = Session(knowledge, None)
    for line in TOLD:
        session.hear(line)
    assert _stage(session) is Stage.OFFERED
    session.hear("yes")
    for _ in range(120):
        if _stage(session) is Stage.PROVING:
            break
        session.hear("yes" if _stage(session) is Stage.HELD else "done")
    assert _stage(session) is Stage.PROVING
    session.hear("yes")
    assert _stage(session) is Stage.CLOSED
    return _timed(session)


def _all_text(paper: Paper) -> str:
    out = [paper.title, paper.foot, *(f"{a} {b}" for a, b in paper.facts)]
    for part in paper.parts:
        out.append(part.title)
        for block in part.blocks:
            if isinstance(block, Text):
                out.append(block.text)
            elif isinstance(block, Items):
                out += block.items
            elif isinstance(block, Drawing):
                out += block.lines
            else:
                out += [cell for row in block.rows for cell in row]
    return "\n".join(out)


def test_every_finding_reading_hold_and_step_of_a_whole_case_stands_on_it_with_its_time(
    knowledge: Knowledge, walked: tuple[Event, ...]
) -> None:
    paper = gather(7, walked, knowledge)
    titles = [part.title for part in paper.parts]
    assert titles == [
        "Complaint", "Verdict", "Findings", "Readings", "Sums", "Where it stands", "Stops answered", "Steps done",
        "Proof", "Order sheet", "What was said", "Pages used",
    ]  # fmt: skip
    procedure = knowledge.procedures["clean-the-ground"]
    steps = paper.part("Steps done")
    assert steps is not None
    (table,) = [b for b in steps.blocks if isinstance(b, Table)]
    assert [row[1] for row in table.rows] == [str(s.number) for s in procedure.steps]
    assert all(re.fullmatch(r"\d\d:\d\d", row[0]) for row in table.rows)
    readings = paper.part("Readings")
    assert readings is not None
    (table,) = [b for b in readings.blocks if isinstance(b, Table)]
    values = {row[1]: row[2] for row in table.rows}
    assert values["volts at the motor with the button held"].startswith("6.8 V")
    assert values["volts lost on the ground side with the button held"].startswith("4.4 V")
    assert [row[0] for row in table.rows] == ["09:03", "09:03", "09:04", "09:04"]
    proof = paper.part("Proof")
    assert proof is not None
    assert any(isinstance(b, Text) and "2031-02-03" in b.text and "“yes”" in b.text for b in proof.blocks)
    assert paper.outcome == "closed: mended, as told"


def test_every_stop_that_was_opened_is_on_it_once_for_each_time_it_was_answered(
    knowledge: Knowledge, walked: tuple[Event, ...]
) -> None:
    session, opened = Session(knowledge, None), []
    for event in walked:
        assert isinstance(event, Said)
        if session.state.stage is Stage.HELD and session.state.walk is not None:
            walk = session.state.walk
            hold = shut_before(knowledge.procedures[walk.document], walk.step, walk.opened)[0]
            opened.append((hold.name, event.text))
        session.hear(event.text)
    part = gather(7, walked, knowledge).part("Stops answered")
    assert part is not None
    (table,) = part.blocks
    assert isinstance(table, Table)
    assert [(row[2], row[4]) for row in table.rows] == opened
    assert len(opened) > 5


def test_pasted_yes_is_no_answer_on_paper_either(knowledge: Knowledge) -> None:
    session = Session(knowledge, None)
    for line in (*TOLD, "yes", "done", "done"):
        session.hear(line)
    assert session.state.stage is Stage.HELD
    session.hear("yes", pasted=True)
    assert gather(1, _timed(session), knowledge).part("Stops answered") is None


def test_sum_stands_with_its_working_its_drawing_and_its_source(
    knowledge: Knowledge, walked: tuple[Event, ...]
) -> None:
    part = gather(7, walked, knowledge).part("Sums")
    assert part is not None
    drawings = ["\n".join(b.lines) for b in part.blocks if isinstance(b, Drawing)]
    assert "12.1 V - 6.8 V = 5.3 V" in drawings[0]
    assert "battery" in drawings[1]
    assert "####" in drawings[1]
    assert any("Source:" in item for b in part.blocks if isinstance(b, Items) for item in b.items)


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.fetches: list[tuple[str, str]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.fetches += [
            (n, v or "") for n, v in attrs if n in ("src", "href", "srcset", "action", "onerror")
        ]

    def handle_data(self, data: str) -> None:
        self.text += data


def _hostile_case(knowledge: Knowledge) -> tuple[Event, ...]:
    session = Session(knowledge, None)
    for line in (
        f"legs wont go up {HOSTILE}",
        "legs",
        f"one motor {HOSTILE}",
        f"12.4 V at the battery at rest {HOSTILE}",
    ):
        session.hear(line)
    # The events as a store would give them back, the hostile bytes still in them.
    lines = [e for e in session.state.log if isinstance(e, Said)]
    return tuple(Said(e.text, "2031-02-03T09:00:00Z") for e in lines)


def test_html_is_one_file_that_fetches_nothing_and_shows_hostile_words_as_words(knowledge: Knowledge) -> None:
    page = record_in("html", 1, _hostile_case(knowledge), knowledge).decode()
    seen = _Tags()
    seen.feed(page)
    assert not {"script", "img", "link", "iframe", "a", "object"} & set(seen.tags)
    assert seen.fetches == []
    assert not re.search(r"url\(|@import", page)
    assert "default-src 'none'" in page
    assert "<script>alert(1)</script>" in seen.text
    assert not any(ord(c) < 32 and c != "\n" or c == "\u202e" for c in page)
    assert "@media print" in page
    assert "prefers-color-scheme: dark" in page


def test_markdown_holds_no_link_no_html_and_no_emphasis_from_the_words_of_a_person(
    knowledge: Knowledge,
) -> None:
    text = record_in("md", 1, _hostile_case(knowledge), knowledge).decode()
    kinds = {child.type for token in MarkdownIt().parse(text) for child in [token, *(token.children or [])]}
    assert not kinds & {
        "link_open",
        "image",
        "html_block",
        "html_inline",
        "strong_open",
        "em_open",
        "code_inline",
    }
    assert "blockquote_open" in kinds


@pytest.mark.parametrize(
    "start", ["# head", "- item", "1. one", "> quote", "---", "```", "    code", "=== x", "+ a"]
)
def test_line_that_would_begin_something_in_markdown_stays_a_line(knowledge: Knowledge, start: str) -> None:
    events = (Said(f"{start} legs wont go up", "2031-02-03T09:00:00Z"),)
    text = record_in("md", 1, events, knowledge).decode()
    quote = MarkdownIt().parse(text[text.index("## Complaint") : text.index("## Findings")])
    assert [t.type for t in quote] == [
        "heading_open", "inline", "heading_close", "blockquote_open", "paragraph_open", "inline",
        "paragraph_close", "blockquote_close",
    ]  # fmt: skip


def test_pdf_is_read_back_by_another_library_with_its_words(
    knowledge: Knowledge, walked: tuple[Event, ...]
) -> None:
    content = record_in("pdf", 7, walked, knowledge)
    reader = pypdf.PdfReader(io.BytesIO(content))
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    assert reader.metadata is not None
    assert reader.metadata.title == "Case 7"
    for words in ("Complaint", "front jacks wont go up just click click", "Bad ground", "6.8 V", "Stops answered",
                  "Order sheet", "What was said"):  # fmt: skip
        assert words in text, words
    assert len(reader.pages) <= 5
    assert not any(
        name in str(page.get("/Annots")) for page in reader.pages for name in ("/URI", "/JavaScript")
    )


def test_same_record_gives_the_same_pdf(knowledge: Knowledge, walked: tuple[Event, ...]) -> None:
    assert record_in("pdf", 7, walked, knowledge) == record_in("pdf", 7, walked, knowledge)


def test_pdf_says_where_a_letter_could_not_be_printed(knowledge: Knowledge) -> None:
    events = (Said("腿 wont go up", "2031-02-03T09:00:00Z"),)
    text = pypdf.PdfReader(io.BytesIO(record_in("pdf", 1, events, knowledge))).pages[0].extract_text()
    assert "? wont go up" in text
    assert "the HTML form has it" in " ".join(text.split())


@pytest.mark.parametrize("form", FORMS)
def test_case_without_a_word_still_gives_a_page(knowledge: Knowledge, form: str) -> None:
    assert len(record_in(form, None, (), knowledge)) > 100


def test_json_carries_the_events_the_state_and_the_parts(
    knowledge: Knowledge, walked: tuple[Event, ...]
) -> None:
    plain = json.loads(record_in("json", 7, walked, knowledge))
    assert plain["case"] == 7
    assert len(plain["events"]) == len(walked)
    assert plain["state"]["closed"] is True
    assert [p["title"] for p in plain["record"]["parts"]][0] == "Complaint"


@pytest.fixture
def kept(knowledge: Knowledge, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one case in its store and nothing else."""
    monkeypatch.setenv("LEGLINE_DATA", str(tmp_path / "data"))
    session = Session(knowledge, Store(tmp_path / "data"))
    for line in TOLD:
        session.hear(line)
    assert session.store is not None
    session.store.close()
    (tmp_path / "out").mkdir()
    monkeypatch.chdir(tmp_path / "out")
    return tmp_path / "out"


def test_export_leaves_a_file_alone_unless_told(kept: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = kept / "case.html"
    target.write_text("mine", encoding="utf-8")
    assert main(["case", "export", "1", "--as", "html", "--to", str(target)]) == 1
    assert target.read_text(encoding="utf-8") == "mine"
    assert "left alone" in capsys.readouterr().err
    assert main(["case", "export", "1", "--as", "html", "--to", str(target), "--over"]) == 0
    assert target.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert [f.name for f in kept.iterdir()] == ["case.html"]


@pytest.mark.parametrize("form", FORMS)
def test_export_without_a_file_writes_no_file(
    kept: Path, form: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["case", "export", "1", "--as", form]) == 0
    assert list(kept.iterdir()) == []
    begins = {"md": b"# Case 1", "html": b"<!DOCTYPE html>", "pdf": b"%PDF-", "json": b"{"}[form]
    assert capsysbinary.readouterr().out.startswith(begins)


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        (["--as", "docx"], 2, "md or html or pdf or json"),
        (["--as", "pdf", "--to", "no/such/folder/x.pdf"], 1, "no folder"),
        (["--as", "pdf", "--to", "."], 1, "is a folder"),
        (["--to"], 2, "needs a value"),
    ],
)
def test_export_says_what_is_wrong_with_its_words(
    kept: Path, words: list[str], status: int, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["case", "export", "1", *words]) == status
    assert said in capsys.readouterr().err
    assert list(kept.iterdir()) == []


def test_link_in_the_place_of_a_file_is_not_followed(kept: Path, tmp_path: Path) -> None:
    away = tmp_path / "elsewhere.txt"
    (kept / "case.md").symlink_to(away)
    assert main(["case", "export", "1", "--to", str(kept / "case.md")]) == 1
    assert not away.exists()
