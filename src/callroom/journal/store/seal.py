"""Rows as stored, and the seal over them."""

import hashlib
from collections.abc import Sequence

import msgspec

from callroom.journal.entries import Entry

GENESIS = bytes(32)
"""What the first seal of a book follows."""

PRINTED_DIGITS = 20
"""Hexadecimal digits of a printed seal: 80 bits, beyond any search for a second match."""


class Row(msgspec.Struct, frozen=True):
    """A stored entry with what is kept beside it.

    `request`: digest of the request, with its first entry (else empty). `seal`: with the
    last entry of a transaction (else empty).
    """

    entry: Entry
    request: bytes = b""
    seal: bytes = b""


class Seal(msgspec.Struct, frozen=True):
    """The seal of the transaction that ended with entry `seq`, as printed on result sheets."""

    seq: int
    digest: bytes

    def printed(self) -> str:
        """Return the first digits in groups of four: ``"3fa9-01c2-…"``."""
        digits = self.digest.hex()[:PRINTED_DIGITS]
        return "-".join(digits[at : at + 4] for at in range(0, PRINTED_DIGITS, 4))

    def matches(self, printed: str) -> bool:
        """Whether `printed`, typed back in any spacing, is this seal."""
        digits = "".join(sign for sign in printed.lower() if sign.isalnum())
        return len(digits) >= PRINTED_DIGITS and self.digest.hex().startswith(digits)


def seal_over(previous: bytes, rows: Sequence[Row]) -> bytes:
    """Return the seal of a transaction.

    SHA-256 over the previous seal (32 zero bytes before the first) and then, for each row,
    its columns in order: seq, at_ms, actor, device, key, part, kind, version, data,
    seen_at_ms, clock_error_ms, request. Each column is written as its length in decimal, a
    colon, its bytes (numbers in decimal) and a comma; an absent number as ``-,``. So
    anybody can recompute it from the stored bytes with a few lines of any language.
    """
    digest = hashlib.sha256(previous)
    for row in rows:
        entry = row.entry
        for value in (
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
            row.request,
        ):
            digest.update(_framed(value))
    return digest.digest()


def _framed(value: int | str | bytes | None) -> bytes:
    if value is None:
        return b"-,"
    # Damaged text must still be hashed, or `verify` could not say where the chain breaks.
    data = value if isinstance(value, bytes) else str(value).encode("utf-8", "surrogateescape")
    return b"%d:%b," % (len(data), data)
