"""A team that came late: free lanes for it in heats that are planned already, moving nobody."""

from collections.abc import Iterable, Iterator
from itertools import islice

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.finding import errors_among
from callroom.model.plan import Heat, LaneTeam, Plan
from callroom.model.team import Team
from callroom.planner.check.plan import check_plan
from callroom.planner.check.repair import check_repair
from callroom.planner.day_now import DayNow, Repaired
from callroom.planner.repair.notices import notices

_MOST_TRIED = 40
"""So many choices of heats are held against the rules; the first come soonest."""


def place_late(
    event: Event, teams: Iterable[Team], plan: Plan, team: Team, now: DayNow
) -> Repaired | None:
    """Return the plan with `team` in a free lane of a heat of each workout still to come.

    Heats are those of the team's division, or lanes that a team which withdrew leaves empty.
    Nobody else is moved. Workouts whose heats have all begun are missed. None: no choice of free
    lanes keeps the rests and wishes that the plan keeps, or nothing is free.
    """
    entered = tuple(teams)
    known = set(_faults(event, entered, plan, now))
    for choice in islice(_choices(event, entered, plan, team, now), _MOST_TRIED):
        changed = {heat.id: heat for heat in choice}
        after = replace(
            plan,
            revision=plan.revision + 1,
            heats=tuple(changed.get(heat.id, heat) for heat in plan.heats),
            bound_s=None,
        )
        told = notices(plan, after, now)
        found = check_repair(event, entered, plan, after, now=now, notices=told)
        fresh = set(_faults(event, entered, after, now)) - known
        if not errors_among(found) and not fresh:
            return Repaired(how="kept_order", plan=after, cost=1, notices=told, findings=found)
    return None


def _choices(
    event: Event, teams: tuple[Team, ...], plan: Plan, team: Team, now: DayNow
) -> Iterator[tuple[Heat, ...]]:
    """Give one heat of each workout with the team in it, none at the time of another."""
    divisions = {one.id: one.division for one in teams}
    by_workout: dict[str, list[Heat]] = {}
    for heat in sorted(plan.heats, key=lambda one: (one.start_s, one.id)):
        mine = any(divisions.get(place.team) == team.division for place in heat.lanes)
        if mine and not now.touched(heat.id) and heat.start_s >= now.now_s:
            made = _with_team(event, heat, team, now)
            by_workout.setdefault(heat.workout, [])
            if made is not None:
                by_workout[heat.workout].append(made)
    rows = sorted(by_workout.values(), key=lambda row: row[0].start_s if row else 0)
    if rows and all(rows):
        yield from _apart(rows, event.wishes.rest_s, ())


def _apart(
    rows: list[list[Heat]], rest_s: int, chosen: tuple[Heat, ...]
) -> Iterator[tuple[Heat, ...]]:
    if not rows:
        yield chosen
        return
    for heat in rows[0]:
        if all(
            heat.start_s >= other.end_s + rest_s or other.start_s >= heat.end_s + rest_s
            for other in chosen
        ):
            yield from _apart(rows[1:], rest_s, (*chosen, heat))


def _with_team(event: Event, heat: Heat, team: Team, now: DayNow) -> Heat | None:
    """Return a heat with the team in its first free lane; None if there is none."""
    staying = tuple(place for place in heat.lanes if place.team not in now.withdrawn)
    used = {place.lane for place in staying} | now.lost_on(heat.floor)
    free = [lane for lane in event.floor(heat.floor).open_lanes if lane not in used]
    if not free or heat.floor in now.lost_floors:
        return None
    own = LaneTeam(lane=free[0], team=team.id)
    others = tuple(place for place in heat.lanes if place.lane != own.lane)
    lanes = tuple(sorted((*others, own), key=lambda place: place.lane))
    return replace(heat, lanes=lanes)


def _faults(
    event: Event, teams: tuple[Team, ...], plan: Plan, now: DayNow
) -> Iterator[tuple[str, str]]:
    found = check_plan(event, teams, plan, withdrawn=set(now.withdrawn))
    return ((one.rule, one.subject) for one in errors_among(found))
