"""Standings of a division: its parts, and overall.

A part counts overall once every team that is still in has a result there or is known to be
absent: until then teams would be compared that have not done the same. The standings of the
part itself are live.
"""

import msgspec

from callroom.model import Division, Event, Finding, NotFound, Rules, State
from callroom.model.line_up import at_their_smallest
from callroom.scoring.entrants import Entrant, entrants
from callroom.scoring.overall import Counted, OverallRow, overall
from callroom.scoring.parts import PartStandings, rank_part, scores_of
from callroom.scoring.points import Award
from callroom.scoring.resolve import Terms, terms_of
from callroom.scoring.score import Score
from callroom.scoring.sheets import Sheets


class DivisionStandings(msgspec.Struct, frozen=True, kw_only=True):
    """One division: every part, and overall.

    Attributes
    ----------
    rows
        By overall place; then the teams without one.
    counted
        The parts that count overall so far, as (workout, part).
    fewest_best
        Whether the fewest points are the best (sum of places).
    starters
        How many teams started or still may.
    confirmed
        Every part that is not void counts and is confirmed: the standings are no longer
        provisional.
    faults
        Why points could not be worked out, if so.
    """

    division: str
    parts: tuple[PartStandings, ...]
    rows: tuple[OverallRow, ...]
    counted: tuple[tuple[str, str], ...]
    fewest_best: bool
    tie_chain: tuple[str, ...]
    starters: int
    confirmed: bool
    faults: tuple[Finding, ...] = ()

    def part(self, workout: str, part: str) -> PartStandings:
        """Return the standings of a part; KeyError if the event has no such part."""
        for standings in self.parts:
            if (standings.workout, standings.part) == (workout, part):
                return standings
        raise KeyError((workout, part))

    def row(self, team: str) -> OverallRow:
        """Return the row of a team; KeyError if it is not in the division."""
        for row in self.rows:
            if row.team == team:
                return row
        raise KeyError(team)


class Scored(msgspec.Struct, frozen=True):
    """One part with the score of every entrant, in the order of the field.

    `void`: the workout was made void, and what was done in it counts for nothing.
    """

    terms: Terms
    scores: tuple[Score, ...]
    void: bool = False


class DivisionScores(msgspec.Struct, frozen=True, kw_only=True):
    """All that the standings of a division are made from: who competes, and every score."""

    division: str
    rules: Rules
    field: tuple[Entrant, ...]
    parts: tuple[Scored, ...]


def all_standings(state: State) -> tuple[DivisionStandings, ...]:
    """Return the standings of every division, in the order of the event.

    Raises
    ------
    NotFound
        If the book has no event.
    """
    event = _event(state)
    sheets = Sheets(state)
    return tuple(
        standings_of(_scores(event, division, state, sheets)) for division in event.divisions
    )


def division_standings(state: State, division_id: str) -> DivisionStandings:
    """Return the standings of one division, overall and in every part.

    Raises
    ------
    NotFound
        If the book has no event or the event no such division.
    """
    return standings_of(division_scores(state, division_id))


def part_standings(state: State, workout_id: str, part_id: str, division_id: str) -> PartStandings:
    """Return the standings of one part in one division.

    Raises
    ------
    NotFound
        If the book has no event or the event no such division, workout or part.
    """
    try:
        return division_standings(state, division_id).part(workout_id, part_id)
    except KeyError:
        raise NotFound("part.unknown", workout=workout_id, part=part_id) from None


def division_scores(state: State, division_id: str) -> DivisionScores:
    """Return the scores that count in one division.

    Raises
    ------
    NotFound
        If the book has no event or the event no such division.
    """
    event = _event(state)
    for division in event.divisions:
        if division.id == division_id:
            return _scores(event, division, state, Sheets(state))
    raise NotFound("division.unknown", division=division_id)


def standings_of(scored: DivisionScores) -> DivisionStandings:
    """Return the standings that the scores of a division make."""
    rules, field = scored.rules, scored.field
    starters = _starters(scored)
    award = Award(rules.points, starters)
    parts: list[PartStandings] = []
    counted: list[Counted] = []
    for part in scored.parts:
        standings, won, points = rank_part(part.terms, field, part.scores, award, void=part.void)
        parts.append(standings)
        if standings.complete and not part.void:
            counted.append(Counted(standings.workout, standings.part, won, points))
    return DivisionStandings(
        division=scored.division,
        parts=tuple(parts),
        rows=overall(field, counted, rules, fewest_best=award.fewest_best),
        counted=tuple((each.workout, each.part) for each in counted),
        fewest_best=award.fewest_best,
        tie_chain=rules.tie_chain,
        starters=starters,
        confirmed=bool(counted) and all(part.confirmed or part.void for part in parts),
        faults=() if award.fault is None else (award.fault,),
    )


def _scores(event: Event, division: Division, state: State, sheets: Sheets) -> DivisionScores:
    field = entrants(division, at_their_smallest(state), state.team_status, event.rules)
    parts: list[Scored] = []
    for workout in event.workouts:
        reruns = sheets.reruns(workout.id)
        void = state.is_void(workout.id)
        for part in workout.parts:
            terms = terms_of(workout.id, part, division, event.rules)
            reported = sheets.of(workout.id, part.id, division.id)
            parts.append(Scored(terms, scores_of(terms, field, reported, reruns), void))
    return DivisionScores(division=division.id, rules=event.rules, field=field, parts=tuple(parts))


def _starters(scored: DivisionScores) -> int:
    """Count the teams of the competition that started somewhere, or still may."""
    columns = [part.scores for part in scored.parts]
    return sum(
        entrant.status != "out_of_competition"
        and any(scores[index].kind != "did_not_start" for scores in columns)
        for index, entrant in enumerate(scored.field)
    )


def _event(state: State) -> Event:
    if state.event is None:
        raise NotFound("book.no_event")
    return state.event
