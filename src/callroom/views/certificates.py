"""Certificates: one for each team that finished, with who stood on the floor for it."""

from collections.abc import Mapping

import msgspec

from callroom.model import NotFound, State
from callroom.model.person import Person
from callroom.views.masthead import Masthead, masthead
from callroom.views.standings import standings
from callroom.views.timetable import Audience


class Certificate(msgspec.Struct, frozen=True, kw_only=True):
    """A team's certificate: its place among `teams` of its division (None: took part)."""

    team: str
    name: str
    division: str
    place: int | None
    shared: bool
    teams: int
    athletes: tuple[str, ...]


class Certificates(msgspec.Struct, frozen=True, kw_only=True):
    """The certificates of an event, division by division, best first."""

    masthead: Masthead
    certificates: tuple[Certificate, ...]


def certificates(
    state: State, audience: Audience, people: Mapping[str, Person], team: str = ""
) -> Certificates:
    """Return the certificates of every team, or of one. A name that was erased is left out.

    Raises
    ------
    NotFound
        Without an event or a published plan, or if there is no such team.
    """
    head = masthead(state)
    if team and team not in state.teams:
        raise NotFound("team.unknown", team=team)
    divisions = state.event.divisions if state.event is not None else ()
    made = []
    for division in divisions:
        table = standings(state, division.id, audience)
        ranked = sum(row.place is not None for row in table.rows)
        made += [
            Certificate(
                team=row.team,
                name=row.name,
                division=division.name,
                place=row.place if row.standing == "ranked" else None,
                shared=row.shared,
                teams=ranked,
                athletes=_names(state, row.team, people),
            )
            for row in table.rows
            if team in {"", row.team} and row.status != "disqualified"
        ]
    return Certificates(masthead=head, certificates=tuple(made))


def _names(state: State, team: str, people: Mapping[str, Person]) -> tuple[str, ...]:
    known = (people.get(athlete.person) for athlete in state.teams[team].athletes)
    return tuple(person.name for person in known if person is not None and person.name.strip())
