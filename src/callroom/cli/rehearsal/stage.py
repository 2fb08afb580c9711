"""The stage: a server of this process on this machine's own address."""

import contextlib
import os
import secrets
import socket
import threading
import time
from collections.abc import Sequence
from types import TracebackType
from typing import Self

from callroom.bootstrap.open_book import OpenBook
from callroom.model import CallroomError
from callroom.web.serving import server

_START_WITHIN_S = 20


class NoStage(CallroomError):
    """The server did not start."""


class Stage:
    """A book being served while the block lasts; `url` is where."""

    def __init__(
        self,
        book: OpenBook,
        *,
        host: str = "127.0.0.1",
        port: int = 0,
        address: str = "",
        copy_to: str = "",
        behind_tls: bool = False,
        listening: Sequence[socket.socket] = (),
    ) -> None:
        """Listen at once, so that the port is known; serve on entering.

        `listening` are sockets bound already, of which the first is that of `port`.
        """
        self._sockets = [*listening] or [bound(host, port)]
        self.port: int = self._sockets[0].getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self._book = book
        self._token = secrets.token_urlsafe(32)
        self._server = server(
            book,
            host,
            self.port,
            address=address,
            owner_token=self._token,
            copy_to=copy_to,
            behind_tls=behind_tls,
        )
        self._thread = threading.Thread(target=self._run, name="server", daemon=True)

    def _run(self) -> None:
        self._server.run(sockets=self._sockets)

    def __enter__(self) -> Self:
        """Start serving; returns once it answers."""
        self._thread.start()
        deadline_s = time.monotonic() + _START_WITHIN_S
        while not self._server.started:
            if time.monotonic() > deadline_s or not self._thread.is_alive():
                raise NoStage("server.not_started", port=self.port)
            time.sleep(0.01)
        # Only now: whoever reads where the server is asks it at once.
        self._book.announce(self.port, self._token)
        return self

    @property
    def serving(self) -> bool:
        """Whether the server still runs."""
        return self._thread.is_alive()

    def stop(self) -> None:
        """Ask the server to end; :meth:`wait` then returns."""
        self._server.should_exit = True

    def wait(self) -> None:
        """Serve until the process is interrupted."""
        with contextlib.suppress(KeyboardInterrupt):
            while self._thread.is_alive():
                self._thread.join(timeout=0.5)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop serving."""
        self.stop()
        self._thread.join(timeout=10)
        for one in self._sockets:
            one.close()


def bound(host: str, port: int) -> socket.socket:
    """Return a socket on that port; NoStage if something else has it."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    if os.name == "posix":
        # A server that was just stopped may come back on its port; elsewhere this flag
        # would let two servers share one.
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
    except OSError as fault:
        listening.close()
        raise NoStage("server.port_taken", port=port, reason=str(fault)) from fault
    return listening
