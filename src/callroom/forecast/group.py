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
        self.at = step.first

    def turn(self) -> None:
        """Let the group of each team do a set."""
        standing, task = self.standing, self.task
        here = self.here if self.all_in else self.listed()
        now = self.lines[0][here]
        who = self._members(here)
        rest_s = who.of_place(standing.rest_s)
        rest = np.maximum(now - who.get(standing.free_s), 0.0)
        spent = after_rest(who.get(standing.spent), rest, rest_s)
        usual, power, wear = self._asked(who)
        own = usual * (1 + task.slows * spent)
        pace = own.max(axis=0)
        if self.size > 1 and task.unladen is None:
            pace *= athlete_model().teamwork.in_step
        # Whoever goes slower than they could needs less power in the same measure.
        eased = power / (1 + task.fade * spent) * own / pace
        cost = spent_per_s(eased, who.of_place(standing.span_s)) * pace
        start = now
        if task.paced:
            amount = self.piece(None, pace, self.left[here])
        else:
            worn = self.tired(who, now)
            wait = self.rest(spent, cost, worn, most_gone(wear), rest_s)
            start = now if wait is None else now + wait.max(axis=0)
            most = self.in_one_go(spent, cost, worn, np.maximum(wear, 1e-9)).min(axis=0)
            amount = self.piece(most, pace, self.left[here])
            who.put(self.muscles.worn, np.minimum(worn + amount * wear, 1.0))
            who.put(self.muscles.since_s, start + amount * pace)
        end = start + amount * pace
        who.put(standing.spent, np.minimum(np.maximum(spent + amount * cost, 0.0), 1.0))
        who.put(standing.free_s, end)
        done = self.before_cap(here, start, end, amount, pace)
        who.put(standing.worked_s, who.get(standing.worked_s) + done * pace)
        self.left[here] -= amount
        self.book(here, now=now, end=end, lost=end - now - amount * usual.max(axis=0))
        self.lines[0][here] = end

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

    def _asked(self, who: Rows | Cells) -> tuple[Floats, Floats, Floats]:
        """Return pace, power and wear of the members; only one holds what is carried."""
        asked, unladen = self.task.demand, self.task.unladen
        usual, power, wear = (who.get(of) for of in (asked.pace_s, asked.power, asked.drain))
        if unladen is None:
            return usual, power, wear
        holder = self.at % self.size if self.all_in else 0
        self.at += 1
        light, eased = who.get(unladen.pace_s).copy(), who.get(unladen.power).copy()
        light[holder], eased[holder] = usual[holder], power[holder]
        held = np.zeros(wear.shape)
        held[holder] = wear[holder]
        return light, eased, held
