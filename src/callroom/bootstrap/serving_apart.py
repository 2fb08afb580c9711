"""Serving a book in a process of its own, for the page that lists books."""

import subprocess
import sys
import time
from pathlib import Path

from callroom.bootstrap.books import open_book
from callroom.journal.store import BookInUse
from callroom.journal.stores import lease_of
from callroom.model import CallroomError

_START_WITHIN_S = 20


class NotServed(CallroomError):
    """The server of a book did not start."""


class Servers:
    """The servers that this process started, one for each book; they end with it."""

    def __init__(self) -> None:
        """Begin with none."""
        self._children: dict[Path, subprocess.Popen[bytes]] = {}

    def address_of(self, path: Path) -> str:
        """Return where a book is served, starting a server if nobody has the book.

        Raises
        ------
        JournalError, NotServed
            If the book cannot be opened, or its server does not start.
        """
        path = path.resolve()
        if not _held(path):
            self._children[path] = subprocess.Popen(  # noqa: S603 - our own command
                [
                    sys.executable,
                    "-m",
                    "callroom",
                    "serve",
                    str(path),
                    "--port",
                    "0",
                    "--no-browser",
                ],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
            )
        return self._waited_for(path)

    def _waited_for(self, path: Path) -> str:
        deadline_s = time.monotonic() + _START_WITHIN_S
        while time.monotonic() < deadline_s:
            lease = lease_of(path)
            child = self._children.get(path)
            if lease is not None:
                return f"http://127.0.0.1:{lease.port}/"
            if child is not None and child.poll() is not None:
                break
            time.sleep(0.05)
        raise NotServed("server.not_started", port=0)

    def close(self) -> None:
        """Stop every server that was started here."""
        for child in self._children.values():
            child.terminate()
        for child in self._children.values():
            child.wait(timeout=10)


def _held(path: Path) -> bool:
    """Whether another process has the book; its own faults are refused here, with a sentence."""
    try:
        open_book(path).close()
    except BookInUse:
        return True
    return False
