"""What is asked of a store, and what it answers."""

import hashlib
from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

import msgspec

from callroom.journal.entries import Entry
from callroom.journal.store.errors import BadRequest
from callroom.journal.store.side import SideWrite

StateT = TypeVar("StateT")

MAX_NAME = 200
"""Longest actor, device or key [characters]: room for any id, none for a page of text."""

_FAR_MS = 2**53
"""Beyond this a whole number is not exact in every JSON reader, and no time is meant."""


class Request(msgspec.Struct, Generic[StateT], frozen=True, kw_only=True):
    """One thing somebody asks for: all of its entries are stored, or none.

    Attributes
    ----------
    actor, device, key
        Who asks, from which device, under which key of that device. Sending the same
        again under the same key is answered with what was stored the first time.
    content
        The request as it was sent, in one fixed form; only its digest is kept. Under one
        key the content must stay the same, whatever would be decided today.
    decide
        Called inside the write transaction with the State including everything accepted
        so far; returns the bodies to store, in order, or raises a refusal. It may be
        called again if the transaction fails and the request is sent again, so it must
        have no effect of its own.
    seen_at_ms, clock_error_ms
        For reports: the device's time of seeing, and its clock's error [ms].
    beside
        Changes of side tables stored in the same transaction, if the request is accepted.
    """

    actor: str
    device: str
    key: str
    content: bytes
    decide: Callable[[StateT], Sequence[msgspec.Struct]]
    seen_at_ms: int | None = None
    clock_error_ms: int | None = None
    beside: tuple[SideWrite, ...] = ()

    def __post_init__(self) -> None:
        """Refuse an envelope which could not be stored, before it can reach its neighbours."""
        for field in ("actor", "device", "key"):
            given: str = getattr(self, field)
            if not given or len(given) > MAX_NAME or not given.isprintable():
                raise BadRequest("journal.bad_name", field=field, given=ascii(given[:MAX_NAME]))
        for field in ("seen_at_ms", "clock_error_ms"):
            time: int | None = getattr(self, field)
            if time is not None and abs(time) > _FAR_MS:
                raise BadRequest("journal.bad_time", field=field, given=str(time))

    @property
    def identity(self) -> tuple[str, str]:
        """What makes two requests one: the device and its key."""
        return self.device, self.key

    @property
    def digest(self) -> bytes:
        """SHA-256 of the content, stored with the first entry."""
        return hashlib.sha256(self.content).digest()


class Receipt(msgspec.Struct, frozen=True):
    """The answer to a request, given only once its entries are on disk.

    `replayed`: the request had been stored before, and `entries` are those of that time.
    A request that found nothing to do has no entries, and its key stays free.
    """

    entries: tuple[Entry, ...] = ()
    replayed: bool = False
