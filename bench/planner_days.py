"""Invented days for the planner's benchmark, and the plan an expert would make by hand.

A day of 48 teams in three divisions, eight lanes, five workouts with caps of 6 to
20 minutes, changeovers of 3, 5 and 10 minutes, 40 minutes of rest and a lunch of 45.
"""

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from callroom.model import (
    CategoryCount,
    Division,
    Event,
    Floor,
    Part,
    Pause,
    Plan,
    Team,
    Wishes,
    Workout,
)
from callroom.model.wishes import OrderRule
from callroom.planner import HeatTeams, Placed, compose, plan_of

MINUTE = 60
COUNTS = {"a": 20, "b": 16, "c": 12}
CAPS_MIN = (12, 20, 8, 15, 6)


def day_of_48(
    *, floors: int = 1, order: OrderRule = "kept", mixed: bool = False, lanes: int = 8
) -> tuple[Event, tuple[Team, ...]]:
    """Return the day on one floor, or on two that take turns with the workouts."""
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
        divisions=tuple(Division(id=name, name=name, make_up=make_up) for name in COUNTS),
        floors=tuple(Floor(id=f"f{n}", name=f"F{n}", lanes=lanes) for n in range(floors)),
        workouts=tuple(_workout(f"w{n}", cap, n % floors) for n, cap in enumerate(CAPS_MIN)),
        wishes=Wishes(
            rest_s=40 * MINUTE,
            changeover_same_s=3 * MINUTE,
            changeover_division_s=5 * MINUTE,
            changeover_workout_s=10 * MINUTE,
            pauses=(Pause(id="lunch", name="Lunch", start_s=240 * MINUTE, length_s=45 * MINUTE),),
            order=order,
            mixed_heats=mixed,
        ),
    )
    teams = tuple(
        Team(id=f"{division}{n:02}", name="", division=division, entry_rank=n)
        for division, count in COUNTS.items()
        for n in range(1, count + 1)
    )
    return event, teams


def plan_by_hand(event: Event, teams: Sequence[Team], *, slot_s: int) -> Plan:
    """Return the plan of an expert with a spreadsheet, for pure heats in kept order.

    Workout after workout, division after division, heat after heat, each heat in the first
    row of the sheet where its floor is ready, its teams are rested, and it is over before
    lunch; heats of a block at one spacing, in rows of `slot_s` seconds.
    """
    heats = compose(event, teams)
    placed: list[Placed] = []
    free_s = dict.fromkeys((floor.id for floor in event.floors), 0)
    rested_s: dict[str, int] = {}
    last: dict[str, tuple[str, tuple[str, ...]]] = {}
    wishes = event.wishes
    for (name, divisions), group in groupby(heats, key=lambda heat: (heat.workout, heat.divisions)):
        workout = event.workout(name)
        block: list[HeatTeams] = list(group)
        pitch_s = _up(workout.floor_s + wishes.changeover_same_s, slot_s)
        ready_s = free_s[workout.floor] + _between(event, last.get(workout.floor), name, divisions)
        for place, heat in enumerate(block):
            rests = (rested_s.get(team, 0) - place * pitch_s for team in heat.teams)
            ready_s = max(ready_s, *rests)
        start_s = _up(ready_s, slot_s)
        for heat in block:
            start_s = _up(_clear_of_pauses(event, start_s, workout.floor_s), slot_s)
            placed.append(Placed(slot=heat.id, floor=workout.floor, start_s=start_s))
            end_s = start_s + workout.floor_s
            rested_s |= dict.fromkeys(heat.teams, end_s + wishes.rest_s)
            free_s[workout.floor] = end_s
            start_s += pitch_s
        last[workout.floor] = name, divisions
    blank = Plan(revision=1, inputs_digest="", heats=())
    return plan_of(event, heats, placed, blank)


def _between(
    event: Event, last: tuple[str, tuple[str, ...]] | None, name: str, divisions: tuple[str, ...]
) -> int:
    if last is None:
        return 0
    if last[0] != name:
        return event.wishes.changeover_workout_s
    if last[1] != divisions:
        return event.wishes.changeover_division_s
    return event.wishes.changeover_same_s


def _clear_of_pauses(event: Event, start_s: int, length_s: int) -> int:
    for pause in sorted(event.wishes.pauses, key=lambda pause: pause.start_s):
        if start_s < pause.start_s + pause.length_s and pause.start_s < start_s + length_s:
            start_s = pause.start_s + pause.length_s
    return start_s


def _up(value_s: int, slot_s: int) -> int:
    return -(-value_s // slot_s) * slot_s


def _workout(name: str, cap_min: int, floor: int) -> Workout:
    part = Part(id="a", kind="time", cap_s=cap_min * MINUTE, blocks=())
    return Workout(
        id=name, name=name, floor=f"f{floor}", parts=(part,),
        walk_on_s=0, countdown_s=0, sign_s=0, strip_s=0,
    )  # fmt: skip
