"""Check-in: who of a team is here, whether it has its pack, what was signed on paper."""

from typing import Literal

import msgspec

SignedBy = Literal["self", "guardian"]


class CheckIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What was seen of a team at the check-in.

    Attributes
    ----------
    here
        The athletes who are here, by the ids of the people, in the order in which they came.
    pack_seq
        The entry by which the team's pack was handed over; None: it was not.
    seq, at_ms
        The last entry about it, and when it was stored [ms, UTC].
    """

    here: tuple[str, ...] = ()
    pack_seq: int | None = None
    seq: int = 0
    at_ms: int = 0


class Signed(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """That an athlete, or their guardian, signed on paper at the check-in: by which entry, when."""

    seq: int
    at_ms: int
    by: SignedBy
