"""`legline serve`: textual-serve on the loopback address, with a page of our own that fetches nothing from outside.

Three locks: it listens on this machine only; every request has to carry the key that was printed at the start, so
that other people on the machine stay out; and a request that names another host, or comes from another site's page,
is refused.
"""

from __future__ import annotations

import hmac
import os
import secrets
import shlex
import socket
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from aiohttp import web
from textual_serve.server import Server

from bot.problems import LeglineError

if TYPE_CHECKING:
    from bot.corpus.place import Wanted

LOOPBACK = {"127.0.0.1": "127.0.0.1", "localhost": "127.0.0.1", "::1": "::1"}
_POLICY = (
    "default-src 'none'; script-src 'self' 'unsafe-inline' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; "
    "font-src 'self'; img-src 'self' data: blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


class ServeProblem(LeglineError):
    """The screen cannot be served; the text says why."""


class ScreenServer(Server):
    """The screen of one corpus, for whoever has the key."""

    def __init__(self, host: str, port: int, corpus: Wanted | None) -> None:
        words = [sys.executable, "-m", "bot.shells.web.program", *_named(corpus)]
        shown = f"[{host}]" if ":" in host else host
        super().__init__(
            shlex.join(words),
            host=host,
            port=port,
            title="Legline",
            public_url=f"http://{shown}:{port}",
            templates_path=str(Path(__file__).parent / "templates"),
        )
        self.key = secrets.token_urlsafe(18)
        self.hosts = {f"{name}:{port}" for name in (shown, "localhost", "127.0.0.1")}

    @property
    def address(self) -> str:
        """What a person opens."""
        return f"{self.public_url}/?key={self.key}"

    async def _make_app(self) -> web.Application:
        app = await super()._make_app()
        # The page's script hangs its own "?width=…" behind the address, so the key of the line stands in the path.
        app.router.add_get("/ws/{key}", self.handle_websocket)
        app.middlewares.append(self._locks())
        return app

    def _locks(self) -> Any:
        @web.middleware
        async def locks(request: web.Request, handler: Handler) -> web.StreamResponse:
            origin = request.headers.get("Origin")
            if request.host not in self.hosts:
                raise web.HTTPForbidden(text="This address is not the one that is served.")
            if origin is not None and origin.partition("://")[2] not in self.hosts:
                raise web.HTTPForbidden(text="Another site has no business here.")
            if not request.path.startswith("/static/") and not self._knows_key(request):
                raise web.HTTPForbidden(text="Open the address that legline serve printed, its key included.")
            response = await handler(request)
            if not response.prepared:
                response.headers["Content-Security-Policy"] = _POLICY
                response.headers["Referrer-Policy"] = "no-referrer"
                response.headers["Cache-Control"] = "no-store"
                response.headers["X-Content-Type-Options"] = "nosniff"
            return response

        return locks

    def _knows_key(self, request: web.Request) -> bool:
        line = request.path.startswith("/ws/")
        given = request.match_info.get("key", "") if line else request.query.get("key", "")
        return hmac.compare_digest(given.encode(), self.key.encode())

    async def handle_index(self, request: web.Request) -> Any:
        """The page, with the key in the address of its line to the program."""
        import aiohttp_jinja2

        socket_url = f"{self.public_url.replace('http', 'ws', 1)}/ws/{self.key}"
        size = request.query.get("fontsize", "")
        context = {
            "font_size": int(size) if size.isdigit() and 6 <= int(size) <= 60 else 16,
            "app_websocket_url": socket_url,
            "config": {"static": {"url": "/static/"}},
        }
        return aiohttp_jinja2.render_template("app_index.html", request, context)

    async def on_startup(self, app: web.Application) -> None:
        """Nothing yet: nobody can reach it before it listens."""

    def tell(self, *_: object) -> None:
        """Says where it is, once it listens."""
        sys.stdout.write(
            f"Legline is at {self.address}\nOnly this machine can reach it. Ctrl+C ends it.\n"
            "The browser keeps Ctrl+N, Ctrl+Q and Ctrl+T to itself: type units, quit, swap.\n"
        )
        sys.stdout.flush()


def _named(corpus: Wanted | None) -> list[str]:
    """The folders of pages as words of the program behind the page."""
    asked = (("own", corpus.own), ("alone", corpus.alone)) if corpus is not None else ()
    return [word for role, folder in asked if folder for word in (role, folder)]


def serve(host: str, port: int, corpus: Wanted | None) -> int:
    """Serves until Ctrl+C. Returns the exit status. Raises ServeProblem where the port is taken."""
    listens = LOOPBACK[host]
    family = socket.AF_INET6 if ":" in listens else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((listens, port))
        except OSError as fault:
            raise ServeProblem(
                f"Port {port} on {listens} cannot be used: {fault.strerror}. Name another: --port {port + 1}"
            ) from fault
    # The program behind the page has to find the same code as this one.
    here = str(Path(__file__).resolve().parents[3])
    os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, (here, os.environ.get("PYTHONPATH"))))
    server = ScreenServer(listens, port, corpus)
    web.run_app(
        server._make_app(), host=listens, port=port, print=server.tell, handle_signals=True, access_log=None
    )
    return 0
