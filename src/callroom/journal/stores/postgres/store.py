"""An open book in PostgreSQL."""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from callroom.journal.store.replay import Reading, Replayed
from callroom.journal.store.side import BACKUPS, BackupMade
from callroom.journal.store.writer import Writer
from callroom.journal.stores.database import Database
from callroom.journal.stores.dump import load_book
from callroom.journal.stores.opened import OpenedStore
from callroom.journal.stores.postgres.connections import PostgresReads
from callroom.journal.stores.postgres.ledger import PostgresLedger
from callroom.journal.stores.postgres.tail import Tail

StateT = TypeVar("StateT")


class PostgresStore(OpenedStore[StateT]):
    """See :class:`callroom.journal.store.port.Store`; made by ``open_database``.

    Parameters
    ----------
    database
        Where the book is.
    reading
        How its rows become State.
    clock
        The time now [ms since 1970, UTC].
    opened
        The State the book was opened with, and why nothing can be written, if so.
    ledger, writer
        What writes; None: read only.
    """

    def __init__(
        self,
        *,
        database: Database,
        reading: Reading[StateT],
        clock: Callable[[], int],
        opened: Replayed[StateT],
        ledger: PostgresLedger | None = None,
        writer: Writer[StateT] | None = None,
    ) -> None:
        super().__init__(
            reads=PostgresReads(database), reading=reading, opened=opened, writer=writer
        )
        self.database = database
        self._clock = clock
        self._ledger = ledger
        self._tail: Tail | None = None
        if ledger is not None and writer is not None:
            self._tail = Tail(
                database, lambda told: writer.look(told=told).result(), lambda: ledger.backend
            )

    def _scrub(self) -> bool:
        if self._ledger is None:
            raise self._no_writing()
        return self._ledger.scrub()

    def backup(self, dest: Path, *, share: bool = False, force: bool = False) -> BackupMade:
        """Write a copy to the file `dest`, from one moment, and remember it."""
        at_ms = self._clock()
        seq = load_book(dest, self.dump(share=share), self._reading, force=force)
        made = BackupMade(at_ms=at_ms, seq=seq, share=share)
        if self._writer is not None:
            self.side(BACKUPS).put(str(dest.absolute()), made)
        return made

    def close(self) -> None:
        """Store what was submitted, then let go of the book."""
        self._closed = True
        if self._tail is not None:
            self._tail.close()
        if self._writer is not None:
            self._writer.close()
        if self._ledger is not None:
            self._ledger.close()
        self._reads.close()
