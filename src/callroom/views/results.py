"""Results as plain lines: what files, commands and digests are made of."""

import hashlib

import msgspec

from callroom.model import Division, State
from callroom.views import wording
from callroom.views.result_wording import score_text
from callroom.views.standings import StandingsCell, StandingsRow, standings
from callroom.views.timetable import CREW, Audience, WorkoutTitle


class PartResult(msgspec.Struct, frozen=True, kw_only=True):
    """One team's result in one part: its place (None: none), its points, and the result said."""

    workout: str
    workout_name: str
    part: str
    part_name: str
    place: int | None
    points: str
    result: str
    outcome: str
    time_ms: int | None
    work: int | None
    distance_m: int | None
    load_g: str | None
    tiebreak_ms: int | None
    confirmed: bool


class TeamResult(msgspec.Struct, frozen=True, kw_only=True):
    """One team overall, with all its parts; `standing` says why it has no place if it has none."""

    division: str
    division_name: str
    place: int | None
    team: str
    team_name: str
    standing: str
    points: str
    parts: tuple[PartResult, ...]


def results(state: State, audience: Audience = CREW) -> tuple[TeamResult, ...]:
    """Return every team of every division, by division and place.

    A workout that the audience may not see yet goes by its number.

    Raises
    ------
    NotFound
        Without an event.
    """
    divisions = state.event.divisions if state.event is not None else ()
    return tuple(
        _team(shown.division, row)
        for division in divisions
        for shown in (standings(state, division.id, audience),)
        for row in shown.rows
    )


def results_digest(state: State) -> str:
    """Return the SHA-256 of all results as hexadecimal digits; equal results, equal digest."""
    return hashlib.sha256(msgspec.json.encode(results(state))).hexdigest()


def _team(division: Division, row: StandingsRow) -> TeamResult:
    return TeamResult(
        division=division.id,
        division_name=division.name,
        place=row.place,
        team=row.team,
        team_name=row.name,
        standing=row.standing,
        points=row.points,
        parts=tuple(_part(cell, division) for cell in row.cells),
    )


def _part(cell: StandingsCell, division: Division) -> PartResult:
    score = cell.score
    return PartResult(
        workout=cell.column.workout.id,
        workout_name=_title(cell.column.workout),
        part=cell.column.part,
        part_name=cell.column.part_name,
        place=cell.place,
        points=cell.points,
        result=score_text(score, cell.part, division),
        outcome=score.kind,
        time_ms=score.time_ms,
        work=score.work,
        distance_m=score.distance_m,
        load_g=str(score.load_g) if score.masses else None,
        tiebreak_ms=score.tiebreak_ms,
        confirmed=score.confirmed,
    )


def _title(workout: WorkoutTitle) -> str:
    return workout.name or wording.ENGLISH.gettext("Workout {number}").format(number=workout.number)
