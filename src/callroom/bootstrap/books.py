"""Making and opening books: here, and only here, a store is chosen."""

from pathlib import Path

from callroom.actions.checks import check_book
from callroom.actions.request import propose
from callroom.bootstrap.clocks import Clock, WallClock
from callroom.bootstrap.codec import CODEC
from callroom.bootstrap.open_book import OpenBook, Watchers
from callroom.bootstrap.remote import RemoteBook
from callroom.journal import verify
from callroom.journal.fold import EventFolder
from callroom.journal.store import BackupMade, BookInUse, Reading
from callroom.journal.store.side import BACKUPS
from callroom.journal.stores import create_book, inspected, lease_of
from callroom.journal.stores import open_book as open_sqlite
from callroom.model import Actor, Finding, State, errors_among

READING = Reading(codec=CODEC, folder=EventFolder(), empty=State())

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
    book = OpenBook(store, path, clock, watchers, store.announce)
    if writing:
        book.personal.finish()
    return book


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


def back_up(path: Path, dest: Path, *, share: bool = False, force: bool = False) -> BackupMade:
    """Write a consistent copy of a book to `dest`, also while a server has the book.

    The book remembers where its copies went, for whoever erases a person later.

    Raises
    ------
    JournalError
        If there is no book, or a file is in the way and `force` is not given.
    """
    book = book_for_commands(path)
    try:
        if isinstance(book, OpenBook):
            return book.store.backup(dest, share=share, force=force)
        made = book.view.store.backup(dest, share=share, force=force)
        remembered = BACKUPS.put(str(dest.absolute()), made)
        key = f"backup-{made.at_ms}"
        book.ask_now(AT_THE_KEYBOARD, propose(), key=key, beside=(remembered,))
        return made
    finally:
        book.close()


def verify_book(path: Path, printed_seal: tuple[int, str] | None = None) -> list[Finding]:
    """Return everything that is wrong with a book; nothing if it is sound.

    Parameters
    ----------
    printed_seal
        The entry number and the seal on a printed result sheet: only against such a one
        can it be said that a book was tampered with.
    """
    with inspected(path) as book:
        return verify(book, READING, printed_seal=printed_seal, check_state=faults_of)


def faults_of(state: State) -> tuple[Finding, ...]:
    """Return what a State must never be; an empty book is sound."""
    return errors_among(check_book(state)) if state.event is not None else ()
