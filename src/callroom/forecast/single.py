"""A step in which one athlete after the other takes a turn (or several side by side)."""

import numpy as np

from callroom.forecast.arrays import Floats, Ints
from callroom.forecast.course import StepWork
from callroom.forecast.reserve import after_rest, drained_per_s
from callroom.forecast.standing import Standing
from callroom.forecast.step_run import NEVER, SLACK, StepRun, first_most

BEGUN = 1e5
BUSY = 1e3
"""Whoever has begun an amount of their own goes on with it; who is busy comes after all who are
free."""


class SingleRun(StepRun):
    """Turns of one athlete at a time on each line."""

    def __init__(self, standing: Standing, step: StepWork, lap: int) -> None:
        """Let everybody in who has time left."""
        super().__init__(standing, step, lap)
        task = self.task
        self.unwilling = None if task.willing.all() else np.where(task.willing, 0.0, -NEVER)
        self.tallies = task.each or task.least_each > 0
        self.done = np.zeros(standing.shape)
        self.turns = np.zeros(standing.shape)

    def turn(self) -> None:
        """Let one athlete of each team do a set."""
        standing, here, task = self.standing, self.here, self.task
        slot, now = self._line()
        who = self._next(now)
        cell = who * standing.shape[1] + here
        free_s = standing.free_s.ravel().take(cell)
        start = np.maximum(now, free_s)
        rest_s = standing.rest_s.ravel().take(who)
        fresh = after_rest(standing.reserve.ravel().take(cell), start - free_s, rest_s)
        usual = task.demand.pace_s.ravel().take(cell)
        spent = 1 - fresh
        pace = usual * (1 + task.slows * spent)
        power = task.demand.power.ravel().take(cell) / (1 + task.fade * spent)
        cost = drained_per_s(power, standing.span_s.ravel().take(who)) * pace
        if task.paced:
            amount = self._amount(None, cell, pace, start, who)
        else:
            strong = self.strong(cell, start)
            wear = task.demand.drain.ravel().take(cell)
            wait = self.wait(fresh, cost, strong, wear, rest_s=rest_s)
            if wait is not None:
                start += wait
            most = np.minimum(self.sets(fresh, cost), self.sets(strong, wear))
            amount = self._amount(most, cell, pace, start, who)
            self.tire(cell, strong - amount * wear, start + amount * pace)
        end = start + amount * pace
        left = np.maximum(fresh - amount * cost, 0.0)
        standing.reserve.ravel()[cell] = np.minimum(left, 1.0)
        standing.free_s.ravel()[cell] = end
        standing.worked_s.ravel()[cell] += self.before_cap(start, end, amount, pace) * pace
        if self.tallies:
            self.done.ravel()[cell] += amount
        if task.order == "fixed":
            self.turns.ravel()[cell] += 1
        lost = start - now + amount * (pace - usual)
        self.book(slot, now=now, end=end, amount=amount, lost=lost)

    def _amount(
        self, most: Floats | None, cell: Ints, pace: Floats, start: Floats, who: Ints
    ) -> Floats:
        """Return how much the chosen do in this turn."""
        amount = self.piece(most, pace)
        if self.tallies:
            amount = np.minimum(amount, self._own_limit(cell))
        if self.task.holding is not None:
            amount = self._with_holder(amount, pace, start, who)
        return amount

    def _line(self) -> tuple[Ints | int, Floats]:
        """Return the line that is free first, and when."""
        if self.task.slots == 1:
            return 0, self.lines[0].copy()
        slot = self.lines.argmin(axis=0)
        return slot, self.lines[slot, self.column]

    def _next(self, now: Floats) -> Ints:
        """Return who of each team is next, ``(here,)``: as a rule who has rested longest."""
        task = self.task
        free_s = self.rows(self.standing.free_s)
        score = -free_s if task.order == "freshest" else -self._waiting(len(free_s))
        if self.unwilling is not None:
            score = score + self.rows(self.unwilling)
        if task.slots > 1:
            score = score + BUSY * np.minimum(now - free_s, 0.0)
        if not self.tallies:
            return first_most(score)
        done = self.rows(self.done)
        if task.each:
            return first_most(
                np.where(done >= self.step.own, -2 * NEVER, score + BEGUN * (done > 0))
            )
        owing = self._owing(done)
        others_must = (self.left <= owing.sum(axis=0)) & (owing <= 0)
        return first_most(np.where(others_must, score - NEVER, score))

    def _waiting(self, size: int) -> Floats:
        """Return how many are before everybody in the fixed order, ``(athletes, here)``."""
        line = np.arange(size)[:, np.newaxis]
        if self.task.order == "each_round":
            return np.broadcast_to((line - self.lap) % size, (size, self.here.size)).astype(float)
        return self.rows(self.turns) * size + line

    def _owing(self, done: Floats) -> Floats:
        """Return what is missing to everybody's least share, ``(athletes, here)``."""
        willing = self.task.willing.take(self.here, axis=1)
        missing: Floats = np.maximum(self.task.least_each - done, 0.0) * willing
        return missing

    def _own_limit(self, cell: Ints) -> Floats:
        """Return how much the chosen may do at most: their own amount, or what others leave."""
        mine: Floats = self.done.ravel().take(cell)
        if self.task.each:
            rest: Floats = self.step.own - mine
            return rest
        owing = self._owing(self.rows(self.done)).sum(axis=0)
        own = np.maximum(self.task.least_each - mine, 0.0)
        most: Floats = np.maximum(self.left - (owing - own), 1.0)
        return most

    def _with_holder(self, amount: Floats, pace: Floats, start: Floats, who: Ints) -> Floats:
        """Return how much is done while the strongest partner can hold, and tire that partner."""
        standing, here, task = self.standing, self.here, self.task
        if task.holding is None:
            return amount
        holding = standing.muscles(task.held)
        rest = np.maximum(start - self.rows(holding.since_s), 0.0)
        strong = np.minimum(self.rows(holding.share) + rest / self.fatigue.muscle_back_s, 1.0)
        strong[who, self.column] = -1.0
        partner = first_most(strong)
        cell = partner * standing.shape[1] + here
        left = strong[partner, self.column]
        wear = task.holding.ravel().take(cell) * pace
        pieces = np.maximum(np.floor(left / wear / task.quantum + SLACK), 1.0)
        amount = np.minimum(amount, pieces * task.quantum)
        holding.share.ravel()[cell] = np.maximum(left - amount * wear, 0.0)
        holding.since_s.ravel()[cell] = start + amount * pace
        return amount
