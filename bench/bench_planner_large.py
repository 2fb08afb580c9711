"""The planner on large days, with two workers.

``plan_120_gap_median`` and ``plan_120_gap_max``: twenty random days of 120 teams on two floors;
how far the finish found in 25 seconds is from what no plan beats, heats taking turns or not.
``plan_120_scarce_gap``: the largest such gap of three days on which judges are scarce, kit is
shared, finals are last and divisions come in waves, after 60 seconds.

``plan_400_gap`` and ``plan_400_reseed_gap``: two days of 400 teams on three floors, each day in
whole blocks at a constant rhythm; the larger gap to what no such plan beats.
``plan_1000_gap``: the same for three days of 1,000 teams on four floors, parted in halves;
``plan_1000_s`` is the time all of them take together.
"""

import statistics
import time

from bench_planner import true_gap
from callroom.planner import Limits, check_timetable, compose, pose
from callroom.planner.event_days import days_of
from callroom.planner.solve import least_finish
from planner_days import Day, day_of_400, days_of_1000, random_day, scarce_day


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, three days of 120 teams and one scarce, 15 seconds each."""
    seconds = 15 if quick else 25
    plain = [
        true_gap(random_day(120, seed, floors=2), seconds=seconds, workers=2)
        for seed in range(3 if quick else 20)
    ]
    scarce = [
        true_gap(scarce_day(seed), seconds=15 if quick else 60, workers=2)
        for seed in range(1 if quick else 3)
    ]
    started = time.perf_counter()
    thousand = [gap for half in days_of_1000() for gap in _gaps(half, seconds=5)]
    thousand_s = time.perf_counter() - started
    return {
        "plan_120_gap_median": statistics.median(plain),
        "plan_120_gap_max": max(plain),
        "plan_120_scarce_gap": max(scarce),
        "plan_400_gap": max(_gaps(day_of_400(), seconds=30)),
        "plan_400_reseed_gap": max(_gaps(day_of_400(order="reseeded"), seconds=30)),
        "plan_1000_gap": max(thousand),
        "plan_1000_s": thousand_s,
    }


def _gaps(day: Day, *, seconds: int) -> list[float]:
    """Return the gap of each day of an event, counted from when its floors open."""
    event, teams = day
    heats = compose(event, teams)
    gaps = []
    for one in days_of(event):
        names = {workout.id for workout in one.workouts}
        problem = pose(one, [heat for heat in heats if heat.workout in names])
        limits = Limits(work=10 * seconds, wall_s=seconds, workers=2)
        answer = least_finish(problem, limits)
        assert answer.finish_s is not None
        assert check_timetable(problem, answer) == ()
        opens_s = one.wishes.first_heat_s
        bound_s = max(answer.certificate_s, answer.aims[-1].bound_s)
        gaps.append((answer.finish_s - opens_s) / (bound_s - opens_s) - 1)
    return gaps
