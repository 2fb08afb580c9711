"""A book in PostgreSQL looked at without believing anything, for `verify`."""

from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager

from callroom.journal.store.errors import BookMissing
from callroom.journal.store.seal import Row
from callroom.journal.stores.database import Database
from callroom.journal.stores.postgres import schema
from callroom.journal.stores.postgres.connections import PostgresReads
from callroom.journal.stores.postgres.rows import PostgresTables


class _Inspected:
    """See :class:`callroom.journal.store.port.Inspected`."""

    def __init__(self, tables: PostgresTables) -> None:
        self._tables = tables

    def damage(self) -> Iterable[str]:
        """Return nothing: the server checks its own pages."""
        return ()

    def rows(self) -> Iterator[Row]:
        """Return the rows in order of `seq`."""
        return self._tables.all_rows()


@contextmanager
def inspected_database(database: Database) -> Iterator[_Inspected]:
    """Open a book for `verify`, also while servers have it; all that is read is one moment.

    Raises
    ------
    BookMissing, NotABook, DatabaseFault
        If there is nothing to look at.
    """
    with closing(PostgresReads(database)) as reads, reads.one() as tables:
        if not schema.exists(tables.connection, database):
            raise BookMissing(str(database))
        schema.layout_of(tables.connection, database)
        yield _Inspected(tables)
