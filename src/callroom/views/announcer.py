"""The announcer's page: who is on and who comes next, how to say their names, who leads."""

from collections.abc import Mapping, Sequence

import msgspec

from callroom.model import State
from callroom.scoring.needs import Need
from callroom.views.board import BoardHeat, FloorPace, board
from callroom.views.day_times import NO_TIMES, DayTimes
from callroom.views.stake import Stake, stake
from callroom.views.standings import Standings, StandingsRow, standings
from callroom.views.timetable import Audience, PauseSlot
from callroom.views.work import PartWork, part_work

_LEADING = 3


class AnnouncedTeam(msgspec.Struct, frozen=True, kw_only=True):
    """A team as it is announced, without anybody's name.

    `say_it` is how its name is spoken (empty: as written). `row` is where it stands so far,
    `level` who stands level with it; both are empty before any result counts. `need` is what it
    needs in this heat for the best place among the first three that it can still get, where the
    heat's part is the next to count and anything counts already.
    """

    lane: int
    team: str
    name: str
    say_it: str
    gym: str
    division: str
    withdrawn: bool
    row: StandingsRow | None
    level: tuple[str, ...]
    need: Need | None


class AnnouncedHeat(msgspec.Struct, frozen=True, kw_only=True):
    """A heat with its teams by lane; `parts` and `text` are empty before the release.

    `racing` is how many teams take a place in the part that is at stake, by division.
    """

    heat: BoardHeat
    teams: tuple[AnnouncedTeam, ...]
    parts: tuple[PartWork, ...]
    text: str
    racing: Mapping[str, int]


class Announcer(msgspec.Struct, frozen=True, kw_only=True):
    """What the announcer needs: heats in order of time, and the first of every division.

    `leading` has the standings whose rows are cut to the first three places; a division
    without any counting result is left out.
    """

    on_floor: tuple[AnnouncedHeat, ...]
    called: tuple[AnnouncedHeat, ...]
    next: tuple[AnnouncedHeat, ...]
    leading: tuple[Standings, ...]
    paces: tuple[FloorPace, ...]
    pauses: tuple[PauseSlot, ...]


def announcer(state: State, audience: Audience, *, times: DayTimes = NO_TIMES) -> Announcer:
    """Return the page as `audience` may see it; without an event or a plan it is empty."""
    now = board(state, audience, next_per_floor=1, times=times)
    tables = _tables(state, audience)
    rows = {row.team: row for table in tables for row in table.rows if row.place is not None}
    stakes = [stake(state, table.division.id, audience) for table in tables]

    def told(heats: Sequence[BoardHeat]) -> tuple[AnnouncedHeat, ...]:
        return tuple(_heat(state, heat, rows, stakes, audience) for heat in heats)

    return Announcer(
        on_floor=told(now.on_floor),
        called=told(now.called),
        next=told(now.next),
        leading=tuple(_cut(table) for table in tables),
        paces=now.paces,
        pauses=now.pauses,
    )


def _tables(state: State, audience: Audience) -> tuple[Standings, ...]:
    divisions = state.event.divisions if state.event is not None else ()
    tables = (standings(state, division.id, audience) for division in divisions)
    return tuple(table for table in tables if table.counted)


def _cut(table: Standings) -> Standings:
    first = tuple(row for row in table.rows if row.place is not None and row.place <= _LEADING)
    return msgspec.structs.replace(table, rows=first)


def _heat(
    state: State,
    heat: BoardHeat,
    rows: Mapping[str, StandingsRow],
    stakes: Sequence[Stake],
    audience: Audience,
) -> AnnouncedHeat:
    here = [one for one in stakes if one.next and one.next.workout.id == heat.slot.workout.id]
    needs = {team.team: need for one in here for team in one.teams if (need := _best(team.needs))}
    racing = {one.division.name: one.racing for one in here}
    teams = tuple(_team(state, heat, index, rows, needs) for index in range(len(heat.places)))
    event = state.event
    workout = event.workout(heat.slot.workout.id) if event is not None else None
    in_heat = [state.teams[one.team] for one in teams if one.team in state.teams]
    if event is None or workout is None or not in_heat or not audience.may_see(workout):
        return AnnouncedHeat(heat=heat, teams=teams, parts=(), text="", racing=racing)
    division = event.division(in_heat[0].division)
    parts = tuple(part_work(part, division) for part in workout.parts)
    return AnnouncedHeat(heat=heat, teams=teams, parts=parts, text=workout.text, racing=racing)


def _best(needs: Sequence[Need]) -> Need | None:
    """Return what is needed for the best place that can still be had; None: none can."""
    return next((need for need in needs if need.at_least is not None), None)


def _team(
    state: State,
    heat: BoardHeat,
    index: int,
    rows: Mapping[str, StandingsRow],
    needs: Mapping[str, Need],
) -> AnnouncedTeam:
    place = heat.places[index].place
    team, row = state.teams.get(place.team), rows.get(place.team)
    return AnnouncedTeam(
        lane=place.lane,
        team=place.team,
        name=place.name,
        say_it=team.say_it if team is not None else "",
        gym=team.gym if team is not None else "",
        division=place.division,
        withdrawn=place.withdrawn,
        row=row,
        level=_level(state, place.team, rows) if row is not None and row.shared else (),
        need=None if place.withdrawn else needs.get(place.team),
    )


def _level(state: State, team_id: str, rows: Mapping[str, StandingsRow]) -> tuple[str, ...]:
    """Return the names of those who share a team's place, in the order of the standings."""
    mine = rows[team_id]
    return tuple(
        row.name
        for row in rows.values()
        if row.team != team_id
        and row.place == mine.place
        and state.teams[row.team].division == state.teams[team_id].division
    )
