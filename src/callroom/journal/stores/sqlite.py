"""An open book in SQLite."""

from collections.abc import Callable, Collection, Generator, Iterator, Mapping, Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import Any, Generic, TypeVar

from callroom.journal.entries import Entry
from callroom.journal.store.errors import BookIsReadOnly, StoreClosed
from callroom.journal.store.replay import Reading, Replayed, replay
from callroom.journal.store.request import Receipt, Request
from callroom.journal.store.seal import Row, Seal
from callroom.journal.store.side import BACKUPS, BackupMade, Erasure, Side, SideTable, SideWrite
from callroom.journal.stores import dump, rows
from callroom.journal.stores.connections import Readers
from callroom.journal.stores.copying import copy_book
from callroom.journal.stores.erasing import belonging_to, everything_personal, scrub
from callroom.journal.stores.lease import Lease
from callroom.journal.stores.writing import Writing
from callroom.model.errors import CallroomError

StateT = TypeVar("StateT")
Value = TypeVar("Value")


class SqliteStore(Generic[StateT]):
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
        self.path = path
        self._reading = reading
        self._clock = clock
        self._opened = opened
        self._writing = writing
        self._readers = Readers(path)
        self._closed = False

    @property
    def state(self) -> StateT:
        """The State of the last published batch."""
        return self._opened.head.state if self._writing is None else self._writing.writer.state

    @property
    def read_only(self) -> CallroomError | None:
        """Why nothing can be written, or None."""
        return self._opened.stopped if self._writing is None else self._writing.writer.read_only

    def submit(self, request: Request[StateT]) -> Future[Receipt]:
        """Have a request decided and stored."""
        if self._writing is None:
            return _refused(self._no_writing())
        return self._writing.writer.submit(request)

    def write(self, *changes: SideWrite) -> Future[None]:
        """Store changes of side tables in one transaction."""
        if self._writing is None:
            return _refused(self._no_writing())
        return self._writing.writer.write(*changes)

    def entries(self, after: int = 0, upto: int | None = None) -> Iterator[Entry]:
        """Return stored entries with ``after < seq <= upto``, in order."""
        for row in self._rows(after, upto):
            yield row.entry

    def _rows(self, after: int = 0, upto: int | None = None) -> Iterator[Row]:
        while True:
            with self._readers.one() as connection:
                page = rows.page(connection, after, upto)
            if not page:
                return
            yield from page
            after = page[-1].entry.seq

    def state_at(self, seq: int) -> StateT:
        """Return the State as it stood after entry `seq`.

        Raises
        ------
        Undecodable, Unfoldable
            If an entry on the way there cannot be read.
        """
        replayed = replay(self._reading, self._reading.start, self._rows(upto=seq))
        if replayed.stopped is not None:
            raise replayed.stopped
        return replayed.head.state

    def seal_at(self, seq: int) -> Seal | None:
        """Return the seal that covers entry `seq`, None if there is no such entry yet."""
        with self._readers.one() as connection:
            found = connection.execute(
                "SELECT seq, seal FROM journal WHERE seq >= ? AND seal IS NOT NULL "
                "ORDER BY seq LIMIT 1",
                (seq,),
            ).fetchone()
        return None if found is None else Seal(*found)

    def side(self, table: SideTable[Value]) -> Side[Value]:
        """Return a side table."""
        return Side(self, table)

    def side_row(self, table: str, row_id: str) -> bytes | None:
        """Return one value of a side table, or None."""
        with self._readers.one() as connection:
            return rows.side_row(connection, table, row_id)

    def side_rows(self, table: str, prefix: str) -> Mapping[str, bytes]:
        """Return the values whose ids begin with `prefix`, in order of id."""
        with self._readers.one() as connection:
            return rows.side_rows(connection, table, prefix)

    def erase(self, person: str) -> Erasure:
        """Remove a person, whatever belongs to them, and the bytes it occupied."""
        with self._readers.one() as connection:
            removals = belonging_to(connection, person)
        return self._remove(removals)

    def erase_everyone(self, keep: Collection[str] = ()) -> Erasure:
        """Remove all people but those to `keep`, everything personal, and the bytes of it."""
        with self._readers.one() as connection:
            removals = everything_personal(connection, keep)
        return self._remove(removals)

    def _remove(self, removals: Sequence[SideWrite]) -> Erasure:
        if self._writing is None:
            raise self._no_writing()
        self.write(*removals).result()
        writing = self._writing
        complete = writing.writer.alone(lambda: scrub(writing.connection)).result()
        kept = [path for path, made in self.side(BACKUPS).all().items() if not made.share]
        return Erasure(rows=len(removals), complete=complete, backups=tuple(kept))

    def backup(self, dest: Path, *, share: bool = False, force: bool = False) -> BackupMade:
        """Write a consistent copy to `dest` while the book is in use, and remember it."""
        made = copy_book(self.path, dest, at_ms=self._clock(), share=share, force=force)
        if self._writing is not None:
            self.side(BACKUPS).put(str(dest.absolute()), made)
        return made

    def dump(self, *, share: bool = False) -> Generator[tuple[str, dict[str, Any]], None, None]:
        """Return every row of the book as plain values, all from one moment."""
        with self._readers.one() as connection:
            yield from dump.dumped(connection, share=share)

    def announce(self, port: int, token: str) -> Lease:
        """Say beside the book where its server answers, for the owner's other commands."""
        if self._writing is None:
            raise self._no_writing()
        return self._writing.hold.announce(port, token)

    def close(self) -> None:
        """Store what was submitted, then let go of the book."""
        self._closed = True
        self._readers.close()
        if self._writing is not None:
            self._writing.close()

    def _no_writing(self) -> CallroomError:
        stopped = self._opened.stopped
        return StoreClosed() if self._closed or stopped is None else BookIsReadOnly(stopped)


def _refused(refusal: CallroomError) -> Future[Any]:
    future: Future[Any] = Future()
    future.set_exception(refusal)
    return future
