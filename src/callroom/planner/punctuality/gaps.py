"""The best place for the next few minutes of slack, tried everywhere on the same days."""

from typing import NamedTuple

import numpy as np

from callroom.planner.punctuality.course import Course, Seconds, planned_gap_s
from callroom.planner.punctuality.days import Days


class Gap(NamedTuple):
    """Slack put before a heat: how much less late the mean heat is, and how much later it ends.

    `saved_s` is the fall of the mean lateness of all heats [s]; `end_later_s` what the planned
    finish moves [s].
    """

    heat: str
    saved_s: float
    end_later_s: int


def best_gaps(
    course: Course, days: Days, *, slack_s: int = 300, grid_s: int = 60
) -> tuple[Gap, ...]:
    """Return every place for `slack_s` more slack, the one that saves most first.

    The slack goes before a heat and its group; what comes after moves only as far as it must.
    Places where a heat would be moved into a pause are left out.
    """
    base_s = _mean_late_s(course, days)
    least = planned_gap_s(course, grid_s)
    found: list[Gap] = []
    for group in range(int(course.groups.max(initial=-1)) + 1):
        moved = _pushed(course, group, slack_s, least)
        if (moved > course.latest_s).any():
            continue
        there = course.at(moved)
        heat = course.heats[int(np.flatnonzero(course.groups == group)[0])]
        saved_s = base_s - _mean_late_s(there, days.on(there))
        found.append(Gap(heat, saved_s, there.finish_s - course.finish_s))
    return tuple(sorted(found, key=lambda gap: (-gap.saved_s, gap.heat)))


def _mean_late_s(course: Course, days: Days) -> float:
    return float((days.start_s - course.published_s[:, None]).mean())


def _pushed(course: Course, group: int, by_s: int, least: Seconds) -> Seconds:
    """Return the times if one group starts later and pushes the others before it [s]."""
    moved = course.published_s.copy()
    moved[course.groups == group] += by_s
    # Groups move as one, so a push may reach a heat that was passed already: go on until still.
    while True:
        needed = moved.copy()
        np.maximum.at(needed, course.after, moved[course.before] + least)
        late = needed - course.published_s
        by_group = np.zeros(int(course.groups.max()) + 1, dtype=np.int64)
        np.maximum.at(by_group, course.groups, late)
        pushed = course.published_s + by_group[course.groups]
        if (pushed == moved).all():
            return moved
        moved = pushed
