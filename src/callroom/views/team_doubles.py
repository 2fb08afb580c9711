"""Teams or people that may have been entered twice: found for the director, refused to nobody."""

import unicodedata
from collections.abc import Iterator, Mapping
from typing import Literal

import msgspec

from callroom.model import State, Team
from callroom.model.person import Person


class Double(msgspec.Struct, frozen=True, kw_only=True):
    """Two teams that look alike: by their ``name``, or a `person` who seems to be in both."""

    what: Literal["name", "person"]
    team: str
    other: str
    person: str = ""


def plain(text: str) -> str:
    """Return a name as it is compared: without accents, signs, capitals or double spaces."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    kept = "".join(
        sign if sign.isalnum() or sign.isspace() else " "
        for sign in parts
        if not unicodedata.combining(sign)
    )
    return " ".join(kept.split())


def team_doubles(state: State, people: Mapping[str, Person]) -> tuple[Double, ...]:
    """Return every pair of teams, in the event or waiting, that may be one entered twice.

    People are alike by name and birth date, or by name and e-mail address: a name alone is no
    proof.
    """
    waiting = (one.team for one in state.enrolments.values() if one.status == "waiting")
    staying = (team for team in state.teams.values() if team.id not in state.team_status)
    teams = tuple({team.id: team for team in (*staying, *waiting)}.values())
    return tuple(_doubles(teams, people))


def _doubles(teams: tuple[Team, ...], people: Mapping[str, Person]) -> Iterator[Double]:
    names: dict[str, str] = {}
    seen: dict[tuple[str, str], str] = {}
    told: set[tuple[str, str, str]] = set()
    for team in teams:
        name = plain(team.name)
        first = names.setdefault(name, team.id)
        if name and first != team.id:
            yield Double(what="name", team=team.id, other=first)
        for athlete in team.athletes:
            person = people.get(athlete.person)
            for mark in _marks(athlete.person, person):
                other = seen.setdefault(mark, team.id)
                case = (team.id, other, athlete.person)
                if other != team.id and case not in told:
                    told.add(case)
                    yield Double(what="person", team=team.id, other=other, person=athlete.person)


def _marks(person_id: str, person: Person | None) -> Iterator[tuple[str, str]]:
    yield ("", person_id)
    if person is None or not plain(person.name):
        return
    name = plain(person.name)
    if person.birth_date is not None:
        yield (name, person.birth_date.isoformat())
    if person.email:
        yield (name, person.email.strip().casefold())
