"""Folding of scores: reports are placed or kept unplaced, decisions change what counts."""

from msgspec.structs import replace

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.journal.fold.running import open_again
from callroom.model import (
    Correction,
    KeptReport,
    Penalty,
    Rerun,
    ScoreReport,
    ScoreSheet,
    latest_amendment,
    sheet_key,
)


def score_reported(build: Builder, entry: Entry, body: ScoreReport) -> None:
    """Place a report on its sheet, or keep it unplaced with the reason."""
    key = sheet_key(body.workout, body.part, body.team, body.attempt)
    sheet = build.sheets.get(key)
    kept = KeptReport(
        seq=entry.seq,
        at_ms=entry.at_ms,
        actor=entry.actor,
        device=entry.device,
        report=body,
        unplaced=_misfit(build, entry.device, body, sheet),
    )
    if kept.unplaced:
        _keep_unplaced(build, kept)
        return
    _put(build, key, _with_report(sheet, kept, body.attempt))


def _misfit(build: Builder, device_id: str, report: ScoreReport, sheet: ScoreSheet | None) -> str:
    """Return why a report has no place as things stand, or an empty text."""
    device = build.devices.get(device_id)
    if device is not None and device.revoked_seq is not None:
        return "device_revoked"
    if not _part_exists(build, report) or build.teams.get(report.team) is None:
        return "unknown"
    if not _of_the_workout_as_it_stands(build, report):
        return "workout_amended"
    if report.attempt > 1 + len(build.reruns.get(f"{report.workout}/{report.team}") or ()):
        return "no_such_attempt"
    if report.attempt == 1 and not _lane_fits(build, report):
        return "lane_moved"
    if sheet is not None and sheet.confirmed_seq is not None and sheet.counting != report.result:
        return "heat_confirmed"
    return ""


def _part_exists(build: Builder, report: ScoreReport) -> bool:
    workouts = build.event.workouts if build.event is not None else ()
    return any(
        part.id == report.part
        for workout in workouts
        if workout.id == report.workout
        for part in workout.parts
    )


def _of_the_workout_as_it_stands(build: Builder, report: ScoreReport) -> bool:
    """Whether the pad or card had the workout as last amended; of a void one all are kept."""
    amendment = latest_amendment(build.amendments.view.values(), report.workout)
    if amendment is None:
        return report.amendment == 0
    return amendment.remedy == "void" or report.amendment == amendment.number


def _lane_fits(build: Builder, report: ScoreReport) -> bool:
    heat = build.planned_heat(report.heat)
    return (
        heat is not None
        and heat.workout == report.workout
        and heat.lane_of(report.team) == report.lane
    )


def _keep_unplaced(build: Builder, kept: KeptReport) -> None:
    build.unplaced.put(str(kept.seq), kept)
    build.touch(f"unplaced:{kept.seq}")


def _with_report(sheet: ScoreSheet | None, kept: KeptReport, attempt: int) -> ScoreSheet:
    report = kept.report
    known = sheet or ScoreSheet(
        workout=report.workout, part=report.part, team=report.team, attempt=attempt
    )
    return replace(known, reports=(*known.reports, kept))


def _put(build: Builder, key: str, sheet: ScoreSheet) -> None:
    build.sheets.put(key, sheet)
    build.touch(f"sheet:{key}")


def _sheet(build: Builder, workout: str, part: str, team: str, attempt: int) -> ScoreSheet:
    key = sheet_key(workout, part, team, attempt)
    return build.sheets.get(key) or ScoreSheet(
        workout=workout, part=part, team=team, attempt=attempt
    )


def _store(build: Builder, sheet: ScoreSheet) -> None:
    _put(build, sheet_key(sheet.workout, sheet.part, sheet.team, sheet.attempt), sheet)


def report_chosen(build: Builder, _entry: Entry, body: bodies.ReportChosen) -> None:
    """Settle two differing reports."""
    sheet = _sheet(build, body.workout, body.part, body.team, body.attempt)
    _store(build, replace(sheet, chosen_seq=body.report_seq, correction=None))


def report_taken(build: Builder, _entry: Entry, body: bodies.ReportTaken) -> None:
    """Give an unplaced report a place and let it count."""
    kept = build.unplaced.get(str(body.report_seq))
    if kept is None:
        return
    build.unplaced.drop(str(body.report_seq))
    sheet = _sheet(build, body.workout, body.part, body.team, body.attempt)
    placed = replace(
        sheet,
        reports=(*sheet.reports, replace(kept, unplaced="")),
        chosen_seq=body.report_seq,
        correction=None,
    )
    _store(build, placed)
    build.touch(f"unplaced:{body.report_seq}")


def report_dismissed(build: Builder, _entry: Entry, body: bodies.ReportDismissed) -> None:
    """Put an unplaced report aside; the journal keeps it."""
    build.unplaced.drop(str(body.report_seq))
    build.touch(f"unplaced:{body.report_seq}")


def score_corrected(build: Builder, entry: Entry, body: bodies.ScoreCorrected) -> None:
    """Set a result in place of what was reported."""
    sheet = _sheet(build, body.workout, body.part, body.team, body.attempt)
    correction = Correction(seq=entry.seq, result=body.result, reason=body.reason)
    _store(build, replace(sheet, correction=correction))


def penalty_given(build: Builder, entry: Entry, body: bodies.PenaltyGiven) -> None:
    """Add a penalty to a sheet."""
    sheet = _sheet(build, body.workout, body.part, body.team, body.attempt)
    penalty = Penalty(seq=entry.seq, reason=body.reason, seconds=body.seconds, counts=body.counts)
    _store(build, replace(sheet, penalties=(*sheet.penalties, penalty)))


def penalty_lifted(build: Builder, _entry: Entry, body: bodies.PenaltyLifted) -> None:
    """Take a penalty off a sheet."""
    sheet = _sheet(build, body.workout, body.part, body.team, body.attempt)
    left = tuple(penalty for penalty in sheet.penalties if penalty.seq != body.penalty_seq)
    _store(build, replace(sheet, penalties=left))


def rerun_granted(build: Builder, entry: Entry, body: bodies.RerunGranted) -> None:
    """Allow a team one more attempt at a workout; its heat is open until that is in."""
    key = f"{body.workout}/{body.team}"
    earlier = build.reruns.get(key) or ()
    rerun = Rerun(
        seq=entry.seq,
        workout=body.workout,
        team=body.team,
        attempt=2 + len(earlier),
        counts=body.counts,
        reason=body.reason,
    )
    build.reruns.put(key, (*earlier, rerun))
    build.touch(f"reruns:{key}")
    plan = build.plan
    heat = plan.heat_of(body.workout, body.team) if plan is not None else None
    if heat is not None:
        open_again(build, heat.id)
