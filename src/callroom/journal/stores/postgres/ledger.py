"""The writer's view of a book in PostgreSQL that other processes write to as well."""

import hashlib
from collections.abc import Iterator, Sequence
from contextlib import suppress

import psycopg
from psycopg import sql

from callroom.journal.store.seal import Row
from callroom.journal.store.side import SideWrite
from callroom.journal.stores.database import Database
from callroom.journal.stores.postgres import rows
from callroom.journal.stores.postgres.connections import Connection, connect, fault_named


class PostgresLedger:
    """Transactions on the one connection of this process that writes.

    Writers take turns by an advisory lock that is held until the commit is done. So the order
    of `seq` is the order of commits, and whoever reads beyond the last `seq` it knows misses
    nothing. A connection that was lost is made anew with the next transaction; what became of
    a commit whose answer never came is then read from the journal.
    """

    def __init__(self, database: Database) -> None:
        self._database = database
        self._connection: Connection = connect(database)
        self._turn = _number_of(database)
        self._news = False

    @property
    def backend(self) -> int:
        """The server's number of this connection, by which its own news are known."""
        return self._connection.info.backend_pid

    def begin(self) -> None:
        """Open a write transaction and wait for this process's turn."""
        self._news = False
        with fault_named(self._database):
            self._alive().execute("BEGIN")
            self._connection.execute("SELECT pg_advisory_xact_lock(%s)", (self._turn,))

    def rows(self, after: int) -> Iterator[Row]:
        """Return the stored rows with a greater `seq`, in order."""
        with fault_named(self._database):
            yield from rows.PostgresTables(self._alive()).all_rows(after)

    def stored(self, device: str, key: str) -> Sequence[Row]:
        """Return what was stored under a key, in order of part."""
        with fault_named(self._database):
            return rows.under_key(self._connection, device, key)

    def append(self, new: Sequence[Row]) -> None:
        """Insert rows."""
        self._news = self._news or bool(new)
        with fault_named(self._database):
            rows.insert(self._connection, new)

    def change(self, changes: Sequence[SideWrite]) -> None:
        """Apply changes of side tables, in order."""
        self._news = self._news or bool(changes)
        with fault_named(self._database):
            rows.change(self._connection, changes)

    def taken(self, table: str, row_id: str) -> bytes | None:
        """Remove one row of a side table and return its value, None if it is not there."""
        with fault_named(self._database):
            found = rows.PostgresTables(self._connection).side_row(table, row_id)
            if found is not None:
                self.change([SideWrite(table, row_id, None)])
        return found

    def commit(self) -> None:
        """Commit, and tell the other processes; returns when it is on the server's disk."""
        with fault_named(self._database):
            if self._news:
                channel = sql.Identifier(self._database.channel)
                self._connection.execute(sql.SQL("NOTIFY {}").format(channel))
            self._connection.execute("COMMIT")

    def rollback(self) -> None:
        """Undo the transaction, if one is open; never raises."""
        with suppress(psycopg.Error):
            self._connection.execute("ROLLBACK")

    def scrub(self) -> bool:
        """Write the side tables anew without what was deleted; whether that went through.

        Not while somebody reads them. The server's own log and its backups hold the rows as
        they once were, for as long as its owner keeps these.
        """
        try:
            for table in rows.SIDE:
                self._alive().execute(f"VACUUM FULL {table}".encode())
        except psycopg.Error:
            return False
        return True

    def close(self) -> None:
        """Let go of the connection."""
        self._connection.close()

    def _alive(self) -> Connection:
        if self._connection.closed or self._connection.broken:
            self._connection = connect(self._database)
        return self._connection


def _number_of(database: Database) -> int:
    """Return the number of the book's lock: 64 bits, from its name."""
    digest = hashlib.blake2b(f"callroom {database.book}".encode(), digest_size=8).digest()
    return int.from_bytes(digest, "big", signed=True)
