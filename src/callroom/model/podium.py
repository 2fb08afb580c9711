"""The podium of a division let out before everything about it is settled."""

import msgspec


class PodiumRelease(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A decision to present a division's first three although something could change them.

    It rests on the scores as they were at `seq`: what changes after that ends it.
    """

    seq: int
    at_ms: int
    actor: str
    division: str
    reason: str
