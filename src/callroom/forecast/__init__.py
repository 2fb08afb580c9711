"""How long the work takes.

Decides: from workouts, athletes and movements to distributions of finish times, work done
at the cap and the time a heat really occupies, in whole seconds on the way out; what cap or
load lets enough teams finish; what a day tests; and what results say about the pace.
Never does: place heats, read a clock, or make its own random generator: one is passed in.
May import: ``model``, ``standards``, numpy.
"""

from callroom.forecast.advising import advise
from callroom.forecast.calibration import calibrate
from callroom.forecast.carrying import carry_over
from callroom.forecast.forecasting import forecast_event, forecast_workout
from callroom.forecast.levels import guessed_levels
from callroom.forecast.programme import check_programme
from callroom.forecast.rules import RULES
from callroom.forecast.survival import CurvePoint, still_at_work

__all__ = [
    "RULES",
    "CurvePoint",
    "advise",
    "calibrate",
    "carry_over",
    "check_programme",
    "forecast_event",
    "forecast_workout",
    "guessed_levels",
    "still_at_work",
]
