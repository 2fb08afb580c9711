"""A plan as a course of heats: what waits for what when the day does not go as planned."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from callroom.model.event import Event
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.between import changeover_s, pauses_between
from callroom.planner.chains import round_up

Seconds = NDArray[np.int64]
_NEVER_S = 2**40


class Course(NamedTuple):
    """The heats of a plan in the order of their starts, and the arcs between them.

    Attributes
    ----------
    heats, floors
        Ids of the heats and of their floors, in order of time; ``heats`` many.
    published_s, length_s
        Start on the plan and planned stay on the floor [s], shape ``(heats,)``.
    latest_s
        Latest start a plan may give the heat so that it is over before the next pause of its
        floor [s], shape ``(heats,)``.
    groups
        Heats with the same number are only moved together, because they follow each other at
        a constant rhythm; 0, 1, … in order of time, shape ``(heats,)``.
    before, after
        Places of heats, shape ``(arcs,)``: `after` waits until `before` has left its floor
        and `gap_s` more [s] have passed. An arc goes from an earlier place to a later one.
    gap_s
        Changeover, what is kept of a pause, or a team's rest [s], shape ``(arcs,)``.
    on_floor
        Whether the arc is one of a floor (its gap is work and may take longer), ``(arcs,)``.
    """

    heats: tuple[str, ...]
    floors: tuple[str, ...]
    published_s: Seconds
    length_s: Seconds
    latest_s: Seconds
    groups: Seconds
    before: Seconds
    after: Seconds
    gap_s: Seconds
    on_floor: NDArray[np.bool_]

    @property
    def finish_s(self) -> int:
        """End of the last heat as planned [s]."""
        return int((self.published_s + self.length_s).max(initial=0))

    @property
    def last(self) -> tuple[int, ...]:
        """Places of the last heats of each floor."""
        return tuple({floor: place for place, floor in enumerate(self.floors)}.values())

    def at(self, published_s: Seconds) -> "Course":
        """Return the same course with other times published [s], shape ``(heats,)``."""
        return self._replace(published_s=published_s)


def course_of(
    event: Event, teams: Iterable[Team], plan: Plan, *, kept_pause_s: int | None = None
) -> Course:
    """Return the course of a plan.

    Parameters
    ----------
    event, teams
        Changeovers, rests and rhythm as wished; who is in which division.
    plan
        With heats that do not overlap on their floors.
    kept_pause_s
        What is left of a pause at least when the heat before it ends late [s]; None: all of
        it, so that nobody's lunch is cut. A shorter pause is kept whole in any case.
    """
    division = {team.id: team.division for team in teams}
    heats = sorted(plan.heats, key=lambda heat: (heat.start_s, heat.floor, heat.id))
    place = {heat.id: index for index, heat in enumerate(heats)}
    mixes = {heat.id: frozenset(division[t] for t in heat.teams if t in division) for heat in heats}
    arcs: dict[tuple[int, int], tuple[int, bool]] = {}
    for row in _rows(heats).values():
        for one, other in pairwise(row):
            gap_s = changeover_s(event, one, other, same=mixes[one.id] == mixes[other.id])
            for pause in pauses_between(event, one, other):
                kept_s = pause.length_s if kept_pause_s is None else kept_pause_s
                gap_s = max(gap_s, min(kept_s, pause.length_s))
            arcs[place[one.id], place[other.id]] = gap_s, True
    for one, other in _team_pairs(heats):
        pair = place[one.id], place[other.id]
        if pair not in arcs and one.end_s <= other.start_s:
            arcs[pair] = event.wishes.rest_between_s(one.workout, other.workout), False
    return Course(
        heats=tuple(heat.id for heat in heats),
        floors=tuple(heat.floor for heat in heats),
        published_s=np.array([heat.start_s for heat in heats], dtype=np.int64),
        length_s=np.array([heat.end_s - heat.start_s for heat in heats], dtype=np.int64),
        latest_s=np.array([_latest_s(event, heat) for heat in heats], dtype=np.int64),
        groups=_groups(event, heats, mixes),
        before=np.array([one for one, _ in arcs], dtype=np.int64),
        after=np.array([other for _, other in arcs], dtype=np.int64),
        gap_s=np.array([gap_s for gap_s, _ in arcs.values()], dtype=np.int64),
        on_floor=np.array([floor for _, floor in arcs.values()], dtype=np.bool_),
    )


def clean_s(value_s: Seconds, grid_s: int) -> Seconds:
    """Return times brought down to multiples of the grid [s]; any shape."""
    return value_s // grid_s * grid_s


def planned_gap_s(course: Course, grid_s: int) -> Seconds:
    """Return least distances of planned starts along the arcs, on the grid [s], ``(arcs,)``."""
    whole = course.length_s[course.before] + course.gap_s
    return np.array([round_up(int(value), grid_s) for value in whole], dtype=np.int64)


def _rows(heats: Iterable[Heat]) -> dict[str, list[Heat]]:
    rows: dict[str, list[Heat]] = {}
    for heat in heats:
        rows.setdefault(heat.floor, []).append(heat)
    return rows


def _team_pairs(heats: list[Heat]) -> Iterator[tuple[Heat, Heat]]:
    last: dict[str, Heat] = {}
    for heat in heats:
        for team in heat.teams:
            if team in last:
                yield last[team], heat
            last[team] = heat


def _latest_s(event: Event, heat: Heat) -> int:
    starts = [
        pause.start_s
        for pause in event.wishes.pauses
        if (not pause.floors or heat.floor in pause.floors) and pause.start_s >= heat.end_s
    ]
    return min(starts, default=_NEVER_S) - (heat.end_s - heat.start_s)


def _groups(event: Event, heats: list[Heat], mixes: dict[str, frozenset[str]]) -> Seconds:
    """Number the runs of heats that a constant rhythm ties together."""
    numbers: dict[str, int] = {}
    for row in _rows(heats).values():
        for before, heat in pairwise([None, *row]):
            tied = (
                before is not None
                and heat is not None
                and event.wishes.constant_rhythm
                and before.workout == heat.workout
                and mixes[before.id] == mixes[heat.id]
                and not pauses_between(event, before, heat)
            )
            if heat is not None:
                head = numbers[before.id] if tied and before is not None else len(numbers)
                numbers[heat.id] = head
    order = {number: rank for rank, number in enumerate(dict.fromkeys(numbers.values()))}
    return np.array([order[numbers[heat.id]] for heat in heats], dtype=np.int64)
