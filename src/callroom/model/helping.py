"""Helping: whether people may sign up for the crew by themselves, and who offered."""

import msgspec

from callroom.model.crew import CrewMember


class Helping(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Whether the sign-up is open, until the day begins, and what stands above it."""

    open: bool = False
    welcome: str = ""

    def is_open(self, now_ms: int, day_ms: int) -> bool:
        """Whether people may sign up at `now_ms`; the day begins at `day_ms` [ms, UTC]."""
        return self.open and now_ms < day_ms


class HelpOffer(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Somebody who offered to help and waits for the director.

    `seq` is the entry that brought the offer, `at_ms` when it came [ms, UTC]. Who sent it agreed
    then that their details are kept.
    """

    member: CrewMember
    seq: int
    at_ms: int
