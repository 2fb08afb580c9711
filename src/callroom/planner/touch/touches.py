"""The small changes a hand can make to a plan. Times are seconds from the day's start."""

from typing import Literal

import msgspec

from callroom.model.wishes import Pause

Reach = Literal["heat", "block", "floor", "all"]
"""What moves along: the heat alone; the heats of its workout and divisions; it and whatever
comes later that day on its floor; the same on all floors."""


class Move(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="do",
    tag="move",
):
    """A heat starts `by_s` later [s; negative: earlier], and on another floor if one is named."""

    heat: str
    by_s: int = 0
    floor: str = ""
    reach: Reach = "heat"


class SwapHeats(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="do",
    tag="swap",
):
    """Two heats change places: each starts when and where the other did."""

    heat: str
    other: str


class PlaceTeam(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="do",
    tag="place",
):
    """A team goes into a lane of a heat; whoever is there takes the team's own place."""

    team: str
    heat: str
    lane: int


class SetLock(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="do",
    tag="lock",
):
    """Time and floor of a heat are locked or not; with a `team`, its heat and lane instead."""

    heat: str
    on: bool
    team: str = ""


class SetPause(
    msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, tag_field="do", tag="pin"
):
    """Something is pinned in the day: added, or put in the place of what has its id.

    A break, or an attraction that needs the floors it names (none named: all of them).
    """

    pause: Pause


class DropPause(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="do",
    tag="unpin",
):
    """What was pinned in the day is taken out."""

    pause: str


class TakeChange(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="do",
    tag="take",
):
    """A wish changes to a level, as offered in the menu of an impossible day."""

    kind: str
    subject: str
    level: int


Touch = Move | SwapHeats | PlaceTeam | SetLock | SetPause | DropPause | TakeChange
