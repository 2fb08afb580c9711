"""Invented days that cannot be done, for the benchmark of what would make them possible.

Days of 48 and of 120 teams with caps of 6 to 20 minutes, changeovers of 3, 5 and 10 minutes,
40 minutes of rest, a lunch of 45, judges for one floor and a half, and a finish that is
earlier than the day allows by 5 to 45 minutes: the certificate does not tell it alone.
"""

import random
from datetime import date

from msgspec.structs import replace

from callroom.model import (
    CategoryCount,
    Division,
    Event,
    Floor,
    Part,
    Pause,
    Team,
    Wishes,
    Workout,
)
from callroom.model.wishes import OrderRule
from callroom.planner import Limits, compose, pose
from callroom.planner.solve import least_finish

MINUTE = 60
ORDERS: tuple[OrderRule, ...] = ("kept", "neighbours", "reseeded")


def tight_day(teams: int, seed: int) -> tuple[Event, tuple[Team, ...]]:
    """Return a day for so many teams that no timetable keeps; the same for the same seed."""
    rng = random.Random(seed)
    event, entered = loose_day(teams, seed)
    answer = least_finish(pose(event, compose(event, entered)), Limits(work=2))
    assert answer.finish_s is not None
    bound_s = answer.aims[-1].bound_s
    short_s = rng.randrange(5, 46, 5) * MINUTE
    return replace(event, wishes=replace(event.wishes, finish_by_s=bound_s - short_s)), entered


def loose_day(teams: int, seed: int) -> tuple[Event, tuple[Team, ...]]:
    """Return the day before it was cut short."""
    rng = random.Random(1000 + seed)
    counts = _divisions(teams, rng)
    lanes, floors = rng.choice((8, 10)), 2
    make_up = (CategoryCount(category="x", count=4),)
    workouts = tuple(_workout(n, rng, n % floors) for n in range(5 if teams < 100 else 4))
    event = Event(
        id=f"tight-{teams}-{seed}",
        name="Tight",
        day=date(2027, 5, 8),
        zone="Europe/Zurich",
        start_s=8 * 3600,
        venue="",
        cause="",
        currency="CHF",
        categories=(),
        divisions=tuple(Division(id=name, name=name, make_up=make_up) for name in counts),
        floors=tuple(Floor(id=f"f{n}", name=f"F{n}", lanes=lanes) for n in range(floors)),
        workouts=workouts,
        wishes=Wishes(
            first_heat_s=30 * MINUTE,
            rest_s=40 * MINUTE,
            changeover_same_s=3 * MINUTE,
            changeover_division_s=5 * MINUTE,
            changeover_workout_s=10 * MINUTE,
            pauses=(Pause(id="lunch", name="Lunch", start_s=240 * MINUTE, length_s=45 * MINUTE),),
            order=rng.choice(ORDERS),
            judges_at_once=rng.choice((None, lanes * 3 // 2, 2 * lanes - 2)),
        ),
    )
    entered = tuple(
        Team(id=f"{division}{n:03}", name="", division=division, entry_rank=n)
        for division, count in counts.items()
        for n in range(1, count + 1)
    )
    return event, entered


def _divisions(teams: int, rng: random.Random) -> dict[str, int]:
    """Cut the teams into divisions of uneven sizes, at least eight teams each."""
    names = "abc" if teams < 100 else "abcde"
    left, counts = teams, {}
    for place, name in enumerate(names):
        rest = len(names) - place - 1
        share = left if not rest else rng.randint(8, max(8, (left - 8 * rest) * 2 // (rest + 2)))
        counts[name] = share
        left -= share
    return counts


def _workout(number: int, rng: random.Random, floor: int) -> Workout:
    part = Part(id="a", kind="time", cap_s=rng.randint(6, 20) * MINUTE, blocks=())
    return Workout(
        id=f"w{number}", name=f"W{number}", floor=f"f{floor}", parts=(part,),
        walk_on_s=0, countdown_s=0, sign_s=0, strip_s=0,
    )  # fmt: skip
