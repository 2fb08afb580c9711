"""Invented days for the planner's benchmarks.

The usual day: 48 teams in three divisions, eight lanes, five workouts of 6 to 20 minutes on one
floor or on two that take turns, changeovers of 3, 5 and 10 minutes, 40 minutes of rest and a
lunch of 45 after four hours. Random days differ in divisions, lanes and caps. Everything is
fixed by its seed.
"""

import random
from collections.abc import Mapping, Sequence
from datetime import date
from itertools import combinations

from msgspec.structs import replace

from callroom.model import (
    CategoryCount,
    Division,
    Event,
    EventDay,
    Floor,
    KitShare,
    Part,
    Pause,
    SharedKit,
    Team,
    Wishes,
    Workout,
)
from callroom.model.wishes import OrderRule

MINUTE = 60
DAY_S = 24 * 60 * MINUTE
COUNTS = {"a": 20, "b": 18, "c": 10}
CAPS_MIN = (8, 15, 20, 6, 12)
LUNCH = Pause(id="lunch", name="Lunch", start_s=240 * MINUTE, length_s=45 * MINUTE)
Day = tuple[Event, tuple[Team, ...]]


def day(
    counts: Mapping[str, int],
    caps_min: Sequence[int],
    *,
    floors: int,
    lanes: int = 8,
    order: OrderRule = "kept",
    mixed: bool = False,
) -> Day:
    """Return a day for these divisions, its workouts on the floors in turn."""
    make_up = (CategoryCount(category="x", count=4),)
    event = Event(
        id="bench",
        name="Bench",
        day=date(2027, 5, 8),
        zone="Europe/Zurich",
        start_s=8 * 3600,
        venue="",
        cause="",
        currency="CHF",
        categories=(),
        divisions=tuple(Division(id=name, name=name, make_up=make_up) for name in counts),
        floors=tuple(Floor(id=f"f{n}", name=f"F{n}", lanes=lanes) for n in range(floors)),
        workouts=tuple(workout(f"w{n}", cap, n % floors) for n, cap in enumerate(caps_min)),
        wishes=Wishes(
            rest_s=40 * MINUTE,
            changeover_same_s=3 * MINUTE,
            changeover_division_s=5 * MINUTE,
            changeover_workout_s=10 * MINUTE,
            pauses=(LUNCH,),
            order=order,
            mixed_heats=mixed,
        ),
    )
    teams = tuple(
        Team(id=f"{division}{n:03}", name="", division=division, entry_rank=n)
        for division, count in counts.items()
        for n in range(1, count + 1)
    )
    return event, teams


def workout(name: str, cap_min: int, floor: int) -> Workout:
    """Return a workout that holds the floor for its cap and no longer."""
    part = Part(id="a", kind="time", cap_s=cap_min * MINUTE, blocks=())
    return Workout(
        id=name, name=name, floor=f"f{floor}", parts=(part,),
        walk_on_s=0, countdown_s=0, sign_s=0, strip_s=0,
    )  # fmt: skip


def wished(made: Day, **wishes: object) -> Day:
    """Return a day with other wishes."""
    event, teams = made
    return replace(event, wishes=replace(event.wishes, **wishes)), teams


def day_of_48(*, floors: int = 1, order: OrderRule = "kept", mixed: bool = False) -> Day:
    """Return the usual day on one floor, or on two that take turns with the workouts."""
    return day(COUNTS, CAPS_MIN, floors=floors, order=order, mixed=mixed)


def day_of_12(*, mixed: bool = False) -> Day:
    """Return the smallest day: one floor, three small divisions, the same workouts."""
    return day({"a": 5, "b": 4, "c": 3}, (12, 6, 20, 8, 15), floors=1, mixed=mixed)


def random_day(teams: int, seed: int, *, floors: int, mixed: bool = False) -> Day:
    """Return a plain day of uneven divisions and random caps; the same for the same seed.

    48 teams have eight lanes, as on the usual day; 120 have eight or ten.
    """
    rng = random.Random(f"{teams}/{seed}")
    counts = uneven(teams, "abc" if teams < 100 else "abcde", rng)
    caps = [rng.randint(6, 20) for _ in range(5)]
    return day(
        counts, caps, floors=floors, lanes=8 if teams < 100 else rng.choice((8, 10)), mixed=mixed
    )


def uneven(teams: int, names: str, rng: random.Random) -> dict[str, int]:
    """Cut the teams into divisions of uneven sizes, at least eight teams each."""
    left, counts = teams, {}
    for place, name in enumerate(names):
        rest = len(names) - place - 1
        share = left if not rest else rng.randint(8, max(8, (left - 8 * rest) * 2 // (rest + 2)))
        counts[name] = share
        left -= share
    return counts


def scarce_day(seed: int) -> Day:
    """Return a day of 120 teams with judges for a floor and a half, shared kit, finals, waves."""
    made = random_day(120, 100 + seed, floors=2)
    event, _ = made
    lanes = event.floors[0].lanes
    kit = SharedKit(
        id="rowers",
        name="Rowers",
        count=lanes * 3 // 2,
        shares=tuple(KitShare(workout=name, per_lane=1) for name in ("w0", "w1", "w3")),
    )
    return wished(
        made,
        judges_at_once=lanes * 3 // 2,
        shared_kit=(kit,),
        finals_last=True,
        waves=(("a", "b"), ("c", "d", "e")),
    )


def day_of_400(*, order: OrderRule = "kept", mixed: bool = False) -> Day:
    """Return two days for 400 teams on three floors, three workouts each day."""
    counts = {"a": 120, "b": 96, "c": 80, "d": 64, "e": 40}
    caps = (8, 12, 10, 14, 9, 11)
    made = day(counts, caps, floors=3, lanes=12, order=order, mixed=mixed)
    return wished(made, days=days_in_row(2, 3), pauses=lunches(2))


def days_of_1000() -> tuple[Day, Day]:
    """Return three days for 1,000 teams on four floors, as two halves with two floors each.

    The divisions are parted so that the halves have as equal a number of heats as goes; each has
    its own floors for every workout, so it is planned as an event of its own.
    """
    lanes = 12
    counts = {name: 148 - 12 * n - n % 3 for n, name in enumerate("abcdefghi")}
    counts["j"] = 1000 - sum(counts.values())
    heats = {name: -(-count // lanes) for name, count in counts.items()}
    first = min(
        (set(some) for size in range(1, 6) for some in combinations(counts, size)),
        key=lambda some: abs(2 * sum(heats[name] for name in some) - sum(heats.values())),
    )
    caps = (8, 10, 7, 9, 10, 8)
    halves = [{n: c for n, c in counts.items() if (n in first) == own} for own in (True, False)]
    one, other = (
        wished(day(half, caps, floors=2, lanes=lanes), days=days_in_row(3, 2), pauses=lunches(3))
        for half in halves
    )
    return one, other


def days_in_row(count: int, workouts: int) -> tuple[EventDay, ...]:
    """Return days of up to twenty hours, each with so many workouts in the order listed."""
    return tuple(
        EventDay(
            id=f"d{n}",
            name=f"D{n}",
            opens_s=n * DAY_S,
            closes_s=n * DAY_S + 20 * 60 * MINUTE,
            workouts=tuple(f"w{n * workouts + w}" for w in range(workouts)),
        )
        for n in range(count)
    )


def lunches(days: int) -> tuple[Pause, ...]:
    """Return a lunch on every day, after four hours."""
    return tuple(
        replace(LUNCH, id=f"lunch{n}", name=f"Lunch {n}", start_s=n * DAY_S + LUNCH.start_s)
        for n in range(days)
    )
