"""One step at a time: every place the load it wants from what there is, or as many as can be.

Whether the plates are enough is a question of each step by itself; what the changes cost is
looked at afterwards.
"""

import numpy as np

from callroom.planner.plates.grid import Grid, Whole, used
from callroom.planner.plates.states import NO_BAR

MOST_TRIED = 3000
"""Choices tried for one number of misses before one more is allowed."""


class Fitting:
    """The search of one step: places with the fewest ways first, misses last."""

    def __init__(self, grid: Grid, step: int, wished: Whole) -> None:
        """Prefer what is near `wished`, the states of the places, shape ``(L,)``."""
        self._use = grid.use[step]
        lanes = self._use.shape[0]
        self._none = [len(states) - 1 for states in grid.states[step]]
        self._ways: list[list[int]] = []
        for lane in range(lanes):
            states = range(len(grid.states[step][lane]))
            far = np.abs(self._use[lane] - self._use[lane, wished[lane]]).sum(axis=1)
            loaded = [k for k in states if grid.bar[step, lane, k] != NO_BAR]
            self._ways.append(sorted(loaded, key=lambda k: (k != wished[lane], int(far[k]))))
        idle = grid.node[step, np.arange(lanes), self._none] == 0
        self._idle = [bool(one) for one in idle]
        self._order = sorted(range(lanes), key=lambda lane: len(self._ways[lane]))
        self._chosen = wished.copy()
        self._tried = 0

    def run(self, stock: Whole, least: int) -> tuple[Whole, int]:
        """Return a state for each place and the misses, from `least` on as few as will do."""
        for misses in range(least, len(self._order) + 1):
            self._tried = 0
            if self._place(0, stock, misses):
                return self._chosen, misses
        raise AssertionError("nothing at all fits, not even no bar")

    def _place(self, depth: int, left: Whole, misses: int) -> bool:
        if depth == len(self._order):
            return True
        lane = self._order[depth]
        fits = (self._use[lane] <= left).all(axis=1)
        for k in self._ways[lane]:
            if not fits[k]:
                continue
            self._tried += 1
            if self._tried > MOST_TRIED:
                return False
            rest = left - self._use[lane, k]
            if self._hopeless(depth + 1, rest, misses):
                continue
            self._chosen[lane] = k
            if self._place(depth + 1, rest, misses):
                return True
        if self._idle[lane] or misses:
            self._chosen[lane] = self._none[lane]
            return self._place(depth + 1, left, misses - (not self._idle[lane]))
        return False

    def _hopeless(self, depth: int, left: Whole, misses: int) -> bool:
        """Return whether more places than may be missed have no way left."""
        stuck = 0
        for lane in self._order[depth:]:
            ways = self._ways[lane]
            if not self._idle[lane] and not (self._use[lane, ways] <= left).all(axis=1).any():
                stuck += 1
                if stuck > misses:
                    return True
        return False


class Possible:
    """Makes loadings possible, and remembers how many misses each step cannot do without."""

    def __init__(self, grid: Grid) -> None:
        """Start knowing nothing."""
        self._grid = grid
        self._least = [0] * grid.problem.steps

    def near(self, wished: Whole) -> Whole:
        """Return a loading the stock allows, near `wished`, step by step; shape ``(T, L)``."""
        grid, chosen = self._grid, wished.copy()
        steps, lanes = chosen.shape
        over = np.asarray((used(grid, wished) > grid.stock).any(axis=1))
        spots = np.arange(steps)[:, None], np.arange(lanes)[None, :]
        misses = np.asarray((grid.node[*spots, wished] > 0).sum(axis=1))
        for step in range(steps):
            if over[step] or misses[step] > self._least[step]:
                fitting = Fitting(grid, step, wished[step])
                chosen[step], self._least[step] = fitting.run(grid.stock, self._least[step])
        return chosen
