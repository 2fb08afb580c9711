"""A book looked at without believing anything, for `verify`."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from callroom.journal.store.errors import BookMissing, Damaged
from callroom.journal.store.seal import Row
from callroom.journal.stores import rows
from callroom.journal.stores.connections import connect_reader, damage_named
from callroom.journal.stores.layout import layout_of

_MOST_FAULTS = 100
"""Faults of pages listed; a badly damaged file has no end of them."""


class _Inspected:
    """See :class:`callroom.journal.store.port.Inspected`."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self._path = path
        self._connection = connection

    def damage(self) -> Iterator[str]:
        """Return what SQLite finds wrong with its pages and indexes."""
        try:
            with damage_named(self._path):
                layout_of(self._connection, self._path)
                found = self._connection.execute(f"PRAGMA integrity_check({_MOST_FAULTS})")
                yield from (str(line) for (line,) in found if line != "ok")
        except Damaged as fault:
            yield str(fault.facts["reason"])

    def rows(self) -> Iterator[Row]:
        """Return the rows in order of `seq`."""
        with damage_named(self._path):
            yield from rows.all_rows(self._connection)


@contextmanager
def inspected(path: Path) -> Iterator[_Inspected]:
    """Open a book for `verify`, also while a server has it.

    Raises
    ------
    BookMissing
        If there is no file. Everything else is a finding.
    """
    if not path.is_file():
        raise BookMissing(path)
    with closing(connect_reader(path)) as connection:
        # Damaged text is still to be looked at: no byte of it may stop the reading.
        connection.text_factory = _text
        yield _Inspected(path, connection)


def _text(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")
