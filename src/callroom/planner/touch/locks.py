"""Locks as they stand in the wishes, and the heats and teams of a plan that they hold."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.model.wish_rows import Lock
from callroom.planner.touch.refused import Impossible

Teams = Mapping[str, Team]


class Locked(NamedTuple):
    """Ids of the heats whose time or floor is locked; (workout, team) of locked places."""

    heats: frozenset[str]
    places: frozenset[tuple[str, str]]


def locked(event: Event, teams: Teams, plan: Plan) -> Locked:
    """Return what of a plan is locked."""
    heats, places = set(), set()
    for lock in event.wishes.locks:
        for heat in _meant(event, teams, plan, lock):
            if lock.at_s is not None or lock.floor:
                heats.add(heat.id)
            if lock.team and (lock.heat or lock.lane is not None):
                places.add((heat.workout, lock.team))
    return Locked(frozenset(heats), frozenset(places))


def with_lock(event: Event, teams: Teams, plan: Plan, heat: Heat, team: str) -> Event:
    """Return the event in which a heat's time and floor, or a team's place in it, are locked."""
    if team:
        division = teams[team].division
        row = _row(teams, plan, heat.workout, division)
        lock = Lock(
            workout=heat.workout, team=team, heat=row.index(heat) + 1, lane=heat.lane_of(team)
        )
    else:
        division = _division(event, teams, heat)
        row = _row(teams, plan, heat.workout, division)
        lock = Lock(
            workout=heat.workout,
            division=division,
            heat=row.index(heat) + 1,
            at_s=heat.start_s,
            floor=heat.floor,
        )
    freed = without_lock(event, teams, plan, heat, team)
    return _with(freed, (*freed.wishes.locks, lock))


def without_lock(event: Event, teams: Teams, plan: Plan, heat: Heat, team: str) -> Event:
    """Return the event in which neither time nor floor, or not the team's place, is locked."""
    kept: list[Lock] = []
    for lock in event.wishes.locks:
        if heat not in _meant(event, teams, plan, lock):
            kept.append(lock)
            continue
        if not lock.workout:  # a lock for all workouts goes on holding in the others
            others = (one.id for one in event.workouts if one.id != heat.workout)
            kept += [replace(lock, workout=one) for one in others]
        if team and lock.team == team:
            left = replace(lock, workout=heat.workout, heat=0, lane=None)
            kept += [left] if lock.at_s is not None or lock.floor else []
        elif not team:
            left = replace(lock, workout=heat.workout, at_s=None, floor="")
            kept += [left] if lock.team and (lock.heat or lock.lane is not None) else []
        else:
            kept.append(replace(lock, workout=heat.workout))
    return _with(event, tuple(kept))


def following(event: Event, teams: Teams, before: Plan, after: Plan) -> Event:
    """Return the event whose locks hold the same heats as before.

    A lock counts a division's heats in the order they are run, and that may have changed.
    """
    kept: list[Lock] = []
    for lock in event.wishes.locks:
        held = tuple(_meant(event, teams, before, lock))
        if lock.team or not held:
            kept.append(lock)
            continue
        for heat in held:
            row = [one.id for one in _row(teams, after, heat.workout, lock.division)]
            if heat.id in row:
                place = row.index(heat.id) + 1
                kept.append(replace(lock, workout=heat.workout, heat=place))
    return event if tuple(kept) == event.wishes.locks else _with(event, _joined(event, kept))


def _joined(event: Event, locks: list[Lock]) -> tuple[Lock, ...]:
    """Return locks in their order, those that hold in all workouts alike as one row again."""
    found: list[Lock] = []
    everywhere = {one.id for one in event.workouts}
    for lock in locks:
        whole = replace(lock, workout="")
        alike = {one.workout for one in locks if replace(one, workout="") == whole}
        joined = whole if alike == everywhere and len(everywhere) > 1 else lock
        if joined not in found:
            found.append(joined)
    return tuple(found)


def _meant(event: Event, teams: Teams, plan: Plan, lock: Lock) -> Iterator[Heat]:
    for workout in [lock.workout] if lock.workout else [one.id for one in event.workouts]:
        if lock.team:
            heat = plan.heat_of(workout, lock.team)
            if heat is not None:
                yield heat
            continue
        row = _row(teams, plan, workout, lock.division)
        if 0 < lock.heat <= len(row):
            yield row[lock.heat - 1]


def _row(teams: Teams, plan: Plan, workout: str, division: str) -> list[Heat]:
    mine = {team.id for team in teams.values() if team.division == division}
    row = [one for one in plan.heats if one.workout == workout and mine & set(one.teams)]
    return sorted(row, key=lambda heat: (heat.start_s, heat.number))


def _division(event: Event, teams: Teams, heat: Heat) -> str:
    present = {teams[team].division for team in heat.teams if team in teams}
    found = next((one.id for one in event.divisions if one.id in present), "")
    if not found:
        raise Impossible("touch.no_heat", given=heat.id)
    return found


def _with(event: Event, locks: tuple[Lock, ...]) -> Event:
    return replace(event, wishes=replace(event.wishes, locks=locks))
