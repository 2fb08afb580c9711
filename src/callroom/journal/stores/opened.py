"""What every open book does alike, whichever database holds it."""

from abc import ABC, abstractmethod
from collections.abc import Collection, Generator, Iterator, Mapping, Sequence
from concurrent.futures import Future
from typing import Any, Generic, TypeVar

from callroom.journal.entries import Entry
from callroom.journal.store.errors import BookIsReadOnly, StoreClosed
from callroom.journal.store.replay import Reading, Replayed, replay
from callroom.journal.store.request import Receipt, Request
from callroom.journal.store.seal import Row, Seal
from callroom.journal.store.side import BACKUPS, Erasure, Side, SideTable, SideWrite
from callroom.journal.store.writer import Writer
from callroom.journal.stores import dump
from callroom.journal.stores.erasing import belonging_to, everything_personal
from callroom.journal.stores.tables import Reads
from callroom.model.errors import CallroomError

StateT = TypeVar("StateT")
Value = TypeVar("Value")


class OpenedStore(ABC, Generic[StateT]):
    """See :class:`callroom.journal.store.port.Store`.

    Parameters
    ----------
    reads
        Connections to read with.
    reading
        How its rows become State.
    opened
        The State the book was opened with, and why nothing can be written, if so.
    writer
        The writer; None: read only.
    """

    def __init__(
        self,
        *,
        reads: Reads,
        reading: Reading[StateT],
        opened: Replayed[StateT],
        writer: Writer[StateT] | None,
    ) -> None:
        self._reads = reads
        self._reading = reading
        self._opened = opened
        self._writer = writer
        self._closed = False

    @property
    def state(self) -> StateT:
        """The State of the last published batch."""
        return self._opened.head.state if self._writer is None else self._writer.state

    @property
    def read_only(self) -> CallroomError | None:
        """Why nothing can be written, or None."""
        return self._opened.stopped if self._writer is None else self._writer.read_only

    def submit(self, request: Request[StateT]) -> Future[Receipt]:
        """Have a request decided and stored."""
        if self._writer is None:
            return _refused(self._no_writing())
        return self._writer.submit(request)

    def write(self, *changes: SideWrite) -> Future[None]:
        """Store changes of side tables in one transaction."""
        if self._writer is None:
            return _refused(self._no_writing())
        return self._writer.write(*changes)

    def take(self, table: str, row_id: str) -> Future[bytes | None]:
        """Remove one row of a side table and return its value, for one taker only."""
        writer = self._writer
        if writer is None:
            return _refused(self._no_writing())
        return writer.take(table, row_id)

    def entries(self, after: int = 0, upto: int | None = None) -> Iterator[Entry]:
        """Return stored entries with ``after < seq <= upto``, in order."""
        for row in self._rows(after, upto):
            yield row.entry

    def _rows(self, after: int = 0, upto: int | None = None) -> Iterator[Row]:
        while True:
            with self._reads.one() as tables:
                page = tables.page(after, upto)
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
        with self._reads.one() as tables:
            return tables.seal_at(seq)

    def side(self, table: SideTable[Value]) -> Side[Value]:
        """Return a side table."""
        return Side(self, table)

    def side_row(self, table: str, row_id: str) -> bytes | None:
        """Return one value of a side table, or None."""
        with self._reads.one() as tables:
            return tables.side_row(table, row_id)

    def side_rows(self, table: str, prefix: str) -> Mapping[str, bytes]:
        """Return the values whose ids begin with `prefix`, in order of id."""
        with self._reads.one() as tables:
            return tables.side_rows(table, prefix)

    def erase(self, person: str) -> Erasure:
        """Remove a person, whatever belongs to them, and the bytes it occupied."""
        with self._reads.one() as tables:
            removals = belonging_to(tables, person)
        return self._remove(removals)

    def erase_everyone(self, keep: Collection[str] = ()) -> Erasure:
        """Remove all people but those to `keep`, everything personal, and the bytes of it."""
        with self._reads.one() as tables:
            removals = everything_personal(tables, keep)
        return self._remove(removals)

    def _remove(self, removals: Sequence[SideWrite]) -> Erasure:
        if self._writer is None:
            raise self._no_writing()
        self.write(*removals).result()
        complete = self._writer.alone(self._scrub).result()
        kept = [path for path, made in self.side(BACKUPS).all().items() if not made.share]
        return Erasure(rows=len(removals), complete=complete, backups=tuple(kept))

    @abstractmethod
    def _scrub(self) -> bool:
        """Drop the bytes of what was deleted, in the writer's thread; whether that went through."""

    def dump(self, *, share: bool = False) -> Generator[tuple[str, dict[str, Any]], None, None]:
        """Return every row of the book as plain values, all from one moment."""
        with self._reads.one() as tables:
            yield from dump.dumped(tables, share=share)

    def _no_writing(self) -> CallroomError:
        stopped = self._opened.stopped
        return StoreClosed() if self._closed or stopped is None else BookIsReadOnly(stopped)


def _refused(refusal: CallroomError) -> Future[Any]:
    future: Future[Any] = Future()
    future.set_exception(refusal)
    return future
