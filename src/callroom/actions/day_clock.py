"""What is asked about the clock of a heat, each as the request it makes."""

from typing import Literal

import msgspec

from callroom.actions.end_heat import absent
from callroom.actions.request import Asked, Request, propose
from callroom.journal.entries import bodies, clock_bodies
from callroom.model import Heat, Refusal, SheetRef, State, StopRuling
from callroom.model.lanes import attempts

# Common practice, no source. Every screen hears of a start within two seconds; a shorter
# countdown would begin on some screens in its middle.
LEAST_COUNTDOWN_S = 3


def start_clock(state: State, heat: str, now_ms: int) -> Request:
    """Start the clock of a heat so that its workout's countdown ends at nought."""
    at_ms = zero_after_countdown(state, heat, now_ms)
    return propose(bodies.HeatStarted(heat=heat, at_ms=at_ms))


def zero_after_countdown(state: State, heat_id: str, now_ms: int) -> int:
    """Return the instant of nought [ms, UTC] of a clock of a heat that is started now."""
    heats = state.plan.heats if state.plan is not None else ()
    workouts = {
        workout.id: workout for workout in (state.event.workouts if state.event is not None else ())
    }
    countdown_s = next(
        (workouts[heat.workout].countdown_s for heat in heats if heat.id == heat_id), 0
    )
    return now_ms + max(countdown_s, LEAST_COUNTDOWN_S) * 1000


def stop_heat(heat: str, at_ms: int, reason: str) -> Request:
    """Stop the clock of a heat at `at_ms` [ms, UTC]; it is not paused, it waits for a ruling."""
    return propose(clock_bodies.HeatStopped(heat=heat, at_ms=at_ms, reason=reason))


def rule_on_stop(
    state: State,
    heat: Heat,
    ruling: StopRuling,
    reason: str,
    *,
    teams: tuple[str, ...] = (),
    counts: Literal["replaces", "better"] = "replaces",
    credit_s: int = 0,
) -> Request:
    """Rule on a stopped heat, with the re-runs or credits that follow from it.

    As at the end of a heat, a team that never came is reported as not started: it neither runs
    again nor has seconds credited, unless it is named.

    Parameters
    ----------
    teams
        Whom a re-run or a credit is for; empty: every team of the heat that is in and came.
    counts
        Whether a re-run replaces the result or the better counts, fixed before it starts.
    credit_s
        For ``credit``: the time that was lost [s].
    """
    not_started = [
        report for report in absent(state, heat) if ruling != "rerun" or report.team not in teams
    ]
    missing = {report.team for report in not_started}
    wanted = [
        team
        for team in heat.teams
        if team not in state.team_status and (team in teams if teams else team not in missing)
    ]
    follows: list[Asked] = []
    if ruling == "rerun":
        follows = [
            bodies.RerunGranted(workout=heat.workout, team=team, counts=counts, reason=reason)
            for team in wanted
        ]
    elif ruling == "credit":
        follows = [
            clock_bodies.CreditGiven(
                workout=heat.workout,
                part=part,
                team=team,
                attempt=attempts(state, heat.workout, team),
                seconds=credit_s,
                reason=reason,
            )
            for team in wanted
            for part in _timed_parts(state, heat.workout)
        ]
    if not follows and ruling != "as_at_stop":
        raise Refusal("stop.for_nobody", heat=heat.id)
    ruled = clock_bodies.StopRuled(heat=heat.id, ruling=ruling, reason=reason)
    return propose(ruled, *not_started, *follows)


def start_reruns(state: State, heat: Heat, at_ms: int) -> Request:
    """Start one clock, with its nought at `at_ms`, for every re-run of a heat that waits."""
    waiting = [
        clock_bodies.RerunStarted(
            workout=heat.workout, team=team, attempt=rerun.attempt, at_ms=at_ms
        )
        for team in heat.teams
        if team not in state.team_status
        for rerun in state.reruns.get(f"{heat.workout}/{team}", ())[-1:]
        if rerun.started_ms is None
    ]
    if not waiting:
        raise Refusal("rerun.none_waits", heat=heat.id)
    return propose(*waiting)


def give_credit(sheet: SheetRef, seconds: int, reason: str) -> Request:
    """Take seconds off a team's time for time that it lost through no fault of its own."""
    named = msgspec.structs.asdict(sheet)
    return propose(clock_bodies.CreditGiven(**named, seconds=seconds, reason=reason))


def _timed_parts(state: State, workout_id: str) -> tuple[str, ...]:
    workouts = state.event.workouts if state.event is not None else ()
    return tuple(
        part.id
        for workout in workouts
        if workout.id == workout_id
        for part in workout.parts
        if part.kind == "time"
    )
