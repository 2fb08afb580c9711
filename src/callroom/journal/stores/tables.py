"""The tables of a book as they are read, whichever database holds them."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from typing import Protocol

from callroom.journal.store.seal import Row, Seal


class Tables(Protocol):
    """A book's tables, as one connection sees them."""

    def page(self, after: int, upto: int | None = None) -> Sequence[Row]:
        """Return the next journal rows with ``after < seq <= upto``; none at the end."""

    def all_rows(self, after: int = 0) -> Iterator[Row]:
        """Return all journal rows with a greater `seq`, in order."""

    def seal_at(self, seq: int) -> Seal | None:
        """Return the seal that covers entry `seq`, None if there is no such entry yet."""

    def side_row(self, table: str, row_id: str) -> bytes | None:
        """Return one value of a side table, or None."""

    def side_rows(self, table: str, prefix: str) -> Mapping[str, bytes]:
        """Return the values whose ids begin with `prefix`, in order of id."""


class Reads(Protocol):
    """Read-only connections to one book, lent out one at a time."""

    def one(self) -> AbstractContextManager[Tables]:
        """Lend one; what is read inside is from one moment."""

    def close(self) -> None:
        """Close the idle connections; those lent out are closed when they come back."""
