"""A running day as a question for repair, and what a repair answers.

Nouns only, shared by ``repair``, which proposes, and ``check``, which judges. Times are whole
seconds from the day's start instant.
"""

from collections.abc import Mapping
from typing import Literal

import msgspec

from callroom.model.finding import Finding
from callroom.model.plan import Plan

How = Literal["unchanged", "kept_order", "reordered"]


class LostLane(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A lane that can no longer be used."""

    floor: str
    lane: int


class DayNow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How the day stands.

    Attributes
    ----------
    now_s
        The time [s].
    begun_s, over_s
        Real starts of heats that have begun, and real ends of those that are over [s]; they
        are not touched any more.
    called
        Heats whose teams have been called: they are moved last of all.
    present
        Teams that are marked present; only a heat of nothing but these may be run earlier
        than published.
    withdrawn
        Teams that do not compete any more; their lanes stay empty.
    lost_lanes, lost_floors
        What cannot be used any more.
    ready_s
        When a floor can be used again, for floors that cannot at once [s].
    kit_lanes
        How many lanes there is still kit for, by workout.
    judges_at_once
        How many judges there are still; None: as wished.
    """

    now_s: int
    begun_s: Mapping[str, int] = {}
    over_s: Mapping[str, int] = {}
    called: tuple[str, ...] = ()
    present: tuple[str, ...] = ()
    withdrawn: tuple[str, ...] = ()
    lost_lanes: tuple[LostLane, ...] = ()
    lost_floors: tuple[str, ...] = ()
    ready_s: Mapping[str, int] = {}
    kit_lanes: Mapping[str, int] = {}
    judges_at_once: int | None = None

    def touched(self, heat_id: str) -> bool:
        """Whether a heat has begun, so that it cannot be changed any more."""
        return heat_id in self.begun_s or heat_id in self.over_s

    def lost_on(self, floor_id: str) -> frozenset[int]:
        """Return the lanes of a floor that are lost."""
        return frozenset(lost.lane for lost in self.lost_lanes if lost.floor == floor_id)


class Notice(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Who must be told what: these teams, or (none named) the crew of a floor."""

    heat: str
    teams: tuple[str, ...]
    said: Finding


class Repaired(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A repair that is proposed.

    Attributes
    ----------
    how
        ``unchanged``: the published plan still does; ``kept_order``: everything in the order
        published, later where it must be; ``reordered``: some heats change places.
    plan
        The whole day, what has been run as it was published; the next revision unless
        unchanged.
    cost
        What the changes ask of people: see ``repair.cost``.
    notices
        Who must be told what, soonest first.
    findings
        What ``check.check_repair`` has to say of it.
    """

    how: How
    plan: Plan
    cost: int
    notices: tuple[Notice, ...]
    findings: tuple[Finding, ...] = ()
