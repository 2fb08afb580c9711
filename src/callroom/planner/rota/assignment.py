"""The assignment problem: each row one column, none twice, at the least cost."""

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
FAR = np.iinfo(np.int64).max // 4


def assign(costs: Whole) -> tuple[int, ...]:
    """Return the column of each row in an assignment of least total cost.

    By shortest augmenting paths with prices, one row after the other; exact. The method is
    H. W. Kuhn's, "The Hungarian method for the assignment problem", 1955, in the form of
    R. Jonker and A. Volgenant, "A shortest augmenting path algorithm …", 1987.

    Parameters
    ----------
    costs
        Whole numbers, shape ``(rows, columns)``, with no more rows than columns.
    """
    rows, columns = costs.shape
    if rows > columns:
        raise ValueError(f"{rows} rows cannot each have one of {columns} columns")
    search = _Search(costs)
    for row in range(rows):
        search.add(row)
    return tuple(search.column_of.tolist())


class _Search:
    """An optimal assignment of the rows added so far, with the prices that prove it."""

    def __init__(self, costs: Whole) -> None:
        rows, columns = costs.shape
        self._costs = costs
        self._row_price = np.zeros(rows, dtype=np.int64)
        self._column_price = np.zeros(columns, dtype=np.int64)
        self._row_of = np.full(columns, -1, dtype=np.int64)
        self.column_of = np.full(rows, -1, dtype=np.int64)

    def add(self, first: int) -> None:
        """Give `first` a column, moving other rows where that is cheaper."""
        columns = self._costs.shape[1]
        distance = np.full(columns, FAR, dtype=np.int64)
        came_from = np.full(columns, -1, dtype=np.int64)
        closed = np.zeros(columns, dtype=np.bool_)
        row, low = first, np.int64(0)
        while True:
            reduced = self._costs[row] - self._row_price[row] - self._column_price + low
            nearer = ~closed & (reduced < distance)
            distance[nearer] = reduced[nearer]
            came_from[nearer] = row
            column = int(np.where(closed, FAR, distance).argmin())
            low = distance[column]
            if self._row_of[column] < 0:
                break
            closed[column] = True
            row = int(self._row_of[column])
        slack = low - distance[closed]
        self._row_price[first] += low
        self._row_price[self._row_of[closed]] += slack
        self._column_price[closed] -= slack
        self._turn(column, came_from, first)

    def _turn(self, column: int, came_from: Whole, first: int) -> None:
        """Move the rows along the path found, from its free end back to `first`."""
        while True:
            row = int(came_from[column])
            self._row_of[column] = row
            self.column_of[row], column = column, int(self.column_of[row])
            if row == first:
                return
