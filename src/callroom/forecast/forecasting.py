"""Forecasts of a workout, and of a whole event, from simulated teams."""

from collections.abc import Mapping
from types import MappingProxyType

import msgspec
import numpy as np

from callroom.forecast.arrays import Flags, Floats
from callroom.forecast.athletes import Athletes, draw_athletes
from callroom.forecast.course import Course, course_of
from callroom.forecast.levels import guessed_levels
from callroom.forecast.lifts import lifted_g
from callroom.forecast.race import Condition, Race, race
from callroom.forecast.summary import (
    COUNT_WIDTHS,
    TIME_WIDTHS,
    histogram,
    log_moments,
    percent,
    quantiles,
)
from callroom.forecast.task_work import TaskWork
from callroom.model.division import Division
from callroom.model.event import Event
from callroom.model.forecast import (
    Forecast,
    PartForecast,
    StepForecast,
    WorkoutForecast,
)
from callroom.model.movement import Movement
from callroom.model.steps import steps
from callroom.model.workout import Part, Workout

TEAMS = 2000
HORIZON_CAPS = 3
"""Times to finish are followed to three times the cap: whoever needs longer never ends."""

NO_PACES: Mapping[str, int] = MappingProxyType({})


class Arrived(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """The teams before a part: who they are and how they come to it (None: fresh)."""

    athletes: Athletes
    condition: Condition | None


def forecast_workout(
    workout: Workout,
    division: Division,
    movements: Mapping[str, Movement],
    *,
    generator: np.random.Generator,
    lanes: int,
    level: float,
    teams: int = TEAMS,
    paces: Mapping[str, int] = NO_PACES,
) -> WorkoutForecast:
    """Return how `workout` goes for teams of `division`.

    Parameters
    ----------
    movements
        The movement library by id; a movement it lacks is given a usual pace.
    generator
        Draws the athletes. The same state gives the same forecast.
    lanes
        Teams in one heat.
    level
        How good the athletes are: 0 intermediate, 1 advanced.
    paces
        The pace of each part by id, in thousandths, from :func:`callroom.forecast.calibrate`;
        1000 where none is given.
    """
    athletes = draw_athletes(division, level=level, teams=teams, generator=generator)
    return forecast_for(workout, division, movements, athletes, lanes=lanes, paces=paces)


def forecast_event(
    event: Event,
    movements: Mapping[str, Movement],
    *,
    generator: np.random.Generator,
    teams: int = TEAMS,
    levels: Mapping[str, float] | None = None,
    paces: Mapping[tuple[str, str], Mapping[str, int]] = MappingProxyType({}),
) -> Forecast:
    """Return how every workout goes for every division, with the same athletes all day.

    Parameters
    ----------
    levels
        By division; those that are missing are guessed from the published loads.
    paces
        By workout and division, then part, in thousandths.
    """
    known = {**guessed_levels(event), **(levels or {})}
    forecasts = {}
    for division, own in zip(event.divisions, generator.spawn(len(event.divisions)), strict=True):
        athletes = draw_athletes(division, level=known[division.id], teams=teams, generator=own)
        for workout in event.workouts:
            forecasts[workout.id, division.id] = forecast_for(
                workout,
                division,
                movements,
                athletes,
                lanes=len(event.floor(workout.floor).open_lanes),
                paces=paces.get((workout.id, division.id), NO_PACES),
            )
    return Forecast(
        workouts=tuple(
            forecasts[workout.id, division.id]
            for workout in event.workouts
            for division in event.divisions
        )
    )


def forecast_for(
    workout: Workout,
    division: Division,
    movements: Mapping[str, Movement],
    athletes: Athletes,
    *,
    lanes: int,
    paces: Mapping[str, int] = NO_PACES,
) -> WorkoutForecast:
    """Return how `workout` goes for `athletes` of `division`; deterministic."""
    parts = []
    clock = np.zeros(athletes.teams)
    worked = np.zeros(athletes.strength.shape)
    condition: Condition | None = None
    for number, part in enumerate(workout.parts):
        pace = paces.get(part.id, 1000) / 1000
        if part.kind == "load":
            lifted = lifted_g(part, division, movements, athletes)
            parts.append(_load_part(part, lifted))
            clock = np.full(athletes.teams, float(part.starts_s + part.cap_s))
            continue
        course = course_of(part, division, movements, athletes, pace=pace)
        came = Arrived(athletes=athletes, condition=condition)
        ran = run_part(part, course, came, pace=pace, horizon_caps=HORIZON_CAPS)
        parts.append(_raced_part(part, division, course, ran, pace=pace))
        clock = part.starts_s + np.minimum(ran.finish_s * pace, float(part.cap_s))
        worked += ran.worked_s * pace
        if number + 1 < len(workout.parts):
            after = workout.parts[number + 1]
            end = run_part(part, course, came, pace=pace, horizon_caps=1)
            later = paces.get(after.id, 1000) / 1000
            free = part.starts_s - after.starts_s + np.minimum(end.free_s * pace, part.cap_s)
            condition = Condition(spent=end.spent, free_s=np.minimum(free, 0.0) / later)
    heats = _heats(clock, lanes)
    around = workout.floor_s - workout.clock_s
    return WorkoutForecast(
        workout=workout.id,
        division=division.id,
        teams=athletes.teams,
        parts=tuple(parts),
        clock_s=quantiles(heats),
        floor_s=quantiles(heats + around),
        planned_floor_s=workout.floor_s,
        worked_s=tuple(round(float(one)) for one in np.median(worked, axis=1)),
    )


def run_part(part: Part, course: Course, came: Arrived, *, pace: float, horizon_caps: int) -> Race:
    """Return the race over `part`, on a clock that is slowed down by `pace`.

    Only a part for time is followed beyond its cap.
    """
    cap_s = part.cap_s / pace
    caps = horizon_caps if part.kind == "time" else 1
    return race(course, cap_s=cap_s, horizon_s=caps * cap_s, condition=came.condition)


def _heats(clock: Floats, lanes: int) -> Floats:
    """Return when the last team of each heat of `lanes` teams is through [s], ``(heats,)``."""
    lanes = min(max(lanes, 1), clock.size)
    heats = clock.size // lanes
    last: Floats = clock[: heats * lanes].reshape(heats, lanes).max(axis=1)
    return last


def _raced_part(
    part: Part, division: Division, course: Course, ran: Race, *, pace: float
) -> PartForecast:
    timed = part.kind == "time"
    finish = np.where(timed, ran.finish_s * pace, np.inf)
    done = (ran.metres if part.kind == "distance" else ran.counts).astype(np.float64)
    lost, unable = ran.lost_s * pace, _unable(course)
    mean_log, sd_log = log_moments(finish if timed else done)
    return PartForecast(
        part=part.id,
        kind=part.kind,
        cap_s=part.cap_s,
        pace_permille=round(1000 * pace),
        finish_s=quantiles(finish),
        under_cap_percent=percent(finish <= part.cap_s),
        counts=quantiles(done),
        steps=_steps(part, division, ran, lost, unable, pace=pace),
        stall=_stall(part, lost, unable),
        mean_log=mean_log,
        sd_log=sd_log,
        picture=histogram(finish, TIME_WIDTHS) if timed else histogram(done, COUNT_WIDTHS),
    )


def _stall(part: Part, lost: Floats, unable: Flags) -> int | None:
    """Return the step in which teams lose most; not being able to do it loses the whole cap."""
    losses = lost.mean(axis=1) + unable.mean(axis=1) * part.cap_s
    return int(np.argmax(losses)) if losses.size else None


def _load_part(part: Part, lifted: Floats) -> PartForecast:
    never = np.full(lifted.size, np.inf)
    mean_log, sd_log = log_moments(lifted)
    return PartForecast(
        part=part.id,
        kind=part.kind,
        cap_s=part.cap_s,
        pace_permille=1000,
        finish_s=quantiles(never),
        under_cap_percent=0,
        counts=quantiles(lifted),
        steps=(),
        stall=None,
        mean_log=mean_log,
        sd_log=sd_log,
        picture=histogram(lifted, COUNT_WIDTHS),
    )


def _steps(
    part: Part, division: Division, ran: Race, lost: Floats, unable: Flags, *, pace: float
) -> tuple[StepForecast, ...]:
    return tuple(
        StepForecast(
            block=step.block,
            round_number=step.round_number,
            task=step.task,
            movement=step.movement,
            strand=step.strand,
            split_s=quantiles(ran.split_s[index] * pace),
            lost_s=round(float(np.median(lost[index]))),
            stopped_percent=percent(ran.at_cap == index),
            unable_percent=percent(unable[index]),
        )
        for index, step in enumerate(steps(part, division))
    )


def _unable(course: Course) -> Flags:
    """Return which teams cannot get through each step, shape ``(steps, teams)``."""
    unable = np.zeros((course.step_count, course.athletes.teams), dtype=np.bool_)
    for round_work in course.rounds:
        for strand in round_work.strands:
            for step in strand:
                unable[step.index] = _cannot(step.task)
    return unable


def _cannot(task: TaskWork) -> Flags:
    """Return which teams cannot do `task`, shape ``(teams,)``."""
    able = task.demand.able & task.willing
    if task.group == "in_step":
        lacking = able.sum(axis=0) < task.workers
    elif task.group == "one" and (task.each or task.least_each or task.order != "in_turn"):
        lacking = np.any(task.willing & ~task.demand.able, axis=0)
    else:
        lacking = np.logical_not(np.any(able, axis=0))
    return np.asarray(lacking, dtype=np.bool_)
