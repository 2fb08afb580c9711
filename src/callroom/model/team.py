"""Teams and the athletes in them. Names of people live outside the journal."""

from typing import Literal

import msgspec


class Athlete(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One place in a line-up: ``A``, ``B``, …; `person` is the id of who stands there."""

    place: str
    category: str
    person: str
    reserve: bool = False


class Team(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A team as entered.

    `entry_rank` is the seed the director gives (1 best, None: none); `captain` the person who
    signs and appeals for the team, and to whom letters go (empty: not said).
    """

    id: str
    name: str
    division: str
    athletes: tuple[Athlete, ...] = ()
    entry_rank: int | None = None
    gym: str = ""
    say_it: str = ""
    captain: str = ""

    @property
    def on_floor(self) -> tuple[Athlete, ...]:
        """The athletes of the line-up, without the reserves."""
        return tuple(athlete for athlete in self.athletes if not athlete.reserve)


class LinedUp(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Who stands at a place of a line-up, by the id of the person."""

    place: str
    person: str


class LineUp(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The line-up of a team in one workout, as it was decided on the day.

    A place that nobody has is left out: the team is short-handed. `allowed`: the head judge
    allowed it against the rules, for the `reason`.
    """

    workout: str
    team: str
    seq: int
    at_ms: int
    places: tuple[LinedUp, ...]
    reason: str = ""
    allowed: bool = False


class TeamStatus(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Whether a team is still in the event, and since which entry it is not."""

    status: Literal["withdrawn", "disqualified"]
    since_seq: int
    reason: str = ""
