"""Thousands of days, simulated: each heat starts when it may, or when it can."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from callroom.planner.punctuality.course import Course
from callroom.planner.punctuality.spread import Spread

Times = NDArray[np.float32]
"""Seconds; single precision is exact to a hundredth of a second over a day."""


class Days(NamedTuple):
    """What was drawn for each day, and what came of it.

    Attributes
    ----------
    stay_s
        How long each heat held its floor [s], shape ``(heats, days)``.
    gap_s
        How long each arc took [s], shape ``(arcs, days)``.
    start_s
        When each heat started [s from the day's start], shape ``(heats, days)``.
    """

    stay_s: Times
    gap_s: Times
    start_s: Times

    @property
    def finish_s(self) -> Times:
        """When the last heat left its floor [s], shape ``(days,)``."""
        finish: Times = (self.start_s + self.stay_s).max(axis=0)
        return finish

    def on(self, course: Course) -> "Days":
        """Return the same days lived through with other published times."""
        return self._replace(start_s=run(course, self.stay_s, self.gap_s))


def simulate(
    course: Course, spread: Spread, rng: np.random.Generator, *, days: int = 10_000
) -> Days:
    """Draw days and run the course through each.

    Stays and gaps are independent of each other; what ties heats together is that they wait
    for each other.
    """
    stay_s = _drawn(spread.levels, spread.stay_s, rng, days)
    _add_incidents(stay_s, spread, rng)
    gap_s = _drawn(spread.levels, spread.gap_s, rng, days)
    return Days(stay_s, gap_s, run(course, stay_s, gap_s))


def run(course: Course, stay_s: Times, gap_s: Times) -> Times:
    """Return when each heat starts [s], shape ``(heats, days)``.

    A heat starts at the later of its published time and the moment everything it waits for
    is over. `stay_s` is ``(heats, days)`` and `gap_s` is ``(arcs, days)`` [s].
    """
    start_s = np.empty_like(stay_s)
    into: list[list[int]] = [[] for _ in course.heats]
    for arc, after in enumerate(course.after):
        into[int(after)].append(arc)
    for heat, arcs in enumerate(into):
        row = start_s[heat]
        row[:] = course.published_s[heat]
        for arc in arcs:
            before = int(course.before[arc])
            np.maximum(row, start_s[before] + stay_s[before] + gap_s[arc], out=row)
    return start_s


def _drawn(
    levels: NDArray[np.float64], values: NDArray[np.float64], rng: np.random.Generator, days: int
) -> Times:
    """Draw from each row's quantiles, shape ``(rows, days)``; what cannot vary is not drawn."""
    drawn = np.empty((len(values), days), dtype=np.float32)
    for row, quantiles in enumerate(values):
        if quantiles[0] == quantiles[-1]:
            drawn[row] = quantiles[0]
        else:
            drawn[row] = np.interp(rng.random(days, dtype=np.float32), levels, quantiles)
    return drawn


def _add_incidents(stay_s: Times, spread: Spread, rng: np.random.Generator) -> None:
    trouble = spread.incidents
    hit = np.flatnonzero(rng.random(stay_s.size, dtype=np.float32) * 1000 < trouble.per_thousand)
    stay_s.ravel()[hit] += rng.uniform(trouble.least_s, trouble.most_s, hit.size)
