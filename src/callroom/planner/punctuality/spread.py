"""How long things really take: distributions by their quantiles."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from callroom.model.event import Event
from callroom.model.forecast import Quantiles
from callroom.model.plan import Plan
from callroom.model.team import Team
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


_FORECAST_LEVELS = np.array([0.0, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0])
_FORECAST_AROUND = np.array([-0.2, 0.0, 0.05, 0.1, 0.3, 0.5, 1.2])


def forecast_spread(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    course: Course,
    *,
    held_s: Mapping[tuple[str, str], Quantiles],
) -> Spread:
    """Return distributions from a forecast of how long heats hold their floor.

    Parameters
    ----------
    held_s
        How long a heat of a workout and a division holds the floor, walk-on to kit strip, if
        everything around the work takes as long as planned [s]. Of a mixed heat the slowest
        division counts; a heat without a forecast is spread as :func:`capped_spread` does.

    Notes
    -----
    What is around the work (walking on, signing, clearing) varies as with the caps alone, and
    is taken to be long where the work is: that makes days a little less punctual, not more.
    """
    capped = capped_spread(event, plan, course)
    divisions = {team.id: team.division for team in teams}
    stay_s = np.array(
        [np.interp(_FORECAST_LEVELS, capped.levels, row) for row in capped.stay_s]
    ).reshape(len(course.heats), len(_FORECAST_LEVELS))
    for place, name in enumerate(course.heats):
        heat = plan.heat(name)
        mine = {divisions[team] for team in heat.teams if team in divisions}
        known = [
            _levels(held_s[key]) for key in held_s if key[0] == heat.workout and key[1] in mine
        ]
        if len(known) == len(mine) and known:
            clock_s = event.workout(heat.workout).clock_s
            around_s = max(int(course.length_s[place]) - clock_s, 0)
            stay_s[place] = np.max(known, axis=0) + around_s * _FORECAST_AROUND
    gap_s = np.array([np.interp(_FORECAST_LEVELS, capped.levels, row) for row in capped.gap_s])
    return Spread(
        _FORECAST_LEVELS,
        stay_s,
        gap_s.reshape(len(course.before), len(_FORECAST_LEVELS)),
        capped.incidents,
    )


def _levels(held: Quantiles) -> Shares:
    """Return a forecast's quantiles at all levels; what is not known stays at the one below."""
    points = [held.p10, held.p25, held.p50, held.p75, held.p90]
    last = next((point for point in points if point is not None), 0)
    filled = []
    for point in points:
        last = point if point is not None else last
        filled.append(float(last))
    return np.array([filled[0], *filled, filled[-1]])
