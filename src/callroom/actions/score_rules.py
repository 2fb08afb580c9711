"""Rules for decisions about scores. Reports themselves are never refused by rules."""

from callroom.actions.case import Case, need_reason
from callroom.journal.entries import bodies
from callroom.model import Refusal, ScoreSheet, sheet_key


def report_chosen(case: Case, body: bodies.ReportChosen) -> None:
    """Only a report of that lane can be chosen."""
    sheet = _sheet(case, body.workout, body.part, body.team, body.attempt)
    if body.report_seq not in {kept.seq for kept in sheet.reports}:
        raise Refusal("report.unknown", report=body.report_seq)


def report_taken(case: Case, body: bodies.ReportTaken) -> None:
    """An unplaced report can be given to an existing lane, with a reason."""
    _need_unplaced(case, body.report_seq)
    case.need_part(body.workout, body.part)
    case.team(body.team)
    need_reason(body.reason)


def report_dismissed(case: Case, body: bodies.ReportDismissed) -> None:
    """An unplaced report can be put aside, with a reason."""
    _need_unplaced(case, body.report_seq)
    need_reason(body.reason)


def score_corrected(case: Case, body: bodies.ScoreCorrected) -> None:
    """A correction names an existing lane and its reason."""
    case.need_part(body.workout, body.part)
    case.team(body.team)
    need_reason(body.reason)


def penalty_given(case: Case, body: bodies.PenaltyGiven) -> None:
    """A penalty takes something, never gives, and says why."""
    case.need_part(body.workout, body.part)
    case.team(body.team)
    need_reason(body.reason)
    if body.seconds < 0 or body.counts < 0 or not (body.seconds or body.counts):
        raise Refusal("penalty.empty", seconds=body.seconds, counts=body.counts)


def penalty_lifted(case: Case, body: bodies.PenaltyLifted) -> None:
    """Only a penalty that stands can be lifted."""
    sheet = _sheet(case, body.workout, body.part, body.team, body.attempt)
    if body.penalty_seq not in {penalty.seq for penalty in sheet.penalties}:
        raise Refusal("penalty.unknown", penalty=body.penalty_seq)
    need_reason(body.reason)


def rerun_granted(case: Case, body: bodies.RerunGranted) -> None:
    """A re-run names a workout, a team that is still in, and a reason."""
    if body.workout not in {workout.id for workout in case.event.workouts}:
        raise Refusal("workout.unknown", workout=body.workout)
    case.team(body.team)
    if body.team in case.state.team_status:
        raise Refusal("team.left_already", team=body.team)
    need_reason(body.reason)


def _sheet(case: Case, workout: str, part: str, team: str, attempt: int) -> ScoreSheet:
    sheet = case.state.sheets.get(sheet_key(workout, part, team, attempt))
    if sheet is None:
        raise Refusal("sheet.unknown", workout=workout, part=part, team=team)
    return sheet


def _need_unplaced(case: Case, report_seq: int) -> None:
    if str(report_seq) not in case.state.unplaced:
        raise Refusal("report.not_unplaced", report=report_seq)
