"""Side tables: what may change or be erased, and therefore is not in the journal."""

from collections.abc import Callable, Mapping
from concurrent.futures import Future
from types import MappingProxyType
from typing import Any, Generic, Protocol, TypeVar

import msgspec

from callroom.journal.store.errors import BadRequest
from callroom.model.person import Note, Person

Value = TypeVar("Value")

MAX_VALUE_BYTES = 32 * 1024 * 1024
"""Longest value of a side table: a photographed floor plan fits, a film does not."""


class SideWrite(msgspec.Struct, frozen=True):
    """One change of a side table: `value` put under `id`, or the row removed (None)."""

    table: str
    id: str
    value: bytes | None


class Attachment(msgspec.Struct, frozen=True, kw_only=True):
    """A file kept in the book: its name, its media type, its bytes."""

    name: str
    media_type: str
    content: bytes


class BackupMade(msgspec.Struct, frozen=True, kw_only=True):
    """A backup this book knows of.

    When it was made [ms since 1970, UTC], up to which entry, and whether it was made to
    share, without anything personal.
    """

    at_ms: int
    seq: int
    share: bool


class Erasure(msgspec.Struct, frozen=True, kw_only=True):
    """What erasing a person did.

    Attributes
    ----------
    rows
        How many rows were removed.
    complete
        Whether the bytes are gone from the files too. False: a reader kept an older view
        open; ask again when it has ended.
    backups
        Paths of backups made before, which may still hold the person.
    """

    rows: int
    complete: bool
    backups: tuple[str, ...]


class SideTable(Generic[Value]):
    """One side table's name and how its values become bytes.

    Values are keyed by ids; an id ``"p7/allergy"`` belongs to the person ``"p7"`` and is
    erased with them.
    """

    def __init__(
        self, name: str, encode: Callable[[Value], bytes], decode: Callable[[bytes], Value]
    ) -> None:
        self.name = name
        self.encode = encode
        self.decode = decode

    def put(self, row_id: str, value: Value) -> SideWrite:
        """Return the change that puts `value` under `row_id`.

        Raises
        ------
        BadRequest
            If the id or the value could not be stored.
        """
        if not row_id or not row_id.isprintable():
            raise BadRequest("journal.bad_name", field=f"{self.name}.id", given=ascii(row_id))
        try:
            encoded = self.encode(value)
            # Making a struct checks nothing; reading it back checks types and bounds.
            self.decode(encoded)
        except (ValueError, TypeError, msgspec.MsgspecError) as fault:
            raise BadRequest(
                "journal.bad_value", field=f"{self.name}.{row_id}", reason=str(fault)
            ) from fault
        if len(encoded) > MAX_VALUE_BYTES:
            raise BadRequest(
                "journal.too_long",
                field=f"{self.name}.{row_id}",
                given=len(encoded),
                most=MAX_VALUE_BYTES,
            )
        return SideWrite(self.name, row_id, encoded)

    def remove(self, row_id: str) -> SideWrite:
        """Return the change that removes the row; removing what is not there is no fault."""
        return SideWrite(self.name, row_id, None)


def _structs(name: str, kind: type[Value]) -> SideTable[Value]:
    encoder = msgspec.json.Encoder(order="sorted")
    return SideTable(name, encoder.encode, msgspec.json.Decoder(kind).decode)


def _packed(name: str, kind: type[Value]) -> SideTable[Value]:
    return SideTable(name, msgspec.msgpack.encode, msgspec.msgpack.Decoder(kind).decode)


def _texts(name: str) -> SideTable[str]:
    return SideTable(name, lambda text: text.encode("utf-8"), lambda data: data.decode("utf-8"))


def _bytes(name: str) -> SideTable[bytes]:
    # Not `bytes` itself, which would make seven noughts of the number 7.
    return SideTable(name, lambda data: memoryview(data).tobytes(), bytes)


META = _texts("meta")
PEOPLE = _structs("people", Person)
NOTES = _structs("notes", Note)
SECRETS = _bytes("secrets")
DRAFTS = _bytes("drafts")
ATTACHMENTS = _packed("attachments", Attachment)
OUTBOX = _bytes("outbox")
BACKUPS = _structs("backups", BackupMade)

SIDE_TABLES: Mapping[str, SideTable[Any]] = MappingProxyType(
    {
        table.name: table
        for table in (META, PEOPLE, NOTES, SECRETS, DRAFTS, ATTACHMENTS, OUTBOX, BACKUPS)
    }
)
TYPED_BY_PEOPLE = ("label/", "code/", "team-link/", "post/", "entering/pay")
"""Beginnings of the ids of secrets that somebody typed about a person, or that lead to one: labels
of devices and codes, links of teams, the director's mail server, the account for fees."""

LISTS_SENT = "load/"
"""Beginning of the names of drafts that are whole lists of people, sent and not loaded yet."""

SHARED_TABLES: tuple[str, ...] = (META.name,)
"""The only side tables that a backup made to share, or a dump made to share, holds."""


class SideRows(Protocol):
    """What a store offers for its side tables, in bytes."""

    def side_row(self, table: str, row_id: str) -> bytes | None:
        """Return one value, or None."""

    def side_rows(self, table: str, prefix: str) -> Mapping[str, bytes]:
        """Return the values whose ids begin with `prefix`, in order of id."""

    def write(self, *changes: SideWrite) -> Future[None]:
        """Store the changes in one transaction; done when they are on disk."""

    def take(self, table: str, row_id: str) -> Future[bytes | None]:
        """Remove one row and return its value; of all who take it one gets it, the others None."""


class Side(Generic[Value]):
    """One side table of one open book."""

    def __init__(self, rows: SideRows, table: SideTable[Value]) -> None:
        self._rows = rows
        self._table = table

    def get(self, row_id: str) -> Value | None:
        """Return the value under `row_id`, or None."""
        data = self._rows.side_row(self._table.name, row_id)
        return None if data is None else self._table.decode(data)

    def all(self, prefix: str = "") -> Mapping[str, Value]:
        """Return all values whose ids begin with `prefix`, in order of id."""
        rows = self._rows.side_rows(self._table.name, prefix)
        return {row_id: self._table.decode(data) for row_id, data in rows.items()}

    def put(self, row_id: str, value: Value) -> None:
        """Store `value` under `row_id`; returns when it is on disk."""
        self._rows.write(self._table.put(row_id, value)).result()

    def take(self, row_id: str) -> Value | None:
        """Remove the row and return its value; of all who take it one gets it."""
        data = self._rows.take(self._table.name, row_id).result()
        return None if data is None else self._table.decode(data)

    def delete(self, row_id: str) -> None:
        """Remove the row; returns when that is on disk. To erase a person use the store."""
        self._rows.write(self._table.remove(row_id)).result()
