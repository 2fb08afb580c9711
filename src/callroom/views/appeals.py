"""Appeals as the desk and the head judge read them, and what a decision does to the standings."""

from collections.abc import Sequence

import msgspec

from callroom.model import Event, NotFound, State, Team
from callroom.model.appeal import Appeal
from callroom.scoring import OverallRow, PartRow, division_standings, points_text
from callroom.views.timetable import CREW, WorkoutTitle, workout_title


class AppealText(msgspec.Struct, frozen=True, kw_only=True):
    """An appeal with the names in it; without a `workout` it is about the standings as a whole.

    `part_name` is empty where the workout has one part; `attempt` is the newest one granted,
    whose score a decision would change. `until_ms` is when the time for appeals is over
    [ms, UTC]; None: the division's standings were never posted.
    """

    appeal: Appeal
    team: str
    division: str
    division_name: str
    workout: WorkoutTitle | None
    part_name: str
    attempt: int
    until_ms: int | None


class EffectRow(msgspec.Struct, frozen=True, kw_only=True):
    """A team whose place or points differ; a place of None is none."""

    team: str
    place_before: int | None
    place_after: int | None
    points_before: str
    points_after: str


class Effect(msgspec.Struct, frozen=True, kw_only=True):
    """What a decision changes: overall, and in the part that the appeal is about."""

    overall: tuple[EffectRow, ...]
    in_part: tuple[EffectRow, ...]


def appeal_text(state: State, number: int) -> AppealText:
    """Return one appeal; NotFound if there is none of that number."""
    appeal = state.appeals.get(str(number))
    if appeal is None or state.event is None:
        raise NotFound("appeal.unknown", number=number)
    return _text(state, state.event, appeal)


def appeals(state: State) -> tuple[AppealText, ...]:
    """Return every appeal: those that wait for a decision by number, then the others, newest first."""
    event = state.event
    if event is None:
        return ()
    waiting = [appeal for appeal in state.appeals.values() if appeal.open]
    closed = [appeal for appeal in state.appeals.values() if not appeal.open]
    closed.sort(key=lambda appeal: -appeal.number)
    return tuple(_text(state, event, appeal) for appeal in (*waiting, *closed))


def open_appeals(state: State, division_id: str) -> tuple[Appeal, ...]:
    """Return the appeals of a division's teams that wait for a decision, by number."""
    return tuple(
        appeal
        for appeal in state.appeals.values()
        if appeal.open and state.teams[appeal.team].division == division_id
    )


def effect(before: State, after: State, appeal: Appeal) -> Effect:
    """Return what differs in the standings of the appeal's division between two States."""
    division_id = after.teams[appeal.team].division
    was, now = (division_standings(state, division_id) for state in (before, after))
    in_part: tuple[EffectRow, ...] = ()
    if appeal.workout:
        one, other = (each.part(appeal.workout, appeal.part) for each in (was, now))
        in_part = _differing(one.rows, other.rows)
    return Effect(overall=_differing(was.rows, now.rows), in_part=in_part)


def _differing(
    before: Sequence[OverallRow] | Sequence[PartRow],
    after: Sequence[OverallRow] | Sequence[PartRow],
) -> tuple[EffectRow, ...]:
    earlier = {row.team: row for row in before}
    return tuple(
        EffectRow(
            team=row.team,
            place_before=old.place,
            place_after=row.place,
            points_before=points_text(old.points),
            points_after=points_text(row.points),
        )
        for row in after
        for old in (earlier[row.team],)
        if (old.place, old.points) != (row.place, row.points)
    )


def _text(state: State, event: Event, appeal: Appeal) -> AppealText:
    team = state.teams[appeal.team]
    workout = next((one for one in event.workouts if one.id == appeal.workout), None)
    several = workout is not None and len(workout.parts) > 1
    part = next((one for one in workout.parts if one.id == appeal.part), None) if workout else None
    return AppealText(
        appeal=appeal,
        team=team.name,
        division=team.division,
        division_name=event.division(team.division).name,
        workout=workout_title(event, workout, CREW) if workout is not None else None,
        part_name=(part.name or part.id) if part is not None and several else "",
        attempt=1 + len(state.reruns.get(f"{appeal.workout}/{appeal.team}", ())),
        until_ms=_until_ms(state, event, team),
    )


def _until_ms(state: State, event: Event, team: Team) -> int | None:
    posting = state.postings.get(team.division)
    if posting is None:
        return None
    return posting.appeals_until_ms(event.rules.appeal_window_s)
