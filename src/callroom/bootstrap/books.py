"""Making and opening books: here, and only here, a store is chosen."""

import importlib
from collections.abc import Iterable, Mapping
from pathlib import Path
from types import ModuleType
from typing import Any

from callroom.actions.checks import check_book
from callroom.actions.request import propose
from callroom.bootstrap.clocks import Clock, WallClock
from callroom.bootstrap.codec import CODEC
from callroom.bootstrap.open_book import OpenBook, Watchers
from callroom.bootstrap.places import Place, file_of
from callroom.bootstrap.remote import RemoteBook
from callroom.journal import verify
from callroom.journal.fold import EventFolder
from callroom.journal.store import BackupMade, BookInUse, Reading
from callroom.journal.store.errors import NoDriver
from callroom.journal.store.side import BACKUPS
from callroom.journal.stores import create_book, inspected, lease_of, load_book
from callroom.journal.stores import open_book as open_sqlite
from callroom.journal.stores.database import Database
from callroom.model import Actor, Finding, State, errors_among

READING = Reading(codec=CODEC, folder=EventFolder(), empty=State())

AT_THE_KEYBOARD = Actor(role="director", device="command-line", name="director (command line)")
"""Whoever can run commands on the machine that holds the book is its director."""


def new_book(place: Place) -> None:
    """Make an empty book at `place`; JournalError if it cannot be made there."""
    if isinstance(place, Database):
        _postgres().create_database(place)
        return
    place.parent.mkdir(parents=True, exist_ok=True)
    create_book(place)


def new_from_dump(place: Place, dump: Iterable[tuple[str, Mapping[str, Any]]]) -> None:
    """Make a book from the rows of a dump; BadInput with every fault, and then no book."""
    if isinstance(place, Database):
        _postgres().load_database(place, dump, READING)
    else:
        load_book(place, dump, READING)


def open_book(place: Place, *, clock: Clock | None = None, writing: bool = True) -> OpenBook:
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
    if isinstance(place, Database):
        shared = _postgres().open_database(
            place, READING, clock=clock.now_ms, on_published=watchers.tell, writing=writing
        )
        book = OpenBook(shared, place, clock, watchers, _unannounced)
    else:
        store = open_sqlite(
            place, READING, clock=clock.now_ms, on_published=watchers.tell, writing=writing
        )
        book = OpenBook(store, place, clock, watchers, store.announce)
    if writing:
        book.personal.finish()
    return book


def book_for_commands(place: Place) -> OpenBook | RemoteBook:
    """Open a book for writing, or reach it through the server that has its file.

    Raises
    ------
    JournalError
        If it cannot be opened, or another command has it just now.
    """
    try:
        return open_book(place)
    except BookInUse:
        path = file_of(place)
        lease = lease_of(path)
        if lease is None:
            raise
        return RemoteBook(open_book(path, writing=False), path, lease)


def back_up(place: Place, dest: Path, *, share: bool = False, force: bool = False) -> BackupMade:
    """Write a consistent copy of a book to `dest`, also while a server has the book.

    The book remembers where its copies went, for whoever erases a person later.

    Raises
    ------
    JournalError
        If there is no book, or a file is in the way and `force` is not given.
    """
    book = book_for_commands(place)
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


def verify_book(place: Place, printed_seal: tuple[int, str] | None = None) -> list[Finding]:
    """Return everything that is wrong with a book; nothing if it is sound.

    Parameters
    ----------
    printed_seal
        The entry number and the seal on a printed result sheet: only against such a one
        can it be said that a book was tampered with.
    """
    looking = (
        _postgres().inspected_database(place) if isinstance(place, Database) else inspected(place)
    )
    with looking as book:
        return verify(book, READING, printed_seal=printed_seal, check_state=faults_of)


def _unannounced(_port: int, _token: str) -> None:
    """Say nothing beside a book in a database: commands write to it by themselves."""


def _postgres() -> ModuleType:
    """Return what knows PostgreSQL; NoDriver if its driver is not installed."""
    try:
        return importlib.import_module("callroom.journal.stores.postgres")
    except ModuleNotFoundError as fault:
        if (fault.name or "").partition(".")[0] != "psycopg":
            raise
        raise NoDriver from fault


def faults_of(state: State) -> tuple[Finding, ...]:
    """Return what a State must never be; an empty book is sound."""
    return errors_among(check_book(state)) if state.event is not None else ()
