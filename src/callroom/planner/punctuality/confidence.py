"""Times that can be promised: "nine days in ten the awards start on time"."""

from typing import NamedTuple

import numpy as np

from callroom.planner.punctuality.course import Course, Seconds
from callroom.planner.punctuality.days import simulate
from callroom.planner.punctuality.slack import place_slack
from callroom.planner.punctuality.spread import Spread

SAMPLE_DAYS = 150
_STEP_S = 300
_MOST_S = 2 * 3600


class Promise(NamedTuple):
    """Times to publish so that the end is kept with the confidence asked for.

    Attributes
    ----------
    published_s
        Start of each heat [s], shape ``(heats,)``.
    budget_s, end_s
        Slack in all, and the end that can be promised [s].
    kept_permille
        Of a thousand fresh days, how many end by then.
    """

    published_s: Seconds
    budget_s: int
    end_s: int
    kept_permille: int


def promise(
    course: Course,
    spread: Spread,
    rng: np.random.Generator,
    *,
    wanted_permille: int = 900,
    grid_s: int = 60,
    days: int = 10_000,
) -> Promise | None:
    """Return the least slack, in steps of five minutes, with which the end is kept.

    The slack is placed by one sample of days and judged by others. None if even two hours
    do not do: then rare incidents or the plan itself are to blame, not a want of slack.
    """
    sample = simulate(course, spread, rng, days=SAMPLE_DAYS)
    fresh = simulate(course, spread, rng, days=days)
    # Without any slack placed the day ends earliest, so no smaller budget can do.
    needed_s = float(np.quantile(fresh.finish_s, wanted_permille / 1000)) - course.finish_s
    first = max(0, -(-int(needed_s) // _STEP_S))
    for budget_s in range(first * _STEP_S, _MOST_S + 1, _STEP_S):
        published_s = place_slack(course, sample, budget_s=budget_s, grid_s=grid_s)
        end_s = course.finish_s + budget_s
        kept = fresh.on(course.at(published_s)).finish_s <= end_s
        kept_permille = int(kept.mean() * 1000)
        if kept_permille >= wanted_permille:
            return Promise(published_s, budget_s, end_s, kept_permille)
    return None
