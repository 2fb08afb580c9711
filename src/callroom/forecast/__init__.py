"""How long the work takes.

Decides: from workouts, athletes and movements to distributions of finish times, work done
at the cap and the time a heat really occupies, in whole seconds on the way out.
Never does: place heats, read a clock, or make its own random generator: one is passed in.
May import: ``model``, ``standards``, numpy.
"""

from callroom.forecast.forecasting import forecast_event, forecast_workout
from callroom.forecast.levels import guessed_levels

__all__ = ["forecast_event", "forecast_workout", "guessed_levels"]
