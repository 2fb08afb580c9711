"""A bound on the moves of a day, and prices of plates, by Lagrangian relaxation.

Without the limit on plates every place is a shortest walk by itself. A price on each kind in
each step pays for the limit; whatever the prices, the walks less what the stock earns are a
number that no loading of the day goes below. The prices follow the excess (subgradients,
with the step length of B. T. Polyak, 1969).
"""

import math

import numpy as np

from callroom.planner.plates.grid import MISSED, Grid, Real, Whole, shortest, used

STALE = 12
KEPT = 3
CLOSE = 0.01
"""A loading within this share of the bound is not improved further."""


class Prices:
    """Prices, shape ``(T, D)``, and the bound they prove [moves]."""

    def __init__(self, price: Real, bound: float) -> None:
        """Keep them."""
        self.price = price
        self.bound = bound

    @property
    def least_moves(self) -> int:
        """The bound as a whole number: moves come in twos, one for each sleeve."""
        return 2 * math.ceil((self.bound - 1e-6) / 2)


def find_prices(
    grid: Grid, known: int, rounds: int, start: Prices | None = None
) -> tuple[Prices, list[Whole]]:
    """Return good prices, and the last walks that raised the bound, which may hold too much.

    `known` is the cost of some loading of the day [moves]; `start` are prices to go on from.
    Places that want the same all day long walk alike, so each kind is walked once.
    """
    kinds, kind_of, times = _alike(grid)
    best = start or Prices(np.zeros((grid.problem.steps, len(grid.stock))), -math.inf)
    price = best.price.copy()
    arc, use = grid.arc[:, kinds], grid.use[:, kinds]
    walks: list[Whole] = []
    reach, stale = 1.0, 0
    for _ in range(rounds):
        node = grid.node[:, kinds] + np.einsum("tlkd,td->tlk", use, price)
        walk = shortest(node, arc)
        chosen = walk.chosen[:, kind_of]
        bound = float((walk.cost * times).sum() - (price * grid.stock).sum())
        excess = used(grid, chosen) - grid.stock
        if bound > best.bound + 1e-9:
            best, stale = Prices(price.copy(), bound), 0
            walks.append(chosen)
        else:
            stale += 1
            if stale == STALE:
                reach, stale = reach / 2, 0
                price = best.price.copy()
                continue
        slack = np.where((price <= 0) & (excess < 0), 0, excess)
        length = float((slack**2).sum())
        if length == 0 or close(known, best.least_moves):
            break
        price = np.maximum(price + reach * max(known - bound, 1.0) / length * slack, 0.0)
    return best, walks[-KEPT:]


def close(cost: int, bound: int) -> bool:
    """Return whether nothing worth a search is left between a cost and a bound."""
    return cost - bound <= CLOSE * (cost % MISSED)


def _alike(grid: Grid) -> tuple[list[int], list[int], Whole]:
    """Return a place of each kind, the kind of each place, and how many places a kind has."""
    lanes = range(len(grid.problem.places))
    keys = [tuple(row[lane] for row in grid.states) for lane in lanes]
    names = list(dict.fromkeys(keys))
    kind_of = [names.index(key) for key in keys]
    first = [kind_of.index(kind) for kind in range(len(names))]
    return first, kind_of, np.bincount(kind_of)
