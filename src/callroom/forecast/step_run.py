"""One step, gone through by all teams that still have time: turn after turn."""

from abc import ABC, abstractmethod

import numpy as np

from callroom.forecast.arrays import Flags, Floats, Ints
from callroom.forecast.chosen import ALL, Chosen, Here
from callroom.forecast.course import StepWork
from callroom.forecast.parameters import athlete_model
from callroom.forecast.standing import Standing
from callroom.forecast.task_work import NO_END, most_gone

SLACK = 1e-9
"""In counting whole pieces: 2.9999999999 is three."""
EFFORTLESS = 1e-9
NEVER = 1e15
"""Taken from the score of who is not willing: more than any time."""


class StepRun(ABC):
    """The teams in a step, and what they have done of it.

    `here` are the teams that are still in the step. Arrays of the class have all teams in
    their last dimension; values passed between methods only those a turn concerns.
    """

    def __init__(self, standing: Standing, step: StepWork, lap: int) -> None:
        """Let everybody in who has time left; `lap` counts the rounds of the block from 0."""
        self.standing = standing
        self.step = step
        self.task = step.task
        self.lap = lap
        self.fatigue = athlete_model().fatigue
        self.limit = 1 - self.fatigue.kept
        self.muscles = standing.muscles(step.task.movement)
        self.begun = standing.clock < standing.horizon_s
        self.here: Here = ALL if self.begun.all() else np.flatnonzero(self.begun)
        begin = standing.clock + step.transition_s * (standing.clock > 0)
        self.lines = np.repeat(begin[np.newaxis], self.task.slots, axis=0)
        self.latest = begin.copy()
        self.left = np.full(begin.size, step.amount)
        self.after_cap = np.zeros(begin.size)
        self.in_time = True

    def run(self) -> None:
        """Take turns until nobody is left in the step."""
        while self._anybody():
            self.turn()
        self._finish()

    @abstractmethod
    def turn(self) -> None:
        """Let every team that is here do one more set, or wait for the others to do one."""

    def listed(self) -> Ints:
        """Return the teams that are here as a list."""
        if isinstance(self.here, slice):
            return np.arange(self.left.size)
        return self.here

    def tired(self, who: Chosen, now: Floats) -> Floats:
        """Return how worn the muscles of the chosen are at `now`; they come back evenly."""
        back = now - who.get(self.muscles.since_s)
        np.maximum(back, 0.0, out=back)
        back *= 1 / self.fatigue.muscle_back_s
        worn: Floats = np.subtract(who.get(self.muscles.worn), back, out=back)
        return np.maximum(worn, 0.0, out=worn)

    def rest(
        self,
        spent: Floats,
        cost: Floats,
        worn: Floats,
        most_worn: Floats,
        rest_s: Floats | float,
    ) -> Floats | None:
        """Return how long the chosen must wait for a set [s]; None if all are ready.

        Changes `spent` and `worn` in place to what they are after the wait.
        """
        allowed = most_gone(cost)
        unready = spent > allowed
        unready |= worn > most_worn
        if not unready.any():
            return None
        late = np.flatnonzero(unready)
        wait = np.zeros(spent.size)
        now, worn_now = spent.ravel()[late], worn.ravel()[late]
        allowed, less_worn = allowed.ravel()[late], most_worn.ravel()[late]
        spent.ravel()[late] = np.minimum(now, allowed)
        worn.ravel()[late] = np.minimum(worn_now, less_worn)
        slow = np.broadcast_to(rest_s, spent.shape).ravel()[late]
        wait[late] = np.maximum(
            slow * np.log(np.maximum(now / allowed, 1.0)),
            self.fatigue.muscle_back_s * np.maximum(worn_now - less_worn, 0.0),
        )
        return wait.reshape(spent.shape)

    def in_one_go(self, spent: Floats, cost: Floats, worn: Floats, wear: Floats) -> Floats:
        """Return how many units fit in a set."""
        most = self.limit - spent
        most /= np.maximum(cost, EFFORTLESS)
        least = self.limit - worn
        least /= wear
        return np.minimum(most, least, out=most)

    def piece(self, most: Floats | None, pace: Floats, left: Floats) -> Floats:
        """Return how much is done in this turn, in whole pieces."""
        task = self.task
        room = task.turn_s / pace
        if most is not None:
            np.minimum(most, room, out=room)
        if task.quantum != 1:
            room /= task.quantum
        room += SLACK
        np.floor(room, out=room)
        np.maximum(room, 1.0, out=room)
        if task.quantum != 1:
            room *= task.quantum
        amount: Floats = np.minimum(room, left, out=room)
        return np.minimum(amount, task.every) if task.every < NO_END else amount

    def before_cap(
        self, here: Here, start: Floats, end: Floats, amount: Floats, pace: Floats
    ) -> Floats:
        """Return how much of the set was done by the cap, and note the rest."""
        cap_s = self.standing.cap_s
        self.in_time = bool(end.max() <= cap_s)
        if self.in_time:
            return amount
        pieces = np.floor((cap_s - start) / pace + SLACK)
        before = np.minimum(np.maximum(pieces, 0.0), amount)
        self.after_cap[here] += amount - before
        return before

    def book(self, here: Here, *, now: Floats, end: Floats, lost: Floats) -> None:
        """Note a set that was asked for at `now` and is over at `end`."""
        standing, index = self.standing, self.step.index
        standing.lost_s[index][here] += lost
        if self.in_time or now.max() < standing.cap_s:
            standing.at_cap[here] = index
        else:
            columns = np.arange(standing.at_cap.size)[here]
            standing.at_cap[columns[now < standing.cap_s]] = index
        if self.task.slots == 1:
            self.latest[here] = end
        else:
            self.latest[here] = np.maximum(self.latest[here], end)

    def _anybody(self) -> bool:
        """Return whether a team is left, after letting those go that are through or too late."""
        if isinstance(self.here, np.ndarray) and not self.here.size:
            return False
        soonest = self.lines[0] if self.task.slots == 1 else self.lines.min(axis=0)
        on: Flags = self.left[self.here] > 0
        on &= soonest[self.here] < self.standing.horizon_s
        if not on.all():
            stay = np.flatnonzero(on)
            self.here = self.here[stay] if isinstance(self.here, np.ndarray) else stay
            return bool(stay.size)
        return True

    def _finish(self) -> None:
        """Note when everybody who began is through, or that they never are."""
        standing, step = self.standing, self.step
        through = self.left <= 0
        through &= self.latest < standing.horizon_s
        timed = self.lap == 0 or not step.repeats
        if through.all() and self.begun.all():
            standing.clock = self.latest
            if timed:
                standing.split_s[step.index] = self.latest
        else:
            late = np.where(through, self.latest, np.maximum(self.latest, standing.horizon_s))
            standing.clock = np.where(self.begun, late, standing.clock)
            if timed:
                ended = np.where(through & self.begun, self.latest, np.nan)
                standing.split_s[step.index] = ended
        by_cap = step.amount - np.maximum(self.left, 0.0)
        by_cap -= self.after_cap
        by_cap /= step.mark
        by_cap += SLACK
        counts = np.floor(by_cap, out=by_cap)
        counts *= self.begun
        standing.counts += counts
        if step.metres:
            standing.metres += counts * step.mark


def first_most(score: Floats) -> Ints:
    """Return the first row with the highest score, ``(columns,)``.

    The same as ``argmax(axis=0)``, which is several times slower on few long rows.
    """
    best = score[0]
    chosen = np.zeros(best.size, dtype=np.int64)
    for row in range(1, len(score)):
        np.copyto(chosen, row, where=score[row] > best)
        best = np.maximum(best, score[row])
    return chosen
