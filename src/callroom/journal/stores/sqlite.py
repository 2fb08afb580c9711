"""An open book in SQLite."""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from callroom.journal.store.replay import Reading, Replayed
from callroom.journal.store.side import BACKUPS, BackupMade
from callroom.journal.stores.connections import Readers
from callroom.journal.stores.copying import copy_book
from callroom.journal.stores.erasing import scrub
from callroom.journal.stores.lease import Lease
from callroom.journal.stores.opened import OpenedStore
from callroom.journal.stores.writing import Writing

StateT = TypeVar("StateT")


class SqliteStore(OpenedStore[StateT]):
    """See :class:`callroom.journal.store.port.Store`; made by ``open_book``.

    Parameters
    ----------
    path
        The book's file.
    reading
        How its rows become State.
    clock
        The time now [ms since 1970, UTC].
    opened
        The State the book was opened with, and why nothing can be written, if so.
    writing
        The writer with its connection and lock; None: read only.
    """

    def __init__(
        self,
        *,
        path: Path,
        reading: Reading[StateT],
        clock: Callable[[], int],
        opened: Replayed[StateT],
        writing: Writing[StateT] | None,
    ) -> None:
        super().__init__(
            reads=Readers(path),
            reading=reading,
            opened=opened,
            writer=None if writing is None else writing.writer,
        )
        self.path = path
        self._clock = clock
        self._writing = writing

    def _scrub(self) -> bool:
        if self._writing is None:
            raise self._no_writing()
        return scrub(self._writing.connection)

    def backup(self, dest: Path, *, share: bool = False, force: bool = False) -> BackupMade:
        """Write a consistent copy to `dest` while the book is in use, and remember it."""
        made = copy_book(self.path, dest, at_ms=self._clock(), share=share, force=force)
        if self._writing is not None:
            self.side(BACKUPS).put(str(dest.absolute()), made)
        return made

    def announce(self, port: int, token: str) -> Lease:
        """Say beside the book where its server answers, for the owner's other commands."""
        if self._writing is None:
            raise self._no_writing()
        return self._writing.hold.announce(port, token)

    def close(self) -> None:
        """Store what was submitted, then let go of the book."""
        self._closed = True
        self._reads.close()
        if self._writing is not None:
            self._writing.close()
