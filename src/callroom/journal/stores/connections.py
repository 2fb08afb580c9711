"""Connections: the one that writes, and those that only read."""

import queue
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from callroom.journal.store.errors import Damaged, NotABook, NotWritten
from callroom.journal.stores.rows import SqliteTables

BUSY_MS = 5000
"""How long SQLite waits for a lock before it gives up [ms]."""

_IDLE_READERS = 8
"""Read-only connections kept open for the next reader."""


def connect_writer(path: Path) -> sqlite3.Connection:
    """Open the read-write connection of a book; there must never be a second one.

    Every commit waits until the bytes are on the disk: ``synchronous=FULL``, and on macOS,
    where that is not enough, ``fullfsync``. Deleted content is overwritten.
    """
    connection = _connect(path, "rw")
    mode = connection.execute("PRAGMA journal_mode=WAL").fetchone()[0]
    if mode != "wal":
        connection.close()
        raise NotWritten(path, f"journal_mode stays {mode}; this file system does not allow wal")
    for setting in (
        "synchronous=FULL",
        "fullfsync=ON",
        "checkpoint_fullfsync=ON",
        "secure_delete=ON",
        "temp_store=MEMORY",
        "trusted_schema=OFF",
    ):
        connection.execute(f"PRAGMA {setting}")
    return connection


def connect_reader(path: Path) -> sqlite3.Connection:
    """Open a connection that cannot write."""
    return _connect(path, "ro")


def connect_new(path: Path) -> sqlite3.Connection:
    """Open a connection that fills a new file nobody else knows of yet."""
    connection = _connect(path, "rw")
    for setting in ("synchronous=FULL", "fullfsync=ON", "temp_store=MEMORY"):
        connection.execute(f"PRAGMA {setting}")
    return connection


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True,
        isolation_level=None,
        timeout=BUSY_MS / 1000,
        # Connections are handed from thread to thread, but never used by two at once.
        check_same_thread=False,
    )


@contextmanager
def damage_named(path: Path) -> Iterator[None]:
    """Turn what SQLite says of damaged pages into a refusal that names the book."""
    try:
        yield
    except sqlite3.DatabaseError as fault:
        if fault.sqlite_errorname == "SQLITE_NOTADB":
            raise NotABook(path) from fault
        raise Damaged(path, str(fault)) from fault


class Readers:
    """Read-only connections to one book, lent out one at a time."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._closed = False
        self._idle: queue.LifoQueue[sqlite3.Connection] = queue.LifoQueue(_IDLE_READERS)

    @contextmanager
    def one(self) -> Iterator[SqliteTables]:
        """Lend a connection; what is read inside is from one moment."""
        with damage_named(self._path):
            try:
                connection = self._idle.get_nowait()
            except queue.Empty:
                connection = connect_reader(self._path)
            try:
                connection.execute("BEGIN")
                yield SqliteTables(connection)
                connection.execute("COMMIT")
            except BaseException:
                connection.close()
                raise
            self._take_back(connection)

    def _take_back(self, connection: sqlite3.Connection) -> None:
        if not self._closed:
            with suppress(queue.Full):
                self._idle.put_nowait(connection)
                return
        connection.close()

    def close(self) -> None:
        """Close the idle connections; those lent out are closed when they come back."""
        self._closed = True
        with suppress(queue.Empty):
            while True:
                self._idle.get_nowait().close()
