"""What the director wishes of the timetable."""

from typing import Literal

import msgspec

from callroom.model.wish_rows import (
    Apart,
    EventDay,
    FloorChoice,
    JudgeSpell,
    Lock,
    OrderInto,
    OrderRule,
    RestBetween,
    SharedKit,
    TeamHours,
)

__all__ = ["HeatPattern", "LanePattern", "OrderRule", "Pause", "Wishes"]

HeatPattern = Literal["circle", "circle_last_two", "to_and_fro", "best_last"]
LanePattern = Literal["centre_out", "drawn_groups", "numbered"]


class Pause(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something pinned in the day, during which the named floors rest (none named: all).

    Times are whole seconds from the day's start instant.
    """

    id: str
    name: str
    start_s: int
    length_s: int
    floors: tuple[str, ...] = ()


class Wishes(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Wishes about the day; all times in whole seconds from the day's start.

    Attributes
    ----------
    first_heat_s, finish_by_s
        No heat starts before the one or holds a floor after the other.
    rest_s
        Least time between a team leaving a floor and its next heat [s].
    changeover_same_s, changeover_division_s, changeover_workout_s
        Work between two heats of the same workout and division, of another division,
        of another workout [s].
    slot_s
        Heats start on multiples of this [s]; a minute by default, so that sheets are clean.
    constant_rhythm
        Heats of one workout and division follow each other at one spacing.
    order
        ``kept``: a team meets the same heat companions all day; ``neighbours``: one heat
        up or down; ``reseeded``: later workouts are seeded anew from the standings.
    workout_order
        ``listed``: every team does the workouts in the order listed; ``free``: in any order.
    mixed_heats
        Whether what is left of two divisions may share a heat.
    heat_pattern
        ``circle``: the last three heats are dealt round, the top team last of all;
        ``circle_last_two``: the last two (for long workouts); ``to_and_fro``: even heats,
        their order drawn; ``best_last``: full heats rank by rank, the best last.
    lane_pattern
        ``centre_out``: the best in the centre; ``drawn_groups``: lanes drawn within groups
        of ranks; ``numbered``: rank by rank from the painted side.
    warm_up_s, warm_up_heats
        Every heat warms up so long before its briefing [s], so many heats at a time (0: any).
    briefing_s
        Every heat is briefed so long right before it walks on [s], one heat at a time. Warm-up
        and briefing lie within the rest, which is at least as long as both.
    judges_from_crew
        Whether the judges of the crew list are all there are, hour by hour.
    finals_last
        The best-ranked heat of each division in the last workout is a *final*: a block of its
        own, run when every other heat of the day is over.
    waves
        Groups of divisions: the heats of one are over before the next begins.
    early
        Divisions whose heats come as early in the day as goes without loss elsewhere.
    days
        The days of an event of several; `first_heat_s` and `finish_by_s` are not looked at then.
    """

    first_heat_s: int = 0
    finish_by_s: int | None = None
    rest_s: int = 1800
    changeover_same_s: int = 120
    changeover_division_s: int = 300
    changeover_workout_s: int = 600
    slot_s: int = 60
    constant_rhythm: bool = True
    pauses: tuple[Pause, ...] = ()
    order: OrderRule = "kept"
    workout_order: Literal["listed", "free"] = "listed"
    mixed_heats: bool = False
    heat_pattern: HeatPattern = "best_last"
    lane_pattern: LanePattern = "centre_out"
    least_per_heat: int = 3
    judges_at_once: int | None = None
    draw_seed: int = 1
    warm_up_s: int = 0
    warm_up_heats: int = 0
    briefing_s: int = 0
    judges_from_crew: bool = False
    finals_last: bool = False
    waves: tuple[tuple[str, ...], ...] = ()
    early: tuple[str, ...] = ()
    days: tuple[EventDay, ...] = ()
    orders: tuple[OrderInto, ...] = ()
    rests: tuple[RestBetween, ...] = ()
    floor_choices: tuple[FloorChoice, ...] = ()
    shared_kit: tuple[SharedKit, ...] = ()
    judge_spells: tuple[JudgeSpell, ...] = ()
    locks: tuple[Lock, ...] = ()
    team_hours: tuple[TeamHours, ...] = ()
    apart: tuple[Apart, ...] = ()

    def rest_between_s(self, before: str, after: str) -> int:
        """Return the least rest of a team between two workouts [s], warm-up included."""
        told = [r.rest_s for r in self.rests if (r.before, r.after) == (before, after)]
        return max(told[-1] if told else self.rest_s, self.warm_up_s + self.briefing_s)

    def order_into(self, workout: str) -> OrderRule:
        """Return how far the standings may move teams before a workout."""
        told = [one.order for one in self.orders if one.workout == workout]
        return told[-1] if told else self.order

    def floors_for(self, workout: str, own: str) -> tuple[str, ...]:
        """Return the floors a workout may be run on; `own` is the one it names itself."""
        told = [one.floors for one in self.floor_choices if one.workout == workout]
        return told[-1] if told else (own,)
