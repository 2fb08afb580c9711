"""Books on disk for tests: made, opened, filled, killed."""

import os
from collections.abc import Callable, Sequence
from pathlib import Path

from callroom.journal import Entry, verify
from callroom.journal.stores import SqliteStore, create_book, inspected, open_book
from callroom.model import Finding
from tests.journal.counting import READING, START_MS, Tally

WAIT_S = 30

OnPublished = Callable[[Tally, Sequence[Entry]], None]


def opened(
    path: Path, *, on_published: OnPublished | None = None, writing: bool = True
) -> SqliteStore[Tally]:
    """Open a book of the tests' own domain; make it first if it is not there."""
    if not path.exists():
        create_book(path)
    return open_book(
        path, READING, clock=lambda: START_MS, on_published=on_published, writing=writing
    )


def verified(path: Path, printed_seal: tuple[int, str] | None = None) -> list[Finding]:
    """Return what `verify` says of a book."""
    with inspected(path) as book:
        return verify(book, READING, printed_seal=printed_seal)


def bytes_beside(path: Path) -> bytes:
    """Return every byte of the book and of whatever lies beside it under its name."""
    found = [other for other in path.parent.iterdir() if path.name in other.name]
    assert path in found
    return b"".join(other.read_bytes() for other in sorted(found))


def mode_of(path: Path) -> int:
    """Return the permission bits of a file."""
    return os.stat(path).st_mode & 0o777  # noqa: PTH116
