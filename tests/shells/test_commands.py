"""Help, examples and completion: every word that is promised is taken, and every example runs as it stands."""

from __future__ import annotations

import io
import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from bot.cli import main
from bot.find.search import Search
from bot.shells.commands import COMMANDS, SHELLS, Command, command_of
from bot.shells.completion import script, words_now
from bot.shells.demo import BEATS, END, Guide, play
from bot.shells.hint import HINT, first_hint
from bot.shells.records import Store
from bot.shells.session import Session
from bot.sums.catalogue import CATALOGUE
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage

ELSEWHERE = {"serve"}  # runs until it is stopped: tests/shells/test_browser.py runs it
EXAMPLES = [(c, e) for c in COMMANDS for e in c.examples if c.name not in ELSEWHERE]


@pytest.fixture
def one_case(knowledge: Knowledge, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to stand in, and a store with case 1."""
    monkeypatch.setenv("LEGLINE_DATA", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "mine.csv").write_text("part,kind,outer tube,stroke\nleg from the shelf,leg,2.5 in,14 in\n")
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    session = Session(knowledge, Store(tmp_path / "data"))
    session.hear("it just clicks")
    assert session.store is not None
    session.store.close()
    return tmp_path


@pytest.mark.parametrize(("command", "example"), EXAMPLES, ids=[e for _, e in EXAMPLES])
def test_example_runs_as_it_stands(
    one_case: Path, command: Command, example: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(shlex.split(example)[1:]) == 0
    out = capsys.readouterr()
    assert out.out.strip()
    assert out.err == ""


@pytest.mark.parametrize("command", [c for c in COMMANDS if c.name and c.name != "sum"], ids=lambda c: c.name)
def test_help_of_a_command_names_its_options_and_shows_its_examples(
    command: Command, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command.name, "--help"]) == 0
    out = capsys.readouterr().out
    for option in command.options:
        assert option.word in out
    for example in command.examples:
        assert example in out


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_help_of_a_sum_shows_an_example_that_runs(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sum", name, "--help"]) == 0
    lines = [line.strip() for line in capsys.readouterr().out.splitlines()]
    (example,) = [line for line in lines if line.startswith(f"legline sum {name} ")][-1:]
    assert main(shlex.split(example)[1:]) == 0


def test_every_word_after_case_is_taken_and_no_other(
    one_case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = command_of("case")
    assert case is not None
    for word in case.then:
        main(["case", word, "1"])
        assert "case takes" not in capsys.readouterr().err, word
    assert main(["case", "burn", "1"]) == 2
    assert "case takes" in capsys.readouterr().err


def test_list_of_commands_and_the_commands_that_run_are_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    import inspect

    from bot import cli

    source = inspect.getsource(cli._run)
    taken = {w.split('"')[1] for w in source.splitlines() if w.strip().startswith('"') and '": _' in w}
    assert taken | {"sum"} == {c.name for c in COMMANDS}


# ---- completion, asked of the shells themselves


def _words(knowledge: Knowledge, shell: str, folder: Path) -> Path:
    file = folder / f"legline.{shell}"
    file.write_text(script(shell, words_now(tuple(knowledge.pages))), encoding="utf-8")
    return file


def _needs(shell: str) -> str:
    found = shutil.which(shell)
    if found is None:
        if os.environ.get("LEGLINE_OUTSIDE"):
            pytest.fail(f"{shell} is wanted here and is not installed")
        pytest.skip(f"{shell} is not installed, so its completion was not tried")
    return found


ASKED = [
    (["legline", "ta"], {"talk"}),
    (["legline", "talk", "--for", ""], {"owner", "phone", "tech"}),
    (["legline", "case", "ex"], {"export"}),
    (["legline", "case", "export", "1", "--as", ""], {"md", "html", "pdf", "json"}),
    (["legline", "read", "clean-the-g"], {"clean-the-ground"}),
    (["legline", "sum", "leg-l"], {"leg-load"}),
    (["legline", "sum", "leg-load", "--gro"], {"--gross"}),
    (["legline", "completion", ""], {"bash", "zsh", "fish"}),
]


@pytest.mark.parametrize(("typed", "wanted"), ASKED, ids=[" ".join(t) for t, _ in ASKED])
def test_bash_completes_what_may_come_next(
    knowledge: Knowledge, tmp_path: Path, typed: list[str], wanted: set[str]
) -> None:
    file = _words(knowledge, "bash", tmp_path)
    words = " ".join(shlex.quote(w) for w in typed)
    asked = f'source "{file}"; COMP_WORDS=({words}); COMP_CWORD={len(typed) - 1}; _legline; printf "%s\\n" "${{COMPREPLY[@]}}"'
    done = subprocess.run([_needs("bash"), "-c", asked], capture_output=True, text=True, check=True)
    assert wanted <= set(done.stdout.split())
    assert all(w.startswith(typed[-1]) for w in done.stdout.split())


@pytest.mark.parametrize(("typed", "wanted"), ASKED, ids=[" ".join(t) for t, _ in ASKED])
def test_zsh_completes_what_may_come_next(
    knowledge: Knowledge, tmp_path: Path, typed: list[str], wanted: set[str]
) -> None:
    file = _words(knowledge, "zsh", tmp_path)
    words = " ".join(shlex.quote(w) for w in typed)
    asked = (
        f'compdef() {{ : }}; compadd() {{ shift; print -l -- "$@" }}; source "{file}"; '
        f"words=({words}); CURRENT={len(typed)}; _legline"
    )
    done = subprocess.run([_needs("zsh"), "-f", "-c", asked], capture_output=True, text=True, check=True)
    assert wanted <= set(done.stdout.split()), done.stderr


@pytest.mark.parametrize(("typed", "wanted"), ASKED, ids=[" ".join(t) for t, _ in ASKED])
def test_fish_completes_what_may_come_next(
    knowledge: Knowledge, tmp_path: Path, typed: list[str], wanted: set[str]
) -> None:
    file = _words(knowledge, "fish", tmp_path)
    asked = f'source "{file}"; complete -C "{" ".join(typed)}"'
    env = {**os.environ, "HOME": str(tmp_path)}
    done = subprocess.run(
        [_needs("fish"), "-N", "-c", asked], capture_output=True, text=True, check=True, env=env
    )
    assert wanted <= {line.split("\t")[0] for line in done.stdout.splitlines()}, done.stderr


@pytest.mark.parametrize("shell", SHELLS)
def test_completion_starts_no_program(knowledge: Knowledge, shell: str) -> None:
    text = script(shell, words_now(tuple(knowledge.pages)))
    assert "$(legline" not in text
    assert "(legline" not in text.replace("funcstack", "")


# ---- the demo and the hint


def test_demo_leads_to_a_verdict_and_a_stop_and_says_that_it_is_invented(
    knowledge: Knowledge, search: Search
) -> None:
    session, sink = Session(knowledge, None), io.StringIO()
    assert play(session, search, io.StringIO(""), sink, interactive=False) == 0
    text = " ".join(sink.getvalue().split())
    assert "is invented" in text.split("Bot:")[0]
    assert "Most likely: bad ground" in text
    assert "That is not a yes" in text
    assert " ".join(END.split()) in text.replace("Bot: ", "")
    assert session.state.walk is not None
    assert session.state.walk.opened
    assert all(beat.watch in text for beat in BEATS)


def test_empty_line_sends_the_line_that_stands_ready_but_never_answers_a_stop(
    knowledge: Knowledge, search: Search
) -> None:
    session, sink = Session(knowledge, None), io.StringIO()
    play(session, search, io.StringIO("\n" * 60), sink, interactive=True)
    assert session.state.stage is Stage.HELD
    assert session.state.walk is not None
    assert session.state.walk.opened == frozenset()


def test_own_words_leave_the_script_where_it_was(knowledge: Knowledge, search: Search) -> None:
    guide = Guide()
    guide.heard("left leg is bent")
    assert guide.at == 0
    guide.heard(BEATS[0].line)
    assert guide.at == 1


def test_hint_has_three_lines_and_is_gone_once_a_case_is_kept(knowledge: Knowledge, tmp_path: Path) -> None:
    store = Store(tmp_path)
    assert [line.text for line in first_hint(store)] == list(HINT)
    assert len(HINT) == 3
    Session(knowledge, store).hear("it just clicks")
    assert first_hint(store) == ()
    assert first_hint(None) == ()


@pytest.mark.parametrize("term", ["dumb", ""])
def test_terminal_that_cannot_be_drawn_on_gets_plain_lines(term: str, tmp_path: Path) -> None:
    import pty

    code = "import sys; from bot.cli import main; sys.exit(main([]))"
    main_end, far_end = pty.openpty()
    env = {**os.environ, "TERM": term, "LEGLINE_DATA": str(tmp_path)}
    process = subprocess.Popen([sys.executable, "-c", code], stdin=far_end, stdout=far_end, env=env)
    os.close(far_end)
    os.write(main_end, b"quit\n")
    shown = b""
    try:
        while chunk := os.read(main_end, 4096):
            shown += chunk
    except OSError:
        pass
    assert process.wait(60) == 0
    assert b"Bot: Tell me" in shown
    assert b"\x1b" not in shown
    assert HINT[0].split()[0].encode() in shown
