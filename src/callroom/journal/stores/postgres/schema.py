"""The tables of a book in PostgreSQL, as steps from each layout to the next."""

from collections.abc import Sequence

from psycopg import sql

from callroom.journal.store.errors import NewerBook, NotABook
from callroom.journal.store.side import SIDE_TABLES
from callroom.journal.stores.database import Database
from callroom.journal.stores.postgres.connections import Connection

Step = Sequence[str]
"""Statements that lead from one layout to the next."""

# Ids sort and compare by their bytes, as in a file, whatever the server's own language is.
_JOURNAL = """
CREATE TABLE journal (
    seq             bigint PRIMARY KEY,
    at_ms           bigint NOT NULL,
    actor           text NOT NULL,
    device          text COLLATE "C" NOT NULL,
    key             text COLLATE "C" NOT NULL,
    part            integer NOT NULL CHECK (part >= 0),
    kind            text NOT NULL,
    version         integer NOT NULL CHECK (version >= 1),
    data            text NOT NULL,
    seen_at_ms      bigint,
    clock_error_ms  bigint,
    request         bytea,   -- SHA-256 of the request, with its first entry
    seal            bytea,   -- with the last entry of a transaction
    UNIQUE (device, key, part)
)
"""

_APPEND_ONLY = (
    """
    CREATE FUNCTION journal_stays() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION 'the journal is only ever appended to'; END $$
    """,
    """
    CREATE TRIGGER journal_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON journal
    FOR EACH STATEMENT EXECUTE FUNCTION journal_stays()
    """,
)

_SIDE = tuple(
    f'CREATE TABLE {table} (id text COLLATE "C" PRIMARY KEY, value bytea NOT NULL)'
    for table in SIDE_TABLES
)

STEPS: tuple[Step, ...] = ((_JOURNAL, *_APPEND_ONLY, *_SIDE),)
"""Step n leads from layout n to n + 1; a new book takes them all, from layout 0."""

LAYOUT = "layout"
"""The table that says which layout a book has; a schema without it is something else."""


def exists(connection: Connection, database: Database) -> bool:
    """Whether there is a schema of the book's name."""
    found = connection.execute(
        "SELECT 1 FROM pg_namespace WHERE nspname = %s", (database.book,)
    ).fetchone()
    return found is not None


def layout_of(connection: Connection, database: Database) -> int:
    """Return the layout of a book, from 1.

    Raises
    ------
    NotABook
        If the schema is something else.
    """
    known = connection.execute("SELECT to_regclass(%s)", (f'"{database.book}".{LAYOUT}',))
    if (known.fetchone() or (None,))[0] is None:
        raise NotABook(str(database))
    found = connection.execute(f"SELECT version FROM {LAYOUT}").fetchone()  # noqa: S608
    if found is None:
        raise NotABook(str(database))
    return int(found[0])


def make(connection: Connection, database: Database) -> None:
    """Make the schema of an empty book, inside a transaction that is open."""
    connection.execute(sql.SQL("CREATE SCHEMA {}").format(sql.Identifier(database.book)))
    for step in STEPS:
        for statement in step:
            connection.execute(statement.encode())
    connection.execute(f"CREATE TABLE {LAYOUT} (version integer NOT NULL)".encode())
    connection.execute(f"INSERT INTO {LAYOUT} VALUES (%s)".encode(), (len(STEPS),))  # noqa: S608


def bring_up_to_date(connection: Connection, database: Database) -> None:
    """Lead a book to the present layout, in one transaction that others wait for.

    Raises
    ------
    NewerBook
        If a newer version of Callroom made it.
    """
    with connection.transaction():
        connection.execute(f"LOCK TABLE {LAYOUT} IN EXCLUSIVE MODE".encode())
        found = layout_of(connection, database)
        if found > len(STEPS):
            raise NewerBook(str(database), found, len(STEPS))
        for step in STEPS[found:]:
            for statement in step:
                connection.execute(statement.encode())
        connection.execute(f"UPDATE {LAYOUT} SET version = %s".encode(), (len(STEPS),))  # noqa: S608
