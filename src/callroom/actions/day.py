"""What people do during the day, each as the request it makes."""

from collections.abc import Mapping
from typing import Any, Literal

import msgspec

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import (
    Decider,
    Heat,
    LaneNote,
    Plan,
    Remedy,
    Result,
    Role,
    ScoreReport,
    Screen,
    SheetRef,
    Workout,
)

Basis = Mapping[str, int]


def _named(sheet: SheetRef) -> dict[str, Any]:
    return msgspec.structs.asdict(sheet)


def publish_plan(plan: Plan) -> Request:
    """Tell everyone this plan."""
    return propose(bodies.PlanPublished(plan=plan))


def change_plan(revision: int, heats: tuple[Heat, ...], removed: tuple[str, ...] = ()) -> Request:
    """Tell everyone that these heats changed."""
    return propose(bodies.PlanChanged(revision=revision, heats=heats, removed=removed))


def call_heat(heat: str) -> Request:
    """Call the teams of a heat to the floor."""
    return propose(bodies.HeatCalled(heat=heat))


def start_heat(heat: str, at_ms: int) -> Request:
    """Start the clock of a heat at `at_ms` [ms, UTC]."""
    return propose(bodies.HeatStarted(heat=heat, at_ms=at_ms))


def restart_heat(heat: str, reason: str) -> Request:
    """Take back a start that did not count."""
    return propose(bodies.HeatRestarted(heat=heat, reason=reason))


def finish_heat(heat: str) -> Request:
    """End the clock of a heat."""
    return propose(bodies.HeatFinished(heat=heat))


def confirm_heat(heat: str, basis: Basis) -> Request:
    """Confirm every score of a heat as the head judge saw them (`basis`)."""
    return propose(bodies.HeatConfirmed(heat=heat), basis=basis)


def reopen_heat(heat: str, reason: str) -> Request:
    """Open a confirmed heat again."""
    return propose(bodies.HeatReopened(heat=heat, reason=reason))


def mark_arrived(heat: str, team: str) -> Request:
    """Note that a whole team is at the call board."""
    return propose(bodies.TeamArrived(heat=heat, team=team))


def mark_no_show(heat: str, team: str) -> Request:
    """Note that a team was not there when the lanes were checked."""
    return propose(bodies.TeamNoShow(heat=heat, team=team))


def await_team(heat: str, team: str) -> Request:
    """Take back that a team arrived, or that it did not."""
    return propose(bodies.TeamAwaited(heat=heat, team=team))


def send_on_floor(heat: str) -> Request:
    """Send the teams of a heat on to the floor."""
    return propose(bodies.HeatOnFloor(heat=heat))


def step_back(heat: str) -> Request:
    """Take back the walk-on of a heat, or without one its call."""
    return propose(bodies.HeatSteppedBack(heat=heat))


def note_lane(note: LaneNote) -> Request:
    """Note something that happened in a lane."""
    return propose(note)


def mark_lane_ready(heat: str, lane: int, *, ready: bool = True) -> Request:
    """Say that a lane is ready for its heat, or not yet."""
    return propose(bodies.LaneReady(heat=heat, lane=lane, ready=ready))


def report_score(report: ScoreReport) -> Request:
    """Hand in what was seen of one lane."""
    return propose(report)


def withdraw_team(team: str, reason: str) -> Request:
    """Take a team out at its own wish."""
    return propose(bodies.TeamLeft(team=team, status="withdrawn", reason=reason))


def disqualify_team(team: str, reason: str) -> Request:
    """Take a team out by ruling."""
    return propose(bodies.TeamLeft(team=team, status="disqualified", reason=reason))


def reinstate_team(team: str, left_seq: int, reason: str) -> Request:
    """Let a team back in that left by the entry `left_seq`."""
    return propose(bodies.TeamBack(team=team, left_seq=left_seq, reason=reason))


def choose_report(sheet: SheetRef, report_seq: int, basis: Basis) -> Request:
    """Settle two differing reports of a lane."""
    return propose(
        bodies.ReportChosen(**_named(sheet), report_seq=report_seq),
        basis=basis,
    )


def correct_score(sheet: SheetRef, result: Result, reason: str) -> Request:
    """Set a result in place of what was reported."""
    return propose(bodies.ScoreCorrected(**_named(sheet), result=result, reason=reason))


def take_report(report_seq: int, report: ScoreReport, reason: str) -> Request:
    """Let an unplaced report count where it says it belongs."""
    return propose(
        bodies.ReportTaken(
            report_seq=report_seq,
            workout=report.workout,
            part=report.part,
            team=report.team,
            attempt=report.attempt,
            reason=reason,
        )
    )


def dismiss_report(report_seq: int, reason: str) -> Request:
    """Put an unplaced report aside."""
    return propose(bodies.ReportDismissed(report_seq=report_seq, reason=reason))


def give_penalty(sheet: SheetRef, reason: str, *, seconds: int = 0, counts: int = 0) -> Request:
    """Add seconds to, or take counts off, a result."""
    return propose(
        bodies.PenaltyGiven(**_named(sheet), reason=reason, seconds=seconds, counts=counts)
    )


def lift_penalty(sheet: SheetRef, penalty_seq: int, reason: str) -> Request:
    """Take back a penalty."""
    return propose(bodies.PenaltyLifted(**_named(sheet), penalty_seq=penalty_seq, reason=reason))


def grant_rerun(
    workout: str, team: str, counts: Literal["replaces", "better"], reason: str
) -> Request:
    """Let a team do a workout once more."""
    return propose(bodies.RerunGranted(workout=workout, team=team, counts=counts, reason=reason))


def post_standings(division: str, *, final: bool = False) -> Request:
    """Post the standings of a division; the appeal window runs from here."""
    return propose(bodies.StandingsPosted(division=division, final=final))


def make_ruling(question: str, answer: str, *, workout: str = "", movement: str = "") -> Request:
    """Answer a question for everyone: about a workout, a movement, both, or all."""
    return propose(
        bodies.RulingMade(question=question, answer=answer, workout=workout, movement=movement)
    )


def withdraw_ruling(number: int, reason: str) -> Request:
    """Take a ruling back; judges who saw it are told."""
    return propose(bodies.RulingWithdrawn(number=number, reason=reason))


def acknowledge_ruling(number: int, seen_seq: int) -> Request:
    """Note that what entry `seen_seq` said about a ruling was read on this device."""
    return propose(bodies.RulingAcknowledged(number=number, seen_seq=seen_seq))


def amend_workout(
    workout: Workout,
    *,
    what: str,
    why: str,
    decided_by: Decider,
    from_heat: str,
    remedy: Remedy = "none",
    common_point: str = "",
) -> Request:
    """Put `workout` in place of the one told, from a heat on; see `Amendment` for the remedy."""
    return propose(
        bodies.AmendmentMade(
            workout=workout,
            what=what,
            why=why,
            decided_by=decided_by,
            from_heat=from_heat,
            remedy=remedy,
            common_point=common_point,
        )
    )


def join_device(device: str, role: Role) -> Request:
    """Give a device a role."""
    return propose(bodies.DeviceJoined(device=device, role=role))


def revoke_device(device: str) -> Request:
    """Take a device's role; what it still sends is kept unplaced."""
    return propose(bodies.DeviceRevoked(device=device))


def revoke_devices(devices: tuple[str, ...]) -> Request:
    """Take the roles of several devices, all or none."""
    return propose(*(bodies.DeviceRevoked(device=device) for device in devices))


def report_training(
    movements: tuple[str, ...], right: int, asked: int, person: str = ""
) -> Request:
    """Tell how a self-check of this device went, and of which volunteer."""
    return propose(
        bodies.TrainingTaken(movements=movements, right=right, asked=asked, person=person)
    )


def carry_book_on(generation: int, after_seq: int) -> Request:
    """Go on with a copy of the book whose last entry is `after_seq`, on another laptop."""
    return propose(bodies.BookCarried(generation=generation, after_seq=after_seq))


def set_desk(*, double_entry: bool) -> Request:
    """Say whether two people type each card."""
    return propose(bodies.DeskSet(double_entry=double_entry))


def set_screen(screen: Screen) -> Request:
    """Say what the screen in the hall shows."""
    return propose(bodies.ScreenSet(screen=screen))


def mark_rehearsal(seed: int) -> Request:
    """Mark the whole book as a practice run."""
    return propose(bodies.RehearsalMarked(seed=seed))
