"""Whole conversations: a line with > is the person; ~ must stand in the reply, ! must not; # explains."""

from pathlib import Path

import pytest

from bot.shells.session import Session
from bot.talk.knowledge import Knowledge

FILES = sorted(Path(__file__).parent.glob("*.txt"))


@pytest.mark.parametrize("file", FILES, ids=[f.stem for f in FILES])
def test_conversation(file: Path, knowledge: Knowledge) -> None:
    wording = "owner"
    lines = file.read_text(encoding="utf-8").splitlines()
    if lines[0].startswith("for: "):
        wording = lines.pop(0)[5:]
    session = Session(knowledge, None, wording)
    so_far: list[str] = []
    reply, checked = "", 0
    for line in lines:
        mark, text = line[:1], line[1:].strip()
        if mark == ">":
            turned = session.hear(text)
            reply = " ".join(r.text for r in turned.replies)
            so_far += [f"You: {text}", f"Bot: {reply}"]
        elif mark == "~":
            checked += 1
            assert text.lower() in reply.lower(), "\n".join(so_far[-8:]) + f"\nwanted: {text}"
        elif mark == "!":
            checked += 1
            assert text.lower() not in reply.lower(), "\n".join(so_far[-8:]) + f"\nnot wanted: {text}"
    assert checked
