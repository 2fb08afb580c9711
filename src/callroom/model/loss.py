"""Losses: what a running day has to do without."""

from typing import Literal

import msgspec

LossKind = Literal["lane", "floor", "kit", "judges"]


class Loss(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something that was counted on and is not there any more.

    Attributes
    ----------
    number, seq, at_ms
        Counts the losses of the event from 1; the entry that noted it, and when [ms, UTC].
    kind
        ``lane``: lane `lane` of `floor`. ``floor``: all of `floor`, for good or until
        `ready_s` [s from the day's start]. ``kit``: only `left` lanes can still be given what
        `workout` needs. ``judges``: only `left` judges can work at once.
    why
        What happened.
    over
        It is there again.
    """

    number: int
    seq: int
    at_ms: int
    kind: LossKind
    floor: str = ""
    lane: int | None = None
    workout: str = ""
    left: int | None = None
    ready_s: int | None = None
    why: str = ""
    over: bool = False
