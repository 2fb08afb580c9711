"""Rules for the day's course: calls, starts, confirmations, devices."""

from callroom.actions.case import Case, need_reason
from callroom.actions.clock_rules import need_no_scores
from callroom.journal.entries import bodies
from callroom.model import Heat, Refusal, milliseconds
from callroom.model.course import competing
from callroom.model.lanes import lane_states


def heat_called(case: Case, body: bodies.HeatCalled) -> None:
    """A heat is called once, before it starts."""
    _need_stage(case, body.heat, "waiting", rule="heat.already_called")


def heat_started(case: Case, body: bodies.HeatStarted) -> None:
    """A heat starts once, and not before its published time unless every team is present."""
    heat = case.heat(body.heat)
    run = case.state.heat_run(body.heat)
    if run.stage not in {"waiting", "called"}:
        raise Refusal("heat.already_started", heat=body.heat, stage=run.stage)
    _need_all_present_if_early(case, heat, body.at_ms)


def heat_on_floor(case: Case, body: bodies.HeatOnFloor) -> None:
    """A heat walks on once, and not before its published time unless every team is present."""
    heat = case.heat(body.heat)
    run = case.state.heat_run(body.heat)
    if run.stage not in {"waiting", "called"}:
        raise Refusal("heat.already_started", heat=body.heat, stage=run.stage)
    if run.on_floor_ms is not None:
        raise Refusal("heat.on_floor_already", heat=body.heat)
    _need_all_present_if_early(case, heat, case.now_ms)


def heat_stepped_back(case: Case, body: bodies.HeatSteppedBack) -> None:
    """A call or a walk-on can be taken back until the clock has started."""
    case.heat(body.heat)
    run = case.state.heat_run(body.heat)
    if run.stage != "called":
        raise Refusal("heat.nothing_to_take_back", heat=body.heat, stage=run.stage)


def heat_restarted(case: Case, body: bodies.HeatRestarted) -> None:
    """Only a heat that runs, or was stopped, can be started anew; somebody says why."""
    heat = case.heat(body.heat)
    stop = case.state.heat_run(body.heat).stop
    if stop is None or stop.ruling is not None:
        _need_stage(case, body.heat, "started", rule="heat.not_running")
    need_no_scores(case, heat)
    need_reason(body.reason)


def heat_finished(case: Case, body: bodies.HeatFinished) -> None:
    """Only a running heat can end."""
    _need_stage(case, body.heat, "started", rule="heat.not_running")


def heat_confirmed(case: Case, body: bodies.HeatConfirmed) -> None:
    """A heat is confirmed when every lane has one undisputed result in every part."""
    heat = case.heat(body.heat)
    if case.state.heat_run(body.heat).stage == "confirmed":
        raise Refusal("heat.already_confirmed", heat=body.heat)
    stop = case.state.heat_run(body.heat).stop
    if stop is not None and stop.ruling is None:
        raise Refusal("heat.stop_not_ruled", heat=body.heat)
    lanes = lane_states(case.state, heat)
    missing = [lane.label for lane in lanes if lane.state == "missing"]
    disputed = [lane.label for lane in lanes if lane.state == "two_reports"]
    if missing or disputed:
        raise Refusal(
            "heat.not_ready",
            heat=body.heat,
            missing=", ".join(missing),
            disputed=", ".join(disputed),
        )


def heat_reopened(case: Case, body: bodies.HeatReopened) -> None:
    """Only a confirmed heat can be opened again, and somebody says why."""
    _need_stage(case, body.heat, "confirmed", rule="heat.not_confirmed")
    need_reason(body.reason)


def standings_posted(case: Case, body: bodies.StandingsPosted) -> None:
    """Final standings need every heat confirmed, nothing unplaced and no appeal open."""
    case.need_division(body.division)
    if not body.final:
        return
    open_heats = [
        heat.id
        for heat in case.plan.heats
        if case.state.heat_run(heat.id).stage != "confirmed"
        and not case.state.is_void(heat.workout)
        and any(case.team(team).division == body.division for team in heat.teams)
    ]
    unplaced = [
        kept
        for kept in case.state.unplaced.values()
        if kept.report.team in case.state.teams
        and case.team(kept.report.team).division == body.division
    ]
    if open_heats or unplaced:
        raise Refusal(
            "standings.not_ready",
            division=body.division,
            heats=", ".join(open_heats),
            unplaced=len(unplaced),
        )
    appeals = [
        str(appeal.number)
        for appeal in case.state.appeals.values()
        if appeal.open and case.team(appeal.team).division == body.division
    ]
    if appeals:
        raise Refusal("standings.appeals_open", division=body.division, appeals=", ".join(appeals))


def device_revoked(case: Case, body: bodies.DeviceRevoked) -> None:
    """Only a device that joined can lose its role."""
    if body.device not in case.state.devices:
        raise Refusal("device.unknown", device=body.device)


def _need_all_present_if_early(case: Case, heat: Heat, at_ms: int) -> None:
    arrived = case.state.heat_run(heat.id).arrived
    published_ms = milliseconds(case.event.instant(heat.start_s))
    missing = [team for team in competing(case.state, heat) if team not in arrived]
    if at_ms < published_ms and missing:
        names = ", ".join(case.team(team).name for team in missing)
        early_s = -((at_ms - published_ms) // 1000)
        raise Refusal("heat.early", heat=heat.id, early_s=early_s, missing=names)


def _need_stage(case: Case, heat_id: str, stage: str, *, rule: str) -> None:
    case.heat(heat_id)
    now = case.state.heat_run(heat_id).stage
    if now != stage:
        raise Refusal(rule, heat=heat_id, stage=now)
