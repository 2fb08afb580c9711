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


class MovementRule(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a division allows or bars, whatever the workout: a movement, or one variation of it.

    Without a `variation` it is the movement that is barred; one that is not barred is allowed.
    """

    movement: str
    variation: str = ""
    allowed: bool = False


class Division(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A group of teams ranked together.

    `make_up` gives the athletes on the floor by category; `reserves` how many more a
    squad may name; `team_limit` the most teams (0: no limit); `movement_rules` what its
    teams may not do at all, and which variations they may or may not use in every workout.
    """

    id: str
    name: str
    make_up: tuple[CategoryCount, ...]
    reserves: int = 0
    team_limit: int = 0
    movement_rules: tuple[MovementRule, ...] = ()

    def bars(self, movement: str) -> bool:
        """Whether teams of this division may not do a movement at all."""
        return any(
            rule.movement == movement and not rule.variation and not rule.allowed
            for rule in self.movement_rules
        )

    @property
    def team_size(self) -> int:
        """Athletes of one team on the floor."""
        return sum(part.count for part in self.make_up)
