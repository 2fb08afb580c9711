"""A step in which several athletes work in step, or the team travels with one object."""

import numpy as np

from callroom.forecast.arrays import Floats, Ints
from callroom.forecast.course import StepWork
from callroom.forecast.parameters import athlete_model
from callroom.forecast.reserve import after_rest, drained_per_s
from callroom.forecast.standing import Standing
from callroom.forecast.step_run import NEVER, StepRun, first_most


class GroupRun(StepRun):
    """Turns of several athletes at once, at the pace of the slowest of them.

    The group has the same size in all teams; arrays of shape ``(group, here)`` have its
    members in the order of who has rested longest.
    """

    def __init__(self, standing: Standing, step: StepWork, lap: int) -> None:
        """Let everybody in who has time left."""
        super().__init__(standing, step, lap)
        task = self.task
        self.unwilling = np.where(task.willing, 0.0, -NEVER)
        self.size = task.workers if task.unladen is None else int(task.willing[:, 0].sum())

    def turn(self) -> None:
        """Let the group of each team do a set."""
        standing, task = self.standing, self.task
        now = self.lines[0].copy()
        who = self._members()
        cell = who * standing.shape[1] + self.here
        rest_s = standing.rest_s.ravel().take(who)
        rest = np.maximum(now - standing.free_s.ravel().take(cell), 0.0)
        fresh = after_rest(standing.reserve.ravel().take(cell), rest, rest_s)
        usual, power, wear = self._asked(cell)
        spent = 1 - fresh
        own = usual * (1 + task.slows * spent)
        pace = own.max(axis=0)
        if self.size > 1 and task.unladen is None:
            pace *= athlete_model().teamwork.in_step
        # Whoever goes slower than they could needs less power in the same measure.
        eased = power / (1 + task.fade * spent) * own / pace
        cost = drained_per_s(eased, standing.span_s.ravel().take(who)) * pace
        most = None
        start = now
        if not task.paced:
            strong = self.strong(cell, now)
            wait = self.wait(fresh, cost, strong, wear, rest_s=rest_s)
            start = now if wait is None else now + wait.max(axis=0)
            most = np.minimum(self.sets(fresh, cost), self.sets(strong, wear)).min(axis=0)
            amount = self.piece(most, pace)
            self.tire(cell, strong - amount * wear, start + amount * pace)
        else:
            amount = self.piece(most, pace)
        end = start + amount * pace
        standing.reserve.ravel()[cell] = np.minimum(np.maximum(fresh - amount * cost, 0.0), 1.0)
        standing.free_s.ravel()[cell] = end
        standing.worked_s.ravel()[cell] += self.before_cap(start, end, amount, pace) * pace
        lost = start - now + amount * (pace - usual.max(axis=0))
        self.book(0, now=now, end=end, amount=amount, lost=lost)

    def _members(self) -> Ints:
        """Return who is in the group, the one who has rested longest first."""
        score = self.rows(self.unwilling) - self.rows(self.standing.free_s)
        who = np.empty((self.size, self.here.size), dtype=np.int64)
        for member in range(self.size):
            who[member] = first_most(score)
            score[who[member], self.column] = -np.inf
        return who

    def _asked(self, cell: Ints) -> tuple[Floats, Floats, Floats]:
        """Return pace, power and wear of the members; only the first holds what is carried."""
        task = self.task
        if task.unladen is None:
            asked = task.demand
            return (
                asked.pace_s.ravel().take(cell),
                asked.power.ravel().take(cell),
                asked.drain.ravel().take(cell),
            )
        pace = task.unladen.pace_s.ravel().take(cell)
        power = task.unladen.power.ravel().take(cell)
        wear = np.zeros(cell.shape)
        pace[0] = task.demand.pace_s.ravel().take(cell[0])
        power[0] = task.demand.power.ravel().take(cell[0])
        wear[0] = task.demand.drain.ravel().take(cell[0])
        return pace, power, wear
