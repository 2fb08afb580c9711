"""A heat while it has no time yet: who is in it."""

from collections.abc import Iterable

import msgspec


class HeatTeams(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Who is in one heat of one workout.

    Attributes
    ----------
    divisions
        The divisions in it, in the order of the event; more than one in a mixed heat.
    rank
        Where it comes among the heats of its workout with the same divisions, from 1.
    teams
        Best first; in a mixed heat division by division.
    """

    workout: str
    divisions: tuple[str, ...]
    rank: int
    teams: tuple[str, ...]

    @property
    def id(self) -> str:
        """Name of the heat while it has no time yet."""
        return f"{self.workout}/{'+'.join(self.divisions)}/{self.rank}"


def division_row(heats: Iterable[HeatTeams], workout: str, division: str) -> list[HeatTeams]:
    """Return a division's heats of a workout in the order they are run: shared ones first."""
    mine = [heat for heat in heats if heat.workout == workout and division in heat.divisions]
    return sorted(mine, key=lambda heat: (-len(heat.divisions), heat.rank))
