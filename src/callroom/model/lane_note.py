"""What a judge noted in a lane while it happened: splits, no-reps, tries, hand-overs, the finish."""

from typing import Annotated, Literal

import msgspec

NoteKind = Literal[
    "start", "split", "no_rep", "lift", "object", "judge", "finish", "stop", "taken_back"
]
LogKind = Literal[
    "start",
    "count",
    "fill",
    "total",
    "no_rep",
    "split",
    "finish",
    "lift",
    "object",
    "judge",
    "stop",
]
ShortText = Annotated[str, msgspec.Meta(max_length=80)]

# A judge touches the key some hundred times; a phone gone wild is not to fill the book.
MOST_MARKS = 5_000


class LaneNote(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One thing noted in a lane. It counts for nothing by itself; the score does.

    Attributes
    ----------
    at_ms
        When, by the synchronised clock of the device [ms since 1970, UTC].
    mark
        The number of the touch within the lane's log on that device, from 0.
    what
        ``object``: the shared object was handed over; ``judge``: another judge took over;
        ``taken_back``: the touch `mark` was undone.
    task, said
        The task it concerns, and a reason, a load, a place of the line-up; both may be empty.
    good
        Whether a lift was good.
    """

    heat: str
    workout: str
    part: str
    team: str
    lane: int
    what: NoteKind
    at_ms: int
    mark: int
    attempt: int = 1
    amendment: int = 0
    task: ShortText = ""
    said: ShortText = ""
    good: bool = False


class LogMark(msgspec.Struct, frozen=True, forbid_unknown_fields=True, array_like=True, gc=False):
    """One touch of the log that travels with a score.

    `at_ms` counts from the zero of the part's own clock, or from the first touch where no clock
    was started; `n` is what was added, or for ``total`` the count that was typed.
    """

    at_ms: int
    does: LogKind
    n: int = 0
    task: ShortText = ""
    said: ShortText = ""


class KeptNote(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A note with the entry that brought it, and from which device; `taken_back`: undone later."""

    seq: int
    device: str
    note: LaneNote
    taken_back: bool = False
