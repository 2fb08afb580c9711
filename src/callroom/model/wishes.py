"""What the director wishes of the timetable."""

from typing import Literal

import msgspec

HeatPattern = Literal["circle", "circle_last_two", "to_and_fro", "best_last"]
LanePattern = Literal["centre_out", "drawn_groups", "numbered"]
OrderRule = Literal["kept", "neighbours", "reseeded"]


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
