"""Chances of the podium as they are shown: in a hundred, and as stretches of a bar."""

import msgspec


class TeamChances(msgspec.Struct, frozen=True, kw_only=True):
    """In how many of 1000 plays a team ended in place 1, 2 and 3."""

    team: str
    name: str
    places: tuple[int, int, int]

    @property
    def podium(self) -> int:
        """In how many of 1000 plays it was among the first three."""
        return sum(self.places)

    @property
    def stretches(self) -> tuple[tuple[int, int], ...]:
        """Where each place begins on a bar of 1000, and how long it is."""
        first, second, third = self.places
        return ((0, first), (first, second), (first + second, third))


class PlayedChances(msgspec.Struct, frozen=True, kw_only=True):
    """What playing the rest of the day many times gave: see :mod:`callroom.scoring.odds`."""

    draws: int
    in_common_percent: int
    to_come: tuple[tuple[str, str], ...]
    teams: tuple[TeamChances, ...]


def in_hundred(permille: int) -> str:
    """Return a share in a hundred, never rounded to none or to all."""
    if not permille:
        return "0"
    if permille < 10:
        return "<1"
    if 990 < permille < 1000:
        return ">99"
    return str(round(permille / 10))
