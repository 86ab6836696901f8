"""``legline sum NAME`` with a person at the keyboard, on a real terminal pair, and without one."""

from __future__ import annotations

import os
import select
import subprocess
import sys
import time

import pytest

from bot.shells.sum_command import run
from bot.shells.sum_prompts import question
from bot.sums.catalogue import CATALOGUE, limits_of

pty = pytest.importorskip("pty", reason="no terminal pairs on this system")


def _played(argv: list[str], answers: list[tuple[str, str]], ends: str) -> tuple[str, int]:
    """Everything shown on a terminal while each answer is typed once its question stands there."""
    shown, typed, answers = "", 0, list(answers)
    master, slave = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "bot", "sum", *argv], stdin=slave, stdout=slave, stderr=slave, close_fds=True
    ) as running:
        os.close(slave)
        deadline = time.monotonic() + 60
        while time.monotonic() < deadline:
            if select.select([master], [], [], 0.2)[0]:
                try:
                    shown += os.read(master, 65536).decode()
                except OSError:  # the other end is closed: it is done
                    break
            waiting = shown[typed:]
            if answers and answers[0][0] in waiting and waiting.rstrip(" ").endswith(":"):
                typed = len(shown)
                os.write(master, (answers.pop(0)[1] + "\n").encode())
        if running.poll() is None and time.monotonic() >= deadline:
            running.kill()  # it waits for an answer that nobody has
        code = running.wait(30)
    os.close(master)
    assert not answers, f"never asked: {answers}\n{shown}"
    assert ends in shown, shown
    return shown, code


def test_on_a_terminal_what_is_missing_is_asked_one_at_a_time() -> None:
    shown, code = _played(
        ["fuse-time", "--amps", "45 A"],
        [("rating printed on the fuse", "thirty volts"), ("rating printed on the fuse", "30 A")],
        "verdict: ",
    )
    assert code == 0
    assert "0.5 to 300 A" in shown, "the limits of the formula"
    assert "like 30 A" in shown, "an example"
    assert "Type a current" in shown, "what was typed first is no current"
    # 45 A on a 30 A fuse: by hand 45 / 30 = 150 %.
    assert "share of rating: 150.0 %, from 145.5 % to 154.5 %" in shown


def test_on_a_terminal_enter_leaves_out_what_can_be_assumed() -> None:
    shown, code = _played(
        ["retime", "--left", "10 in", "--right", "10 3/4 in"],
        [
            ("how much the legs differ", ""),
            ("turns of the leg's shaft an inch", ""),
            ("or turns counted", "12"),
            ("over how many inches", "2"),
            ("the leg that can be turned alone", ""),
        ],
        "verdict: ",
    )
    assert code == 0
    # 12 turns over 2 in are 6 an inch; 3/4 in x 6 = 4.5 turns, by the definition of the lead.
    assert "turns: 4.5 turns" in shown


def test_a_figure_outside_the_limits_is_asked_again() -> None:
    shown, code = _played(
        ["carry"],
        [
            ("weight of the part", "9000 lb"),
            ("weight of the part", "44 lb"),
            ("ankles to hands", ""),
            ("hands above the floor", ""),
            ("how far up or down", ""),
            ("twist", ""),
            ("grip", ""),
        ],
        "verdict: ",
    )
    assert code == 0
    assert "is outside" in shown


def test_without_a_terminal_all_that_is_missing_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["screw", "--diameter", "1 in"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    for option in ("--load", "--threads"):
        assert option in err
    assert "--diameter" not in err


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_every_question_says_unit_limits_and_what_enter_does(name: str) -> None:
    one = CATALOGUE[name]
    bounded = 0
    for wanted in one.inputs:
        asked = question(one, wanted)
        assert asked.startswith(wanted.prompt)
        assert ("wanted" in asked) == wanted.required
        assert wanted.required or "Enter" in asked
        if wanted.kind in ("quantity", "number") and limits_of(one, wanted):
            bounded += 1
            assert " to " in asked
            assert "like " in asked
    assert bounded
