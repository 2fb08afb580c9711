"""Rules for the clock of a heat: a heat for time is never paused, it is stopped and ruled on."""

from callroom.actions.case import Case, need_reason
from callroom.journal.entries import clock_bodies
from callroom.model import Heat, Refusal, State
from callroom.model.lanes import attempts
from callroom.model.score import ScoreSheet


def heat_stopped(case: Case, body: clock_bodies.HeatStopped) -> None:
    """Only a running clock can be stopped, once it has passed nought, and somebody says why."""
    case.heat(body.heat)
    run = case.state.heat_run(body.heat)
    if run.stage != "started" or run.started_ms is None:
        raise Refusal("heat.not_running", heat=body.heat, stage=run.stage)
    if body.at_ms < run.started_ms:
        raise Refusal("heat.stop_in_countdown", heat=body.heat)
    need_reason(body.reason)


def stop_ruled(case: Case, body: clock_bodies.StopRuled) -> None:
    """A stop is ruled on once, with a reason."""
    case.heat(body.heat)
    stop = case.state.heat_run(body.heat).stop
    if stop is None or stop.ruling is not None:
        raise Refusal("stop.nothing_to_rule", heat=body.heat)
    need_reason(body.reason)


def rerun_started(case: Case, body: clock_bodies.RerunStarted) -> None:
    """Only a re-run that was granted can start, and no more once its score came in."""
    case.team(body.team)
    if not 2 <= body.attempt <= attempts(case.state, body.workout, body.team):
        raise Refusal("rerun.not_granted", workout=body.workout, team=body.team)
    if any(
        sheet.attempt == body.attempt for sheet in _reported(case.state, body.workout, body.team)
    ):
        raise Refusal("rerun.scored_already", workout=body.workout, team=body.team)


def credit_given(case: Case, body: clock_bodies.CreditGiven) -> None:
    """A credit takes seconds off a time, and says why."""
    case.need_part(body.workout, body.part)
    case.team(body.team)
    need_reason(body.reason)
    part = case.event.workout(body.workout).part(body.part)
    if part.kind != "time":
        raise Refusal("credit.no_time", workout=body.workout, part=body.part)
    if not 0 < body.seconds <= part.cap_s:
        raise Refusal("credit.out_of_range", seconds=body.seconds, most=part.cap_s)


def need_no_scores(case: Case, heat: Heat) -> None:
    """Refuse to take a start back once scores of it have come in: they would count again."""
    teams = [
        team
        for team in heat.teams
        if any(sheet.attempt == 1 for sheet in _reported(case.state, heat.workout, team))
    ]
    if teams:
        names = ", ".join(case.team(team).name for team in teams)
        raise Refusal("heat.has_scores", heat=heat.id, teams=names)


def _reported(state: State, workout: str, team: str) -> list[ScoreSheet]:
    """Return a team's sheets of a workout for which something counts."""
    return [
        sheet
        for sheet in state.sheets.values()
        if (sheet.workout, sheet.team) == (workout, team) and sheet.counting is not None
    ]
