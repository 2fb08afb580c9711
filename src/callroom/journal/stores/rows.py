"""Journal rows and side-table rows, to and from SQL."""

import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from callroom.journal.entries import Entry
from callroom.journal.store.seal import Row, Seal
from callroom.journal.store.side import SIDE_TABLES, SideWrite

_COLUMNS = (
    "seq, at_ms, actor, device, key, part, kind, version, data, "
    "seen_at_ms, clock_error_ms, request, seal"
)
# As bytes, so that text damaged on the disk can still be looked at.
_SELECT = f"SELECT {_COLUMNS.replace('data', 'CAST(data AS BLOB)')} FROM journal"  # noqa: S608
_INSERT = (
    f"INSERT INTO journal ({_COLUMNS}) "  # noqa: S608
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?, CAST(? AS TEXT), ?, ?, ?, ?)"
)

_PAGE = 500
"""Rows read at a time, so that no reader keeps an old view of the book open for long."""


def insert(connection: sqlite3.Connection, rows: Iterable[Row]) -> None:
    """Insert journal rows."""
    connection.executemany(_INSERT, map(_values, rows))


def _values(row: Row) -> tuple[Any, ...]:
    entry = row.entry
    return (
        entry.seq,
        entry.at_ms,
        entry.actor,
        entry.device,
        entry.key,
        entry.part,
        entry.kind,
        entry.version,
        entry.data,
        entry.seen_at_ms,
        entry.clock_error_ms,
        row.request or None,
        row.seal or None,
    )


def _row(values: Sequence[Any]) -> Row:
    seq, at_ms, actor, device, key, part, kind, version, data, seen, error, request, seal = values
    entry = Entry(
        seq=seq,
        at_ms=at_ms,
        actor=actor,
        device=device,
        key=key,
        part=part,
        kind=kind,
        version=version,
        data=data,
        seen_at_ms=seen,
        clock_error_ms=error,
    )
    return Row(entry, request or b"", seal or b"")


def page(connection: sqlite3.Connection, after: int, upto: int | None = None) -> Sequence[Row]:
    """Return the next rows with ``after < seq <= upto``; none at the end."""
    bound = upto if upto is not None else 2**62
    found = connection.execute(
        f"{_SELECT} WHERE seq > ? AND seq <= ? ORDER BY seq LIMIT ?", (after, bound, _PAGE)
    )
    return [_row(values) for values in found]


def all_rows(connection: sqlite3.Connection, after: int = 0) -> Iterator[Row]:
    """Return all rows with a greater `seq`, in order."""
    for values in connection.execute(f"{_SELECT} WHERE seq > ? ORDER BY seq", (after,)):
        yield _row(values)


def under_key(connection: sqlite3.Connection, device: str, key: str) -> Sequence[Row]:
    """Return the rows stored under a key, in order of part."""
    found = connection.execute(
        f"{_SELECT} WHERE device = ? AND key = ? ORDER BY part", (device, key)
    )
    return [_row(values) for values in found]


def last_seq(connection: sqlite3.Connection) -> int:
    """Return the greatest `seq`, 0 if there is none."""
    return int(connection.execute("SELECT coalesce(max(seq), 0) FROM journal").fetchone()[0])


def change(connection: sqlite3.Connection, changes: Iterable[SideWrite]) -> None:
    """Apply changes of side tables, in order."""
    for one in changes:
        table = known_table(one.table)
        if one.value is None:
            connection.execute(f"DELETE FROM {table} WHERE id = ?", (one.id,))  # noqa: S608
        else:
            connection.execute(
                f"INSERT INTO {table} (id, value) VALUES (?, ?) "  # noqa: S608
                "ON CONFLICT (id) DO UPDATE SET value = excluded.value",
                (one.id, one.value),
            )


def known_table(name: str) -> str:
    """Return `name` if it is a side table; it is about to become part of a statement."""
    if name not in SIDE_TABLES:
        raise ValueError(f"{name!r} is no side table")
    return name


def side_row(connection: sqlite3.Connection, table: str, row_id: str) -> bytes | None:
    """Return one value of a side table, or None."""
    found = connection.execute(
        f"SELECT value FROM {known_table(table)} WHERE id = ?",  # noqa: S608
        (row_id,),
    ).fetchone()
    return None if found is None else bytes(found[0])


def side_rows(connection: sqlite3.Connection, table: str, prefix: str) -> Mapping[str, bytes]:
    """Return the values whose ids begin with `prefix`, in order of id."""
    found = connection.execute(
        f"SELECT id, value FROM {known_table(table)} "  # noqa: S608
        "WHERE substr(id, 1, length(?1)) = ?1 ORDER BY id",
        (prefix,),
    )
    return {row_id: bytes(value) for row_id, value in found}


class SqliteTables:
    """See :class:`callroom.journal.stores.tables.Tables`."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def page(self, after: int, upto: int | None = None) -> Sequence[Row]:
        """Return the next journal rows with ``after < seq <= upto``; none at the end."""
        return page(self._connection, after, upto)

    def all_rows(self, after: int = 0) -> Iterator[Row]:
        """Return all journal rows with a greater `seq`, in order."""
        return all_rows(self._connection, after)

    def seal_at(self, seq: int) -> Seal | None:
        """Return the seal that covers entry `seq`, None if there is no such entry yet."""
        found = self._connection.execute(
            "SELECT seq, seal FROM journal WHERE seq >= ? AND seal IS NOT NULL ORDER BY seq LIMIT 1",
            (seq,),
        ).fetchone()
        return None if found is None else Seal(*found)

    def side_row(self, table: str, row_id: str) -> bytes | None:
        """Return one value of a side table, or None."""
        return side_row(self._connection, table, row_id)

    def side_rows(self, table: str, prefix: str) -> Mapping[str, bytes]:
        """Return the values whose ids begin with `prefix`, in order of id."""
        return side_rows(self._connection, table, prefix)
