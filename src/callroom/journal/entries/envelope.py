"""The envelope: who wrote an entry, under which key, and what it holds."""

import msgspec


class Draft(msgspec.Struct, frozen=True, kw_only=True):
    """An entry that is decided but not yet stored.

    Attributes
    ----------
    actor
        Who did it, as the journal keeps it.
    device
        The device that sent it.
    key
        The sender's own key of the request; ``(device, key, part)`` is stored once.
    part
        Which entry of its request this is, from 0.
    kind, version
        The written kind of the entry and the version of its data.
    data
        The body as canonical JSON, UTF-8.
    seen_at_ms
        Reports only: when it was seen, by the device's clock [ms since 1970, UTC].
    clock_error_ms
        Reports only: how far the device's clock was ahead of the server's [ms].
    """

    actor: str
    device: str
    key: str
    part: int
    kind: str
    version: int
    data: bytes
    seen_at_ms: int | None = None
    clock_error_ms: int | None = None


class Entry(Draft, frozen=True, kw_only=True):
    """A stored entry.

    Attributes
    ----------
    seq
        Its place in the journal: rises, may have gaps, and is the only order there is.
    at_ms
        When the server received it [ms since 1970, UTC]; never used as an order.
    """

    seq: int
    at_ms: int
