"""Wishes that come in rows: about one day, workout, team or piece of kit at a time.

All times are whole seconds from the day's start instant, which on an event of several days is
the start of the first.
"""

from typing import Literal

import msgspec

OrderRule = Literal["kept", "neighbours", "reseeded"]


class EventDay(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One day of an event of several: no heat starts before it opens or ends after it closes.

    `workouts` are those done on it; where no day of an event names any, they are spread in the
    order listed.
    """

    id: str
    name: str
    opens_s: int
    closes_s: int
    workouts: tuple[str, ...] = ()


class RestBetween(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Least time between a team leaving the floor of one workout and its heat of another [s]."""

    before: str
    after: str
    rest_s: int


class OrderInto(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How far the standings may move teams before they come into a workout."""

    workout: str
    order: OrderRule


class FloorChoice(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The floors on which a workout may be run, its own included; one block stays on one."""

    workout: str
    floors: tuple[str, ...]


class KitShare(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How many pieces of some shared kit each team needs in a workout."""

    workout: str
    per_lane: int


class SharedKit(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Kit of which there are only so many pieces for all floors and divisions together."""

    id: str
    name: str
    count: int
    shares: tuple[KitShare, ...] = ()


class JudgeSpell(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A time of the day in which there are so many judges, whatever holds otherwise [s]."""

    from_s: int
    until_s: int
    judges: int


class Lock(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something fixed by hand: a heat's time or floor, or a team's heat or lane.

    Attributes
    ----------
    workout
        The workout; empty: every one.
    team, division
        The heat that is meant: the team's, or the division's heat number `heat`.
    heat
        With a division, which of its heats, counted in the order they are run from 1; with a
        team, the heat of its division it is put into (0: not fixed).
    at_s
        When the heat starts [s]; None: not fixed.
    floor, lane
        Where: the floor of the heat, the lane of the team ("" and None: not fixed).
    """

    workout: str = ""
    team: str = ""
    division: str = ""
    heat: int = 0
    at_s: int | None = None
    floor: str = ""
    lane: int | None = None


class TeamHours(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A team that comes late or has to leave early [s]; None: no such hour."""

    team: str
    from_s: int | None = None
    until_s: int | None = None


class Apart(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Teams never on a floor at the same time, because they share an athlete or a coach.

    At least `gap_s` lie between the one leaving its floor and the other walking on [s].
    """

    teams: tuple[str, ...]
    gap_s: int = 0
