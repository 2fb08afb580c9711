"""Everything needed to write to one book, taken and let go of together."""

import sqlite3
from typing import Generic, TypeVar

from callroom.journal.store.writer import Writer
from callroom.journal.stores.lease import Hold

StateT = TypeVar("StateT")


class Writing(Generic[StateT]):
    """The lock, the one connection that writes, and the writer whose thread uses it."""

    def __init__(self, hold: Hold, connection: sqlite3.Connection, writer: Writer[StateT]) -> None:
        self.hold = hold
        self.connection = connection
        self.writer = writer

    def close(self) -> None:
        """Finish what is queued, put everything into the one file, let go of the lock."""
        self.writer.close()
        self.connection.close()
        self.hold.release()
