"""One step, gone through by all teams that still have time: turn after turn."""

from abc import ABC, abstractmethod

import numpy as np

from callroom.forecast.arrays import Flags, Floats, Ints
from callroom.forecast.course import StepWork
from callroom.forecast.parameters import athlete_model
from callroom.forecast.standing import Standing
from callroom.forecast.task_work import NO_END

SLACK = 1e-9
"""In counting whole pieces: 2.9999999999 is three."""
EFFORTLESS = 1e-9
NEVER = 1e15
"""Taken from the score of who is not willing: more than any time."""


class StepRun(ABC):
    """The teams in a step, and what they have done of it.

    `here` lists the teams that are still in the step. Arrays of this class end in that
    dimension, written ``here``; those of :class:`Standing` have all teams.
    """

    def __init__(self, standing: Standing, step: StepWork, lap: int) -> None:
        """Let everybody in who has time left; `lap` counts the rounds of the block from 0."""
        self.standing = standing
        self.step = step
        self.task = step.task
        self.lap = lap
        self.fatigue = athlete_model().fatigue
        self.muscles = standing.muscles(step.task.movement)
        self.here: Ints = np.flatnonzero(standing.clock < standing.horizon_s)
        self.whole = self.here.size == standing.shape[1]
        self.column = np.arange(self.here.size)
        arriving = standing.clock[self.here]
        begin = arriving + step.transition_s * (arriving > 0)
        self.lines = np.repeat(begin[np.newaxis], self.task.slots, axis=0)
        self.latest = begin.copy()
        self.left = np.full(self.here.size, step.amount)
        self.by_cap = np.zeros(self.here.size)

    def run(self) -> None:
        """Take turns until nobody is left in the step."""
        while self.here.size:
            self.turn()
            self._leave()

    @abstractmethod
    def turn(self) -> None:
        """Let every team that is here do one more set."""

    def rows(self, array: Floats) -> Floats:
        """Return the columns of ``(athletes, teams)`` that are here, ``(athletes, here)``."""
        return array if self.whole else array.take(self.here, axis=1)

    def needed(self, cost: Floats) -> Floats:
        """Return the share that must be there to begin a set of units that take `cost` each."""
        least = np.maximum(cost, self.fatigue.least_set)
        least += self.task.kept
        return np.minimum(least, self.fatigue.most_needed)

    def strong(self, cell: Ints, now: Floats) -> Floats:
        """Return how fresh the muscles of the chosen are at `now`; they come back evenly."""
        rest = np.maximum(now - self.muscles.since_s.ravel().take(cell), 0.0)
        rest /= self.fatigue.muscle_back_s
        rest += self.muscles.share.ravel().take(cell)
        ready: Floats = np.minimum(rest, 1.0)
        return ready

    def tire(self, cell: Ints, strong: Floats, end: Floats) -> None:
        """Note how fresh the muscles of the chosen are at the `end` of their set."""
        self.muscles.share.ravel()[cell] = np.maximum(strong, 0.0)
        self.muscles.since_s.ravel()[cell] = end

    def wait(
        self, fresh: Floats, cost: Floats, strong: Floats, wear: Floats, *, rest_s: Floats
    ) -> Floats | None:
        """Return how long the chosen must wait for a set [s]; None if all are ready.

        Changes `fresh` and `strong` in place to what they are after the wait.
        """
        needed, stronger = self.needed(cost), self.needed(wear)
        spare = np.minimum(fresh - needed, strong - stronger)
        late = np.flatnonzero(spare < 0)
        if not late.size:
            return None
        wait = np.zeros(fresh.size)
        fresh_now, strong_now = fresh.ravel()[late], strong.ravel()[late]
        needed, stronger = needed.ravel()[late], stronger.ravel()[late]
        fresh.ravel()[late] = np.maximum(fresh_now, needed)
        strong.ravel()[late] = np.maximum(strong_now, stronger)
        short = np.log(np.maximum((1 - fresh_now) / (1 - needed), 1.0))
        wait[late] = np.maximum(
            rest_s.ravel()[late] * short,
            self.fatigue.muscle_back_s * np.maximum(stronger - strong_now, 0.0),
        )
        return wait.reshape(fresh.shape)

    def sets(self, ready: Floats, cost: Floats) -> Floats:
        """Return how many units fit between `ready` and where a set ends."""
        room: Floats = (ready - self.task.kept) / np.maximum(cost, EFFORTLESS)
        return room

    def piece(self, most: Floats | None, pace: Floats) -> Floats:
        """Return how much is done in this turn, in whole pieces, ``(here,)``."""
        task = self.task
        room = task.turn_s / pace
        if most is not None:
            room = np.minimum(most, room)
        pieces = np.maximum(np.floor(room / task.quantum + SLACK), 1.0)
        pieces *= task.quantum
        amount: Floats = np.minimum(pieces, self.left)
        return np.minimum(amount, task.every) if task.every < NO_END else amount

    def before_cap(self, start: Floats, end: Floats, amount: Floats, pace: Floats) -> Floats:
        """Return how much of the set was done by the cap, and note it, ``(here,)``."""
        cap_s = self.standing.cap_s
        if end.max() <= cap_s:
            before = amount
        else:
            pieces = np.floor((cap_s - start) / pace + SLACK)
            before = np.minimum(np.maximum(pieces, 0.0), amount)
        self.by_cap += before
        return before

    def book(
        self, slot: Ints | int, *, now: Floats, end: Floats, amount: Floats, lost: Floats
    ) -> None:
        """Note that a set of `amount`, asked for at `now`, is over, with `lost` seconds in it."""
        standing, index, here = self.standing, self.step.index, self.here
        self.left -= amount
        handover = self.task.handover_s * (self.left > 0)
        if self.whole:
            standing.lost_s[index] += lost + handover
        else:
            standing.lost_s[index, here] += lost + handover
        if now.max() < standing.cap_s:
            standing.at_cap[here] = index
        else:
            standing.at_cap[here.compress(now < standing.cap_s)] = index
        self.latest = end if self.task.slots == 1 else np.maximum(self.latest, end)
        if self.task.slots == 1:
            self.lines[0] = end + handover
        else:
            self.lines[slot, self.column] = end + handover

    def _leave(self) -> None:
        """Let teams go that are through, or have no time left."""
        through = self.left <= 0
        soonest = self.lines[0] if self.task.slots == 1 else self.lines.min(axis=0)
        stop: Flags = through | (soonest >= self.standing.horizon_s)
        if not stop.any():
            return
        if stop.all():
            self._let_go(self.here, self.latest, through, self.by_cap)
            self.here = self.here[:0]
            return
        gone, stay = np.flatnonzero(stop), np.flatnonzero(~stop)
        self._let_go(self.here[gone], self.latest[gone], through[gone], self.by_cap[gone])
        self.whole = False
        self.here = self.here[stay]
        self.column = self.column[: stay.size]
        self.left = self.left[stay]
        self.latest = self.latest[stay]
        self.by_cap = self.by_cap[stay]
        self.lines = self.lines.take(stay, axis=1)

    def _let_go(self, leaving: Ints, latest: Floats, through: Flags, by_cap: Floats) -> None:
        standing, step = self.standing, self.step
        late = np.maximum(latest, standing.horizon_s)
        standing.clock[leaving] = np.where(through, latest, late)
        counts = np.floor(by_cap / step.mark + SLACK)
        standing.counts[leaving] += counts
        if step.metres:
            standing.metres[leaving] += counts * step.mark
        if self.lap == 0 or not step.repeats:
            timed = through & (latest < standing.horizon_s)
            standing.split_s[step.index, leaving] = np.where(timed, latest, np.nan)


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
