"""An event of several days, as one event for each day.

Heats are composed once, for the whole event, and then planned day by day: nothing but a night
lies between the days, so what is best for each is best for all.
"""

from collections.abc import Iterator
from itertools import combinations, pairwise

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.wish_rows import EventDay
from callroom.model.workout import Workout


def days_of(event: Event) -> tuple[Event, ...]:
    """Return the event of each day: its workouts and its hours; of one day, the event itself.

    A wish that names a workout of another day is left out, and finals are on the last day only.
    """
    days = event.wishes.days
    if not days:
        return (event,)
    return tuple(
        _day(event, day, workouts, is_last=day is days[-1])
        for day, workouts in zip(days, _spread(event), strict=True)
    )


def _day(event: Event, day: EventDay, workouts: tuple[Workout, ...], *, is_last: bool) -> Event:
    wishes, names = event.wishes, {workout.id for workout in workouts}
    return replace(
        event,
        workouts=workouts,
        wishes=replace(
            wishes,
            days=(),
            first_heat_s=day.opens_s,
            finish_by_s=day.closes_s,
            pauses=tuple(
                pause
                for pause in wishes.pauses
                if pause.start_s < day.closes_s and day.opens_s < pause.start_s + pause.length_s
            ),
            finals_last=wishes.finals_last and is_last,
            orders=tuple(one for one in wishes.orders if one.workout in names),
            rests=tuple(one for one in wishes.rests if {one.before, one.after} <= names),
            floor_choices=tuple(one for one in wishes.floor_choices if one.workout in names),
            locks=tuple(one for one in wishes.locks if one.workout in names | {""}),
        ),
    )


def _spread(event: Event) -> tuple[tuple[Workout, ...], ...]:
    """Return the workouts of each day: those it names, or all spread in the order listed."""
    days = event.wishes.days
    if any(day.workouts for day in days):
        return tuple(
            tuple(workout for workout in event.workouts if workout.id in day.workouts)
            for day in days
        )
    return min(_cuts(event, len(days)), key=lambda parts: _fullest(event, parts))


def _cuts(event: Event, days: int) -> Iterator[tuple[tuple[Workout, ...], ...]]:
    count = len(event.workouts)
    for inner in combinations(range(count + 1), days - 1):
        yield tuple(event.workouts[one:other] for one, other in pairwise((0, *inner, count)))


def _fullest(event: Event, parts: tuple[tuple[Workout, ...], ...]) -> tuple[float, float]:
    """Return how full the fullest floor of any day is, and the fullest day over all floors."""
    floors, whole = [0.0], [0.0]
    for day, workouts in zip(event.wishes.days, parts, strict=True):
        open_s = max(1, day.closes_s - day.opens_s)
        work_s = dict.fromkeys((floor.id for floor in event.floors), 0)
        for workout in workouts:
            work_s[workout.floor] += workout.floor_s + event.wishes.changeover_same_s
        floors += [one_s / open_s for one_s in work_s.values()]
        whole.append(sum(work_s.values()) / open_s)
    return max(floors), max(whole)
