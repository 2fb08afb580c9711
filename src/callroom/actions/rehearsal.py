"""The script of a rehearsal: who does what at which moment of the planned day."""

import random

import msgspec

from callroom.actions.cue import SEND_AFTER_MS, Cue, judge_cue
from callroom.actions.day import (
    call_heat,
    confirm_heat,
    finish_heat,
    mark_arrived,
    mark_no_show,
    post_standings,
    report_score,
    start_heat,
)
from callroom.actions.invent import invent_report
from callroom.actions.invent_money import money_cues
from callroom.actions.invent_safety import safety_cues
from callroom.actions.mishap_cues import settled_cues, trouble_cues
from callroom.actions.mishaps import LATE_MS, OUTAGE_MS, Mishaps, choose_mishaps
from callroom.actions.request import Request
from callroom.model import (
    Event,
    Heat,
    Result,
    ScoreReport,
    State,
    Workout,
    milliseconds,
)

# Invented for practice: how often a card comes too, and how long after the last score a heat is
# confirmed.
_PAPER_TOO = 0.05
_CONFIRM_AFTER_MS = 20_000


def script(state: State, seed: int, *, smooth: bool = False) -> tuple[Cue, ...]:
    """Return everything that happens on the planned day, in order of time.

    The same State and seed give the same script. A heat that was started already is left
    out: a rehearsal plays what is still to come. `smooth`: nothing goes wrong.
    """
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return ()
    wrong = Mishaps(plan=plan) if smooth else choose_mishaps(state, event, plan, seed)
    cues: list[Cue] = []
    for heat in wrong.plan.heats:
        if state.heat_run(heat.id).started_ms is None:
            cues += _heat_cues(state, event, heat, seed, wrong)
    over_ms = max((cue.at_ms for cue in cues), default=milliseconds(event.instant(plan.finish_s)))
    cues += _posting_cues(event, over_ms + 60_000)
    cues += trouble_cues(state, event, wrong, over_ms + 60_000)
    cues += _money_cues(state, seed)
    cues += safety_cues(state, event, wrong.plan, seed, smooth=smooth)
    return tuple(sorted(cues, key=lambda cue: (cue.at_ms, cue.role, cue.post)))


def _heat_cues(state: State, event: Event, heat: Heat, seed: int, wrong: Mishaps) -> list[Cue]:
    workout = event.workout(heat.workout)
    walk_on_ms = milliseconds(event.instant(heat.start_s))
    call_ms = max(walk_on_ms - workout.report_s * 1000, milliseconds(event.starts_at))
    late_ms = LATE_MS if heat.id in wrong.late else 0
    zero_ms = walk_on_ms + (workout.walk_on_s + workout.countdown_s) * 1000 + late_ms
    end_ms = zero_ms + workout.clock_s * 1000
    rng = random.Random(f"{seed}/{heat.id}")  # noqa: S311 - invented, no secret
    teams = [team for team in heat.teams if team not in state.team_status]
    cues = [_floor_cue(call_ms, call_heat(heat.id))]
    for team in teams:
        seen_ms = rng.randrange(call_ms, walk_on_ms + 1)
        if (heat.id, team) == wrong.no_show:
            cues.append(_floor_cue(zero_ms - 1, mark_no_show(heat.id, team)))
        else:
            cues.append(_floor_cue(seen_ms, mark_arrived(heat.id, team)))
    cues.append(_floor_cue(zero_ms, start_heat(heat.id, zero_ms)))
    for team in teams:
        for part in workout.parts:
            invented = invent_report(event, heat, state.teams[team], part, seed)
            number = state.amendment_number(workout.id)
            report = msgspec.structs.replace(invented, amendment=number)
            if (heat.id, team) == wrong.no_show:
                absent = Result(outcome="did_not_start")
                report = msgspec.structs.replace(report, result=absent, no_reps=())
            cues += _report_cues(workout, heat, report, zero_ms, rng)
    cues.append(_floor_cue(end_ms + 1, finish_heat(heat.id)))
    if heat.id == wrong.outage:
        cues = [_after_the_outage(cue, end_ms) for cue in cues]
    cues += settled_cues(heat, cues, wrong)
    last_ms = max(cue.at_ms for cue in cues)
    confirm_ms = max(last_ms, end_ms) + _CONFIRM_AFTER_MS
    cues.append(judge_cue(confirm_ms, confirm_heat(heat.id, {})))
    return cues


def _after_the_outage(cue: Cue, end_ms: int) -> Cue:
    """Return a pad's cue as it comes through once there is a network again."""
    if cue.role != "judge":
        return cue
    return msgspec.structs.replace(cue, at_ms=max(cue.at_ms, end_ms + OUTAGE_MS))


def _floor_cue(at_ms: int, request: Request) -> Cue:
    return Cue(at_ms=at_ms, role="crew", post="floor", request=request)


def _report_cues(
    workout: Workout, heat: Heat, report: ScoreReport, zero_ms: int, rng: random.Random
) -> list[Cue]:
    part = workout.part(report.part)
    took_ms = report.result.time_ms if report.result.time_ms is not None else part.cap_s * 1000
    done_ms = zero_ms + part.starts_s * 1000 + took_ms
    sent = Cue(
        at_ms=done_ms + SEND_AFTER_MS,
        role="judge",
        post=f"{heat.floor}/{report.lane}",
        request=report_score(report),
    )
    if rng.random() >= _PAPER_TOO:
        return [sent]
    paper = msgspec.structs.replace(report, source="paper")
    again = Cue(
        at_ms=sent.at_ms + 3 * SEND_AFTER_MS, role="desk", post="desk", request=report_score(paper)
    )
    return [sent, again]


def _posting_cues(event: Event, over_ms: int) -> list[Cue]:
    final_ms = over_ms + max(event.rules.appeal_window_s * 1000, 600_000)
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
