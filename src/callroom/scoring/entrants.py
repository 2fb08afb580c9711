"""Entrants: the teams of a division, and whether each one takes places."""

from collections.abc import Iterable, Mapping
from typing import Literal

import msgspec

from callroom.model import Division, Rules, Team, TeamStatus

EntrantStatus = Literal["in", "withdrawn", "disqualified", "out_of_competition"]


class Entrant(msgspec.Struct, frozen=True, gc=False):
    """A team in its division.

    `takes_places`: its results take places from others. A team that left keeps them or
    not, as the rules of the event say; one out of competition is shown and takes none.
    """

    team: str
    status: EntrantStatus
    takes_places: bool


def entrants(
    division: Division,
    teams: Iterable[Team],
    statuses: Mapping[str, TeamStatus],
    rules: Rules,
) -> tuple[Entrant, ...]:
    """Return the entrants of `division` in the order of their ids."""
    mine = sorted(
        (team for team in teams if team.division == division.id), key=lambda team: team.id
    )
    return tuple(_entrant(division, team, statuses.get(team.id), rules) for team in mine)


def short_handed(division: Division, team: Team) -> bool:
    """Return whether a team has fewer athletes on the floor than its division wants.

    A team without any line-up has not entered it yet and is not short-handed.
    """
    return bool(team.athletes) and len(team.on_floor) < division.team_size


def _entrant(division: Division, team: Team, left: TeamStatus | None, rules: Rules) -> Entrant:
    if left is not None and left.status == "disqualified":
        keeps = rules.after_disqualification == "keep"
        return Entrant(team.id, "disqualified", takes_places=keeps)
    if rules.short_handed == "unranked" and short_handed(division, team):
        return Entrant(team.id, "out_of_competition", takes_places=False)
    withdrawn = rules.short_handed == "withdrawn" and short_handed(division, team)
    if left is not None or withdrawn:
        return Entrant(team.id, "withdrawn", takes_places=rules.after_withdrawal == "keep")
    return Entrant(team.id, "in", takes_places=True)
