"""What is left of a day: the heats to come, and what they must keep to."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

import msgspec

from callroom.model.event import Event
from callroom.model.plan import Heat, LaneTeam, Plan
from callroom.model.team import Team
from callroom.planner.day_now import DayNow
from callroom.planner.problem import Break, Changeover

GRID_S = 60


class Coming(msgspec.Struct, frozen=True, kw_only=True):
    """A heat that has not begun, or one that has (then `earliest_s` is its real start) [s].

    Attributes
    ----------
    floors
        Where it may be run.
    mix
        Its divisions, in one text; heats of one workout and mix form a block.
    published_s
        Start that its teams were told; for a new heat the latest any of them was told.
    earliest_s
        It may not start before this: as published, unless all its teams are present.
    """

    id: str
    workout: str
    mix: str
    floors: tuple[str, ...]
    number: int
    lanes: tuple[LaneTeam, ...]
    length_s: int
    judges: int
    published_s: int
    earliest_s: int
    is_new: bool = False

    @property
    def teams(self) -> tuple[str, ...]:
        """The teams in it, by lane."""
        return tuple(place.team for place in self.lanes)


class Rest(msgspec.Struct, frozen=True, kw_only=True):
    """The rest of a day.

    Attributes
    ----------
    heats
        Those to come, in the order they were published; not those all of whose teams have
        withdrawn.
    running
        Those that have begun, with real times, and their ends [s] in `ends_s`.
    ready_s
        When each floor can be used again [s].
    event
        For what it wishes.
    """

    heats: tuple[Coming, ...]
    running: tuple[Coming, ...]
    ends_s: Mapping[str, int]
    ready_s: Mapping[str, int]
    breaks: tuple[Break, ...]
    changeover: Changeover
    event: Event
    judges_limit: int | None
    called: tuple[str, ...]
    now_s: int
    withdrawn: tuple[str, ...]
    grid_s: int = GRID_S

    def changeover_s(self, before: Coming, after: Coming) -> int:
        """Return the least time between two heats that follow each other on a floor [s]."""
        if before.workout != after.workout:
            return self.changeover.workout_s
        if before.mix != after.mix:
            return self.changeover.division_s
        return self.changeover.same_s

    def rest_s(self, before: str, after: str) -> int:
        """Return the least rest of a team between two workouts [s]."""
        return self.event.wishes.rest_between_s(before, after)

    def breaks_on(self, floor: str) -> tuple[Break, ...]:
        """Return the breaks that rest a floor."""
        return tuple(b for b in self.breaks if not b.floors or floor in b.floors)

    def competing(self, heat: Coming) -> tuple[str, ...]:
        """Return the teams of a heat that have not withdrawn."""
        return tuple(team for team in heat.teams if team not in self.withdrawn)


class Told(NamedTuple):
    """When every team was told to start each workout [s], by workout and team."""

    start_s: Mapping[tuple[str, str], int]

    def earliest_s(self, heat: Coming, now: DayNow) -> int:
        """Return when a heat may start at the earliest [s]."""
        waiting = set(heat.teams) - set(now.present) - set(now.withdrawn)
        told = [self.start_s.get((heat.workout, team), now.now_s) for team in waiting]
        return max(now.now_s, *told) if told else now.now_s


def told_by(plan: Plan) -> Told:
    """Return what the published plan has told everybody."""
    return Told({(heat.workout, team): heat.start_s for heat in plan.heats for team in heat.teams})


def rest_of(event: Event, teams: Iterable[Team], plan: Plan, now: DayNow) -> Rest:
    """Return what is left of a day as it stands, lanes and floors as published."""
    division = {team.id: team.division for team in teams}
    told = told_by(plan)
    row = sorted(plan.heats, key=lambda heat: (heat.start_s, heat.floor, heat.id))
    coming = [_coming(event, division, told, heat, now) for heat in row]
    running = [_begun(one, now) for one in coming if now.touched(one.id)]
    wishes = event.wishes
    wished = None if wishes.judge_spells else wishes.judges_at_once
    judges = wished if now.judges_at_once is None else now.judges_at_once
    return Rest(
        heats=tuple(
            one for one in coming if not now.touched(one.id) and set(one.teams) - set(now.withdrawn)
        ),
        running=tuple(running),
        ends_s={one.id: _end_s(one, now) for one in running},
        ready_s=now.ready_s,
        breaks=tuple(
            Break(id=p.id, start_s=p.start_s, end_s=p.start_s + p.length_s, floors=p.floors)
            for p in wishes.pauses
        ),
        changeover=Changeover(
            same_s=wishes.changeover_same_s,
            division_s=wishes.changeover_division_s,
            workout_s=wishes.changeover_workout_s,
        ),
        event=event,
        judges_limit=judges,
        called=now.called,
        now_s=now.now_s,
        withdrawn=now.withdrawn,
        grid_s=min(wishes.slot_s, GRID_S),
    )


def _coming(
    event: Event, division: Mapping[str, str], told: Told, heat: Heat, now: DayNow
) -> Coming:
    mine = {division[team] for team in heat.teams if team in division}
    teams = [team for team in heat.teams if team not in now.withdrawn]
    found = Coming(
        id=heat.id,
        workout=heat.workout,
        mix="+".join(one.id for one in event.divisions if one.id in mine),
        floors=(heat.floor,),
        number=heat.number,
        lanes=heat.lanes,
        length_s=heat.end_s - heat.start_s,
        judges=event.workout(heat.workout).judges_per_lane * len(teams),
        published_s=heat.start_s,
        earliest_s=heat.start_s,
    )
    return msgspec.structs.replace(found, earliest_s=told.earliest_s(found, now))


def _begun(heat: Coming, now: DayNow) -> Coming:
    start_s = now.begun_s.get(heat.id, now.over_s.get(heat.id, 0) - heat.length_s)
    return msgspec.structs.replace(heat, earliest_s=start_s)


def _end_s(heat: Coming, now: DayNow) -> int:
    return now.over_s.get(heat.id, max(now.now_s, heat.earliest_s + heat.length_s))
