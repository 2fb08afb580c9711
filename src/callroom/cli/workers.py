"""Several server processes on one book in a database, and the one that looks after them.

All listen on one port. The first has a port of its own besides: what the director looks for
(a plan, prices) is kept by the process that looks, so the director's pages are asked there.
"""

import contextlib
import multiprocessing
import multiprocessing.synchronize
import signal
import socket
import threading
import time
from multiprocessing.process import BaseProcess
from typing import Self

import click
import msgspec

from callroom.bootstrap.books import open_book
from callroom.bootstrap.places import place_of
from callroom.cli.rehearsal.stage import Stage, bound
from callroom.cli.saying import progress
from callroom.cli.words import _
from callroom.model import CallroomError

_SPAWN = multiprocessing.get_context("spawn")  # noqa: TID251 - not fork; it hands sockets over
_FIRST_PAUSE_S, _LONGEST_PAUSE_S = 0.5, 10.0
_READY_WITHIN_S = 60


class Work(msgspec.Struct, frozen=True, kw_only=True):
    """What every worker is told: where the book is, and how it is served."""

    book: str
    host: str
    port: int
    address: str
    copy_to: str = ""
    behind_tls: bool = False


class NotReady(CallroomError):
    """A worker did not begin to serve."""


class Workers:
    """Workers while the block lasts; one that dies is replaced."""

    def __init__(self, work: Work, count: int) -> None:
        """Listen at once, so that the ports are known; `count` workers start on entering."""
        self._shared = bound(work.host, work.port)
        self.port: int = self._shared.getsockname()[1]
        self._own = bound("127.0.0.1", 0 if work.port == 0 else self.port + 1)
        self.directors_url = f"http://127.0.0.1:{self._own.getsockname()[1]}"
        self._work = msgspec.structs.replace(work, port=self.port)
        self._seats: list[BaseProcess] = []
        self._count = count
        self._ready: dict[int, multiprocessing.synchronize.Event] = {}

    def __enter__(self) -> Self:
        """Start every worker; returns once all of them answer."""
        self._seats = [self._start(seat) for seat in range(self._count)]
        for seat in range(self._count):
            if not self._is_ready(seat):
                self._end()
                raise NotReady("server.not_started", port=self.port)
        return self

    def _is_ready(self, seat: int) -> bool:
        deadline_s = time.monotonic() + _READY_WITHIN_S
        while not self._ready[seat].wait(0.2):
            if not self._seats[seat].is_alive() or time.monotonic() > deadline_s:
                return False
        return True

    def wait(self) -> None:
        """Look after the workers until the process is interrupted."""
        pause_s = _FIRST_PAUSE_S
        with contextlib.suppress(KeyboardInterrupt):
            while True:
                time.sleep(pause_s)
                replaced = self.replace_dead()
                pause_s = min(2 * pause_s, _LONGEST_PAUSE_S) if replaced else _FIRST_PAUSE_S

    def replace_dead(self) -> int:
        """Start another in the place of each worker that ended; returns how many."""
        dead = [seat for seat, worker in enumerate(self._seats) if not worker.is_alive()]
        for seat in dead:
            said = _("Worker {number} ended ({code}); another takes its place.")
            progress(said.format(number=seat + 1, code=self._seats[seat].exitcode))
            self._seats[seat] = self._start(seat)
        return len(dead)

    def _start(self, seat: int) -> BaseProcess:
        # Kept here: the worker opens it by its name, which goes with the object.
        ready = self._ready[seat] = _SPAWN.Event()
        sockets = [self._shared, self._own] if seat == 0 else [self._shared]
        copies = self._work.copy_to if seat == 0 else ""
        work = msgspec.structs.replace(self._work, copy_to=copies)
        worker = _SPAWN.Process(target=serve_as_worker, args=(work, sockets, ready), daemon=True)
        worker.start()
        return worker

    def __exit__(self, *_fault: object) -> None:
        """Stop every worker."""
        self._end()

    def _end(self) -> None:
        for worker in self._seats:
            worker.terminate()
        for worker in self._seats:
            worker.join(timeout=15)
            if worker.is_alive():
                worker.kill()
        self._shared.close()
        self._own.close()


def serve_as_worker(
    work: Work, sockets: list[socket.socket], ready: multiprocessing.synchronize.Event
) -> None:
    """Serve until told to stop, or until the process that looks after the workers is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the one that looks after us
    stop = threading.Event()
    signal.signal(signal.SIGTERM, lambda _number, _frame: stop.set())
    book = open_book(place_of(work.book))
    parent = multiprocessing.parent_process()
    try:
        stage = Stage(
            book,
            host=work.host,
            port=work.port,
            address=work.address,
            copy_to=work.copy_to,
            behind_tls=work.behind_tls,
            listening=sockets,
        )
        with stage:
            ready.set()
            while stage.serving and not stop.wait(0.5):
                if parent is not None and not parent.is_alive():
                    break
    finally:
        book.close()


def need_database(book: str, workers: int) -> None:
    """Refuse several workers on a book in a file, which one process alone may write to."""
    if workers > 1 and "://" not in book:
        raise click.UsageError(
            _("--workers needs --database: a book in a file is served by one process.")
        )
