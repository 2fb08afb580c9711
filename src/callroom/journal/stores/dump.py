"""A whole book as plain values, and a book made from them again."""

import base64
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing
from pathlib import Path
from typing import Annotated, Any, TypeVar

import msgspec

from callroom.journal.entries import Entry
from callroom.journal.store.errors import BadRequest, NotWritten
from callroom.journal.store.replay import Reading
from callroom.journal.store.seal import Row
from callroom.journal.store.side import SHARED_TABLES, SIDE_TABLES, SideWrite
from callroom.journal.stores import rows
from callroom.journal.stores.connections import connect_new
from callroom.journal.stores.durable import whole_file
from callroom.journal.stores.folders import refuse_unsafe_folder
from callroom.journal.stores.layout import migrate
from callroom.journal.stores.tables import Tables
from callroom.journal.verify import verify
from callroom.model.errors import BadInput
from callroom.model.finding import Fact, Finding, errors_among

StateT = TypeVar("StateT")

JOURNAL = "journal"


_Whole = Annotated[int, msgspec.Meta(ge=0, le=2**53)]
_Time = Annotated[int, msgspec.Meta(ge=-(2**53), le=2**53)]


class _JournalRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A journal row as plain values: `data` is its JSON text, digests are hexadecimal."""

    seq: _Whole
    at_ms: _Whole
    actor: str
    device: str
    key: str
    part: _Whole
    kind: str
    version: _Whole
    data: str
    seen_at_ms: _Time | None = None
    clock_error_ms: _Time | None = None
    request: str = ""
    seal: str = ""


class _SideRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A side-table row: the value as text if it is text, else in base 64."""

    id: str
    text: str | None = None
    base64: str | None = None


def dumped(tables: Tables, *, share: bool = False) -> Iterator[tuple[str, dict[str, Any]]]:
    """Return ``(table, row)`` for every row; `share` leaves out everything personal."""
    for table in SHARED_TABLES if share else SIDE_TABLES:
        for row_id, value in tables.side_rows(table, "").items():
            yield table, _plain(_side_row(row_id, value))
    for row in tables.all_rows():
        yield JOURNAL, _plain(_journal_row(row))


def _plain(row: msgspec.Struct) -> dict[str, Any]:
    return {name: value for name, value in msgspec.structs.asdict(row).items() if value is not None}


def _side_row(row_id: str, value: bytes) -> _SideRow:
    try:
        return _SideRow(id=row_id, text=value.decode("utf-8"))
    except UnicodeDecodeError:
        return _SideRow(id=row_id, base64=base64.b64encode(value).decode("ascii"))


def _journal_row(row: Row) -> _JournalRow:
    fields = msgspec.structs.asdict(row.entry)
    fields["data"] = row.entry.data.decode("utf-8")
    return _JournalRow(**fields, request=row.request.hex(), seal=row.seal.hex())


def load_book(
    path: Path,
    dump: Iterable[tuple[str, Mapping[str, Any]]],
    reading: Reading[StateT],
    *,
    force: bool = False,
) -> int:
    """Make a book from a dump and return its last `seq`; it is whole, verified, or not there.

    `force`: a file that is there already is replaced.

    Raises
    ------
    BadInput
        With every fault found, by number of row from 1.
    FileInTheWay, UnsafeFolder, NotWritten
        If there is a file already, or the place is not fit for a book.
    """
    refuse_unsafe_folder(path)
    content = read_whole(dump, reading)
    try:
        with whole_file(path, force=force) as part:
            _fill(part, content.changes, content.journal)
    except (OSError, sqlite3.Error) as fault:
        raise NotWritten(path, str(fault)) from fault
    return content.journal[-1].entry.seq if content.journal else 0


class Content(msgspec.Struct, frozen=True):
    """Everything that is in a dump, as rows to be stored."""

    changes: list[SideWrite]
    journal: list[Row]


def read_whole(dump: Iterable[tuple[str, Mapping[str, Any]]], reading: Reading[StateT]) -> Content:
    """Return what a dump holds, verified; BadInput with every fault found."""
    changes, journal = _read(dump)
    found = tuple(verify(_Dumped(journal), reading))
    if errors_among(found):
        raise BadInput(found)
    return Content(changes, journal)


class _Dumped:
    """The journal of a dump, for `verify` to look at before it becomes a book."""

    def __init__(self, journal: Iterable[Row]) -> None:
        self._journal = journal

    def damage(self) -> Iterable[str]:
        """Return nothing: a dump has no pages."""
        return ()

    def rows(self) -> Iterator[Row]:
        """Return the rows as they came."""
        return iter(self._journal)


def _fill(part: Path, changes: Iterable[SideWrite], journal: Iterable[Row]) -> None:
    with closing(connect_new(part)) as connection:
        migrate(connection)
        connection.execute("BEGIN")
        rows.change(connection, changes)
        rows.insert(connection, journal)
        connection.execute("COMMIT")


def _read(dump: Iterable[tuple[str, Mapping[str, Any]]]) -> tuple[list[SideWrite], list[Row]]:
    changes: list[SideWrite] = []
    journal: list[Row] = []
    seen: set[tuple[str, str]] = set()
    faults: list[Finding] = []
    for number, (table, row) in enumerate(dump, start=1):
        try:
            if table == JOURNAL:
                journal.append(_to_row(msgspec.convert(row, _JournalRow)))
            elif table in SIDE_TABLES:
                change = _to_change(table, msgspec.convert(row, _SideRow))
                if (table, change.id) in seen:
                    faults.append(_fault(table, number, f"id {change.id!r} is there twice"))
                seen.add((table, change.id))
                changes.append(change)
            else:
                faults.append(_fault(table, number, "no such table"))
        except (ValueError, msgspec.MsgspecError, BadRequest) as fault:
            faults.append(_fault(table, number, str(fault)))
    if faults:
        raise BadInput(tuple(faults))
    return changes, journal


def _fault(table: str, number: int, reason: str) -> Finding:
    facts: dict[str, Fact] = {"table": table, "row": number, "reason": reason}
    return Finding("journal.row_bad", "error", f"{table}.{number}", facts)


def _to_row(row: _JournalRow) -> Row:
    msgspec.json.encode(row)  # refuses text that no database can hold
    fields = msgspec.structs.asdict(row)
    request, seal = bytes.fromhex(fields.pop("request")), bytes.fromhex(fields.pop("seal"))
    fields["data"] = row.data.encode("utf-8")
    return Row(Entry(**fields), request, seal)


def _to_change(table: str, row: _SideRow) -> SideWrite:
    if (row.text is None) == (row.base64 is None):
        raise ValueError("either text or base64 is expected")
    if row.text is not None:
        value = row.text.encode("utf-8")
    else:
        value = base64.b64decode(row.base64 or "", validate=True)
    known = SIDE_TABLES[table]
    return known.put(row.id, known.decode(value))
