"""Making a book in PostgreSQL, and opening one: brought up to date and folded."""

from collections.abc import Callable, Iterable, Mapping
from contextlib import closing
from typing import Any, TypeVar

from callroom.journal.store.errors import AskedReadOnly, BookMissing, FileInTheWay, NewerBook
from callroom.journal.store.port import OnPublished
from callroom.journal.store.replay import Reading, Replayed, replay
from callroom.journal.store.writer import Writer
from callroom.journal.stores.database import Database
from callroom.journal.stores.dump import read_whole
from callroom.journal.stores.postgres import rows, schema
from callroom.journal.stores.postgres.connections import PostgresReads, connect, fault_named
from callroom.journal.stores.postgres.ledger import PostgresLedger
from callroom.journal.stores.postgres.store import PostgresStore

StateT = TypeVar("StateT")


def create_database(database: Database) -> None:
    """Make an empty book.

    Raises
    ------
    FileInTheWay, DatabaseFault
        If there is a schema of that name already, or the server does not let us make one.
    """
    with closing(connect(database)) as connection, fault_named(database), connection.transaction():
        _refuse_existing(schema.exists(connection, database), database)
        schema.make(connection, database)


def load_database(
    database: Database,
    dump: Iterable[tuple[str, Mapping[str, Any]]],
    reading: Reading[StateT],
) -> None:
    """Make a book from a dump; it is there whole, verified, or not at all.

    Raises
    ------
    BadInput
        With every fault found, by number of row from 1.
    FileInTheWay, DatabaseFault
        As for :func:`create_database`.
    """
    content = read_whole(dump, reading)
    with closing(connect(database)) as connection, fault_named(database), connection.transaction():
        _refuse_existing(schema.exists(connection, database), database)
        schema.make(connection, database)
        rows.change(connection, content.changes)
        rows.insert(connection, content.journal)


def open_database(
    database: Database,
    reading: Reading[StateT],
    *,
    clock: Callable[[], int],
    on_published: OnPublished[StateT] | None = None,
    writing: bool = True,
) -> PostgresStore[StateT]:
    """Open a book and fold it; see :func:`callroom.journal.stores.opening.open_book`.

    No lock is taken: any number of processes may have the book open for writing.

    Raises
    ------
    BookMissing, NotABook, DatabaseFault
        If it cannot be opened at all.
    """
    with closing(connect(database)) as connection, fault_named(database):
        if not schema.exists(connection, database):
            raise BookMissing(str(database))
        found = schema.layout_of(connection, database)
        newer = found > len(schema.STEPS)
        if writing and not newer:
            schema.bring_up_to_date(connection, database)
    with closing(PostgresReads(database)) as reads, reads.one() as tables:
        opened = replay(reading, reading.start, tables.all_rows())
    cause: NewerBook | AskedReadOnly | None = None
    if newer:
        cause = NewerBook(str(database), found, len(schema.STEPS))
    if not writing:
        cause = cause or AskedReadOnly(str(database))
    opened = Replayed(opened.head, cause or opened.stopped)
    if opened.stopped is not None:
        return PostgresStore(database=database, reading=reading, clock=clock, opened=opened)
    ledger = PostgresLedger(database)
    writer = Writer(
        ledger=ledger, reading=reading, head=opened.head, clock=clock, on_published=on_published
    )
    return PostgresStore(
        database=database,
        reading=reading,
        clock=clock,
        opened=opened,
        ledger=ledger,
        writer=writer,
    )


def _refuse_existing(there: bool, database: Database) -> None:  # noqa: FBT001
    if there:
        raise FileInTheWay(str(database))
