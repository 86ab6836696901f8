"""Rules of the code that a linter does not see: late imports, purity, what the README promises."""

import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

from bot.assemble import assemble
from bot.cli import HELP
from bot.corpus.kept import Kept, Spoilt, from_plain, to_plain, written
from bot.corpus.place import corpus_files, corpus_folder
from bot.corpus.reader import read_corpus
from bot.corpus.vocabulary import HAZARDS
from bot.safety.rules import RULES
from bot.talk.knowledge import Knowledge

TOP = Path(__file__).resolve().parents[2]
PURE = ("talk", "reason", "sums", "safety", "find", "parts", "units")


def _loaded(code: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys, json; print(json.dumps(sorted(sys.modules)))"],
        capture_output=True,
        text=True,
        check=True,
        cwd=TOP,
    )
    return set(json.loads(done.stdout.splitlines()[-1]))


def test_core_loads_no_screen_no_index_no_parser() -> None:
    loaded = _loaded("import bot.talk.turn")
    assert not loaded & {"textual", "rich", "whoosh", "rapidfuzz", "markdown_it", "pydantic", "pint"}


def test_asking_loads_neither_screen_nor_parser_nor_units_library() -> None:
    loaded = _loaded("from bot.assemble import assemble; assemble(); assemble()")
    loaded = _loaded("from bot.cli import main; main(['ask', 'it just clicks'])")
    assert not loaded & {"textual", "markdown_it", "pydantic", "pint"}


BY_PLACE = ("bad light",)


@pytest.mark.parametrize("folder", PURE)
def test_pure_modules_touch_no_clock_no_chance_no_keyboard(folder: str) -> None:
    for file in (TOP / "bot" / folder).rglob("*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in ("input", "open", "print", "exec", "eval"), f"{file}:{node.lineno}"
            if isinstance(node, ast.Import):
                names = {a.name.split(".")[0] for a in node.names}
                assert not names & {"random", "time", "datetime", "socket", "subprocess"}, (
                    f"{file}:{node.lineno}"
                )


def test_every_hazard_has_one_rule() -> None:
    """A label of the pages each; a rule without one is asked for by what was told of the place."""
    assert tuple(sorted(r for r in RULES if r not in BY_PLACE)) == tuple(sorted(HAZARDS))
    assert all(RULES[name].where for name in BY_PLACE)
    assert all(rule.question.endswith("?") and rule.undo_question.endswith("?") for rule in RULES.values())


def test_reader_saw_every_file_of_the_corpus(knowledge: Knowledge) -> None:
    files = [f for f in corpus_files(corpus_folder()) if f.parent.name != "words"]
    assert len(files) == len(knowledge.pages)


def test_prepared_form_gives_the_same_corpus() -> None:
    corpus, _ = read_corpus(corpus_folder())
    kept = Kept(written({"first": 1, "corpus": to_plain(corpus), "last": (2.5, "x")}))
    again = from_plain(kept["corpus"])
    assert "~sections" in vars(again.guides[0]), "sections are read when they are looked at"
    assert again == corpus
    assert "~sections" not in vars(again.guides[0])
    assert (kept["first"], kept["last"]) == (1, (2.5, "x"))


def test_a_flipped_bit_of_the_kept_form_is_seen_wherever_it_is() -> None:
    good = written({"a": ("some", "words"), "b": {"c": (1, 2.0, None)}})
    for at in range(len(good)):
        for raw in (good[:at], good[:at] + bytes([good[at] ^ 4]) + good[at + 1 :]):
            with pytest.raises(Spoilt):
                Kept(raw)


def test_a_spoilt_prepared_copy_is_made_anew(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LEGLINE_CACHE", str(tmp_path))
    first, _ = assemble()
    [file] = tmp_path.glob("prepared-*/prepared")
    raw = bytearray(file.read_bytes())
    raw[len(raw) // 2] ^= 1
    file.write_bytes(raw)
    assert assemble()[0].corpus == first.corpus
    assert Kept(file.read_bytes())["known"]


def test_every_command_is_in_the_readme() -> None:
    readme = (TOP / "README.md").read_text(encoding="utf-8")
    for name in ("talk", "ask", "find", "read", "sum", "case", "corpus check"):
        assert f"scripts/run {name}" in readme
        assert f"legline {name.split()[0]}" in HELP


def test_no_socket_is_opened_in_a_conversation(knowledge: Knowledge, monkeypatch: pytest.MonkeyPatch) -> None:
    import socket

    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("a socket was asked for")

    monkeypatch.setattr(socket, "socket", refuse)
    from bot.shells.session import Session

    session = Session(knowledge, None)
    for text in ("legs dead", "hitched", "one motor", "57 mm inner tube", "find me a page on grease"):
        assert session.hear(text).replies


def test_authors_guide_is_what_the_lists_say() -> None:
    done = subprocess.run(
        [sys.executable, "scripts/author_guide.py", "--print"],
        capture_output=True,
        text=True,
        check=True,
        cwd=TOP,
    )
    assert (TOP / "corpus" / "README.md").read_text(encoding="utf-8").strip() == done.stdout.strip()


def test_conversation_of_the_readme_is_what_the_program_says() -> None:
    done = subprocess.run(
        [sys.executable, "scripts/readme_conversation.py", "--print"],
        capture_output=True,
        text=True,
        check=True,
        cwd=TOP,
    )
    assert (TOP / "README.md").read_text(encoding="utf-8") == done.stdout
