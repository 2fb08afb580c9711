"""How long things really take: distributions by their quantiles."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from callroom.model.event import Event
from callroom.model.plan import Plan
from callroom.planner.punctuality.course import Course

Shares = NDArray[np.float64]


class Incidents(NamedTuple):
    """Rare trouble during a heat: its chance [per thousand heats] and how long it takes [s]."""

    per_thousand: int = 10
    least_s: int = 300
    most_s: int = 900


class Spread(NamedTuple):
    """Distributions as values at the same levels, linear in between.

    Attributes
    ----------
    levels
        Rising shares from 0 to 1, shape ``(levels,)``.
    stay_s
        How long a heat holds its floor [s], shape ``(heats, levels)``.
    gap_s
        How long an arc takes [s], shape ``(arcs, levels)``; rests do not vary.
    incidents
        What is added to a stay now and then.
    """

    levels: Shares
    stay_s: Shares
    gap_s: Shares
    incidents: Incidents = Incidents()


# Common practice, no source: a heat ends a little before its cap more often than not, while
# walking on, signing and clearing the floor take longer more often than they go faster.
_LEVELS = np.array([0.0, 0.1, 0.5, 0.9, 1.0])
_CLOCK = np.array([-0.15, -0.08, -0.02, 0.0, 0.0])
_AROUND = np.array([-0.2, 0.0, 0.1, 0.5, 1.2])
_GAP = np.array([0.75, 0.9, 1.0, 1.3, 2.0])


def capped_spread(
    event: Event, plan: Plan, course: Course, incidents: Incidents | None = None
) -> Spread:
    """Return distributions from the time caps alone, for want of a forecast.

    The figures behind it are common practice without a source; a forecast's quantiles put
    into :class:`Spread` are better.
    """
    clocks = {workout.id: workout.clock_s for workout in event.workouts}
    clock_s = np.array([clocks[plan.heat(heat).workout] for heat in course.heats], dtype=np.float64)
    clock_s = np.minimum(clock_s, course.length_s)
    around_s = course.length_s - clock_s
    stay_s = (
        course.length_s.astype(np.float64)[:, None]
        + clock_s[:, None] * _CLOCK
        + around_s[:, None] * _AROUND
    )
    factor = np.where(course.on_floor[:, None], _GAP, 1.0)
    gap_s = course.gap_s.astype(np.float64)[:, None] * factor
    return Spread(_LEVELS, stay_s, gap_s, incidents or Incidents())
