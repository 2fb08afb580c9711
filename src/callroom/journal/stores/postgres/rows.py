"""Journal rows and side-table rows, to and from PostgreSQL."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import psycopg

from callroom.journal.entries import Entry
from callroom.journal.store.seal import Row, Seal
from callroom.journal.store.side import SIDE_TABLES, SideWrite
from callroom.journal.stores.rows import known_table

_COLUMNS = (
    "seq, at_ms, actor, device, key, part, kind, version, data, "
    "seen_at_ms, clock_error_ms, request, seal"
)
_SELECT = f"SELECT {_COLUMNS} FROM journal"  # noqa: S608
_INSERT = f"INSERT INTO journal ({_COLUMNS}) VALUES ({', '.join(['%b'] * 13)})".encode()  # noqa: S608

SIDE = tuple(SIDE_TABLES)
"""The names of the side tables."""

_PAGE = 500
_NO_END = 2**62

Connection = psycopg.Connection[tuple[Any, ...]]


def insert(connection: Connection, rows: Sequence[Row]) -> None:
    """Insert journal rows, in one go."""
    if rows:
        connection.cursor().executemany(_INSERT, [_values(row) for row in rows])


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
        entry.data.decode("utf-8"),
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
        data=data.encode("utf-8"),
        seen_at_ms=seen,
        clock_error_ms=error,
    )
    return Row(entry, bytes(request or b""), bytes(seal or b""))


def under_key(connection: Connection, device: str, key: str) -> Sequence[Row]:
    """Return the rows stored under a key, in order of part."""
    found = connection.execute(
        f"{_SELECT} WHERE device = %s AND key = %s ORDER BY part".encode(), (device, key)
    )
    return [_row(values) for values in found]


def change(connection: Connection, changes: Iterable[SideWrite]) -> None:
    """Apply changes of side tables, in order."""
    for one in changes:
        table = known_table(one.table)
        if one.value is None:
            connection.execute(f"DELETE FROM {table} WHERE id = %s".encode(), (one.id,))  # noqa: S608
        else:
            connection.execute(
                f"INSERT INTO {table} (id, value) VALUES (%s, %s) "  # noqa: S608
                "ON CONFLICT (id) DO UPDATE SET value = excluded.value".encode(),
                (one.id, one.value),
            )


class PostgresTables:
    """See :class:`callroom.journal.stores.tables.Tables`."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection

    def page(self, after: int, upto: int | None = None) -> Sequence[Row]:
        """Return the next journal rows with ``after < seq <= upto``; none at the end."""
        found = self.connection.execute(
            f"{_SELECT} WHERE seq > %s AND seq <= %s ORDER BY seq LIMIT {_PAGE}".encode(),
            (after, _NO_END if upto is None else upto),
        )
        return [_row(values) for values in found]

    def all_rows(self, after: int = 0) -> Iterator[Row]:
        """Return all journal rows with a greater `seq`, in order, a page at a time."""
        while page := self.page(after):
            yield from page
            after = page[-1].entry.seq

    def seal_at(self, seq: int) -> Seal | None:
        """Return the seal that covers entry `seq`, None if there is no such entry yet."""
        found = self.connection.execute(
            "SELECT seq, seal FROM journal WHERE seq >= %s AND seal IS NOT NULL "
            "ORDER BY seq LIMIT 1",
            (seq,),
        ).fetchone()
        return None if found is None else Seal(int(found[0]), bytes(found[1]))

    def side_row(self, table: str, row_id: str) -> bytes | None:
        """Return one value of a side table, or None."""
        found = self.connection.execute(
            f"SELECT value FROM {known_table(table)} WHERE id = %s".encode(),  # noqa: S608
            (row_id,),
        ).fetchone()
        return None if found is None else bytes(found[0])

    def side_rows(self, table: str, prefix: str) -> Mapping[str, bytes]:
        """Return the values whose ids begin with `prefix`, in order of id."""
        found = self.connection.execute(
            f"SELECT id, value FROM {known_table(table)} "  # noqa: S608
            "WHERE starts_with(id, %s) ORDER BY id".encode(),
            (prefix,),
        )
        return {row_id: bytes(value) for row_id, value in found}
