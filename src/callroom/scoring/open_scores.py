"""Which scores of a division are still open, and why."""

from collections.abc import Mapping
from typing import Literal

from callroom.model import ScoreSheet, State
from callroom.scoring.division import DivisionScores

Why = Literal["missing", "rerun", "two_reports", "unplaced", "appeal", "unsigned", "unconfirmed"]
ScoreName = tuple[str, str, str]
"""Workout, part, team."""


def open_scores(state: State, scored: DivisionScores) -> Mapping[ScoreName, tuple[Why, ...]]:
    """Return every score that may still change, with the reasons, in the order of the event.

    A score is settled when the head judge has confirmed it, no re-run of it is to come, no
    report without a place is about it, and no appeal. A void workout has no open score.
    """
    signed = {key: _signed(sheet) for key, sheet in state.sheets.items()}
    unplaced = {
        (kept.report.workout, kept.report.part, kept.report.team)
        for kept in state.unplaced.values()
    }
    appealed = {
        (appeal.workout, appeal.part, appeal.team)
        for appeal in state.appeals.values()
        if appeal.open and appeal.workout
    }
    found: dict[ScoreName, tuple[Why, ...]] = {}
    for part in scored.parts:
        if part.void:
            continue
        for entrant, score in zip(scored.field, part.scores, strict=True):
            name = (part.terms.workout, part.terms.part.id, entrant.team)
            key = f"{'/'.join(name)}/{score.attempt}"
            tests: dict[Why, bool] = {
                "missing": score.kind == "awaited",
                "rerun": score.rerun_awaited,
                "two_reports": score.disputed,
                "unplaced": name in unplaced,
                "appeal": name in appealed,
                "unsigned": not score.confirmed and not signed.get(key, True),
                "unconfirmed": score.kind != "awaited" and not score.confirmed,
            }
            why = tuple(reason for reason, holds in tests.items() if holds)
            if why and entrant.status != "out_of_competition":
                found[name] = why
    return found


def _signed(sheet: ScoreSheet) -> bool:
    """Whether somebody of the team signed what counts; what the head judge set needs nobody."""
    result = sheet.counting
    if result is None or sheet.correction is not None:
        return True
    return any(kept.report.signed for kept in sheet.reports if kept.report.result == result)
