"""The script of a rehearsal: who does what at which moment of the planned day."""

import random

import msgspec

from callroom.actions.day import (
    call_heat,
    confirm_heat,
    finish_heat,
    mark_arrived,
    post_standings,
    report_score,
    start_heat,
)
from callroom.actions.invent import invent_report
from callroom.actions.invent_money import money_cues
from callroom.actions.request import Request
from callroom.model import Event, Heat, Plan, Role, ScoreReport, State, Workout, milliseconds

# Invented for practice: how long after a finish a judge sends, and how often a card comes too.
_SEND_AFTER_MS = 4_000
_PAPER_TOO = 0.05
_CONFIRM_AFTER_MS = 20_000


class Cue(msgspec.Struct, frozen=True, kw_only=True):
    """One moment of the script.

    `at_ms` is when [ms, UTC]; `post` names the device that does it: ``floor``,
    ``head_judge``, ``desk``, ``treasurer`` or ``<floor>/<lane>`` for a lane's judge.
    """

    at_ms: int
    role: Role
    post: str
    request: Request


def script(state: State, seed: int) -> tuple[Cue, ...]:
    """Return everything that happens on the planned day, in order of time.

    The same State and seed give the same script. A heat that was started already is left
    out: a rehearsal plays what is still to come.
    """
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return ()
    cues: list[Cue] = []
    for heat in plan.heats:
        if state.heat_run(heat.id).started_ms is None:
            cues += _heat_cues(state, event, heat, seed)
    cues += _posting_cues(event, plan)
    cues += _money_cues(state, seed)
    return tuple(sorted(cues, key=lambda cue: (cue.at_ms, cue.role, cue.post)))


def _heat_cues(state: State, event: Event, heat: Heat, seed: int) -> list[Cue]:
    workout = event.workout(heat.workout)
    walk_on_ms = milliseconds(event.instant(heat.start_s))
    call_ms = max(walk_on_ms - workout.report_s * 1000, milliseconds(event.starts_at))
    zero_ms = walk_on_ms + (workout.walk_on_s + workout.countdown_s) * 1000
    end_ms = zero_ms + workout.clock_s * 1000
    rng = random.Random(f"{seed}/{heat.id}")  # noqa: S311 - invented, no secret
    teams = [team for team in heat.teams if team not in state.team_status]
    cues = [_floor_cue(call_ms, call_heat(heat.id))]
    cues += [
        _floor_cue(rng.randrange(call_ms, walk_on_ms + 1), mark_arrived(heat.id, team))
        for team in teams
    ]
    cues.append(_floor_cue(zero_ms, start_heat(heat.id, zero_ms)))
    for team in teams:
        for part in workout.parts:
            invented = invent_report(event, heat, state.teams[team], part, seed)
            number = state.amendment_number(workout.id)
            report = msgspec.structs.replace(invented, amendment=number)
            cues += _report_cues(workout, heat, report, zero_ms, rng)
    cues.append(_floor_cue(end_ms + 1, finish_heat(heat.id)))
    last_ms = max(cue.at_ms for cue in cues)
    confirm_ms = max(last_ms, end_ms) + _CONFIRM_AFTER_MS
    cues.append(
        Cue(
            at_ms=confirm_ms,
            role="head_judge",
            post="head_judge",
            request=confirm_heat(heat.id, {}),
        )
    )
    return cues


def _floor_cue(at_ms: int, request: Request) -> Cue:
    return Cue(at_ms=at_ms, role="crew", post="floor", request=request)


def _report_cues(
    workout: Workout, heat: Heat, report: ScoreReport, zero_ms: int, rng: random.Random
) -> list[Cue]:
    part = workout.part(report.part)
    took_ms = report.result.time_ms if report.result.time_ms is not None else part.cap_s * 1000
    done_ms = zero_ms + part.starts_s * 1000 + took_ms
    sent = Cue(
        at_ms=done_ms + _SEND_AFTER_MS,
        role="judge",
        post=f"{heat.floor}/{report.lane}",
        request=report_score(report),
    )
    if rng.random() >= _PAPER_TOO:
        return [sent]
    paper = msgspec.structs.replace(report, source="paper")
    again = Cue(
        at_ms=sent.at_ms + 3 * _SEND_AFTER_MS, role="desk", post="desk", request=report_score(paper)
    )
    return [sent, again]


def _posting_cues(event: Event, plan: Plan) -> list[Cue]:
    over_ms = milliseconds(event.instant(plan.finish_s)) + 60_000
    final_ms = over_ms + event.rules.appeal_window_s * 1000
    return [
        Cue(
            at_ms=at_ms,
            role="head_judge",
            post="head_judge",
            request=post_standings(division.id, final=final),
        )
        for at_ms, final in ((over_ms, False), (final_ms, True))
        for division in event.divisions
    ]


def _money_cues(state: State, seed: int) -> list[Cue]:
    """Return what the director does as treasurer."""
    return [
        Cue(at_ms=one.at_ms, role="director", post="treasurer", request=one.request)
        for one in money_cues(state, seed)
    ]
