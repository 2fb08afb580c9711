"""Standings of a division: its parts, and overall.

A part counts overall once every team that is still in has a result there or is known to be
absent: until then teams would be compared that have not done the same. The standings of the
part itself are live.
"""

from operator import is_

from callroom.model import Division, Event, NotFound, State
from callroom.model.line_up import at_their_smallest
from callroom.scoring.division import DivisionScores, DivisionStandings, Scored
from callroom.scoring.entrants import Entrant, entrants
from callroom.scoring.overall import Counted, overall
from callroom.scoring.parts import PartStandings, rank_part, scores_of
from callroom.scoring.points import Award
from callroom.scoring.remembered import DivisionMemory, Made, Ranked, memory_of
from callroom.scoring.resolve import terms_of
from callroom.scoring.sheets import Sheets


def all_standings(state: State) -> tuple[DivisionStandings, ...]:
    """Return the standings of every division, in the order of the event.

    Raises
    ------
    NotFound
        If the book has no event.
    """
    event = _event(state)
    sheets = Sheets(state)
    return tuple(_standings(event, division, state, sheets) for division in event.divisions)


def division_standings(state: State, division_id: str) -> DivisionStandings:
    """Return the standings of one division, overall and in every part.

    Raises
    ------
    NotFound
        If the book has no event or the event no such division.
    """
    event = _event(state)
    return _standings(event, _division(event, division_id), state, Sheets(state))


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
    division = _division(event, division_id)
    return _scores(event, division, state, Sheets(state), memory_of(division, event.rules))


def standings_of(scored: DivisionScores) -> DivisionStandings:
    """Return the standings that the scores of a division make."""
    return _ranked(scored, None)


def _standings(event: Event, division: Division, state: State, sheets: Sheets) -> DivisionStandings:
    memory = memory_of(division, event.rules)
    scored = _scores(event, division, state, sheets, memory)
    known = memory.whole
    if known is not None and _alike(known[0], scored):
        return known[1]
    standings = _ranked(scored, memory)
    memory.whole = (scored, standings)
    return standings


def _alike(one: DivisionScores, other: DivisionScores) -> bool:
    """Whether nothing that standings are made from differs: every part is the very same."""
    return (
        one.field is other.field
        and len(one.parts) == len(other.parts)
        and all(map(is_, one.parts, other.parts))
    )


def _ranked(scored: DivisionScores, memory: DivisionMemory | None) -> DivisionStandings:
    rules, field = scored.rules, scored.field
    starters = _starters(scored)
    award = Award(rules.points, starters) if memory is None else memory.award(starters)
    parts: list[PartStandings] = []
    counted: list[Counted] = []
    for part in scored.parts:
        standings, counting = _ranked_part(part, field, award, starters, memory)
        parts.append(standings)
        if standings.complete and not part.void:
            counted.append(counting)
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


def _ranked_part(
    part: Scored,
    field: tuple[Entrant, ...],
    award: Award,
    starters: int,
    memory: DivisionMemory | None,
) -> Ranked:
    known = memory.part(part.terms.workout, part.terms.part) if memory is not None else None
    ranked = known.ranking(part, field, starters) if known is not None else None
    if ranked is None:
        ranked = rank_part(part.terms, field, part.scores, award, void=part.void)
        # A fault is told by whoever meets it, so what has one is worked out anew.
        if known is not None and award.fault is None:
            known.keep_ranking(part, field, starters, ranked)
    return ranked


def _scores(
    event: Event, division: Division, state: State, sheets: Sheets, memory: DivisionMemory
) -> DivisionScores:
    field = memory.field(
        entrants(division, at_their_smallest(state), state.team_status, event.rules)
    )
    parts: list[Scored] = []
    for workout in event.workouts:
        reruns = sheets.reruns(workout.id)
        void = state.is_void(workout.id)
        for part in workout.parts:
            known = memory.part(workout.id, part) or memory.new_part(
                terms_of(workout.id, part, division, event.rules)
            )
            reported = sheets.of(workout.id, part.id, division.id)
            made = known.made
            if made is None or not made.still(reported, field, reruns, void=void):
                scores, resolved = scores_of(known.terms, field, reported, reruns, known.resolved)
                scored = Scored(known.terms, scores, void)
                made = known.made = Made(reported, field, reruns, scored)
                known.resolved = resolved
            parts.append(made.scored)
    return DivisionScores(division=division.id, rules=event.rules, field=field, parts=tuple(parts))


def _starters(scored: DivisionScores) -> int:
    """Count the teams of the competition that started somewhere, or still may."""
    started = 0
    by_team = zip(*(part.scores for part in scored.parts), strict=True)
    for entrant, scores in zip(scored.field, by_team, strict=bool(scored.parts)):
        if entrant.status != "out_of_competition":
            started += any(score.kind != "did_not_start" for score in scores)
    return started


def _division(event: Event, division_id: str) -> Division:
    for division in event.divisions:
        if division.id == division_id:
            return division
    raise NotFound("division.unknown", division=division_id)


def _event(state: State) -> Event:
    if state.event is None:
        raise NotFound("book.no_event")
    return state.event
