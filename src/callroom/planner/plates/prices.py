"""A bound on the moves of a day, and prices of plates, by Lagrangian relaxation.

Without the limit on plates every place is a shortest walk by itself. A price on each kind in
each step pays for the limit; whatever the prices, the walks less what the stock earns are a
number that no loading of the day goes below. The prices follow the excess (subgradients,
with the step length of B. T. Polyak, 1969).
"""

import math

import numpy as np

from callroom.planner.plates.grid import Grid, Real, Whole, shortest, used

ROUNDS = 250
STALE = 12


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


def priced(grid: Grid, price: Real) -> Real:
    """Return what being in a state costs with prices, shape ``(T, L, K)``."""
    return np.asarray(grid.node + np.einsum("tlkd,td->tlk", grid.use, price), dtype=np.float64)


def find_prices(grid: Grid, known: int, rounds: int = ROUNDS) -> tuple[Prices, list[Whole]]:
    """Return good prices, and walks met on the way that hold too much in few steps.

    `known` is the cost of some loading of the day [moves].
    """
    price = np.zeros((grid.problem.steps, len(grid.stock)))
    best = Prices(price, -math.inf)
    walks: list[Whole] = []
    reach, stale = 1.0, 0
    for _ in range(rounds):
        walk = shortest(priced(grid, price), grid.arc)
        bound = float(walk.cost.sum() - (price * grid.stock).sum())
        excess = used(grid, walk.chosen) - grid.stock
        if bound > best.bound + 1e-9:
            best, stale = Prices(price.copy(), bound), 0
            walks.append(walk.chosen)
        else:
            stale += 1
            if stale == STALE:
                reach, stale = reach / 2, 0
                price = best.price.copy()
                continue
        slack = np.where((price <= 0) & (excess < 0), 0, excess)
        length = float((slack**2).sum())
        if length == 0 or best.least_moves >= known:
            break
        price = np.maximum(price + reach * max(known - bound, 1.0) / length * slack, 0.0)
    return best, walks[-20:]
