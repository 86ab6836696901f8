"""A seeded handful of bad input through every door; scripts/fuzz.py puts a million through."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from bot.corpus.reader import Reading
from bot.find.search import Search
from bot.shells.plain import as_text
from bot.shells.session import Session
from bot.shells.streams import harmless_streams
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from tests.fuzzing.doors import SHARES, Door, Slipped, doors, harmless, put_through


@pytest.fixture(scope="module")
def every(prepared: tuple[Knowledge, Search], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Door]:
    """Every door."""
    return doors(prepared, tmp_path_factory.mktemp("doors"))


@pytest.mark.parametrize("name", list(SHARES))
def test_bad_input_through_every_door(name: str, every: dict[str, Door]) -> None:
    count = max(30, SHARES[name] // 500)
    found = list(put_through(name, every[name], range(count), "tests"))
    assert [(seed, wrong) for seed, _, _, wrong in found if wrong] == []
    assert sum(size for _, size, _, _ in found) > 0


def test_the_guard_sees_what_a_terminal_obeys() -> None:
    for bad in ("\x1b[2J", "a\rb", "\u202eabc", "\x9b1m", "\x07"):
        with pytest.raises(Slipped):
            harmless(bad)
    harmless("läuft, 2¼ in\n🔧")


def test_what_a_terminal_obeys_is_in_no_reply_and_on_no_stream(capsys: pytest.CaptureFixture[str]) -> None:
    bad = "a\x1b[31mred\x1b[0m\u202e \x9b2J\x07 \x1b]0;title\x07end"
    harmless(as_text([Line("say", bad), Line("page", bad)]))
    assert "red" in as_text([Line("say", bad)])
    import sys

    with harmless_streams():
        print(bad)
        sys.stderr.writelines([bad, "\n"])
        assert sys.stdout.encoding
    out = capsys.readouterr()
    for text in (out.out, out.err):
        harmless(text)
        assert "red" in text
        assert "end" in text


@pytest.mark.parametrize("body", ["text and no heading", "", "- \n- \n", "## What\n\n- \n\n- second\n"])
def test_pages_without_headings_and_with_empty_bullets_are_told_not_raised(body: str, tmp_path: Path) -> None:
    """Found by bad input: no heading at all raised, and an empty bullet took the text of the next one."""
    (tmp_path / "page.md").write_text(f"---\ntitle: A page\nlink: other\n---\n{body}\n", encoding="utf-8")
    reading = Reading()
    page = reading.page("guides", tmp_path / "page.md")
    if "no heading" in body:
        assert any("before the first ## heading" in p.what for p in reading.problems)
    if page is not None and page.sections:
        assert page.sections[0].bullets == ("", "second")
    assert page is not None or reading.problems


@pytest.mark.parametrize(
    "text",
    [
        "in, 4.6 on the post out " * 90,
        "12.1 button held, 9.1 at motor" * 70,
        "8.9 motor,0ground side .25, 10awg " * 60,
        "yes " * 250_000,
        "(" * 1_000_000,
    ],
)
def test_long_lines_are_answered_at_once(text: str, knowledge: Knowledge) -> None:
    """Found by bad input: lines that repeat readings and places took seconds. CPU, so that a busy machine is no fault."""
    Session(knowledge, None).hear("4.6 on the post, 12.1 with the button held at the motor")
    began = time.thread_time()
    assert Session(knowledge, None).hear(text).replies
    assert time.thread_time() - began < 0.6  # a third of it on the machine it was measured on


def test_a_gauge_that_is_none_is_answered_in_metric_too(knowledge: Knowledge) -> None:
    """Found by bad input: 14.2k ga has no area to show."""
    said = Session(knowledge, None, "owner", "metric").hear("14.2k ga wire to the motor").replies
    assert any("14200 AWG" in line.text for line in said)
