"""Steps in which one athlete at a time takes a turn: what a turn is, and turns in rotation."""

from abc import abstractmethod

import numpy as np

from callroom.forecast.arrays import Flags, Floats, Ints
from callroom.forecast.chosen import ChosenOne, Here, Row
from callroom.forecast.course import StepWork
from callroom.forecast.reserve import after_rest, spent_per_s
from callroom.forecast.standing import Standing
from callroom.forecast.step_run import SLACK, StepRun


class SingleRun(StepRun):
    """Turns of one athlete of each team."""

    def set_of(self, who: ChosenOne, here: Here, now: Floats) -> tuple[Floats, Floats, Floats]:
        """Let the chosen of the teams `here`, asked at `now`, do a set.

        Returns how much they did, when they are through, and the seconds lost in it.
        """
        standing, task = self.standing, self.task
        free_s = who.get(standing.free_s)
        start = np.maximum(now, free_s)
        rest_s = who.of_place(standing.rest_s)
        spent = after_rest(who.get(standing.spent), start - free_s, rest_s)
        usual = who.get(task.demand.pace_s)
        pace = spent * task.slows
        pace += 1
        pace *= usual
        eased = spent * task.fade
        eased += 1
        power = who.get(task.demand.power) / eased
        cost = spent_per_s(power, who.of_place(standing.span_s))
        cost *= pace
        if task.paced:
            amount = self.limited(self.piece(None, pace, self.left[here]), who, here)
            end = start + amount * pace
        else:
            worn = self.tired(who, start)
            wear = who.get(task.demand.drain)
            wait = self.rest(spent, cost, worn, who.get(task.most_worn), rest_s)
            if wait is not None:
                start += wait
            most = self.in_one_go(spent, cost, worn, wear)
            amount = self.limited(self.piece(most, pace, self.left[here]), who, here)
            amount = self.held(amount, pace, start, who)
            end = start + amount * pace
            worn += amount * wear
            who.put(self.muscles.worn, np.minimum(worn, 1.0, out=worn))
            who.put(self.muscles.since_s, end)
        cost *= amount
        cost += spent
        np.maximum(cost, 0.0, out=cost)
        who.put(standing.spent, np.minimum(cost, 1.0, out=cost))
        who.put(standing.free_s, end)
        done = self.before_cap(here, start, end, amount, pace)
        who.add(standing.worked_s, done * pace)
        return amount, end, end - now - amount * usual

    @abstractmethod
    def limited(self, amount: Floats, who: ChosenOne, here: Here) -> Floats:
        """Return `amount` as far as the chosen may do it."""

    def held(self, amount: Floats, pace: Floats, start: Floats, who: ChosenOne) -> Floats:
        """Return `amount` as far as the partner can hold who must, and tire that partner."""
        task = self.task
        if task.holding is None:
            return amount
        partner = who.across(self.standing.shape[0])
        muscles = self.standing.muscles(task.held)
        rest = np.maximum(start - partner.get(muscles.since_s), 0.0)
        worn = partner.get(muscles.worn) - rest / self.fatigue.muscle_back_s
        worn = np.maximum(worn, 0.0)
        wear = partner.get(task.holding) * pace
        pieces = np.floor((1 - worn) / wear / task.quantum + SLACK)
        amount = np.minimum(amount, np.maximum(pieces, 1.0) * task.quantum)
        partner.put(muscles.worn, np.minimum(worn + amount * wear, 1.0))
        partner.put(muscles.since_s, start + amount * pace)
        return amount


class RotationRun(SingleRun):
    """Turns in the order of the line-up, the same in all teams; unwilling ones are passed over.

    Where every athlete has an amount of their own, one after the other does it.
    """

    def __init__(self, standing: Standing, step: StepWork, lap: int) -> None:
        """Let everybody in who has time left."""
        super().__init__(standing, step, lap)
        self.order = self.task.rotation(step.place(lap), lap)
        self.at = 0
        self.own = np.full(self.left.size, step.own)

    def turn(self) -> None:
        """Let the next place of the line-up do a set in every team where it takes part."""
        task = self.task
        place = self.order[self.at % len(self.order)]
        here = self._taking_part(place)
        if isinstance(here, np.ndarray) and not here.size:
            self.at += 1
            self.own[:] = self.step.own
            return
        now = self.lines[0][here]
        amount, end, lost = self.set_of(Row(place, here), here, now)
        self.left[here] -= amount
        change = self.left[here] > 0
        if task.each:
            self.own[here] -= amount
            change &= self.own[here] <= 0
        else:
            self.at += 1
        handover = change * task.handover_s
        lost += handover
        self.book(here, now=now, end=end, lost=lost)
        self.lines[0][here] = end + handover

    def _taking_part(self, place: int) -> Here:
        """Return the teams in which `place` has a turn now."""
        if self.task.each:
            return self._within(self.own > 0)
        willing = self.task.willing[place]
        return self.here if self.task.all_willing else self._within(willing)

    def _within(self, wanted: Flags) -> Here:
        if isinstance(self.here, slice):
            return self.here if wanted.all() else np.flatnonzero(wanted)
        inside: Ints = self.here[wanted[self.here]]
        return inside

    def limited(self, amount: Floats, who: ChosenOne, here: Here) -> Floats:
        """Return `amount`, at most what is left of the athlete's own."""
        del who
        return np.minimum(amount, self.own[here]) if self.task.each else amount
