"""The requests of one transaction, decided one after another on one working State."""

from collections.abc import Callable, Iterable, Sequence
from typing import Generic, TypeVar

import msgspec

from callroom.journal.codec import Written
from callroom.journal.entries import Entry
from callroom.journal.store.errors import KeyConflict
from callroom.journal.store.replay import Head, Reading
from callroom.journal.store.request import Receipt, Request
from callroom.journal.store.seal import Row, seal_over
from callroom.journal.store.side import SideWrite

StateT = TypeVar("StateT")


class Batch(Generic[StateT]):
    """What one transaction will append.

    Parameters
    ----------
    reading
        How entries are written and folded.
    head
        What is stored and folded already.
    at_ms
        Receipt time of everything in the batch [ms since 1970, UTC].
    stored
        Looks up the rows stored under a device and key.
    """

    def __init__(
        self,
        *,
        reading: Reading[StateT],
        head: Head[StateT],
        at_ms: int,
        stored: Callable[[str, str], Sequence[Row]],
    ) -> None:
        self._folder = reading.folder
        self._codec = reading.codec
        self._head = head
        self._at_ms = at_ms
        self._stored = stored
        self._builder = reading.folder.begin(head.state)
        self._rows: list[Row] = []
        self._bodies: list[msgspec.Struct] = []
        self._by_key: dict[tuple[str, str], Sequence[Row]] = {}
        self._changes: list[SideWrite] = []

    def settle(self, request: Request[StateT]) -> Receipt:
        """Decide a request and take in all of its entries, or raise and take in none."""
        earlier = self._by_key.get(request.identity) or self._stored(request.device, request.key)
        if earlier:
            if earlier[0].request != request.digest:
                raise KeyConflict(request.device, request.key)
            return Receipt(tuple(row.entry for row in earlier), replayed=True)
        bodies = request.decide(self._builder.state)
        written = [self._codec.encode(body) for body in bodies]
        rows = [self._row(request, part, one) for part, one in enumerate(written)]
        self._take_in(rows, [one.body for one in written])
        if rows:
            self._by_key[request.identity] = rows
        self.change(request.beside)
        return Receipt(tuple(row.entry for row in rows))

    def change(self, changes: Iterable[SideWrite]) -> None:
        """Take in changes of side tables, after those taken in before."""
        self._changes.extend(changes)

    @property
    def changes(self) -> Sequence[SideWrite]:
        """The changes of side tables, in order."""
        return self._changes

    def _row(self, request: Request[StateT], part: int, written: Written) -> Row:
        is_report = self._codec.is_report(written.body)
        entry = Entry(
            seq=self._head.seq + len(self._rows) + part + 1,
            at_ms=self._at_ms,
            actor=request.actor,
            device=request.device,
            key=request.key,
            part=part,
            kind=written.kind,
            version=written.version,
            data=written.data,
            seen_at_ms=request.seen_at_ms if is_report else None,
            clock_error_ms=request.clock_error_ms if is_report else None,
        )
        return Row(entry, request.digest if part == 0 else b"")

    def _take_in(self, rows: Sequence[Row], bodies: Sequence[msgspec.Struct]) -> None:
        try:
            for row, body in zip(rows, bodies, strict=True):
                self._builder.apply(row.entry, body)
        except Exception:
            # The builder may hold half of this request: build again from what was accepted.
            self._builder = self._folder.begin(self._head.state)
            for row, body in zip(self._rows, self._bodies, strict=True):
                self._builder.apply(row.entry, body)
            raise
        self._rows.extend(rows)
        self._bodies.extend(bodies)

    def finish(self) -> tuple[Sequence[Row], Head[StateT]]:
        """Return the rows to append, the last one sealed, and the head they lead to."""
        if not self._rows:
            return (), self._head
        seal = seal_over(self._head.seal, self._rows)
        last = msgspec.structs.replace(self._rows[-1], seal=seal)
        rows = (*self._rows[:-1], last)
        return rows, Head(self._builder.freeze(), last.entry.seq, seal)
