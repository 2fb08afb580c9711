"""A team's day: when and where it reports, which lane, and who does what."""

import msgspec

from callroom.model import Event, Heat, NotFound, State, Team
from callroom.views.amendment_text import AmendmentText, amendment_text
from callroom.views.codes import team_address
from callroom.views.line_ups import LineUpPlace, line_up, line_up_changes
from callroom.views.masthead import Masthead, masthead, published
from callroom.views.rulings import RulingText, rulings_about
from callroom.views.timetable import (
    Audience,
    HeatSlot,
    PauseSlot,
    heat_slot,
    pause_slots,
)
from callroom.views.work import PartWork, part_work


class TeamHeat(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One of the team's heats, with the rulings in force about its workout alone.

    `amendment` is the one by which the workout now stands (None: as it was first told).
    `parts`, `text` and `rulings` are empty while the workout is unreleased. `changes` are
    the places of the line-up that are not as entered.
    """

    heat: HeatSlot
    lane: int
    floor: str
    text: str
    parts: tuple[PartWork, ...]
    rulings: tuple[RulingText, ...]
    amendment: AmendmentText | None
    changes: tuple[LineUpPlace, ...] = ()


class TeamDay(msgspec.Struct, frozen=True, kw_only=True):
    """The day of one team: its heats, and the pauses of the whole event, in time order.

    `address` is what its QR code says, which leads the check-in to the team and everybody else to
    this day; empty: the event has no address.
    """

    team: str
    name: str
    division: str
    line_up: tuple[LineUpPlace, ...]
    withdrawn: bool
    heats: tuple[TeamHeat, ...]
    pauses: tuple[PauseSlot, ...]
    address: str = ""


class TeamDays(msgspec.Struct, frozen=True, kw_only=True):
    """The days of several teams, by division in the event's order, then by name."""

    masthead: Masthead
    days: tuple[TeamDay, ...]


def team_days(state: State, audience: Audience) -> TeamDays:
    """Return the day of every team still in the event, as `audience` may see it.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    event, _ = published(state)
    order = {division.id: index for index, division in enumerate(event.divisions)}
    teams = sorted(
        (team for team in state.teams.values() if team.id not in state.team_status),
        key=lambda team: (order[team.division], team.name.casefold(), team.id),
    )
    return TeamDays(
        masthead=masthead(state), days=tuple(_day(state, team, audience) for team in teams)
    )


def team_day(state: State, team_id: str, audience: Audience) -> TeamDay:
    """Return the day of one team; NotFound without a plan or such a team."""
    team = state.teams.get(team_id)
    if team is None:
        raise NotFound("team.unknown", team=team_id)
    return _day(state, team, audience)


def _day(state: State, team: Team, audience: Audience) -> TeamDay:
    event, plan = published(state)
    return TeamDay(
        team=team.id,
        name=team.name,
        division=event.division(team.division).name,
        line_up=line_up(event, team),
        withdrawn=team.id in state.team_status,
        heats=tuple(
            _team_heat(state, event, team, heat, audience) for heat in plan.day_of(team.id)
        ),
        pauses=pause_slots(pause for pause in plan.pauses if not pause.floors),
        address=team_address(event.address, team.id),
    )


def _team_heat(state: State, event: Event, team: Team, heat: Heat, audience: Audience) -> TeamHeat:
    workout = event.workout(heat.workout)
    division = event.division(team.division)
    seen = audience.may_see(workout)
    amended = state.amendment_of(workout.id)
    return TeamHeat(
        heat=heat_slot(state, heat, audience),
        lane=next(place.lane for place in heat.lanes if place.team == team.id),
        floor=event.floor(heat.floor).name,
        text=workout.text if seen else "",
        parts=tuple(part_work(part, division) for part in workout.parts) if seen else (),
        rulings=rulings_about(state, workout) if seen else (),
        changes=line_up_changes(state, event, workout.id, team),
        amendment=amendment_text(state, amended, audience) if seen and amended else None,
    )
