"""Connections to a database: the one that writes, those that read, and their end."""

import queue
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

import psycopg
from psycopg import sql

from callroom.journal.store.errors import DatabaseFault
from callroom.journal.stores.database import Database
from callroom.journal.stores.postgres.rows import PostgresTables

Connection = psycopg.Connection[tuple[Any, ...]]

CONNECT_WITHIN_S = 10
_IDLE_READERS = 8


def connect(database: Database) -> Connection:
    """Open a connection whose statements see the book's own tables, each by itself.

    Every commit waits until it is on the server's disk, whatever the server's own setting.

    Raises
    ------
    DatabaseFault
        If the server cannot be reached or does not let us in.
    """
    with fault_named(database):
        connection = psycopg.connect(
            database.server,
            autocommit=True,
            connect_timeout=CONNECT_WITHIN_S,
            application_name="callroom",
            # A server that vanished is noticed within half a minute, not after two hours.
            keepalives_idle=10,
            keepalives_interval=5,
            keepalives_count=3,
        )
        connection.execute(sql.SQL("SET search_path TO {}").format(sql.Identifier(database.book)))
        connection.execute("SET synchronous_commit TO on")
        connection.execute("SET lock_timeout TO '10s'")
    return connection


@contextmanager
def fault_named(database: Database) -> Iterator[None]:
    """Turn what the server or the way to it says into a refusal that names the book."""
    try:
        yield
    except psycopg.Error as fault:
        raise DatabaseFault(str(database), " ".join(str(fault).split())) from fault


class PostgresReads:
    """Connections that only read, lent out one at a time."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._closed = False
        self._idle: queue.LifoQueue[Connection] = queue.LifoQueue(_IDLE_READERS)

    @contextmanager
    def one(self) -> Iterator[PostgresTables]:
        """Lend one; what is read inside is from one moment."""
        with fault_named(self._database):
            connection = self._begun()
            try:
                yield PostgresTables(connection)
                connection.execute("COMMIT")
            except BaseException:
                connection.close()
                raise
            self._take_back(connection)

    def _begun(self) -> Connection:
        """Return a connection inside a transaction; one that broke while idle is let go of."""
        begin = "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY"
        with suppress(queue.Empty):
            while True:
                connection = self._idle.get_nowait()
                try:
                    connection.execute(begin)
                except psycopg.OperationalError:
                    connection.close()
                else:
                    return connection
        connection = connect(self._database)
        connection.execute(begin)
        return connection

    def _take_back(self, connection: Connection) -> None:
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
