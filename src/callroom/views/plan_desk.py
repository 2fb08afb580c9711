"""Plans side by side, and what is proven of one: values for pictures and sentences."""

from collections.abc import Iterable, Mapping

import msgspec
from msgspec.structs import replace

from callroom.model import Event, Finding, Heat, Plan, State, Team
from callroom.planner.prices import compare, longest_waits, spare_lanes
from callroom.views.timetable import CREW, Timetable, timetable


def gap_said(plan: Plan, certificate_s: int) -> Finding:
    """Return in one sentence how much earlier a plan's day could still be over."""
    facts = {"finish_at_s": plan.finish_s}
    if certificate_s >= plan.finish_s:
        return Finding("plan.gap_none", "note", "plan", facts)
    proven = facts | {"proven_at_s": certificate_s}
    if plan.bound_s is not None and plan.bound_s >= plan.finish_s:
        return Finding("plan.gap_wishes", "note", "plan", proven)
    if certificate_s <= 0:
        return Finding("plan.gap_unknown", "note", "plan", facts)
    return Finding("plan.gap", "note", "plan", proven | {"gap_s": plan.finish_s - certificate_s})


def longest_wait_s(event: Event, plan: Plan) -> int:
    """Return the longest wait of any team between two of its heats [s]."""
    return max(longest_waits(event, plan).values(), default=0)


def lanes_to_spare(event: Event, teams: Iterable[Team], plan: Plan) -> int:
    """Return how many lanes every floor can lose before a workout needs another heat."""
    return spare_lanes(event, teams, plan)


def drawn_plan(state: State, plan: Plan, event: Event | None = None) -> Timetable:
    """Return the timetable of a plan that is not in force, with the heats as yet to come."""
    return timetable(replace(state, plan=plan, event=event or state.event, heats={}), CREW)


class PairBox(msgspec.Struct, frozen=True, kw_only=True):
    """A heat in one of two plans, from `start_s` to `end_s` [s from the day's start].

    `moved`: it has another time or floor in the other plan, or other teams, or is not in it.
    """

    workout: int
    number: int
    start_s: int
    end_s: int
    moved: bool


class PairLine(msgspec.Struct, frozen=True, kw_only=True):
    """The same heat in both plans on one floor, at other times [s from the day's start]."""

    before_s: int
    after_s: int


class FloorPair(msgspec.Struct, frozen=True, kw_only=True):
    """One floor in both plans, and lines between heats that only changed their time."""

    name: str
    before: tuple[PairBox, ...]
    after: tuple[PairBox, ...]
    lines: tuple[PairLine, ...]


class PlanPair(msgspec.Struct, frozen=True, kw_only=True):
    """Two plans side by side; `first_s` and `last_s` bound both [s from the day's start]."""

    floors: tuple[FloorPair, ...]
    said: tuple[Finding, ...]
    first_s: int
    last_s: int


def plan_pair(event: Event, teams: Iterable[Team], before: Plan, after: Plan) -> PlanPair:
    """Return what differs between two plans of one event, in values and in words."""
    numbers = {workout.id: place for place, workout in enumerate(event.workouts, 1)}
    was = {(heat.workout, frozenset(heat.teams)): heat for heat in before.heats}
    will = {(heat.workout, frozenset(heat.teams)): heat for heat in after.heats}
    heats = (*before.heats, *after.heats)
    return PlanPair(
        floors=tuple(
            FloorPair(
                name=floor.name,
                before=_boxes(before, floor.id, numbers, will),
                after=_boxes(after, floor.id, numbers, was),
                lines=tuple(
                    PairLine(before_s=heat.start_s, after_s=will[key].start_s)
                    for key, heat in was.items()
                    if heat.floor == floor.id and key in will and will[key].floor == floor.id
                ),
            )
            for floor in event.floors
        ),
        said=compare(event, teams, before, after).findings,
        first_s=min((heat.start_s for heat in heats), default=0),
        last_s=max((heat.end_s for heat in heats), default=0),
    )


def _boxes(
    plan: Plan,
    floor: str,
    numbers: Mapping[str, int],
    other: Mapping[tuple[str, frozenset[str]], Heat],
) -> tuple[PairBox, ...]:
    found = []
    for heat in plan.heats:
        if heat.floor != floor:
            continue
        twin = other.get((heat.workout, frozenset(heat.teams)))
        same = twin is not None and (twin.floor, twin.start_s) == (heat.floor, heat.start_s)
        found.append(
            PairBox(
                workout=numbers.get(heat.workout, 0),
                number=heat.number,
                start_s=heat.start_s,
                end_s=heat.end_s,
                moved=not same,
            )
        )
    return tuple(found)
