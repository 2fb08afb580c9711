"""Placing slack: how much later to publish each heat, so that the day is kept most often.

A sample-average linear programme [1]. Over some drawn days, choose shifts of the published
times, within a budget, so that the mean lateness of all heats and of the end of the day is
least. Each drawn day is the recursion of ``days.run`` written as inequalities; as lateness
costs, the solver takes the earliest starts by itself.

.. [1] A. Shapiro, D. Dentcheva, A. Ruszczyński, *Lectures on Stochastic Programming*, SIAM,
   2009, chapter 5: the expectation is replaced by the mean over a sample.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from callroom.planner.punctuality.course import Course, Seconds, clean_s, planned_gap_s
from callroom.planner.punctuality.days import Days

END_WEIGHT = 1.0
"""Lateness of the end counts as much as that of all heats together: the awards wait for it."""


def place_slack(
    course: Course,
    sample: Days,
    *,
    budget_s: int,
    grid_s: int = 60,
    end_weight: float = END_WEIGHT,
) -> Seconds:
    """Return new times to publish [s], shape ``(heats,)``, on multiples of the grid.

    Parameters
    ----------
    course
        The plan without slack; its times lie on the grid.
    sample
        Some drawn days, 100 to 300; never those the result is judged by.
    budget_s
        How much later than planned the day may end [s]: no heat is moved by more. The end is
        late when the last heat leaves its floor after the planned finish and this budget.
    end_weight
        What a late end weighs against late heats, all together 1.

    Notes
    -----
    Heats of a group move together, none is moved into a pause, and what a plan must keep
    between heats it still keeps.
    """
    # A large library, and nothing else in planning needs it.
    from scipy.optimize import linprog  # type: ignore[import-untyped]  # noqa: PLC0415

    rows = _rows(course, sample, budget_s, grid_s)
    heats, days = sample.start_s.shape
    groups = int(course.groups.max(initial=-1)) + 1
    weight = 1.0 / heats / days
    cost = np.concatenate(
        [
            -np.bincount(course.groups, minlength=groups) / heats,
            np.full(heats * days, weight),
            np.full(days, end_weight / days),
        ]
    )
    most_s = np.minimum(budget_s, course.latest_s - course.published_s)
    shift_bounds = [(0, max(0, int(most_s[course.groups == g].min()))) for g in range(groups)]
    bounds = [*shift_bounds, *([(0, None)] * (heats * days + days))]
    answer = linprog(cost, A_ub=rows.matrix, b_ub=rows.limit, bounds=bounds, method="highs")
    shift_s = np.floor(answer.x[:groups] + 1e-6).astype(np.int64)
    return course.published_s + clean_s(shift_s, grid_s)[course.groups]


class _Rows(NamedTuple):
    """Inequalities ``matrix @ variables <= limit``."""

    matrix: object
    limit: NDArray[np.float64]


def _rows(course: Course, sample: Days, budget_s: int, grid_s: int) -> _Rows:
    """Write the drawn days as inequalities.

    Variables in order: the shift of each group, the start of each heat on each day (heat by
    heat), how late each day ends.
    """
    from scipy.sparse import coo_array  # type: ignore[import-untyped]  # noqa: PLC0415

    heats, days = sample.start_s.shape
    groups = int(course.groups.max(initial=-1)) + 1
    start = groups + np.arange(heats * days).reshape(heats, days)
    late = groups + heats * days + np.arange(days)
    book = _Book()
    # No start before the published time.
    shift = np.repeat(course.groups, days)
    book.add(start.ravel(), shift, -np.repeat(course.published_s, days))
    # No start before what the heat waits for is over.
    over = sample.stay_s[course.before] + sample.gap_s
    book.add(start[course.after].ravel(), start[course.before].ravel(), -over.ravel())
    # The end of the day.
    deadline_s = course.finish_s + budget_s
    for heat in course.last:
        book.add(late, start[heat], deadline_s - sample.stay_s[heat])
    # The plan itself keeps its distances.
    apart = course.published_s[course.after] - course.published_s[course.before]
    free = apart - planned_gap_s(course, grid_s)
    book.add(course.groups[course.after], course.groups[course.before], np.maximum(free, 0))
    return _Rows(coo_array(book.entries(), shape=(book.rows, late[-1] + 1)).tocsr(), book.limits())


class _Book:
    """Collects inequalities of the form ``more >= less - limit``."""

    def __init__(self) -> None:
        self.rows = 0
        self._more: list[Seconds] = []
        self._less: list[Seconds] = []
        self._limits: list[NDArray[np.float64]] = []

    def add(self, more: Seconds, less: Seconds, limit: NDArray[np.generic]) -> None:
        """Add a row for each element: ``less - more <= limit``."""
        self.rows += len(more)
        self._more.append(more)
        self._less.append(less)
        self._limits.append(limit.astype(np.float64))

    def entries(self) -> tuple[NDArray[np.float64], tuple[Seconds, Seconds]]:
        """Return values, rows and columns of the matrix."""
        row = np.arange(self.rows)
        values = np.concatenate([np.full(self.rows, -1.0), np.ones(self.rows)])
        columns = np.concatenate([*self._more, *self._less])
        return values, (np.concatenate([row, row]), columns)

    def limits(self) -> NDArray[np.float64]:
        """Return the right-hand sides."""
        return np.concatenate(self._limits)
