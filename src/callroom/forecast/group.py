"""A step in which several athletes work in step, or the team travels with one object."""

import numpy as np

from callroom.forecast.arrays import Floats
from callroom.forecast.chosen import Cells, Here, Rows
from callroom.forecast.course import StepWork
from callroom.forecast.parameters import athlete_model
from callroom.forecast.reserve import after_rest, spent_per_s
from callroom.forecast.standing import Standing
from callroom.forecast.step_run import NEVER, StepRun, first_most
from callroom.forecast.task_work import most_gone


class GroupRun(StepRun):
    """Turns of several athletes at once, at the pace of the slowest of them.

    The group has the same size in all teams, so arrays have the shape ``(group, here)``. Where
    everybody is in it the members are the line-up, and who holds what is carried changes in
    the order of the line-up; otherwise whoever has rested longest goes first.
    """

    def __init__(self, standing: Standing, step: StepWork, lap: int) -> None:
        """Let everybody in who has time left."""
        super().__init__(standing, step, lap)
        task = self.task
        self.size = task.workers if task.unladen is None else int(task.willing[:, 0].sum())
        self.all_in = task.all_willing and self.size == standing.shape[0]
        self.unwilling = np.where(task.willing, 0.0, -NEVER)
        self.at = step.place(lap)

    def turn(self) -> None:
        """Let the group of each team do a set."""
        standing, task = self.standing, self.task
        here = self.here if self.all_in else self.listed()
        now = self.lines[0][here]
        who = self._members(here)
        rest_s = who.of_place(standing.rest_s)
        rest = np.maximum(now - who.get(standing.free_s), 0.0)
        spent = after_rest(who.get(standing.spent), rest, rest_s)
        pace, usual, cost, holder = self._paced(who, spent)
        start = now
        if task.paced:
            amount = self.piece(None, pace, self.left[here])
        else:
            worn, wear = self.tired(who, now), self._wear(who, holder)
            wait = self.rest(spent, cost, worn, most_gone(wear), rest_s)
            start = now if wait is None else now + wait.max(axis=0)
            most = self.in_one_go(spent, cost, worn, np.maximum(wear, 1e-9)).min(axis=0)
            amount = self.piece(most, pace, self.left[here])
            who.put(self.muscles.worn, np.minimum(worn + amount * wear, 1.0))
            who.put(self.muscles.since_s, start + amount * pace)
        end = start + amount * pace
        cost *= amount
        cost += spent
        np.maximum(cost, 0.0, out=cost)
        who.put(standing.spent, np.minimum(cost, 1.0, out=cost))
        who.put(standing.free_s, end)
        done = self.before_cap(here, start, end, amount, pace)
        who.add(standing.worked_s, done * pace)
        self.left[here] -= amount
        self.book(here, now=now, end=end, lost=end - now - amount * usual)
        self.lines[0][here] = end

    def _paced(self, who: Rows | Cells, spent: Floats) -> tuple[Floats, Floats, Floats, int | None]:
        """Return the group's pace and what it is fresh, everybody's cost, and who holds."""
        standing, task = self.standing, self.task
        slower, easier = 1 + task.slows * spent, 1 + task.fade * spent
        holder = self._holder()
        asked = task.demand if task.unladen is None else task.unladen
        own, power = who.get(asked.pace_s) * slower, who.get(asked.power)
        usual = who.get(asked.pace_s).max(axis=0)
        if holder is not None:
            laden = who.get(task.demand.pace_s)[holder]
            usual = np.maximum(usual, laden)
            own[holder] = laden * slower[holder]
        pace = own.max(axis=0)
        if self.size > 1 and holder is None:
            pace *= athlete_model().teamwork.in_step
        # Whoever goes slower than they could needs less power in the same measure.
        own /= easier
        own /= pace
        if holder is not None:
            of_holder = who.get(task.demand.power)[holder] * own[holder]
            own *= power
            own[holder] = of_holder
        else:
            own *= power
        cost = spent_per_s(own, who.of_place(standing.span_s))
        cost *= pace
        return pace, usual, cost, holder

    def _members(self, here: Here) -> Rows | Cells:
        """Return who is in the group."""
        if isinstance(here, slice) or self.all_in:
            return Rows(here)
        score = self.unwilling.take(here, axis=1) - self.standing.free_s.take(here, axis=1)
        who = np.empty((self.size, here.size), dtype=np.int64)
        column = np.arange(here.size)
        for member in range(self.size):
            who[member] = first_most(score)
            score[who[member], column] = -np.inf
        return Cells(who, here, self.left.size)

    def _holder(self) -> int | None:
        """Return which member holds what is carried now; None if nothing is."""
        if self.task.unladen is None:
            return None
        self.at += 1
        return (self.at - 1) % self.size if self.all_in else 0

    def _wear(self, who: Rows | Cells, holder: int | None) -> Floats:
        """Return what a unit takes out of everybody's muscles; only a load does on the way."""
        wear = who.get(self.task.demand.drain)
        if holder is None:
            return wear
        held = np.zeros(wear.shape)
        held[holder] = wear[holder]
        return held
