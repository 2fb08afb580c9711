"""Bodies to canonical JSON text and back, older versions upgraded in this one place."""

import json
from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from callroom.journal.entries import Entry, Kind, Upgrader
from callroom.model.errors import CallroomError

MAX_DATA_BYTES = 4 * 1024 * 1024
"""Longest data of one entry. Room for a plan of some thousand heats; our own choice."""

NO_UPGRADERS: Mapping[tuple[str, int], Upgrader] = MappingProxyType({})


class Undecodable(CallroomError):
    """An entry which this version of Callroom cannot read."""


class UnknownKind(Undecodable):
    """An entry of a kind that does not exist here; a newer version may know it."""


class NewerVersion(Undecodable):
    """An entry of a known kind, written by a newer version."""


class BadData(Undecodable):
    """Data that is not what its kind and version say: damaged, or never valid."""


class Written(msgspec.Struct, frozen=True):
    """A body as it will be stored: `body` is what reading `data` back gives."""

    kind: str
    version: int
    data: bytes
    body: msgspec.Struct


class Codec:
    """Encodes and decodes the bodies of one table of kinds.

    Parameters
    ----------
    kinds
        The kinds by their written names.
    upgraders
        ``(kind, version)`` to the function that turns data of that version into the next.
        Every version below a kind's present one must have its upgrader.

    Raises
    ------
    ValueError
        If the tables do not fit each other: a mistake in them, not in a book.
    """

    def __init__(
        self,
        kinds: Mapping[str, Kind],
        upgraders: Mapping[tuple[str, int], Upgrader] = NO_UPGRADERS,
    ) -> None:
        wanted = {(name, old) for name, kind in kinds.items() for old in range(1, kind.version)}
        if wanted != set(upgraders):
            wrong = sorted(wanted ^ set(upgraders))
            raise ValueError(f"upgraders missing, or for no old version: {wrong}")
        self._kinds = dict(kinds)
        self._upgraders = dict(upgraders)
        self._names = {kind.body: name for name, kind in kinds.items()}
        if len(self._names) != len(kinds):
            raise ValueError(f"two kinds share a body among {sorted(kinds)}")
        # Sorted keys: the text depends on the values alone, not on the order of fields in code.
        self._encoder = msgspec.json.Encoder(order="sorted")
        self._decoders = {name: msgspec.json.Decoder(kind.body) for name, kind in kinds.items()}

    def encode(self, body: msgspec.Struct) -> Written:
        """Return `body` with its kind, version and canonical JSON text.

        Raises
        ------
        BadData
            If a value is outside the bounds of its field, or the text is too long.
        TypeError
            If no kind has this body: a mistake in the calling code.
        """
        name = self._names.get(type(body))
        if name is None:
            raise TypeError(f"no kind of entry has the body {type(body).__name__}")
        version = self._kinds[name].version
        try:
            data = self._encoder.encode(body)
        except (ValueError, TypeError, RecursionError, msgspec.MsgspecError) as fault:
            raise _unfit(name, str(fault)) from fault
        if len(data) > MAX_DATA_BYTES:
            raise _unfit(name, f"{len(data)} bytes; at most {MAX_DATA_BYTES}")
        # Making a struct checks nothing; reading it back checks types and bounds.
        try:
            as_read = self._read(name, data)
        except _READING as fault:
            raise _unfit(name, str(fault)) from fault
        return Written(name, version, data, as_read)

    def body(self, entry: Entry) -> msgspec.Struct:
        """Return the body of a stored entry; see :meth:`decode`."""
        return self.decode(entry.kind, entry.version, entry.data, seq=entry.seq)

    def decode(self, name: str, version: int, data: bytes, *, seq: int = 0) -> msgspec.Struct:
        """Return the body written as `data`, upgraded to the present version.

        `seq` is only for the refusal to name the entry by.

        Raises
        ------
        UnknownKind, NewerVersion
            If only a newer version of Callroom can read it.
        BadData
            If the data is not valid: unknown or repeated fields, 3.0 for a whole number, ….
        """
        kind = self._kinds.get(name)
        if kind is None:
            raise UnknownKind("journal.kind_unknown", seq=seq, kind=name, version=version)
        if version > kind.version:
            raise NewerVersion(
                "journal.version_newer", seq=seq, kind=name, version=version, known=kind.version
            )
        try:
            return self._read(name, self._present(name, version, data))
        except _READING as fault:
            raise BadData(
                "journal.data_bad", seq=seq, kind=name, version=version, reason=str(fault)
            ) from fault

    def is_report(self, body: msgspec.Struct) -> bool:
        """Whether entries with this body are reports."""
        return self._kinds[self._names[type(body)]].is_report

    def _present(self, name: str, version: int, data: bytes) -> bytes:
        """Return `data` as the present version would write it."""
        # Read once without msgspec, which would let the last of two equal fields win.
        fields = _PLAIN_JSON.decode(data.decode("utf-8"))
        present = self._kinds[name].version
        if version == present:
            return data
        if version < 1 or not isinstance(fields, dict):
            raise ValueError("versions start at 1, and data is an object")
        for old in range(version, present):
            try:
                fields = self._upgraders[name, old](fields)
            except (LookupError, TypeError, ValueError, AttributeError) as fault:
                raise ValueError(f"upgrade from version {old}: {fault!r}") from fault
        return self._encoder.encode(fields)

    def _read(self, name: str, data: bytes) -> msgspec.Struct:
        body: msgspec.Struct = self._decoders[name].decode(data)
        return body


def _each_once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    fields = dict(pairs)
    if len(fields) != len(pairs):
        names = [name for name, _ in pairs]
        twice = sorted({name for name in names if names.count(name) > 1})
        raise ValueError(f"fields given twice: {twice}")
    return fields


def _refuse_constant(text: str) -> None:
    raise ValueError(f"{text} is no JSON number")


_PLAIN_JSON = json.JSONDecoder(object_pairs_hook=_each_once, parse_constant=_refuse_constant)


_READING = (ValueError, RecursionError, msgspec.MsgspecError)
"""What reading text that is not what it should be can raise."""


def _unfit(kind: str, reason: str) -> BadData:
    return BadData("journal.data_unfit", kind=kind, reason=reason)
