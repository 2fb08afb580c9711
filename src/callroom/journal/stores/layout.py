"""Which layout a file has, and bringing it up to date."""

import sqlite3
from collections.abc import Sequence
from pathlib import Path

from callroom.journal.store.errors import NotABook
from callroom.journal.stores.schema import APPLICATION_ID, STEPS, Step


def layout_of(connection: sqlite3.Connection, path: Path) -> int:
    """Return the layout of a book, from 1.

    Raises
    ------
    NotABook
        If the file is something else.
    """
    mark = connection.execute("PRAGMA application_id").fetchone()[0]
    found = int(connection.execute("PRAGMA user_version").fetchone()[0])
    if mark != APPLICATION_ID or found < 1:
        raise NotABook(path)
    return found


def migrate(connection: sqlite3.Connection, found: int = 0, steps: Sequence[Step] = STEPS) -> None:
    """Lead a book from layout `found` to the present one, in one transaction."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        for step in steps[found:]:
            for statement in step:
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {len(steps)}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
