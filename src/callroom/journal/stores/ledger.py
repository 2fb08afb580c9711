"""The writer's view of a SQLite book."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import suppress

from callroom.journal.store.seal import Row
from callroom.journal.store.side import SideWrite
from callroom.journal.stores import rows


class SqliteLedger:
    """Transactions on the one connection that writes."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def begin(self) -> None:
        """Open a write transaction at once, so that nothing read in it can be outdated."""
        self._connection.execute("BEGIN IMMEDIATE")

    def rows(self, after: int) -> Iterator[Row]:
        """Return the stored rows with a greater `seq`, in order."""
        return rows.all_rows(self._connection, after)

    def stored(self, device: str, key: str) -> Sequence[Row]:
        """Return what was stored under a key, in order of part."""
        return rows.under_key(self._connection, device, key)

    def append(self, new: Sequence[Row]) -> None:
        """Insert rows."""
        rows.insert(self._connection, new)

    def change(self, changes: Sequence[SideWrite]) -> None:
        """Apply changes of side tables, in order."""
        rows.change(self._connection, changes)

    def taken(self, table: str, row_id: str) -> bytes | None:
        """Remove one row of a side table and return its value, None if it is not there."""
        found = rows.side_row(self._connection, table, row_id)
        rows.change(self._connection, [SideWrite(table, row_id, None)])
        return found

    def commit(self) -> None:
        """Commit; returns when the bytes are on the disk."""
        self._connection.execute("COMMIT")

    def rollback(self) -> None:
        """Undo the transaction, unless SQLite already has."""
        with suppress(sqlite3.Error):
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
