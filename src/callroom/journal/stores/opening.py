"""Making a book, and opening one: with its lock, brought up to date, folded."""

import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path
from typing import Generic, TypeVar

from callroom.journal.store.errors import (
    AskedReadOnly,
    BookMissing,
    NewerBook,
    NotWritten,
    OlderBook,
)
from callroom.journal.store.port import OnPublished
from callroom.journal.store.replay import Reading, Replayed, replay
from callroom.journal.store.side import BACKUPS
from callroom.journal.store.writer import Writer
from callroom.journal.stores import rows
from callroom.journal.stores.connections import (
    connect_new,
    connect_reader,
    connect_writer,
    damage_named,
)
from callroom.journal.stores.copying import copy_before_migration
from callroom.journal.stores.durable import whole_file
from callroom.journal.stores.folders import refuse_unsafe_folder
from callroom.journal.stores.layout import layout_of, migrate
from callroom.journal.stores.lease import Hold
from callroom.journal.stores.ledger import SqliteLedger
from callroom.journal.stores.schema import STEPS, Step
from callroom.journal.stores.sqlite import SqliteStore
from callroom.journal.stores.writing import Writing
from callroom.model.errors import CallroomError

StateT = TypeVar("StateT")


def create_book(path: Path) -> None:
    """Make an empty book.

    Raises
    ------
    FileInTheWay, UnsafeFolder, NotWritten
        If there is a file already, or the place is not fit for a book.
    """
    refuse_unsafe_folder(path)
    try:
        with whole_file(path) as part, closing(connect_new(part)) as connection:
            migrate(connection)
    except (OSError, sqlite3.Error) as fault:
        raise NotWritten(path, str(fault)) from fault


def open_book(
    path: Path,
    reading: Reading[StateT],
    *,
    clock: Callable[[], int],
    on_published: OnPublished[StateT] | None = None,
    writing: bool = True,
) -> SqliteStore[StateT]:
    """Open a book and fold it.

    A book made by a newer version, or with an entry this version cannot read, is opened
    for reading only; ``read_only`` then says why.

    Parameters
    ----------
    path
        The book.
    reading
        How its rows become State.
    clock
        The time now [ms since 1970, UTC].
    on_published
        Called once per batch that changed something.
    writing
        False: only look; needs no lock, so it works while a server has the book.

    Raises
    ------
    BookMissing, NotABook, Damaged, UnsafeFolder, OlderBook
        If it cannot be opened at all.
    BookInUse
        If another process holds it.
    """
    refuse_unsafe_folder(path)
    if not path.is_file():
        raise BookMissing(path)
    opening = _Opening(path.resolve(), reading, clock, STEPS)
    if not writing:
        return opening.to_read(AskedReadOnly(path))
    hold = Hold(path)
    try:
        store = opening.to_write(hold, on_published)
    except BaseException:
        hold.release()
        raise
    if store.read_only is not None:
        hold.release()
    return store


class _Opening(Generic[StateT]):
    """What opening a book needs to know."""

    def __init__(
        self,
        path: Path,
        reading: Reading[StateT],
        clock: Callable[[], int],
        steps: Sequence[Step],
    ) -> None:
        self._path = path
        self._reading = reading
        self._clock = clock
        self._steps = steps

    def to_read(self, cause: CallroomError | None = None) -> SqliteStore[StateT]:
        """Open for reading only, because of `cause` or of what is found in the book."""
        with damage_named(self._path), closing(connect_reader(self._path)) as connection:
            found = layout_of(connection, self._path)
            if found < len(self._steps):
                raise OlderBook(self._path, found, len(self._steps))
            newer = NewerBook(self._path, found, len(self._steps))
            try:
                opened = self._folded(connection)
            except sqlite3.OperationalError as fault:
                # A newer layout may have other columns, and then there is nothing to show.
                if found > len(self._steps):
                    raise newer from fault
                raise
        if found > len(self._steps):
            cause = newer
        return self._store(Replayed(opened.head, cause or opened.stopped), None)

    def to_write(self, hold: Hold, on_published: OnPublished[StateT] | None) -> SqliteStore[StateT]:
        """Open for writing if this version can; else for reading only."""
        with damage_named(self._path):
            with closing(connect_reader(self._path)) as connection:
                found = layout_of(connection, self._path)
            if found > len(self._steps):
                return self.to_read()
            connection = connect_writer(self._path)
            try:
                self._bring_up_to_date(connection, found)
                opened = self._folded(connection)
            except BaseException:
                connection.close()
                raise
        if opened.stopped is not None:
            connection.close()
            return self._store(opened, None)
        writer = Writer(
            ledger=SqliteLedger(connection),
            reading=self._reading,
            head=opened.head,
            clock=self._clock,
            on_published=on_published,
        )
        return self._store(opened, Writing(hold, connection, writer))

    def _bring_up_to_date(self, connection: sqlite3.Connection, found: int) -> None:
        if found == len(self._steps):
            return
        kept, made = copy_before_migration(self._path, found, at_ms=self._clock())
        migrate(connection, found, self._steps)
        rows.change(connection, [BACKUPS.put(str(kept), made)])

    def _folded(self, connection: sqlite3.Connection) -> Replayed[StateT]:
        return replay(self._reading, self._reading.start, rows.all_rows(connection))

    def _store(
        self, opened: Replayed[StateT], writing: Writing[StateT] | None
    ) -> SqliteStore[StateT]:
        return SqliteStore(
            path=self._path,
            reading=self._reading,
            clock=self._clock,
            opened=opened,
            writing=writing,
        )
