"""The standings of a division as shown: places, points, results, and why each place is so."""

from collections.abc import Mapping, Sequence

import msgspec

from callroom.model import Division, Event, Finding, NotFound, Part, State, Workout
from callroom.scoring import (
    Called,
    DivisionStandings,
    OverallStanding,
    Reason,
    Score,
    called,
    division_standings,
    overall_reasons,
    points_text,
)
from callroom.scoring.entrants import EntrantStatus
from callroom.views.amendment_text import AmendmentText, amendments_standing
from callroom.views.appeals import open_appeals
from callroom.views.embargo import as_public, kept_back
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import CREW, Audience, WorkoutTitle, workout_title

# What stands in the row already needs no sentence.
_SHOWN_ANYWAY = frozenset({"overall.place", "overall.waiting"})


class StandingsColumn(msgspec.Struct, frozen=True, kw_only=True):
    """One scored part; `counted`: it counts overall already; `void`: it never will.

    `kept_back`: the public does not see its results before the director lets them out.
    """

    workout: WorkoutTitle
    part: str
    part_name: str
    counted: bool
    void: bool
    kept_back: bool


class StandingsCell(msgspec.Struct, frozen=True, kw_only=True):
    """One team's result in one part, and its place there (None: none)."""

    column: StandingsColumn
    score: Score
    place: int | None
    points: str
    part: Part


class StandingsRow(msgspec.Struct, frozen=True, kw_only=True):
    """One team: its place, its points, its results, and the reasons beyond the points."""

    team: str
    name: str
    status: EntrantStatus
    standing: OverallStanding
    place: int | None
    shared: bool
    points: str
    cells: tuple[StandingsCell, ...]
    reasons: tuple[Reason, ...]


class Standings(msgspec.Struct, frozen=True, kw_only=True):
    """The standings of a division.

    Attributes
    ----------
    counted, parts
        How many of how many scored parts count so far; a void one is none.
    fewest_best
        Whether the fewest points are the best.
    confirmed
        Every score of every part is confirmed.
    posted_ms, appeals_until_ms, final
        When they were last posted, until when appeals may be made [ms, UTC], and whether
        as final; None if they were never posted. What has changed since is not final.
    changed
        Whether scores or teams of the division have changed since they were posted.
    appeals
        How many appeals of its teams wait for a decision.
    amendments
        By which workouts were made void, run again, or brought to a common point.
    faults
        Why points could not be worked out.
    """

    head: PageHead
    division: Division
    columns: tuple[StandingsColumn, ...]
    rows: tuple[StandingsRow, ...]
    counted: int
    parts: int
    fewest_best: bool
    confirmed: bool
    posted_ms: int | None
    appeals_until_ms: int | None
    final: bool
    changed: bool
    appeals: int
    amendments: tuple[AmendmentText, ...]
    faults: tuple[Finding, ...]


def standings(state: State, division_id: str, audience: Audience = CREW) -> Standings:
    """Return the standings of one division; NotFound without an event or such a division."""
    if state.event is None:
        raise NotFound("book.no_event")
    event = state.event
    hidden = kept_back(state) if audience.public else frozenset()
    if hidden:
        state = as_public(state)
    ranked = division_standings(state, division_id)
    division = event.division(division_id)
    columns = _columns(event, ranked, audience, hidden)
    places = [row.place for row in ranked.rows if row.place is not None]
    cells = _cells(event, ranked, columns)
    names = _called(state, columns)
    posting = state.postings.get(division_id)
    changed = posting is not None and last_change(state, division_id) > posting.seq
    window_ms = event.rules.appeal_window_s * 1000
    return Standings(
        head=page_head(state),
        division=division,
        columns=columns,
        rows=tuple(
            StandingsRow(
                team=row.team,
                name=names.teams.get(row.team, row.team),
                status=row.status,
                standing=row.standing,
                place=row.place,
                shared=row.place is not None and places.count(row.place) > 1,
                points=points_text(row.points),
                cells=cells[row.team],
                reasons=_reasons(ranked, row.team, names),
            )
            for row in ranked.rows
        ),
        counted=len(ranked.counted),
        parts=sum(not part.void for part in ranked.parts),
        fewest_best=ranked.fewest_best,
        confirmed=ranked.confirmed,
        posted_ms=posting.at_ms if posting is not None else None,
        appeals_until_ms=posting.at_ms + window_ms if posting is not None else None,
        final=posting is not None and posting.final and not changed and not hidden,
        changed=changed,
        appeals=len(open_appeals(state, division_id)),
        amendments=amendments_standing(state, audience),
        faults=ranked.faults,
    )


def last_change(state: State, division_id: str) -> int:
    """Return the last entry about a team, score or re-run of the division, or about all scores."""
    teams = {team.id for team in state.teams.values() if team.division == division_id}
    told = max(
        (seq for subject, seq in state.subjects.items() if _team_of(subject) in teams), default=0
    )
    amended = (one.seq for one in state.amendments.values() if one.remedy != "none")
    return max(told, *amended, 0)


def _team_of(subject: str) -> str:
    """Return the team that a subject is about; empty if it is about none."""
    kind, _, name = subject.partition(":")
    fields = name.split("/")
    at = {"team": 0, "reruns": 1, "sheet": 2}.get(kind)
    return fields[at] if at is not None and at < len(fields) else ""


def _called(state: State, columns: Sequence[StandingsColumn]) -> Called:
    """Return what teams and results are called, a workout that is not released by its number."""
    names = called(state)
    hidden = {
        (column.workout.id, column.part): _numbered(column)
        for column in columns
        if not column.workout.name
    }
    return Called(names.teams, {**names.results, **hidden})


def _numbered(column: StandingsColumn) -> str:
    number = f"{column.workout.number}"
    return f"{number} ({column.part_name})" if column.part_name else number


def _columns(
    event: Event, ranked: DivisionStandings, audience: Audience, hidden: frozenset[str]
) -> tuple[StandingsColumn, ...]:
    return tuple(
        StandingsColumn(
            workout=workout_title(event, workout, audience),
            part=part.id,
            part_name=part_name(workout, number, audience),
            counted=(workout.id, part.id) in ranked.counted,
            void=ranked.part(workout.id, part.id).void,
            kept_back=workout.id in hidden,
        )
        for workout in event.workouts
        for number, part in enumerate(workout.parts, start=1)
    )


def part_name(workout: Workout, number: int, audience: Audience) -> str:
    """Return what tells a part from the others; before the release its number alone."""
    if len(workout.parts) == 1:
        return ""
    part = workout.parts[number - 1]
    return (part.name or part.id) if audience.may_see(workout) else str(number)


def _cells(
    event: Event, ranked: DivisionStandings, columns: Sequence[StandingsColumn]
) -> Mapping[str, tuple[StandingsCell, ...]]:
    found: dict[str, list[StandingsCell]] = {row.team: [] for row in ranked.rows}
    for column in columns:
        part = event.workout(column.workout.id).part(column.part)
        for row in ranked.part(column.workout.id, column.part).rows:
            found[row.team].append(
                StandingsCell(
                    column=column,
                    score=row.score,
                    place=row.place,
                    points=points_text(row.points),
                    part=part,
                )
            )
    return {team: tuple(cells) for team, cells in found.items()}


def _reasons(ranked: DivisionStandings, team: str, names: Called) -> tuple[Reason, ...]:
    reasons = overall_reasons(ranked, team, names)
    return tuple(reason for reason in reasons if reason.rule not in _SHOWN_ANYWAY)
