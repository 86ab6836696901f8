"""The screen in real headless Chromium: a complaint, answers, a stop, a reload, and nothing fetched from outside."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from bot.cli import main
from bot.shells.records import Store
from bot.shells.session import replay
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from tests.shells.driving import TOLD

TOP = Path(__file__).resolve().parents[2]
_SEQUENCE = re.compile(r"\x1b\[[0-?]*[ -/]*[@-~]|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|\x1b.")


def _chromium() -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found is None:
        if os.environ.get("LEGLINE_OUTSIDE"):
            pytest.fail("chromium is wanted here and is not installed")
        pytest.skip("chromium is not installed, so the screen in a browser was NOT tried")
    return found


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """The address of a running server, and the folder of its cases."""
    words = [sys.executable, "-m", "bot", "serve", "--port", str(_free_port())]
    env = {**os.environ, "LEGLINE_DATA": str(tmp_path / "data")}
    process = subprocess.Popen(words, stdout=subprocess.PIPE, env=env, cwd=TOP, text=True)
    assert process.stdout is not None
    try:
        first = process.stdout.readline()
        assert "Legline is at http://127.0.0.1:" in first
        yield first.split()[-1], tmp_path / "data"
    finally:
        process.terminate()
        process.wait(20)
        process.stdout.close()


class Tab:
    """One page of the browser: what it fetched, and what the program drew on it since it was opened."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.asked: list[str] = []
        self.drawn = ""
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("websocket", self._socket)

    def _socket(self, opened: Any) -> None:
        self.asked.append(opened.url)
        opened.on("framereceived", self._frame)

    def _frame(self, payload: Any) -> None:
        text = payload if isinstance(payload, str) else payload.decode("utf-8", "replace")
        self.drawn += _SEQUENCE.sub(" ", text)

    def until(self, so: Callable[[], bool], what: str) -> None:
        """Waits for a condition; without it the test fails and shows the end of what was drawn."""
        end = time.monotonic() + 60
        while not so():
            assert time.monotonic() < end, f"never came about: {what}\n{' '.join(self.drawn.split())[-1500:]}"
            self.page.wait_for_timeout(50)

    def until_shown(self, words: str) -> None:
        self.until(lambda: words in " ".join(self.drawn.split()), f"“{words}” on the screen")

    def type(self, line: str) -> None:
        self.page.keyboard.type(line, delay=8)
        self.page.keyboard.press("Enter")


def _state(folder: Path, knowledge: Knowledge) -> State:
    store = Store(folder)
    try:
        return replay(store.events(1), knowledge)
    finally:
        store.close()


def test_case_is_told_answered_stopped_reloaded_and_taken_up_in_a_browser(
    served: tuple[str, Path], knowledge: Knowledge
) -> None:
    address, folder = served
    chromium = _chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        tab = Tab(browser.new_page(viewport={"width": 1200, "height": 800}))
        tab.page.goto(address)
        tab.until_shown("Tell me in your own words")
        tab.page.wait_for_function("document.body.classList.contains('-first-byte')")
        for number, line in enumerate(TOLD, 1):
            tab.type(line)
            tab.until(
                lambda n=number: (folder / "cases.sqlite3").exists() and _state(folder, knowledge).turn == n,  # type: ignore[misc]
                f"turn {number} on disk",
            )
        tab.until_shown("Most likely: bad ground")
        for _ in range(6):
            turn = _state(folder, knowledge).turn
            if _state(folder, knowledge).stage is Stage.HELD:
                break
            tab.type("done")
            tab.until(lambda t=turn: _state(folder, knowledge).turn == t + 1, "the next turn")  # type: ignore[misc]
        assert _state(folder, knowledge).stage is Stage.HELD
        tab.until_shown("yes or no:")
        tab.page.wait_for_timeout(200)
        tab.type("next")
        tab.until_shown("That is not a yes")
        assert _state(folder, knowledge).walk == _state(folder, knowledge).walk
        tab.type("yes")
        tab.until(
            lambda: bool((walk := _state(folder, knowledge).walk) and len(walk.opened) == 1),
            "the stop is open",
        )
        tab.drawn = ""
        tab.page.reload()
        tab.until_shown("Case 1 is still open")
        tab.page.wait_for_function("document.body.classList.contains('-first-byte')")
        tab.type("yes")
        tab.until_shown("Taken up again")
        walk = _state(folder, knowledge).walk
        assert walk is not None
        assert walk.opened == frozenset()
        fonts = tab.page.evaluate("document.fonts.ready.then(() => [...document.fonts].map(f => f.status))")
        browser.close()
    here = address.split("/?")[0].partition("://")[2]
    outside = [
        url
        for url in tab.asked
        if url.partition("://")[2].split("/")[0] != here and not url.startswith("data:")
    ]
    assert outside == []
    assert any(url.endswith("textual.js") for url in tab.asked)
    assert any(url.startswith("ws://") for url in tab.asked)
    assert "error" not in fonts


def _status(url: str, **headers: str) -> int:
    request = urllib.request.Request(url, headers=headers)
    try:
        with urllib.request.urlopen(request, timeout=20) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as refused:
        return int(refused.code)


def test_page_is_for_who_has_the_key_and_for_no_other_host_or_site(served: tuple[str, Path]) -> None:
    address, _ = served
    bare = address.split("?")[0]
    assert _status(address) == 200
    assert _status(bare) == 403
    assert _status(bare + "ws") == 403
    assert _status(bare + "ws/guess") == 403
    assert _status(bare + "?key=guess") == 403
    assert _status(address, Host="elsewhere.example") == 403
    assert _status(address, Origin="http://elsewhere.example") == 403
    with urllib.request.urlopen(address, timeout=20) as answer:
        page = answer.read().decode()
        assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
    assert not re.search(r"https?://(?!127\.0\.0\.1)", page)


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.4", "example.org", ""])
def test_any_other_address_is_refused_with_the_reason(host: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--host", host or " "]) == 2
    assert "this machine only" in capsys.readouterr().err


@pytest.mark.parametrize("port", ["0", "70000", "-1", "eighty"])
def test_port_that_is_none_is_refused(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--port", port]) == 2
    assert "from 1 to 65535" in capsys.readouterr().err


def test_taken_port_is_said_in_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        assert main(["serve", "--port", str(other.getsockname()[1])]) == 1
    assert "Name another: --port" in capsys.readouterr().err


def test_without_its_package_serve_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "bot.shells.web.server", None)
    assert main(["serve"]) == 1
    assert "pip install textual-serve" in capsys.readouterr().err
