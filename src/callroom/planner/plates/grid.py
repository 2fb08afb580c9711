"""The day as a grid: for every place and step the states it may be in, and what changes cost.

Arrays are filled up to the longest list of states, ``K``; what stands beyond is forbidden by
its cost. ``L`` places, ``T`` steps, ``D`` kinds (plates, then bars).
"""

import numpy as np
from numpy.typing import NDArray

from callroom.planner.plates.problem import PlateProblem, scale_of, wants_by_spot
from callroom.planner.plates.states import BAR_MOVES, NO_BAR, State, Ways

Whole = NDArray[np.int64]
Moves = NDArray[np.int32]
Real = NDArray[np.float64]
MISSED = 100_000
"""What a load that is not reached costs [moves]: more than any day of moves."""
FORBIDDEN = 10**12


class Grid:
    """The question in arrays.

    Attributes
    ----------
    states
        The states of each place and step, a list of lists of tuples.
    node
        What being in a state costs, shape ``(T, L, K)``.
    arc
        What coming from a state of the step before costs, shape ``(T, L, K, K)``; the first
        step comes from no bar at all.
    use
        Pairs and bars that a state holds, shape ``(T, L, K, D)``.
    stock
        Pairs and bars there are, shape ``(D,)``.
    """

    def __init__(self, problem: PlateProblem) -> None:
        """List the states and price the changes."""
        self.problem = problem
        self.ways = Ways(problem.stock, scale_of(problem))
        scale, wanted = scale_of(problem), wants_by_spot(problem)
        self.states: list[list[tuple[State, ...]]] = []
        exact: list[list[tuple[State, ...]]] = [
            [
                self.ways.of(wanted[place, step], scale) if (place, step) in wanted else ()
                for place in problem.places
            ]
            for step in range(problem.steps)
        ]
        for step in range(problem.steps):
            row = []
            for lane, place in enumerate(problem.places):
                if (place, step) in wanted:
                    row.append((*exact[step][lane], self.ways.none))
                else:
                    row.append(_idle(exact, step, lane, self.ways.none))
            self.states.append(row)
        self._price()

    def _price(self) -> None:
        """Fill the arrays."""
        problem, kinds = self.problem, len(self.ways.plates)
        steps, lanes = problem.steps, len(problem.places)
        most = max((len(one) for row in self.states for one in row), default=1)
        bars = len(self.ways.bars)
        self.node = np.full((steps, lanes, most), FORBIDDEN, dtype=np.int64)
        self.use = np.zeros((steps, lanes, most, kinds + bars), dtype=np.int64)
        self.bar = np.full((steps, lanes, most), NO_BAR, dtype=np.int64)
        spots = wants_by_spot(problem)
        for step, row in enumerate(self.states):
            for lane, states in enumerate(row):
                missed = (problem.places[lane], step) in spots
                for k, state in enumerate(states):
                    without = missed and state.bar == NO_BAR
                    self.node[step, lane, k] = MISSED if without else 0
                    self.use[step, lane, k, :kinds] = state.counts
                    self.bar[step, lane, k] = state.bar
                    if state.bar != NO_BAR:
                        self.use[step, lane, k, kinds + state.bar] = 1
        self.stock = np.array(
            [count for _, count in (*problem.stock.pairs, *problem.stock.bars)], dtype=np.int64
        )
        self.arc = np.zeros((steps, lanes, most, most), dtype=np.int32)
        for step in range(steps):
            for lane in range(lanes):
                self.arc[step, lane] = self._changes(step, lane, kinds)

    def _changes(self, step: int, lane: int, kinds: int) -> Whole:
        """Return the moves from each state of the step before to each of this step."""
        after, bar = self.use[step, lane, :, :kinds], self.bar[step, lane]
        if step == 0:
            before, bar_before = np.zeros_like(after), np.full_like(bar, NO_BAR)
        else:
            before, bar_before = self.use[step - 1, lane, :, :kinds], self.bar[step - 1, lane]
        same = before[:, None, :] == after[None, :, :]
        inside = np.ones_like(same)
        inside[:, :, 1:] = np.cumprod(same, axis=2)[:, :, :-1].astype(np.bool_)
        stay = np.where(inside, np.minimum(before[:, None, :], after[None, :, :]), 0).sum(axis=2)
        alike = bar_before[:, None] == bar[None, :]
        stay = np.where(alike, stay, 0)
        plates = 2 * (before.sum(axis=1)[:, None] + after.sum(axis=1)[None, :] - 2 * stay)
        bars = BAR_MOVES * (
            (bar_before[:, None] != NO_BAR).astype(np.int64) + (bar[None, :] != NO_BAR)
        )
        return np.asarray(plates + np.where(alike, 0, bars), dtype=np.int64)


def _idle(
    exact: list[list[tuple[State, ...]]], step: int, lane: int, none: State
) -> tuple[State, ...]:
    """Return what a place may hold while nothing is wanted: what was, what comes, or no bar."""
    before = next((row[lane] for row in reversed(exact[:step]) if row[lane]), ())
    after = next((row[lane] for row in exact[step + 1 :] if row[lane]), ())
    empty = tuple(State(state.bar, none.counts) for state in (*before, *after))
    return tuple(dict.fromkeys((*before, *after, *empty, none)))


class Walk:
    """What shortest walks through the grid say: where each place is, and what it costs."""

    def __init__(self, chosen: Whole, cost: Whole | Real) -> None:
        """Keep `chosen`, shape ``(T, L)``, and the cost of each place, shape ``(L,)``."""
        self.chosen = chosen
        self.cost = cost


def shortest(node: Whole | Real, arc: Moves) -> Walk:
    """Return the cheapest walk of every place by itself.

    Parameters
    ----------
    node, arc
        Costs, shapes ``(T, L, K)`` and ``(T, L, K, K)``.
    """
    steps, lanes, most = node.shape
    came = np.zeros((steps, lanes, most), dtype=np.int64)
    value = node[0] + arc[0].min(axis=1)
    for step in range(1, steps):
        total = value[:, :, None] + arc[step]
        came[step] = total.argmin(axis=1)
        value = np.take_along_axis(total, came[step][:, None, :], axis=1)[:, 0, :] + node[step]
    chosen = np.zeros((steps, lanes), dtype=np.int64)
    chosen[-1] = value.argmin(axis=1)
    cost = value.min(axis=1)
    row = np.arange(lanes)
    for step in range(steps - 1, 0, -1):
        chosen[step - 1] = came[step, row, chosen[step]]
    return Walk(chosen, cost)


def walk_cost(grid: Grid, chosen: Whole) -> int:
    """Return the moves of a walk of all places, misses included."""
    row = np.arange(chosen.shape[1])
    total = int(grid.node[0, row, chosen[0]].sum() + grid.arc[0, row, 0, chosen[0]].sum())
    for step in range(1, chosen.shape[0]):
        total += int(grid.node[step, row, chosen[step]].sum())
        total += int(grid.arc[step, row, chosen[step - 1], chosen[step]].sum())
    return total


def used(grid: Grid, chosen: Whole) -> Whole:
    """Return the pairs and bars in use in each step, shape ``(T, D)``."""
    steps, lanes = chosen.shape
    held = grid.use[np.arange(steps)[:, None], np.arange(lanes)[None, :], chosen]
    return np.asarray(held.sum(axis=1), dtype=np.int64)
