"""Steps in which who is next depends on the team: side by side, or with a least share."""

import numpy as np

from callroom.forecast.arrays import Floats, Ints
from callroom.forecast.chosen import Cells, ChosenOne, Here
from callroom.forecast.course import StepWork
from callroom.forecast.single import SingleRun
from callroom.forecast.standing import Standing
from callroom.forecast.step_run import NEVER, first_most

BEGUN = 1e5
BUSY = 1e3
"""Whoever has begun an amount of their own goes on with it; who is busy comes after all who are
free."""


class SharingRun(SingleRun):
    """Turns of whoever has rested longest, on one line or on several side by side."""

    def __init__(self, standing: Standing, step: StepWork, lap: int) -> None:
        """Let everybody in who has time left."""
        super().__init__(standing, step, lap)
        self.unwilling = np.where(self.task.willing, 0.0, -NEVER)
        self.done = np.zeros(standing.shape)

    def turn(self) -> None:
        """Let one athlete of each team do a set on the line that is free first."""
        here = self.listed()
        slot = self.lines[:, here].argmin(axis=0)
        now = self.lines[slot, here]
        who = Cells(self._next(here, now), here, self.left.size)
        amount, end, lost = self.set_of(who, here, now)
        self.left[here] -= amount
        who.add(self.done, amount)
        handover = (self.left[here] > 0) * self.task.handover_s
        self.lines[slot, here] = end + handover
        self.book(here, now=now, end=end, lost=lost + handover)

    def _next(self, here: Ints, now: Floats) -> Ints:
        """Return who of each team is next, ``(here,)``."""
        free_s = self.standing.free_s.take(here, axis=1)
        score = self.unwilling.take(here, axis=1) - free_s
        score += BUSY * np.minimum(now - free_s, 0.0)
        done = self.done.take(here, axis=1)
        if self.task.each:
            through = done >= self.step.own
            return first_most(np.where(through, -2 * NEVER, score + BEGUN * (done > 0)))
        owing = self._owing(done, here)
        others_must = (self.left[here] <= owing.sum(axis=0)) & (owing <= 0)
        return first_most(score - NEVER * others_must)

    def _owing(self, done: Floats, here: Ints) -> Floats:
        """Return what is missing to everybody's least share, ``(athletes, here)``."""
        missing: Floats = np.maximum(self.task.least_each - done, 0.0)
        missing *= self.task.willing.take(here, axis=1)
        return missing

    def limited(self, amount: Floats, who: ChosenOne, here: Here) -> Floats:
        """Return `amount`, at most the chosen's own, or what others' least shares leave."""
        mine = who.get(self.done)
        if self.task.each:
            return np.minimum(amount, self.step.own - mine)
        listed = self.listed()
        owing: Floats = self._owing(self.done.take(listed, axis=1), listed).sum(axis=0)
        own = np.maximum(self.task.least_each - mine, 0.0)
        return np.minimum(amount, np.maximum(self.left[here] - (owing - own), 1.0))
