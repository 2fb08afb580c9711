"""Teams that lost their lane: another lane, another heat of their workout, or a new heat.

Counted in teams, not in athletes. A team changes its lane before it changes its heat, and
moves to a later heat before an extra one is made; nobody else moves, except that a team is
not left alone in a new heat where a companion can be found.
"""

from collections.abc import Mapping
from typing import NamedTuple

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.plan import LaneTeam
from callroom.planner.day_now import DayNow
from callroom.planner.repair.to_come import Coming, Rest, Told

COMPANY = 3
"""A heat gives a companion away only if it keeps this many."""


class Fitted(NamedTuple):
    """The rest of the day with everybody in a usable lane, and teams for whom there is none."""

    rest: Rest
    homeless: tuple[tuple[str, str], ...]


def fit_lanes(event: Event, rest: Rest, told: Told, now: DayNow) -> Fitted:
    """Return the heats to come with floors and lanes that can be used.

    Heats of a lost floor may go to any other; heats that nothing is wrong with stay exactly
    as they are.
    """
    fitting = _Fitting(event, rest, told, now)
    heats = tuple(fitting.settled(heat) for heat in rest.heats)
    return fitting.with_homes(heats)


class _Fitting:
    def __init__(self, event: Event, rest: Rest, told: Told, now: DayNow) -> None:
        self._event, self._rest, self._told, self._now = event, rest, told, now
        self._out: list[tuple[Coming, str]] = []

    def settled(self, heat: Coming) -> Coming:
        """Return a heat with the teams that still find a lane in it; others are noted."""
        floors = self._floors(heat)
        usable = self._usable(heat, floors)
        mine = self._rest.competing(heat)
        taken = {place.team: place.lane for place in heat.lanes if place.team in mine}
        if set(taken.values()) <= set(usable) and len(mine) <= self._most(heat, usable):
            return replace(heat, floors=floors)
        stay = {team: lane for team, lane in taken.items() if lane in usable}
        free = [lane for lane in usable if lane not in stay.values()]
        for team, lane in taken.items():
            if team not in stay and free:
                stay[team] = min(free, key=lambda other: (abs(other - lane), other))
                free.remove(stay[team])
            elif team not in stay:
                self._out.append((heat, team))
        while len(stay) > self._most(heat, usable):
            # The outermost lane goes first: the best stand in the centre.
            team = max(stay, key=lambda name: (self._outward(usable, stay[name]), stay[name]))
            del stay[team]
            self._out.append((heat, team))
        return self._filled(replace(heat, floors=floors), stay)

    def with_homes(self, heats: tuple[Coming, ...]) -> Fitted:
        """Return the rest of the day with the noted teams in other heats or new ones."""
        row = list(heats)
        extra: dict[tuple[str, str], list[tuple[Coming, str]]] = {}
        homeless: list[tuple[str, str]] = []
        for heat, team in self._out:
            place = self._other_heat(row, heat, team)
            if place is not None:
                row[place] = self._with(row[place], team)
            else:
                extra.setdefault((heat.workout, heat.mix), []).append((heat, team))
        for out in extra.values():
            homeless += self._new_heats(row, out)
        row = [heat for heat in row if heat.lanes]
        return Fitted(replace(self._rest, heats=tuple(row)), tuple(homeless))

    def _floors(self, heat: Coming) -> tuple[str, ...]:
        """Return the heat's floor, or all that are left and equally wide if it is lost."""
        if heat.floors[0] not in self._now.lost_floors:
            return heat.floors
        left = [f.id for f in self._event.floors if f.id not in self._now.lost_floors]
        wide = {floor: len(self._usable(heat, (floor,))) for floor in left}
        enough = tuple(floor for floor in left if wide[floor] >= len(heat.lanes))
        widest = tuple(floor for floor in left if wide[floor] == max(wide.values()))
        return enough or widest or heat.floors

    def _usable(self, heat: Coming, floors: tuple[str, ...]) -> tuple[int, ...]:
        """Return the lanes that can be used on whichever of the floors the heat is run."""
        shared: set[int] | None = None
        for name in floors:
            floor = self._event.floor(name)
            open_ = set(floor.open_lanes) - self._now.lost_on(name)
            open_ |= {
                place.lane for place in heat.lanes if place.lane in floor.held_lanes
            } - self._now.lost_on(name)
            shared = open_ if shared is None else shared & open_
        return tuple(sorted(shared or ()))

    def _most(self, heat: Coming, usable: tuple[int, ...]) -> int:
        """Return how many teams a heat can have: lanes, kit, judges."""
        most = min(len(usable), self._now.kit_lanes.get(heat.workout, len(usable)))
        limit, each = self._rest.judges_limit, self._judges(heat)
        return most if limit is None or not each else min(most, limit // each)

    def _judges(self, heat: Coming) -> int:
        return self._event.workout(heat.workout).judges_per_lane

    def _outward(self, usable: tuple[int, ...], lane: int) -> int:
        return abs(2 * lane - usable[0] - usable[-1])

    def _filled(self, heat: Coming, lanes: Mapping[str, int]) -> Coming:
        """Return a heat with these teams; it may start when all of them were told or are here."""
        places = sorted(lanes.items(), key=lambda pair: pair[1])
        full = replace(
            heat,
            lanes=tuple(LaneTeam(lane=lane, team=team) for team, lane in places),
            judges=self._judges(heat) * len(places),
        )
        return replace(full, earliest_s=self._told.earliest_s(full, self._now))

    def _with(self, heat: Coming, team: str) -> Coming:
        lanes = self._lanes(heat)
        free = [lane for lane in self._usable(heat, heat.floors) if lane not in lanes.values()]
        centre = sorted(free, key=lambda lane: (self._outward(tuple(free), lane), lane))
        return self._filled(heat, {**lanes, team: centre[0]})

    def _lanes(self, heat: Coming) -> dict[str, int]:
        mine = self._rest.competing(heat)
        return {place.team: place.lane for place in heat.lanes if place.team in mine}

    def _other_heat(self, row: list[Coming], heat: Coming, team: str) -> int | None:
        """Return the place of the nearest heat of the block with room, later ones first."""
        usable = self._usable
        options = [
            (other.published_s < heat.published_s, abs(other.published_s - heat.published_s), place)
            for place, other in enumerate(row)
            if (other.workout, other.mix) == (heat.workout, heat.mix)
            and other.id != heat.id
            and len(self._lanes(other)) < self._most(other, usable(other, other.floors))
            and self._may_join(row, other, team)
        ]
        return min(options)[2] if options else None

    def _may_join(self, row: list[Coming], heat: Coming, team: str) -> bool:
        """Whether a team is told no earlier start, and keeps its rests and hours as published."""
        told_s = self._told.start_s[heat.workout, team]
        if team not in self._now.present and heat.published_s < told_s:
            return False
        rest_s, end_s = self._rest.rest_s, heat.published_s + heat.length_s
        wishes = self._event.wishes
        if any(
            h.team == team and h.until_s is not None and h.until_s < end_s
            for h in wishes.team_hours
        ):
            return False
        mates = {mate for apart in wishes.apart if team in apart.teams for mate in apart.teams}
        if (mates - {team}) & set(heat.teams):
            return False
        return all(
            other.published_s >= end_s + rest_s(heat.workout, other.workout)
            or other.published_s + other.length_s + rest_s(other.workout, heat.workout)
            <= heat.published_s
            for other in row
            if team in other.teams and other.workout != heat.workout
        )

    def _new_heats(self, row: list[Coming], out: list[tuple[Coming, str]]) -> list[tuple[str, str]]:
        """Put teams without a heat into new ones behind the last of their block."""
        last = max((heat for heat, _ in out), key=lambda heat: heat.published_s)
        model = next((heat for heat in row if heat.id == last.id), last)
        usable = self._usable(model, model.floors)
        most = self._most(model, usable)
        if not most:
            return [(heat.workout, team) for heat, team in out]
        for first in range(0, len(out), most):
            group = [team for _, team in out[first : first + most]]
            if len(group) == 1 and most > 1:
                group += self._companion(row, model)
            self._add(row, model, dict(zip(group, _central(usable), strict=False)))
        return []

    def _companion(self, row: list[Coming], model: Coming) -> list[str]:
        """Take a companion for a lone team out of the fullest late heat of its block."""
        donors = [
            place
            for place, heat in enumerate(row)
            if (heat.workout, heat.mix) == (model.workout, model.mix)
            and len(self._lanes(heat)) > COMPANY
        ]
        if not donors:
            return []
        place = max(donors, key=lambda one: (len(self._lanes(row[one])), row[one].published_s))
        lanes = self._lanes(row[place])
        outer = max(lanes, key=lambda team: (self._outward((*lanes.values(),), lanes[team]), team))
        del lanes[outer]
        row[place] = self._filled(row[place], lanes)
        return [outer]

    def _add(self, row: list[Coming], model: Coming, lanes: Mapping[str, int]) -> None:
        mine = [heat for heat in (*row, *self._rest.running) if heat.workout == model.workout]
        number = max(heat.number for heat in (*mine, model)) + 1
        told_s = max(self._told.start_s[model.workout, team] for team in lanes)
        block = [
            place
            for place, heat in enumerate(row)
            if (heat.workout, heat.mix) == (model.workout, model.mix)
        ]
        new = replace(
            model,
            id=f"{model.workout}-{number}",
            number=number,
            published_s=told_s,
            is_new=True,
        )
        behind = block[-1] + 1 if block else len(row)
        row.insert(behind, self._filled(new, lanes))


def _central(usable: tuple[int, ...]) -> list[int]:
    """Return lanes from the centre outwards."""
    return sorted(usable, key=lambda lane: (abs(2 * lane - usable[0] - usable[-1]), lane))
