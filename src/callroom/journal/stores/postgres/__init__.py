"""Books in PostgreSQL, one schema each, written to by as many processes as are wanted.

Decides: how a book is laid out there, how writers take turns, how each hears of the others.
Never does: anything a book in a file does not do too; who may see what stays with the caller.
May import: ``journal.store``, what both kinds of books share in ``journal.stores``, psycopg.
Only this package imports psycopg, which is installed with ``callroom[postgres]``.
"""

from callroom.journal.stores.postgres.inspecting import inspected_database
from callroom.journal.stores.postgres.opening import create_database, load_database, open_database
from callroom.journal.stores.postgres.store import PostgresStore

__all__ = [
    "PostgresStore",
    "create_database",
    "inspected_database",
    "load_database",
    "open_database",
]
