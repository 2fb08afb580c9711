"""Line-ups as they are shown: places, categories and who of the squad, never anybody's name."""

import msgspec

from callroom.model import Event, Heat, NotFound, State, Team
from callroom.model.line_up import line_up_in, line_up_key, substitutions, team_in
from callroom.model.steps import place_names
from callroom.views.masthead import published
from callroom.views.timetable import CREW, WorkoutTitle, workout_title


class LineUpPlace(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A place in the line-up and the name of its category; nobody's own name.

    `entered` is the place under which whoever stands there was entered, if it is another one.
    """

    place: str
    category: str
    entered: str = ""


class SquadMember(msgspec.Struct, frozen=True, kw_only=True):
    """Somebody of a squad: the person's id, the place they were entered for, their category."""

    person: str
    entered: str
    category: str
    reserve: bool
    stands_down: bool


class WorkoutLineUp(msgspec.Struct, frozen=True, kw_only=True):
    """A team's line-up in one workout.

    `until_s` is the last moment at which the rules let it be changed [s from the day's
    start]; `open`: its heat has not begun, so that it can be. `chosen` has the person at each
    place, in the order of places; None where nobody stands. `differs` has the places that are
    not as entered.
    """

    workout: WorkoutTitle
    heat_number: int
    start_s: int
    until_s: int
    open: bool
    places: tuple[LineUpPlace, ...]
    chosen: tuple[tuple[str, str | None], ...]
    differs: tuple[LineUpPlace, ...]
    allowed: bool
    reason: str


class LineUpDesk(msgspec.Struct, frozen=True, kw_only=True):
    """One team's squad and its line-ups, in time order.

    `made` counts the substitutions so far, `most` how many the rules allow (None: any
    number). `basis` is what a change of them rests on.
    """

    team: str
    name: str
    division: str
    squad: tuple[SquadMember, ...]
    workouts: tuple[WorkoutLineUp, ...]
    made: int
    most: int | None
    basis: dict[str, int]


def line_up(event: Event, team: Team, entered: Team | None = None) -> tuple[LineUpPlace, ...]:
    """Return the places of a team on the floor with their categories, reserves left out.

    `entered` is the team as it entered, where `team` is what was made of it for a workout.
    """
    names = {category.id: category.name for category in event.categories}
    known = {one.person: one.place for one in (entered or team).athletes}
    return tuple(
        LineUpPlace(
            place=one.place,
            category=names.get(one.category, one.category),
            entered="" if known[one.person] == one.place else known[one.person],
        )
        for one in sorted(team.on_floor, key=lambda athlete: athlete.place)
    )


def line_up_for(state: State, event: Event, workout: str, team: Team) -> tuple[LineUpPlace, ...]:
    """Return the places of a team in a workout, as decided for it or as entered."""
    return line_up(event, team_in(state, workout, team), team)


def line_up_changes(
    state: State, event: Event, workout: str, team: Team
) -> tuple[LineUpPlace, ...]:
    """Return the places that in a workout are not as entered; nobody there has no category."""
    if line_up_key(workout, team.id) not in state.line_ups:
        return ()
    found = {one.place: one for one in line_up_for(state, event, workout, team)}
    empty = (
        LineUpPlace(place=one.place, category="", entered="–")
        for one in team.on_floor
        if one.place not in found
    )
    changed = [one for one in found.values() if one.entered]
    return tuple(sorted((*changed, *empty), key=lambda one: one.place))


def place_said(one: LineUpPlace) -> str:
    """Return a place in short: ``"B Men"``, ``"B Men (E)"`` where E stands there."""
    said = f"{one.place} {one.category}".strip()
    return f"{said} ({one.entered})" if one.entered else said


def line_up_desk(state: State, team_id: str) -> LineUpDesk:
    """Return the line-ups of a team; NotFound without a plan or such a team."""
    event, plan = published(state)
    team = state.teams.get(team_id)
    if team is None:
        raise NotFound("team.unknown", team=team_id)
    names = {category.id: category.name for category in event.categories}
    return LineUpDesk(
        team=team.id,
        name=team.name,
        division=event.division(team.division).name,
        squad=tuple(
            SquadMember(
                person=one.person,
                entered=one.place,
                category=names.get(one.category, one.category),
                reserve=one.reserve,
                stands_down=one.person in state.stood_down,
            )
            for one in team.athletes
        ),
        workouts=tuple(_workout(state, event, team, heat) for heat in plan.day_of(team.id)),
        made=substitutions(state, team),
        most=event.rules.substitutions,
        basis={f"line_ups:{team.id}": state.subjects.get(f"line_ups:{team.id}", 0)},
    )


def _workout(state: State, event: Event, team: Team, heat: Heat) -> WorkoutLineUp:
    workout = event.workout(heat.workout)
    known = state.line_ups.get(line_up_key(workout.id, team.id))
    standing = {one.place: one.person for one in line_up_in(state, workout.id, team)}
    return WorkoutLineUp(
        workout=workout_title(event, workout, CREW),
        heat_number=heat.number,
        start_s=heat.start_s,
        until_s=heat.start_s - workout.report_s - event.rules.substitution_deadline_s,
        open=state.heat_run(heat.id).started_ms is None and team.id not in state.team_status,
        places=line_up_for(state, event, workout.id, team),
        chosen=tuple(
            (place, standing.get(place)) for place in place_names(event.division(team.division))
        ),
        differs=line_up_changes(state, event, workout.id, team),
        allowed=known is not None and known.allowed,
        reason=known.reason if known is not None else "",
    )
