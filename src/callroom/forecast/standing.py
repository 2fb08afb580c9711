"""Where simulated teams stand: clocks, spent reserves and tired muscles, changed in place."""

import numpy as np

from callroom.forecast.arrays import Floats
from callroom.forecast.parameters import athlete_model
from callroom.forecast.reserve import recovery_s


class Muscles:
    """How tired the muscles of one movement are, for every athlete of every team.

    `worn` is 0 when fresh, 1 when spent, and `since_s` when it was so [s]; ``(athletes, teams)``.
    """

    def __init__(self, shape: tuple[int, ...]) -> None:
        """Start fresh."""
        self.worn = np.zeros(shape)
        self.since_s = np.zeros(shape)


class Standing:
    """Where all teams stand; every array ends in the dimension ``teams``.

    Attributes
    ----------
    clock
        When each team is through with what it has done so far [s], ``(teams,)``.
    spent, free_s
        What every athlete has spent of the reserve, and since when they rest [s].
    muscles
        Tiredness by movement.
    worked_s, split_s, lost_s, counts, metres, at_cap
        What is noted for :class:`callroom.forecast.race.Race`.
    """

    def __init__(
        self, span_s: Floats, *, teams: int, steps: int, cap_s: float, horizon_s: float
    ) -> None:
        """Put `teams` fresh teams at the start; `span_s` has the shape ``(athletes, 1)``."""
        self.shape = (len(span_s), teams)
        self.span_s = span_s
        self.rest_s = recovery_s(span_s, athlete_model().fatigue.rest_ratio)
        self.cap_s = cap_s
        self.horizon_s = horizon_s
        self.clock = np.zeros(teams)
        self.spent = np.zeros(self.shape)
        self.free_s = np.zeros(self.shape)
        self.worked_s = np.zeros(self.shape)
        self.split_s = np.full((steps, teams), np.nan)
        self.lost_s = np.zeros((steps, teams))
        self.counts = np.zeros(teams)
        self.metres = np.zeros(teams)
        self.at_cap = np.full(teams, -1, dtype=np.int64)
        self._muscles: dict[str, Muscles] = {}

    def muscles(self, movement: str) -> Muscles:
        """Return the muscles of `movement`."""
        if movement not in self._muscles:
            self._muscles[movement] = Muscles(self.shape)
        return self._muscles[movement]
