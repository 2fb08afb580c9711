"""Many teams at work at once: turn after turn, for all teams that are in the same step."""

import msgspec
import numpy as np

from callroom.forecast.arrays import Floats, Ints
from callroom.forecast.course import Course, RoundWork, StepWork
from callroom.forecast.group import GroupRun
from callroom.forecast.sharing import SharingRun
from callroom.forecast.single import RotationRun
from callroom.forecast.standing import Standing


class Race(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """What became of the simulated teams.

    Attributes
    ----------
    finish_s
        When each team finished [s]; infinite if not within the horizon. Shape ``(teams,)``.
    split_s
        When each step of the running list ended, the first time round [s]; not a number
        where it did not. Shape ``(steps, teams)``.
    lost_s
        Seconds of each step that were no work at a fresh pace: rests, handovers, slowing.
        Shape ``(steps, teams)``.
    counts, metres
        The work done at the cap [counts], and the complete stretches of ground covered [m].
        Shape ``(teams,)``.
    at_cap
        The step each team was in at the cap; -1 if it had finished. Shape ``(teams,)``.
    worked_s
        Time under work by each athlete up to the cap [s]. Shape ``(athletes, teams)``.
    spent, free_s
        What each athlete has spent of the reserve (0 is fresh), and since when they rest [s].
        Shape ``(athletes, teams)``.
    """

    finish_s: Floats
    split_s: Floats
    lost_s: Floats
    counts: Ints
    metres: Ints
    at_cap: Ints
    worked_s: Floats
    spent: Floats
    free_s: Floats


class Condition(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """How athletes come to a part: what is spent of the reserve, and since when they rest [s].

    Both of shape ``(athletes, teams)``; the time is on the part's clock, so negative.
    """

    spent: Floats
    free_s: Floats


def race(
    course: Course, *, cap_s: float, horizon_s: float, condition: Condition | None = None
) -> Race:
    """Return what becomes of the course's teams up to `horizon_s` (at least `cap_s`) [s].

    Deterministic: all that is drawn at random is in the athletes.
    """
    athletes = course.athletes
    standing = Standing(
        athletes.span_s,
        teams=athletes.teams,
        steps=course.step_count,
        cap_s=cap_s,
        horizon_s=horizon_s,
    )
    if condition is not None:
        standing.spent = condition.spent.copy()
        standing.free_s = condition.free_s.copy()
    _run(course, standing)
    endless = any(one.open_ended for one in course.rounds)
    finish = np.where((standing.clock < horizon_s) & (not endless), standing.clock, np.inf)
    return Race(
        finish_s=finish,
        split_s=standing.split_s,
        lost_s=standing.lost_s,
        counts=standing.counts.astype(np.int64),
        metres=standing.metres.astype(np.int64),
        at_cap=np.where(finish <= cap_s, -1, standing.at_cap),
        worked_s=standing.worked_s,
        spent=standing.spent,
        free_s=standing.free_s,
    )


def _run(course: Course, standing: Standing) -> None:
    """Go through the rounds; through an open-ended one until nobody has time left."""
    block_start = standing.clock
    for round_work in course.rounds:
        lap = round_work.lap
        if lap == 0:
            block_start = standing.clock.copy()
        while True:
            on_the_clock = block_start + lap * round_work.every_s
            begun = np.maximum(standing.clock, on_the_clock)
            standing.clock = begun
            _round(round_work, standing, lap)
            lap += 1
            # A round without any work would be gone through for ever.
            idle = not (standing.clock > begun).any()
            over = not (standing.clock < standing.horizon_s).any()
            if idle or over or not round_work.open_ended:
                break


def _round(round_work: RoundWork, standing: Standing, lap: int) -> None:
    begun = standing.clock
    ends = begun
    for strand in round_work.strands:
        standing.clock = begun.copy()
        for step in strand:
            _kind(step)(standing, step, lap).run()
        ends = np.maximum(ends, standing.clock)
    standing.clock = ends


def _kind(step: StepWork) -> type[RotationRun | SharingRun | GroupRun]:
    """Return how the teams share `step`."""
    task = step.task
    if task.group != "one":
        return GroupRun
    return SharingRun if task.slots > 1 or task.least_each else RotationRun
