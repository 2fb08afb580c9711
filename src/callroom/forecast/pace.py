"""Usual paces, from the rates of the movement library."""

import math

from callroom.forecast.ergometer import seconds_per_kcal
from callroom.forecast.parameters import athlete_model
from callroom.model.movement import Movement, Rate
from callroom.model.workout import Unit

# Common practice, no source: where the library knows no rate, and the step of a lunge.
UNKNOWN_PACE_S = {"reps": 3.0, "metres": 0.8, "calories": 5.0, "seconds": 1.0, "lift": 1.0}
STRIDE_M = 0.75


def usual_pace(movement: Movement | None, unit: Unit, category: str) -> tuple[float, float]:
    """Return seconds for one unit at level 0, and the logarithm of what a level more makes.

    The line goes through the middles of the library's intermediate and advanced rates. Where
    a rate was measured it outranks those: the line is moved to pass through it at the usual
    level of a division.
    """
    if movement is None or unit in {"seconds", "lift"}:
        return UNKNOWN_PACE_S[unit], 0.0
    levels = athlete_model().levels
    usual, best, measured = (
        _middle(movement, level, unit, category)
        for level in ("intermediate", "advanced", "measured")
    )
    gain = athlete_model().growth.one_figure
    if usual is not None and best is not None:
        gain = math.log(best / usual)
    if measured is not None:
        return measured * math.exp(-gain * levels.usual), gain
    if usual is not None:
        return usual, gain
    return UNKNOWN_PACE_S[unit] if best is None else best * math.exp(-gain), gain


def _middle(movement: Movement, level: str, unit: Unit, category: str) -> float | None:
    """Return the geometric middle of the rates of a level [s per unit]; None without any."""
    known = [
        (rate.who, seconds)
        for rate in movement.cadence
        if rate.level == level
        for seconds in _seconds_per_unit(movement, rate, unit)
    ]
    own = [seconds for who, seconds in known if who in {"all", category}]
    chosen = own or [seconds for _, seconds in known]
    return math.exp(sum(map(math.log, chosen)) / len(chosen)) if chosen else None


def _seconds_per_unit(movement: Movement, rate: Rate, unit: Unit) -> tuple[float, ...]:
    """Return both ends of a rate in seconds for one `unit`; empty if it says nothing of it."""
    ends = (float(rate.low), float(rate.high))
    match rate.unit, unit:
        case "s_per_rep", "reps":
            return ends
        case "s_per_rep", "metres":
            return tuple(seconds / STRIDE_M for seconds in ends)
        case "m_per_s", "metres":
            return tuple(1 / speed for speed in ends)
        case "m_per_s", "reps":
            stretch = max(way.mark for way in movement.counting)
            return tuple(stretch / speed for speed in ends)
        case "s_per_500m", "metres":
            return tuple(seconds / 500 for seconds in ends)
        case "s_per_500m", "calories" if not _has(movement, "kcal_per_min"):
            return tuple(seconds_per_kcal(seconds / 500) for seconds in ends)
        case "kcal_per_min", "calories":
            return tuple(60 / calories for calories in ends)
        case _:
            return ()


def _has(movement: Movement, unit: str) -> bool:
    return any(rate.unit == unit for rate in movement.cadence)
