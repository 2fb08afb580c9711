"""Where the way to pay is kept: beside the journal, since an account may be a person's."""

from typing import Protocol

import msgspec

from callroom.model.paying import PayTo

_ROW = "entering/pay"


class SecretShelf(Protocol):
    """The book's secrets: small values under a name."""

    def get(self, row_id: str, /) -> bytes | None:
        """Return a value, or None."""

    def put(self, row_id: str, value: bytes, /) -> None:
        """Store a value; returns when it is on disk."""


class PayKeeping:
    """How teams pay in one book."""

    def __init__(self, shelf: SecretShelf) -> None:
        """Keep it on `shelf`."""
        self._shelf = shelf

    def get(self) -> PayTo:
        """Return how teams pay, as far as the director said."""
        kept = self._shelf.get(_ROW)
        return msgspec.json.decode(kept, type=PayTo) if kept is not None else PayTo()

    def put(self, to: PayTo) -> None:
        """Keep how teams pay; returns when it is on disk."""
        self._shelf.put(_ROW, msgspec.json.encode(to))
