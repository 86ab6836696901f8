"""Locks that end with the process that holds them, whatever ended it."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path


class Held:
    """A file locked by this process, or not. Where a folder cannot be written every lock is granted."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self._descriptor: int | None = None

    def take(self, wait: bool = False, shared: bool = False) -> bool:
        """Whether the lock is ours now; `shared` leaves others the same and keeps out who wants it alone."""
        if self._descriptor is not None:
            return True
        try:
            descriptor = os.open(self.file, os.O_RDWR | os.O_CREAT | getattr(os, "O_CLOEXEC", 0), 0o600)
        except OSError:
            return True
        try:
            _lock(descriptor, wait, shared)
            # Another may have taken the file away between our opening and our locking of it.
            if os.fstat(descriptor).st_ino != self.file.stat().st_ino:
                raise OSError("another file by now")
        except OSError:
            os.close(descriptor)
            return False
        self._descriptor = descriptor
        return True

    def share(self) -> None:
        """Turns a lock that was taken alone into one that others may share."""
        if self._descriptor is not None:
            with suppress(OSError):
                _lock(self._descriptor, True, True)

    def drop(self, remove: bool = False) -> None:
        """Lets go; `remove` takes the file away too."""
        if self._descriptor is None:
            return
        if remove:
            with suppress(OSError):  # another has it open: it stays, empty
                self.file.unlink()
        os.close(self._descriptor)
        self._descriptor = None


def _lock(descriptor: int, wait: bool, shared: bool) -> None:
    try:
        import fcntl
    except ImportError:  # no fcntl on this system
        import importlib

        windows = importlib.import_module("msvcrt")
        if shared:
            windows.locking(descriptor, windows.LK_UNLCK, 1)
            return
        windows.locking(descriptor, windows.LK_LOCK if wait else windows.LK_NBLCK, 1)
        return
    fcntl.flock(descriptor, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | (0 if wait else fcntl.LOCK_NB))
