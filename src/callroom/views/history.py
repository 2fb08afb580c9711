"""The history of one score: everything that was reported and decided about it, in order."""

from typing import Literal

import msgspec

from callroom.model import Result
from callroom.model.score import Source

Deed = Literal[
    "reported",
    "chosen",
    "taken",
    "corrected",
    "penalty",
    "penalty_lifted",
    "confirmed",
    "reopened",
    "amended",
    "credited",
    "stopped",
    "stop_ruled",
    "appealed",
    "appeal_upheld",
    "appeal_rejected",
    "appeal_withdrawn",
]


class HistoryLine(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that happened to a score.

    Attributes
    ----------
    seq, at_ms
        The entry, and when the server received it [ms, UTC].
    actor, device
        Who did it, as the journal keeps it, and from which device.
    deed
        What was done.
    result
        The result reported or set; None for what sets none.
    source
        For reports: a pad or a paper card.
    about_seq
        The entry it is about: the report chosen, the penalty lifted.
    seconds, counts, reason
        What a penalty adds [s] or takes off, and why something was decided; of an appeal what
        the team says.
    number
        Of an appeal its number.
    signed
        Of a report the initials under it; they are kept apart from the journal.
    """

    seq: int
    at_ms: int
    actor: str
    device: str
    deed: Deed
    result: Result | None = None
    source: Source | None = None
    about_seq: int | None = None
    seconds: int = 0
    counts: int = 0
    reason: str = ""
    number: int = 0
    signed: str = ""
