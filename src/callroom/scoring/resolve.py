"""From everything known about a team in a part to the one score that counts.

Where the rules leave room, this is how they are read here:

- A time is cut off to the resolution and then held against the cap: exactly on the cap is a
  finish. Past it is none. Such a report is a capped team with all its work done (unless the
  report says how much), the best place a capped team can have, and a finding for the desk.
- Penalty seconds are added to a time after the cap has decided whether it is a finish, so a
  penalty never takes a finish away. Penalty counts come off work done, or off metres.
- Who did not finish misses at least the finish itself, so at least one second is added where
  the cap counts as a time. On the same time a finisher stays ahead of a capped team.
- The tie-break split is brought to the resolution too. It is compared between two finishers
  only where the part says so, and never between teams with nought.
- A result that lacks its number (a finish without a time) is awaited, never guessed.
- In a workout of several parts the better attempt is chosen part by part: each part has its
  own clock and result.
"""

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import get_args

import msgspec

from callroom.model import Division, Mass, Part, Rerun, Result, Rules, ScoreSheet
from callroom.model.score import Outcome
from callroom.model.steps import Stretch, complete_metres, stretches, tasks_of, total_counts
from callroom.model.workout import PartKind
from callroom.scoring.key import (
    CAPPED,
    FINISHED,
    LATEST,
    fewest_first,
    load_units,
    modified,
    most_first,
)
from callroom.scoring.score import Score, ScoreKind


class Terms(msgspec.Struct, frozen=True, kw_only=True):
    """What scoring one part in one division rests on, worked out once."""

    workout: str
    part: Part
    division: Division
    rules: Rules
    total: int
    lifts: frozenset[str]
    course: tuple[Stretch, ...]
    measures: Mapping[Outcome, "Measure"]
    cap_ms: int
    resolution_ms: int
    has_split: bool
    splits_finishers: bool


def terms_of(workout: str, part: Part, division: Division, rules: Rules) -> Terms:
    """Return the terms of a part of `workout` for teams of `division`."""
    tasks = [task for block in part.blocks for task in tasks_of(block, division)]
    return Terms(
        workout=workout,
        part=part,
        division=division,
        rules=rules,
        total=total_counts(part, division) or 0,
        lifts=frozenset(task.id for task in tasks if task.unit == "lift"),
        course=stretches(part, division),
        measures=_MEASURES[part.kind],
        cap_ms=part.cap_s * 1000,
        resolution_ms=part.resolution_ms,
        has_split=part.tiebreak is not None,
        splits_finishers=part.tiebreak is not None and part.tiebreak.splits_finishers,
    )


def counting_score(
    terms: Terms, team: str, scores: Sequence[Score], reruns: Sequence[Rerun] = ()
) -> Score:
    """Return the one score that counts of all of a team's attempts at a part.

    A re-run replaces what was before, or the better counts, as was fixed when it was
    granted (without a grant: as the rules of the event say). Until it is reported, the
    attempt before it stands and is marked.
    """
    granted = {rerun.attempt: rerun.counts for rerun in reruns}
    made = {score.attempt: score for score in scores}
    counting: Score | None = None
    for attempt in sorted(made.keys() | granted.keys()):
        score = made.get(attempt) or Score(team, "awaited", attempt=attempt)
        how = granted.get(attempt, terms.rules.rerun_counts)
        if counting is None or counting.kind == "awaited":
            counting = score
        elif score.kind == "awaited":
            counting = msgspec.structs.replace(counting, rerun_awaited=True)
        elif how == "replaces" or _better(score, counting):
            counting = _given_up(score) if counting.started else score
    return counting or Score(team, "awaited")


def resolve(terms: Terms, sheet: ScoreSheet) -> Score:
    """Return what one score sheet says, as it is ranked."""
    result = sheet.counting
    score: Score | None = None
    if result is not None:
        score = terms.measures[result.outcome](terms, sheet, result)
    if result is None or score is None:
        return Score(sheet.team, "awaited", attempt=sheet.attempt)
    if (
        sheet.confirmed_seq is None
        and not sheet.penalties
        and not result.modified
        and not result.medical_stop
        and sheet.attempt == 1
        and len(sheet.reports) == 1
    ):
        return score  # nothing but the result has to be noted; so it is nearly always
    key = score.key
    if key is not None and result.modified:
        key = None if terms.rules.modified_work == "unranked" else modified(key)
    return msgspec.structs.replace(
        score,
        key=key,
        attempt=sheet.attempt,
        modified=result.modified,
        medical_stop=result.medical_stop,
        penalty_s=sum(penalty.seconds for penalty in sheet.penalties),
        penalty_counts=sum(penalty.counts for penalty in sheet.penalties),
        confirmed=sheet.confirmed_seq is not None,
        disputed=sheet.disputed,
    )


def _given_up(score: Score) -> Score:
    """Return a re-run not started as given up: the team had started the workout."""
    if score.kind != "did_not_start":
        return score
    return msgspec.structs.replace(score, kind="withdrew")


def _better(one: Score, other: Score) -> bool:
    return one.key is not None and (other.key is None or one.key < other.key)


def _absent(_terms: Terms, sheet: ScoreSheet, result: Result) -> Score | None:
    kind: ScoreKind = "withdrew" if result.outcome == "withdrew" else "did_not_start"
    return Score(sheet.team, kind)


def _unknown(_terms: Terms, _sheet: ScoreSheet, _result: Result) -> Score | None:
    return None


def _finished(terms: Terms, sheet: ScoreSheet, result: Result) -> Score | None:
    time_ms = result.time_ms
    if time_ms is None:
        return None
    time_ms -= time_ms % terms.resolution_ms
    if time_ms > terms.cap_ms:
        work = terms.total if result.work is None else result.work
        capped = _at_the_cap(terms, sheet, result, work)
        return msgspec.structs.replace(capped, past_cap_ms=result.time_ms)
    if sheet.penalties:
        time_ms = _with_penalty(terms, sheet, time_ms)
    split_ms, compared = _split(terms, result) if terms.has_split else (None, 0)
    return Score(
        sheet.team,
        "finished",
        fewest_first(FINISHED, time_ms, compared if terms.splits_finishers else 0),
        time_ms=time_ms,
        tiebreak_ms=split_ms,
    )


def _capped(terms: Terms, sheet: ScoreSheet, result: Result) -> Score | None:
    return None if result.work is None else _at_the_cap(terms, sheet, result, result.work)


def _at_the_cap(terms: Terms, sheet: ScoreSheet, result: Result, reported: int) -> Score:
    work = _less_penalty(sheet, reported)
    missing = max(terms.total - work, 0)
    split_ms, compared = _split(terms, result) if terms.has_split else (None, 0)
    if not work:
        compared = 0
    if terms.part.cap_rule == "second_per_missing":
        time_ms = _with_penalty(terms, sheet, terms.cap_ms + max(missing, 1) * 1000)
        key = fewest_first(FINISHED, time_ms, compared) + 1
    else:
        time_ms, key = None, most_first(CAPPED, work, compared)
    return Score(
        sheet.team,
        "capped",
        key,
        time_ms=time_ms,
        work=work,
        missing=missing,
        tiebreak_ms=split_ms,
    )


def _worked(terms: Terms, sheet: ScoreSheet, result: Result) -> Score | None:
    work = result.work
    if work is None and result.outcome == "finished" and terms.total:
        work = terms.total
    if work is None:
        return None
    work = _less_penalty(sheet, work)
    split_ms, compared = _split(terms, result) if terms.has_split else (None, 0)
    return Score(
        sheet.team,
        "worked",
        most_first(FINISHED, work, compared if work else 0),
        work=work,
        tiebreak_ms=split_ms,
    )


def _lifted(terms: Terms, sheet: ScoreSheet, result: Result) -> Score | None:
    if not result.lifts and result.outcome != "lifted":
        return None
    best: dict[str, Mass] = {}
    for lift in result.lifts:
        if lift.good and _heavier(lift.mass, best.get(lift.task)):
            best[lift.task] = lift.mass
    if terms.part.all_lifts_needed and not best.keys() >= terms.lifts:
        best = {}
    load = sum(map(load_units, best.values()))
    split_ms, compared = _split(terms, result) if terms.has_split else (None, 0)
    return Score(
        sheet.team,
        "lifted",
        most_first(FINISHED, load, compared if load else 0),
        masses=tuple(best.values()),
        tiebreak_ms=split_ms,
    )


def _heavier(mass: Mass, known: Mass | None) -> bool:
    if known is None:
        return mass.amount > 0
    if known.unit == mass.unit:
        return mass.amount > known.amount
    return load_units(mass) > load_units(known)


def _covered(terms: Terms, sheet: ScoreSheet, result: Result) -> Score | None:
    if result.distance_m is None:
        return None
    metres = _less_penalty(sheet, complete_metres(terms.course, result.distance_m))
    split_ms, compared = _split(terms, result) if terms.has_split else (None, 0)
    return Score(
        sheet.team,
        "covered",
        most_first(FINISHED, metres, compared if metres else 0),
        distance_m=metres,
        tiebreak_ms=split_ms,
    )


Measure = Callable[[Terms, ScoreSheet, Result], Score | None]
"""Reads a result; None where it does not bring the number that counts."""


def _measures(of_kind: Measure, **particular: Measure) -> Mapping[Outcome, Measure]:
    """Return how each outcome is read in one kind of part.

    An outcome that belongs to another kind is read by the number it brings, if it does.
    """
    table: dict[Outcome, Measure] = dict.fromkeys(get_args(Outcome), of_kind)
    table |= {"did_not_start": _absent, "withdrew": _absent, "unknown": _unknown}
    for outcome in get_args(Outcome):
        table[outcome] = particular.get(outcome, table[outcome])
    return MappingProxyType(table)


_MEASURES: Mapping[PartKind, Mapping[Outcome, Measure]] = MappingProxyType(
    {
        "time": _measures(_capped, finished=_finished),
        "work": _measures(_worked),
        "load": _measures(_lifted),
        "distance": _measures(_covered),
    }
)


def _split(terms: Terms, result: Result) -> tuple[int | None, int]:
    """Return the split [ms], and the same with a missing one as the latest of all."""
    split_ms = result.tiebreak_ms
    if split_ms is None:
        return None, LATEST
    split_ms -= split_ms % terms.resolution_ms
    return split_ms, split_ms


def _with_penalty(terms: Terms, sheet: ScoreSheet, time_ms: int) -> int:
    time_ms += sum(penalty.seconds for penalty in sheet.penalties) * 1000
    return max(time_ms - time_ms % terms.resolution_ms, 0)


def _less_penalty(sheet: ScoreSheet, counts: int) -> int:
    if sheet.penalties:
        counts -= sum(penalty.counts for penalty in sheet.penalties)
    return max(counts, 0)
