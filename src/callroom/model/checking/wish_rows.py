"""The checks of the wishes that come in rows: names that exist, days in order, times forward.

Teams are not looked up: they enter later, and a plan says which of these wishes found none.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import pairwise

from callroom.model.checking.catalogue import RULES
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.wish_rows import Lock


def check_wish_rows(event: Event) -> Iterator[Finding]:
    """Give every fault of the wishes of `event` that come in rows."""
    yield from _names(event)
    yield from _waves(event)
    yield from _days(event)
    yield from _floor_choices(event)
    yield from _spans(event)
    for row, lock in enumerate(event.wishes.locks):
        yield from _lock(row, lock)
    for row, apart in enumerate(event.wishes.apart):
        if len(set(apart.teams)) < 2:
            at = f"wishes.apart.{row}.teams"
            yield RULES.found("wishes.apart_one_team", at, number=row + 1)


def _names(event: Event) -> Iterator[Finding]:
    """Workouts, divisions and floors that the event does not have."""
    wishes = event.wishes
    workouts: list[tuple[str, str]] = []
    for row, rest in enumerate(wishes.rests):
        workouts.append((f"rests.{row}.before", rest.before))
        workouts.append((f"rests.{row}.after", rest.after))
    workouts += [(f"orders.{one.workout}", one.workout) for one in wishes.orders]
    workouts += [(f"floors.{one.workout}", one.workout) for one in wishes.floor_choices]
    for kit in wishes.shared_kit:
        workouts += [(f"kit.{kit.id}.per_lane", share.workout) for share in kit.shares]
    for day in wishes.days:
        workouts += [(f"days.{day.id}.workouts", name) for name in day.workouts]
    locks = list(enumerate(wishes.locks))
    workouts += [(f"locks.{row}.workout", lock.workout) for row, lock in locks if lock.workout]
    yield from _unknown("workout", workouts, [workout.id for workout in event.workouts])
    divisions = [(f"locks.{row}.division", one.division) for row, one in locks if one.division]
    divisions += [("waves", name) for wave in wishes.waves for name in wave]
    divisions += [("early", name) for name in wishes.early]
    yield from _unknown("division", divisions, [division.id for division in event.divisions])
    floors = [(f"locks.{row}.floor", lock.floor) for row, lock in locks if lock.floor]
    floors += [
        (f"floors.{one.workout}", name) for one in wishes.floor_choices for name in one.floors
    ]
    yield from _unknown("floor", floors, [floor.id for floor in event.floors])


def _unknown(kind: str, given: Iterable[tuple[str, str]], known: list[str]) -> Iterator[Finding]:
    for at, name in given:
        if name not in known:
            yield RULES.found(
                "wishes.name_unknown", f"wishes.{at}", kind=kind, given=name, known=", ".join(known)
            )


def _waves(event: Event) -> Iterator[Finding]:
    times = Counter(name for wave in event.wishes.waves for name in wave)
    for division, count in times.items():
        if count > 1:
            yield RULES.found("wishes.division_in_two_waves", "wishes.waves", division=division)


def _days(event: Event) -> Iterator[Finding]:
    days = event.wishes.days
    for day in days:
        if day.closes_s <= day.opens_s:
            yield RULES.found("wishes.day_backwards", f"wishes.days.{day.id}.closes_s", day=day.id)
    for before, day in pairwise(days):
        if day.opens_s < before.closes_s:
            at = f"wishes.days.{day.id}.opens_s"
            yield RULES.found("wishes.days_overlap", at, day=day.id, before=before.id)
    times = Counter(name for day in days for name in day.workouts)
    for workout, count in times.items():
        if count > 1:
            yield RULES.found("wishes.workout_in_two_days", "wishes.days", workout=workout)
    for workout in (one.id for one in event.workouts):
        if times and workout not in times:
            yield RULES.found("wishes.workout_on_no_day", "wishes.days", workout=workout)


def _floor_choices(event: Event) -> Iterator[Finding]:
    own = {workout.id: workout.floor for workout in event.workouts}
    for choice in event.wishes.floor_choices:
        floor = own.get(choice.workout)
        if floor is not None and floor not in choice.floors:
            yield RULES.found(
                "wishes.floor_not_among_choices",
                f"wishes.floors.{choice.workout}",
                workout=choice.workout,
                floor=floor,
            )


def _spans(event: Event) -> Iterator[Finding]:
    for row, spell in enumerate(event.wishes.judge_spells):
        if spell.until_s <= spell.from_s:
            at = f"wishes.judges.{row}.until_s"
            yield RULES.found("wishes.span_backwards", at, number=row + 1)
    for row, hours in enumerate(event.wishes.team_hours):
        known = hours.from_s is not None and hours.until_s is not None
        if known and (hours.until_s or 0) <= (hours.from_s or 0):
            at = f"wishes.team_hours.{row}.until_s"
            yield RULES.found("wishes.span_backwards", at, number=row + 1)


def _lock(row: int, lock: Lock) -> Iterator[Finding]:
    at, number = f"wishes.locks.{row}", row + 1
    by_team, by_heat = bool(lock.team), bool(lock.division and lock.heat)
    fixed = lock.at_s is not None or lock.floor or lock.lane is not None
    if not (by_team or by_heat) or not (fixed or (by_team and lock.heat)):
        yield RULES.found("wishes.lock_names_nothing", at, number=number)
    elif lock.lane is not None and not by_team:
        yield RULES.found("wishes.lock_lane_without_team", f"{at}.lane", number=number)
