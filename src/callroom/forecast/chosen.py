"""The athletes whose turn it is: one row of every array, or one cell of each column."""

from typing import Protocol

from callroom.forecast.arrays import Floats, Ints

Here = slice | Ints
"""Columns of teams: all of them (``slice(None)``, which copies nothing), or those listed."""

ALL = slice(None)


class Chosen(Protocol):
    """Reads and writes the values of the chosen in arrays ``(athletes, teams)``."""

    def get(self, array: Floats) -> Floats:
        """Return the values of the chosen, not to be changed in place."""

    def put(self, array: Floats, values: Floats) -> None:
        """Write the values of the chosen."""

    def add(self, array: Floats, values: Floats) -> None:
        """Add to the values of the chosen."""

    def of_place(self, column: Floats) -> Floats | float:
        """Return what is the same for all teams, of an array ``(athletes, 1)``."""


class ChosenOne(Chosen, Protocol):
    """One athlete of each team."""

    def across(self, size: int) -> "ChosenOne":
        """Return who stands half the line-up of `size` athletes further on."""


class Row:
    """The same place of the line-up in all teams of `here`."""

    def __init__(self, place: int, here: Here) -> None:
        """Choose `place` in the teams `here`."""
        self.place = place
        self.here = here

    def get(self, array: Floats) -> Floats:
        """Return the values of the row; all of it is no copy."""
        values: Floats = array[self.place][self.here]
        return values

    def put(self, array: Floats, values: Floats) -> None:
        """Write the values of the row."""
        array[self.place][self.here] = values

    def add(self, array: Floats, values: Floats) -> None:
        """Add to the values of the row."""
        array[self.place][self.here] += values

    def of_place(self, column: Floats) -> float:
        """Return the one value of the place."""
        return float(column[self.place, 0])

    def across(self, size: int) -> "Row":
        """Return the place half the line-up further on."""
        return Row((self.place + size // 2) % size, self.here)


class Rows:
    """All places of the line-up in the teams of `here`, ``(athletes, here)``."""

    def __init__(self, here: Here) -> None:
        """Choose everybody in the teams `here`."""
        self.here = here

    def get(self, array: Floats) -> Floats:
        """Return the values; all of them are no copy."""
        return array if isinstance(self.here, slice) else array.take(self.here, axis=1)

    def put(self, array: Floats, values: Floats) -> None:
        """Write the values."""
        array[:, self.here] = values

    def add(self, array: Floats, values: Floats) -> None:
        """Add to the values."""
        array[:, self.here] += values

    def of_place(self, column: Floats) -> Floats:
        """Return the value of every place, ``(athletes, 1)``."""
        return column


class Cells:
    """Another place in every team: `who` in the teams `here`; also several, ``(group, here)``."""

    def __init__(self, who: Ints, here: Ints, teams: int) -> None:
        """Choose `who` in the teams `here` of `teams` in all."""
        self.who = who
        self.here = here
        self.teams = teams
        self.cell = who * teams + here

    def get(self, array: Floats) -> Floats:
        """Return a copy of the values."""
        return array.ravel().take(self.cell)

    def put(self, array: Floats, values: Floats) -> None:
        """Write the values."""
        array.ravel()[self.cell] = values

    def add(self, array: Floats, values: Floats) -> None:
        """Add to the values; nobody is chosen twice."""
        array.ravel()[self.cell] += values

    def of_place(self, column: Floats) -> Floats:
        """Return the value of everybody's place."""
        return column.ravel().take(self.who)

    def across(self, size: int) -> "Cells":
        """Return who stands half the line-up further on in each team."""
        return Cells((self.who + size // 2) % size, self.here, self.teams)
