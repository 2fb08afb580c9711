"""When each heat is to be expected, from what has happened so far: plain counting, no chance.

A late heat pushes those behind it on its floor, and those of its teams elsewhere; what slack
the plan has between them takes the lateness up.
"""

from bisect import bisect_left
from collections.abc import Iterable, Mapping

import msgspec

from callroom.model.event import Event
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.between import changeover_s, pauses_between


class DaySoFar(msgspec.Struct, frozen=True, kw_only=True):
    """What has happened, in seconds from the day's start.

    Attributes
    ----------
    now_s
        The time.
    watched
        Floors on which somebody says what happens: there a heat that has not begun by now
        begins no sooner than now. The others are taken to run as planned.
    begun_s, over_s
        When heats walked on, and when those that are over left their floor.
    present
        Heats of whose teams every one is there.
    length_s
        How long heats are forecast to hold their floor; the others do as planned.
    ready_s
        When a floor that cannot be used can be used again.
    """

    now_s: int
    watched: frozenset[str] = frozenset()
    begun_s: Mapping[str, int] = {}
    over_s: Mapping[str, int] = {}
    present: frozenset[str] = frozenset()
    length_s: Mapping[str, int] = {}
    ready_s: Mapping[str, int] = {}

    def touched(self, heat_id: str) -> bool:
        """Whether a heat has begun."""
        return heat_id in self.begun_s or heat_id in self.over_s


class Expected(msgspec.Struct, frozen=True, kw_only=True):
    """One heat, in seconds from the day's start.

    `start_s` is its real start if it has begun, else the one to be expected, never before it
    is published; `may_s` the earliest it may begin (with all its teams there also before it
    is published); `free_s` when its floor is free again.
    """

    start_s: int
    may_s: int
    free_s: int


def expected_starts(
    event: Event, teams: Iterable[Team], plan: Plan, day: DaySoFar
) -> dict[str, Expected]:
    """Return when each heat of `plan` is to be expected, by its id.

    No more is asked between two heats than the plan itself leaves there, so a day on time is
    expected on time. The later anything began, ended, or is now, the later (or as late) is
    everything that has not begun.
    """
    row = sorted(plan.heats, key=_in_time)
    found = {heat.id: _begun(heat, day) for heat in row if day.touched(heat.id)}
    order = _Order(event, teams, row, day)
    for heat in row:
        if heat.id not in found:
            found[heat.id] = _waiting(heat, day, order.ready_s(heat, found))
            order.last_waiting[heat.floor] = heat
    return found


def _in_time(heat: Heat) -> tuple[int, str, str]:
    return heat.start_s, heat.floor, heat.id


def _length_s(heat: Heat, day: DaySoFar) -> int:
    return day.length_s.get(heat.id, heat.end_s - heat.start_s)


def _begun(heat: Heat, day: DaySoFar) -> Expected:
    length_s = _length_s(heat, day)
    start_s = day.begun_s.get(heat.id)
    if heat.id in day.over_s:
        free_s = day.over_s[heat.id]
        start_s = free_s - length_s if start_s is None else start_s
    else:
        start_s = day.begun_s[heat.id]
        free_s = start_s + length_s
        if heat.floor in day.watched:
            free_s = max(free_s, day.now_s)
    return Expected(start_s=start_s, may_s=start_s, free_s=free_s)


def _waiting(heat: Heat, day: DaySoFar, ready_s: int | None) -> Expected:
    known = (ready_s, day.ready_s.get(heat.floor))
    soonest = [one for one in known if one is not None]
    if heat.floor in day.watched:
        soonest.append(day.now_s)
    start_s = max([heat.start_s, *soonest])
    may_s = max([day.now_s, *soonest]) if heat.id in day.present else start_s
    free_s = start_s + _length_s(heat, day)
    return Expected(start_s=start_s, may_s=min(may_s, start_s), free_s=free_s)


class _Order:
    """What each heat that has not begun waits for.

    On its floor: what began last of those planned before it, what began although it was
    planned later, and what waits before it. Elsewhere: the heats of its teams.
    """

    def __init__(self, event: Event, teams: Iterable[Team], row: list[Heat], day: DaySoFar) -> None:
        self._event = event
        division = {team.id: team.division for team in teams}
        self._mix = {
            heat.id: frozenset(division[team] for team in heat.teams if team in division)
            for heat in row
        }
        self._of_team: dict[str, list[Heat]] = {}
        self._begun: dict[str, list[Heat]] = {}
        for heat in row:
            for team in heat.teams:
                self._of_team.setdefault(team, []).append(heat)
            if day.touched(heat.id):
                self._begun.setdefault(heat.floor, []).append(heat)
        self.last_waiting: dict[str, Heat] = {}

    def ready_s(self, heat: Heat, found: Mapping[str, Expected]) -> int | None:
        """Return when all that `heat` waits for is over [s]; None if it waits for nothing."""
        begun = self._begun.get(heat.floor, [])
        place = bisect_left(begun, _in_time(heat), key=_in_time)
        on_floor = begun[max(place - 1, 0) :]
        if heat.floor in self.last_waiting:
            on_floor = [*on_floor, self.last_waiting[heat.floor]]
        ends = [found[one.id].free_s + self._gap_s(one, heat) for one in on_floor]
        for team in heat.teams:
            ends += [
                found[one.id].free_s + _at_most_planned(one, heat, self._event.wishes.rest_s)
                for one in self._of_team[team]
                if one.id != heat.id and one.id in found
            ]
        return max(ends, default=None)

    def _gap_s(self, one: Heat, other: Heat) -> int:
        same = self._mix[one.id] == self._mix[other.id]
        gap_s = changeover_s(self._event, one, other, same=same)
        pauses = pauses_between(self._event, one, other)
        return _at_most_planned(one, other, max([gap_s, *(pause.length_s for pause in pauses)]))


def _at_most_planned(one: Heat, other: Heat, wished_s: int) -> int:
    """Return a gap [s], cut to what the plan leaves between two heats in the order planned."""
    planned_s = other.start_s - one.end_s
    return min(wished_s, max(planned_s, 0)) if _in_time(one) < _in_time(other) else wished_s
