"""A PostgreSQL server of our own for tests and scripts: in a folder of its own, on a socket there, gone afterwards."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tempfile
import time
from pathlib import Path

_PLACES = ("/usr/local/bin", "/usr/local/pgsql/bin", "/opt/homebrew/bin")


def programs() -> Path | None:
    """The folder with initdb and postgres, or None where there is none."""
    debian = [str(p) for p in sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)]
    on_path = shutil.which("initdb")
    for place in (*([str(Path(on_path).parent)] if on_path else []), *debian, *_PLACES):
        if all((Path(place) / name).exists() for name in ("initdb", "postgres")):
            return Path(place)
    return None


def _user() -> str | None:
    """Whom the server runs as: it refuses root."""
    if os.geteuid() != 0:
        return None
    import pwd

    names = {entry.pw_name for entry in pwd.getpwall()}
    return "postgres" if "postgres" in names else "nobody"


class Server:
    """A server that listens on a socket in its own temporary folder and on no network address."""

    def __init__(self, most: int = 120) -> None:
        found = programs()
        if found is None:
            raise FileNotFoundError("no PostgreSQL server is installed; apt-get install postgresql")
        self.programs, self.most, self.user = found, most, _user()
        self.folder = Path(tempfile.mkdtemp(prefix="legline-pg-", dir="/tmp"))
        if self.user:
            shutil.chown(self.folder, self.user)
        self._process: subprocess.Popen[bytes] | None = None
        self._run(
            "initdb",
            "-D",
            str(self.folder / "data"),
            "-U",
            "legline",
            "-A",
            "trust",
            "-E",
            "UTF8",
            "--locale=C",
            "--no-sync",
        )
        self._count = 0

    def _run(self, program: str, *words: str) -> None:
        done = subprocess.run(
            [str(self.programs / program), *words],
            capture_output=True,
            user=self.user,
            cwd=self.folder,
            check=False,
        )
        if done.returncode:
            raise RuntimeError(f"{program}: {done.stderr.decode()[-800:]}")

    def start(self) -> None:
        """Starts the server and waits until it answers."""
        log = (self.folder / "log").open("ab")
        self._process = subprocess.Popen(
            [str(self.programs / "postgres"), "-D", str(self.folder / "data"), "-k", str(self.folder), "-c", "listen_addresses=",
             "-c", f"max_connections={self.most}", "-c", "shared_buffers=32MB"],
            stdout=log, stderr=log, user=self.user, cwd=self.folder,
        )  # fmt: skip
        log.close()
        import psycopg

        for _ in range(300):
            try:
                psycopg.connect(self.url("postgres"), connect_timeout=2).close()
            except psycopg.OperationalError:
                if self._process.poll() is not None:
                    raise RuntimeError((self.folder / "log").read_text()[-800:]) from None
                time.sleep(0.05)
            else:
                return
        raise RuntimeError("the server did not answer in 15 s")

    def stop(self, how: int = signal.SIGINT) -> None:
        """Stops it at once: open connections are cut."""
        if self._process is not None:
            self._process.send_signal(how)
            self._process.wait(30)
            self._process = None

    def url(self, database: str) -> str:
        """The URL of a database of the server."""
        return f"postgresql://legline@/{database}?host={self.folder}"

    def fresh(self) -> str:
        """The URL of a new empty database."""
        import psycopg

        self._count += 1
        name = f"cases_{self._count}"
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}".encode())
        return self.url(name)

    def close(self) -> None:
        """Stops it and takes its folder away."""
        self.stop(signal.SIGQUIT)
        shutil.rmtree(self.folder, ignore_errors=True)


__all__ = ["Server", "programs"]
