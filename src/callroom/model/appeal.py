"""Appeals: what a captain asks the head judge to look at again, and what became of it."""

from typing import Literal

import msgspec

Ground = Literal["arithmetic", "standard", "lane", "other"]
"""What may be appealed. A judge's call of a repetition may not (common practice, no source)."""


class AppealDecision(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the head judge decided, with the entry and who made it; when [ms, UTC]."""

    seq: int
    at_ms: int
    actor: str
    upheld: bool
    reason: str


class Appeal(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A numbered appeal of a team.

    Attributes
    ----------
    number
        Counts the appeals of the event from 1; a number is never given twice.
    seq, at_ms, actor
        The entry that filed it, when the server received that [ms, UTC], and who typed it.
    team
        Whose captain appeals.
    workout, part
        What it is about; both empty: the standings as a whole.
    handed_in_ms
        When the captain came with it, as the desk says [ms, UTC].
    late
        It was handed in after the time for appeals, and the event's rules let it be heard.
    withdrawn_seq
        The entry by which the team took it back; None: it did not.
    """

    number: int
    seq: int
    at_ms: int
    actor: str
    team: str
    ground: Ground
    text: str
    handed_in_ms: int
    workout: str = ""
    part: str = ""
    late: bool = False
    decision: AppealDecision | None = None
    withdrawn_seq: int | None = None

    @property
    def open(self) -> bool:
        """Whether it waits for the head judge."""
        return self.decision is None and self.withdrawn_seq is None
