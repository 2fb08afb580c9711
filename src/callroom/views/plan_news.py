"""What has changed in the running plan, as everyone may read it."""

from collections.abc import Iterator, Mapping

import msgspec

from callroom.model import Event, Heat, Plan, State
from callroom.views.timetable import Audience, WorkoutTitle, workout_title


class TeamNews(msgspec.Struct, frozen=True, kw_only=True):
    """A team of a changed heat; `moved`: its lane or its heat is another."""

    id: str
    name: str
    lane: int
    moved: bool


class HeatNews(msgspec.Struct, frozen=True, kw_only=True):
    """A heat that changed: where and when it is now, and was [s from the day's start].

    `was_s` is None for a new heat, `was_floor` empty where the floor is the same; `closed`: it
    is not run, and its time is the one it had.
    """

    workout: WorkoutTitle
    number: int
    floor: str
    start_s: int
    was_s: int | None
    was_floor: str
    closed: bool
    teams: tuple[TeamNews, ...]


class PlanNews(msgspec.Struct, frozen=True, kw_only=True):
    """One change of the running plan: the revision it made, when, why, and the heats it touched."""

    revision: int
    at_ms: int
    why: str
    heats: tuple[HeatNews, ...]


def plan_news(state: State, audience: Audience) -> tuple[PlanNews, ...]:
    """Return every change of the running plan, the last one first, as `audience` may see it.

    A plan published anew takes the news of the one before with it.
    """
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return ()
    after = plan
    found = []
    for repair in sorted(state.repairs.values(), key=lambda one: -one.revision):
        if repair.revision != after.revision:
            break
        heats = tuple(heat_news(state, repair.before, after, audience))
        found.append(
            PlanNews(revision=repair.revision, at_ms=repair.at_ms, why=repair.why, heats=heats)
        )
        after = repair.before
    return tuple(found)


def heat_news(state: State, before: Plan, after: Plan, audience: Audience) -> Iterator[HeatNews]:
    """Yield the heats that differ between two plans, in order of time."""
    event = state.event
    if event is None:
        return
    was = {heat.id: heat for heat in before.heats}
    will = {heat.id: heat for heat in after.heats}
    placed = {(heat.workout, team): (heat.id, heat.lane_of(team)) for heat in before.heats
              for team in heat.teams}  # fmt: skip
    changed = [heat for heat in after.heats if was.get(heat.id) != heat]
    closed = [heat for heat in before.heats if heat.id not in will]
    for heat in sorted((*changed, *closed), key=lambda one: (one.start_s, one.id)):
        old = was.get(heat.id)
        yield HeatNews(
            workout=workout_title(event, event.workout(heat.workout), audience),
            number=heat.number,
            floor=_floor(event, heat.floor),
            start_s=heat.start_s,
            was_s=old.start_s if old is not None else None,
            was_floor=_floor(event, old.floor)
            if old is not None and old.floor != heat.floor
            else "",
            closed=heat.id not in will,
            teams=tuple(_teams(state, heat, placed)) if heat.id in will else (),
        )


def _teams(
    state: State, heat: Heat, placed: Mapping[tuple[str, str], tuple[str, int | None]]
) -> Iterator[TeamNews]:
    for place in sorted(heat.lanes, key=lambda one: one.lane):
        if place.team in state.team_status or place.team not in state.teams:
            continue
        yield TeamNews(
            id=place.team,
            name=state.teams[place.team].name,
            lane=place.lane,
            moved=placed.get((heat.workout, place.team)) != (heat.id, place.lane),
        )


def _floor(event: Event, floor_id: str) -> str:
    return next((one.name for one in event.floors if one.id == floor_id), floor_id)
