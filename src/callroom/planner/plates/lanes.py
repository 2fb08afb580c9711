"""Place by place: each walks as cheaply as it can through what the others leave."""

from collections.abc import Sequence

import numpy as np

from callroom.planner.plates.fitting import Possible
from callroom.planner.plates.grid import (
    FORBIDDEN,
    Grid,
    Moves,
    Real,
    Whole,
    shortest,
    used,
    walk_cost,
)
from callroom.planner.plates.prices import Prices, close


def biggest_first(grid: Grid) -> Whole:
    """Return the loading of somebody who takes the biggest plates that fit, heat by heat.

    Places in order, each with what is left in that step: the way a day is loaded by hand.
    """
    steps, lanes, _ = grid.node.shape
    chosen = np.zeros((steps, lanes), dtype=np.int64)
    for step in range(steps):
        left = grid.stock.copy()
        for lane in range(lanes):
            states = grid.states[step][lane]
            fitting = [k for k in range(len(states)) if (grid.use[step, lane, k] <= left).all()]
            biggest = min(
                fitting,
                key=lambda k: (
                    grid.node[step, lane, k],
                    grid.bar[step, lane, k] != grid.bar[step - 1, lane, chosen[step - 1, lane]],
                    [-n for n in grid.use[step, lane, k]],
                ),
            )
            chosen[step, lane] = biggest
            left = left - grid.use[step, lane, biggest]
    return chosen


def improve(grid: Grid, chosen: Whole, price: Real | None = None) -> Whole:
    """Return a loading no place of which can be made cheaper by itself, from a possible one.

    With a `price`, shape ``(T, D)``, what is scarce is spared, at the cost of more moves.
    """
    chosen = chosen.copy()
    in_use = used(grid, chosen)
    lanes = chosen.shape[1]
    since = 0
    lane = 0
    while since < lanes:
        own = grid.use[np.arange(chosen.shape[0]), lane, chosen[:, lane]]
        left = grid.stock - (in_use - own)
        node = _open_to(grid, lane, left).astype(np.float64)
        if price is not None:
            node += np.einsum("tkd,td->tk", grid.use[:, lane], price)
        arc = grid.arc[:, lane : lane + 1]
        walk = shortest(node[:, None, :], arc)
        before = _cost(node, arc[:, 0], chosen[:, lane])
        if float(walk.cost[0]) < before - 1e-6:
            chosen[:, lane] = walk.chosen[:, 0]
            in_use = in_use - own + grid.use[np.arange(chosen.shape[0]), lane, chosen[:, lane]]
            since = 0
        since += 1
        lane = (lane + 1) % lanes
    return chosen


def _open_to(grid: Grid, lane: int, left: Whole) -> Whole:
    """Return what the states of a place cost, those forbidden that take more than is left."""
    too_much = (grid.use[:, lane] > left[:, None, :]).any(axis=2)
    return np.where(too_much, FORBIDDEN, grid.node[:, lane])


def _cost(node: Real, arc: Moves, row: Whole) -> float:
    total = float(node[0, row[0]] + arc[0, 0, row[0]])
    for step in range(1, len(row)):
        total += float(node[step, row[step]] + arc[step, row[step - 1], row[step]])
    return total


def begin(grid: Grid, possible: Possible) -> Whole:
    """Return the loading by hand, made possible and improved."""
    return improve(grid, possible.near(biggest_first(grid)))


def better(
    grid: Grid, possible: Possible, best: Whole, prices: Prices, walks: Sequence[Whole]
) -> Whole:
    """Return the cheapest loading found from `best` and from `walks`, with prices and without."""
    for walk in (*walks, best):
        if close(walk_cost(grid, best), prices.least_moves):
            return best
        spared = improve(grid, possible.near(walk), prices.price)
        polished = improve(grid, spared)
        if walk_cost(grid, polished) < walk_cost(grid, best):
            best = polished
    return best
