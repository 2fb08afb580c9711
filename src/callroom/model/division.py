"""Divisions: who competes against whom, and how a team is made up."""

import msgspec


class Category(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One of the classes a team is composed of, for example women and men."""

    id: str
    name: str


class CategoryCount(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How many athletes of one category a team has."""

    category: str
    count: int


class Division(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A group of teams ranked together.

    `make_up` gives the athletes on the floor by category; `reserves` how many more a
    squad may name; `team_limit` the most teams (0: no limit).
    """

    id: str
    name: str
    make_up: tuple[CategoryCount, ...]
    reserves: int = 0
    team_limit: int = 0

    @property
    def team_size(self) -> int:
        """Athletes of one team on the floor."""
        return sum(part.count for part in self.make_up)
