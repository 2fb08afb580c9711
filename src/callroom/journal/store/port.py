"""The ports: what a store offers, what the writer needs of a database, how State is folded."""

from collections.abc import Callable, Collection, Generator, Iterable, Iterator, Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import Any, Protocol, TypeVar

from callroom.journal.entries import Entry
from callroom.journal.store.request import Receipt, Request
from callroom.journal.store.seal import Row, Seal
from callroom.journal.store.side import BackupMade, Erasure, Side, SideRows, SideTable, SideWrite
from callroom.model.errors import CallroomError

StateT = TypeVar("StateT")
StateT_co = TypeVar("StateT_co", covariant=True)
Value = TypeVar("Value")


class Builder(Protocol[StateT_co]):
    """One batch being folded on top of a State that stays as it is."""

    @property
    def state(self) -> StateT_co:
        """The State as it stands within the batch; valid until the next entry."""

    def apply(self, entry: Entry, body: Any, /) -> None:  # noqa: ANN401 - bodies differ by kind
        """Fold one entry with its body. Must not refuse what is well formed."""

    def freeze(self) -> StateT_co:
        """Return the State after the batch, never changed again."""


class Folder(Protocol[StateT]):
    """How entries become State."""

    def begin(self, state: StateT, /) -> Builder[StateT]:
        """Open a batch on a frozen State."""


class Ledger(Protocol):
    """One book's tables as the writer's thread sees them; nobody else writes through it.

    A database that several processes write to takes its lock in :meth:`begin`; the writer
    then reads what the others appended before it decides anything.
    """

    def begin(self) -> None:
        """Open a write transaction that no other can be inside of."""

    def rows(self, after: int) -> Iterator[Row]:
        """Return the stored rows with a greater `seq`, in order."""

    def stored(self, device: str, key: str) -> Sequence[Row]:
        """Return what was stored under a key, in order of part."""

    def append(self, rows: Sequence[Row]) -> None:
        """Insert rows."""

    def change(self, changes: Sequence[SideWrite]) -> None:
        """Apply changes of side tables, in order."""

    def taken(self, table: str, row_id: str) -> bytes | None:
        """Remove one row of a side table and return its value, None if it is not there."""

    def commit(self) -> None:
        """Make the transaction durable; it counts only when this returns."""

    def rollback(self) -> None:
        """Undo the transaction, if one is open; never raises."""


OnPublished = Callable[[StateT, Sequence[Entry]], None]
"""Called in the writer's thread once per batch that changed something, after publication;
with no entries if only side tables changed. It must return quickly."""


class Store(SideRows, Protocol[StateT]):
    """An open book."""

    @property
    def state(self) -> StateT:
        """The State of the last published batch."""

    @property
    def read_only(self) -> CallroomError | None:
        """Why nothing can be written, or None."""

    def submit(self, request: Request[StateT]) -> Future[Receipt]:
        """Have a request decided and stored.

        The future is done when the entries are on disk and the State is published. It
        fails with whatever `decide` raised, or with ``KeyConflict``, ``NotStored``,
        ``BookIsReadOnly``, ``StoreClosed``.
        """

    def entries(self, after: int = 0, upto: int | None = None) -> Iterator[Entry]:
        """Return stored entries with ``after < seq <= upto``, in order."""

    def state_at(self, seq: int) -> StateT:
        """Return the State as it stood after entry `seq`."""

    def seal_at(self, seq: int) -> Seal | None:
        """Return the seal that covers entry `seq`: that of its own transaction."""

    def side(self, table: SideTable[Value]) -> Side[Value]:
        """Return a side table: ``store.side(PEOPLE).get("p7")``."""

    def erase(self, person: str) -> Erasure:
        """Remove a person, whatever belongs to them, and the bytes it occupied."""

    def erase_everyone(self, keep: Collection[str] = ()) -> Erasure:
        """Remove all people but those to `keep`, everything personal, and the bytes of it."""

    def backup(self, dest: Path, *, share: bool = False, force: bool = False) -> BackupMade:
        """Write a consistent copy to `dest` while the book is in use."""

    def dump(self, *, share: bool = False) -> Generator[tuple[str, dict[str, Any]], None, None]:
        """Return every row of the book as plain values, all from one moment."""

    def close(self) -> None:
        """Store what was submitted, then let go of the book."""


class Inspected(Protocol):
    """A book as `verify` looks at it: nothing is believed."""

    def damage(self) -> Iterable[str]:
        """Return what the database itself finds wrong; raises ``NotABook``."""

    def rows(self) -> Iterator[Row]:
        """Return the rows in order of `seq`; raises ``Damaged`` where they end early."""
