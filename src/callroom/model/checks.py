"""Checklists: what was ticked, and what the director added to them."""

from typing import Annotated, Literal, get_args

import msgspec

Phase = Literal["before", "morning", "during", "after"]
PHASES: tuple[Phase, ...] = get_args(Phase)
"""Before the day, on its morning, while it runs, once it is over."""


class Tick(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """That a point of a list was ticked: by which entry, when [ms, UTC], by whom."""

    seq: int
    at_ms: int
    actor: str


class OwnCheck(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A point the director added; `days_before` counts back from the day, below 0 after it.

    `post` is whose it is; nobody is named in the text.
    """

    id: Annotated[str, msgspec.Meta(min_length=1, max_length=40)]
    phase: Phase
    text: Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
    days_before: Annotated[int, msgspec.Meta(ge=-365, le=730)] = 0
    post: Annotated[str, msgspec.Meta(max_length=40)] = ""
