"""How likely the plan of a book is to be kept, for pages and commands."""

import functools
import threading

import msgspec
import numpy as np
from msgspec.structs import replace

from callroom.actions.day_now import day_now
from callroom.bootstrap.forecasting import forecast_day
from callroom.model import Event, Finding, Heat, Plan, Refusal, State, Team
from callroom.model.forecast import Quantiles
from callroom.planner.punctuality import (
    Punctuality,
    best_gaps,
    capped_spread,
    course_of,
    forecast_spread,
    gap_said,
    promise,
    promise_said,
    punctuality,
    simulate,
    slack_left,
    slack_said,
)

DAYS = 10_000
SEED = 1
SLACK_S = 300
"""The next piece of slack: five minutes."""
WANTED = 90
FORECAST_TEAMS = 500
MOST_GAPS = 3
# One at a time: it takes a second or two, and several pages may ask for the same day.
_RUNNING = threading.Lock()


class SlackPlace(msgspec.Struct, frozen=True, kw_only=True):
    """A place for the next five minutes of slack: before a heat, what it saves, what it costs [s]."""

    heat: str
    saved_s: int
    end_later_s: int


class PunctualDay(msgspec.Struct, frozen=True, kw_only=True):
    """How likely a plan is to be kept.

    Attributes
    ----------
    report
        The chance that each heat is late, and the end.
    by_forecast
        Lengths come from the forecast; otherwise from the time caps alone.
    places
        The best places for five more minutes of slack, best first.
    wanted_percent, promised
        In how many days of 100 the end shall be kept, and the plan that does; None if no
        slack up to two hours does, or none is needed.
    said
        What there is to say, in findings.
    """

    report: Punctuality
    by_forecast: bool
    places: tuple[SlackPlace, ...]
    wanted_percent: int
    promised: Plan | None
    said: tuple[Finding, ...]


class _Asked(msgspec.Struct, frozen=True):
    event: Event
    teams: tuple[Team, ...]
    plan: Plan
    end_s: int
    wanted_percent: int


def punctual_day(
    state: State,
    plan: Plan | None = None,
    *,
    end_s: int | None = None,
    wanted_percent: int = WANTED,
) -> PunctualDay:
    """Return how likely the plan in force, or another, is to be kept.

    It takes a second or two, so a face runs it in a thread; the last few answers are kept.

    Parameters
    ----------
    end_s
        When the day shall be over [s from its start]; None: before the first pause of all
        floors after the last heat (the awards), or as planned where there is none.
    wanted_percent
        On how many days of 100 that shall be kept.

    Raises
    ------
    Refusal
        Without an event, or a plan.
    """
    plan = plan or state.plan
    if state.event is None:
        raise Refusal("book.no_event")
    if plan is None:
        raise Refusal("plan.none")
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    due_s = awards_s(plan) if end_s is None else end_s
    asked = _Asked(state.event, teams, plan, due_s, min(max(wanted_percent, 50), 99))
    with _RUNNING:
        return _made(msgspec.msgpack.encode(asked))


def awards_s(plan: Plan) -> int:
    """Return when the day should be over: when the awards begin, or as planned [s]."""
    after = [
        pause.start_s
        for pause in plan.pauses
        if not pause.floors and pause.start_s >= plan.finish_s
    ]
    return min(after, default=plan.finish_s)


@functools.lru_cache(maxsize=8)
def _made(encoded: bytes) -> PunctualDay:
    asked = msgspec.msgpack.decode(encoded, type=_Asked)
    event, plan = asked.event, asked.plan
    course = course_of(event, asked.teams, plan)
    held_s = _held_s(event)
    spread = (
        forecast_spread(event, asked.teams, plan, course, held_s=held_s)
        if held_s
        else capped_spread(event, plan, course)
    )
    grid_s = event.wishes.slot_s
    days = simulate(course, spread, np.random.default_rng(SEED), days=DAYS)
    report = punctuality(course, days, end_s=asked.end_s, incidents=spread.incidents)
    gaps = best_gaps(course, days, slack_s=SLACK_S, grid_s=grid_s)[:MOST_GAPS]
    wanted_permille = asked.wanted_percent * 10
    promised, said = None, [*report.findings]
    if gaps:
        said.append(gap_said(gaps[0], SLACK_S))
    if report.end_kept_permille < wanted_permille:
        made = promise(
            course,
            spread,
            np.random.default_rng(SEED + 1),
            wanted_permille=wanted_permille,
            grid_s=grid_s,
        )
        said.append(promise_said(made, wanted_permille))
        if made is not None:
            starts = dict(zip(course.heats, made.published_s.tolist(), strict=True))
            promised = _moved(plan, starts)
    return PunctualDay(
        report=report,
        by_forecast=bool(held_s),
        places=tuple(
            SlackPlace(heat=gap.heat, saved_s=round(gap.saved_s), end_later_s=gap.end_later_s)
            for gap in gaps
        ),
        wanted_percent=asked.wanted_percent,
        promised=promised,
        said=tuple(said),
    )


def _held_s(event: Event) -> dict[tuple[str, str], Quantiles]:
    """Return how long heats are forecast to hold the floor, by workout and division."""
    told = forecast_day(event, teams=FORECAST_TEAMS)
    return {
        (workout.title.id, floor.division): floor.floor_s
        for workout in told.workouts
        for floor in workout.floors
        if floor.floor_s.p10 is not None
    }


def _moved(plan: Plan, starts: dict[str, int]) -> Plan:
    heats = tuple(_at(heat, starts[heat.id]) for heat in plan.heats)
    return replace(
        plan,
        heats=tuple(sorted(heats, key=lambda heat: (heat.start_s, heat.floor, heat.id))),
        finish_s=max((heat.end_s for heat in heats), default=0),
        bound_s=None,
    )


def _at(heat: Heat, start_s: int) -> Heat:
    return replace(heat, start_s=start_s, end_s=start_s + heat.end_s - heat.start_s)


def slack_now(state: State, now_ms: int) -> tuple[Finding, ...]:
    """Return how late each floor is at `now_ms` [ms, UTC], and what it may still lose."""
    if state.event is None or state.plan is None:
        return ()
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    now = day_now(state, now_ms)
    left = slack_left(
        course_of(state.event, teams, state.plan),
        now_s=now.now_s,
        begun_s=now.begun_s,
        over_s=now.over_s,
        deadline_s=awards_s(state.plan),
    )
    return tuple(slack_said(left))
