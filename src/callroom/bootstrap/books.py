"""Making and opening books: here, and only here, a store is chosen."""

from pathlib import Path

from callroom.bootstrap.clocks import Clock, WallClock
from callroom.bootstrap.codec import CODEC
from callroom.bootstrap.open_book import OpenBook, Watchers
from callroom.bootstrap.remote import RemoteBook
from callroom.journal.fold import EventFolder
from callroom.journal.store import BookInUse, Reading
from callroom.journal.stores import create_book, lease_of
from callroom.journal.stores import open_book as open_sqlite
from callroom.model import Actor, State

READING = Reading(codec=Codec(KINDS), folder=EventFolder(), empty=State())

AT_THE_KEYBOARD = Actor(role="director", device="command-line", name="director (command line)")
"""Whoever can run commands on the machine that holds the book is its director."""


def new_book(path: Path) -> None:
    """Make an empty book at `path`; JournalError if it cannot be made there."""
    path.parent.mkdir(parents=True, exist_ok=True)
    create_book(path)


def open_book(path: Path, *, clock: Clock | None = None, writing: bool = True) -> OpenBook:
    """Open a book with all that the faces need.

    Parameters
    ----------
    clock
        What the time is; the machine's own clock by default.
    writing
        False: only look. That works while a server has the book.

    Raises
    ------
    JournalError
        If there is no book, or another process holds it, or it cannot be read.
    """
    clock = clock or WallClock()
    watchers = Watchers()
    store = open_sqlite(
        path,
        READING,
        clock=clock.now_ms,
        on_published=watchers.tell,
        writing=writing,
    )
    return OpenBook(store, path, clock, watchers)


def book_for_commands(path: Path) -> OpenBook | RemoteBook:
    """Open a book for writing, or reach it through the server that has it.

    Raises
    ------
    JournalError
        If it cannot be opened, or another command has it just now.
    """
    try:
        return open_book(path)
    except BookInUse:
        lease = lease_of(path)
        if lease is None:
            raise
        return RemoteBook(open_book(path, writing=False), path, lease)
