"""Punctuality: ten thousand days of 84 heats, and slack placed against slack spread evenly.

``punctuality_10k_days_s`` is drawing the days and running the course through them, arrays
included, the best of three. ``slack_vs_uniform_over_deadline`` is the share of 10,000 fresh days
that end after the deadline with slack placed by the programme, over that with the same 40 minutes
spread evenly over the day: the largest ratio
of three days, with the caps' own spread and with a wider one. ``slack_place_s`` is the slowest
placing, and ``slack_vs_uniform_late`` the largest ratio of the mean lateness of heats, so that the
end is not bought with late heats.
"""

import time

import numpy as np

from callroom.planner import Limits, PlanRequest, plan_day
from callroom.planner.punctuality import (
    Course,
    Days,
    Spread,
    capped_spread,
    course_of,
    place_slack,
    simulate,
)
from callroom.planner.solve import solve
from planner_days import MINUTE, day_of_48

BUDGET_S = 40 * MINUTE
CASES = ((1, False), (2, False), (2, True))  # floors, mixed heats


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, slack on one day only."""
    over, late, placing = [], [], []
    for seed, (floors, mixed) in enumerate(CASES[: 1 if quick else None]):
        event, teams = day_of_48(floors=floors, mixed=mixed)
        plan = plan_day(PlanRequest(event=event, teams=teams, limits=Limits(work=10)), solve).plan
        assert plan is not None
        course = course_of(event, teams, plan)
        capped = capped_spread(event, plan, course)
        for spread in (capped, noisy(course, capped)):
            sample = simulate(course, spread, np.random.default_rng(100 + seed), days=150)
            fresh = simulate(course, spread, np.random.default_rng(200 + seed))
            started = time.perf_counter()
            placed_s = place_slack(course, sample, budget_s=BUDGET_S)
            placing.append(time.perf_counter() - started)
            ours = outcome(course.at(placed_s), fresh, course.finish_s + BUDGET_S)
            even = outcome(spread_evenly(course), fresh, course.finish_s + BUDGET_S)
            over.append(ours[0] / even[0])
            late.append(ours[1] / even[1])
    return {
        "punctuality_10k_days_s": ten_thousand_days_s(),
        "slack_place_s": max(placing),
        "slack_vs_uniform_over_deadline": max(over),
        "slack_vs_uniform_late": max(late),
    }


def noisy(course: Course, spread: Spread) -> Spread:
    """Return a day on which a heat may hold its floor for a tenth less or a quarter more."""
    shares = 1 + np.array([-0.1, -0.05, 0.0, 0.1, 0.25])
    return spread._replace(stay_s=course.length_s[:, None] * shares)


def outcome(course: Course, days: Days, deadline_s: int) -> tuple[float, float]:
    """Return the share of days past the deadline, and the mean lateness of a heat [s]."""
    lived = days.on(course)
    late_s = lived.start_s - course.published_s[:, None]
    return float((lived.finish_s > deadline_s).mean()), float(late_s.mean())


def spread_evenly(course: Course) -> Course:
    """Return the course with the budget spread evenly over the starts of the day."""
    first_s, last_s = course.published_s.min(), course.published_s.max()
    share = (course.published_s - first_s) / max(1, last_s - first_s)
    moved = course.published_s + (share * BUDGET_S).astype(np.int64) // MINUTE * MINUTE
    return course.at(np.minimum(moved, np.maximum(course.latest_s, course.published_s)))


def ten_thousand_days_s() -> float:
    """Return the time for 10,000 days of 84 heats on two floors [s]."""
    heats = 84
    floors = np.arange(heats) % 2
    before = np.arange(heats - 2)
    course = Course(
        heats=tuple(f"h{n}" for n in range(heats)),
        floors=tuple(f"f{n}" for n in floors),
        published_s=np.arange(heats) // 2 * 900,
        length_s=np.full(heats, 720, dtype=np.int64),
        latest_s=np.full(heats, 10**9),
        groups=np.arange(heats),
        before=np.concatenate([before, before[:60]]),
        after=np.concatenate([before + 2, before[:60] + 20]),
        gap_s=np.concatenate([np.full(heats - 2, 180), np.full(60, 2400)]),
        on_floor=np.concatenate([np.full(heats - 2, True), np.full(60, False)]),
    )
    levels = np.array([0.0, 0.1, 0.5, 0.9, 1.0])
    shape = np.array([0.85, 0.93, 1.0, 1.1, 1.3])
    gap_s = course.gap_s.astype(np.float64)[:, None] * np.where(
        course.on_floor[:, None], shape, 1.0
    )
    spread = Spread(levels, (course.length_s[:, None] * shape).astype(np.float64), gap_s)
    best = float("inf")
    for seed in range(3):
        started = time.perf_counter()
        simulate(course, spread, np.random.default_rng(seed))
        best = min(best, time.perf_counter() - started)
    return best
