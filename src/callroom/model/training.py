"""What a device's holder knew of the standards when they last checked themselves."""

import msgspec


class Training(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The last self-check of one device, and how often it was taken.

    It says something of a device, whose holder the director knows; nobody's name is in it.
    """

    seq: int
    at_ms: int
    device: str
    movements: tuple[str, ...]
    right: int
    asked: int
    times: int = 1
