"""Who is who: the same person in two files, or in the same file loaded again, has one id."""

from collections.abc import Collection, Iterable, Mapping
from types import MappingProxyType

import msgspec

from callroom.model import CrewMember, Team
from callroom.model.person import Person

NOBODY: Mapping[str, Person] = MappingProxyType({})


class Known(msgspec.Struct, frozen=True, kw_only=True):
    """What the book holds already, so that loading a file again changes no id."""

    teams: tuple[Team, ...] = ()
    crew: tuple[CrewMember, ...] = ()
    people: Mapping[str, Person] = NOBODY


NOTHING_KNOWN = Known()


class Entrants:
    """The people of a file, each under the id they have or get.

    An id given in the file is taken as it is. Without one, a person is known again by name
    within their team; else by name together with e-mail or birth date; else they are new.
    A name alone is no proof: two people may share it.
    """

    def __init__(self, known: Known) -> None:
        self.people: dict[str, Person] = {}
        self._known = known.people
        self._taken = {athlete.person for team in known.teams for athlete in team.athletes}
        self._taken |= {member.person for member in known.crew} | set(known.people)

    def enter(self, given_id: str, person: Person, team: Team | None = None) -> str:
        """Return the id of `person`, keeping what the file says of them.

        Parameters
        ----------
        given_id
            The id in the file, or an empty text.
        person
            What the file says.
        team
            The team they are in, as the book knows it, if it does.
        """
        found = given_id or self.in_team(person.name, team) or self._by_details(person)
        person_id = found or next_free("P", 3, self._taken)
        self._taken.add(person_id)
        before = self._person(person_id)
        self.people[person_id] = person if before is None else _together(before, person)
        return person_id

    def in_team(self, name: str, team: Team | None) -> str:
        """Return the id of the one athlete of `team` with this name, else an empty text."""
        ids = () if team is None else tuple(athlete.person for athlete in team.athletes)
        return self._only(id_ for id_ in ids if self._is_called(id_, name))

    def _by_details(self, person: Person) -> str:
        ids = dict.fromkeys((*self._known, *self.people))
        return self._only(
            id_
            for id_ in ids
            if self._is_called(id_, person.name) and _shares_detail(self._person(id_), person)
        )

    def _is_called(self, person_id: str, name: str) -> bool:
        person = self._person(person_id)
        return person is not None and plain_name(person.name) == plain_name(name)

    def _person(self, person_id: str) -> Person | None:
        return self.people.get(person_id) or self._known.get(person_id)

    @staticmethod
    def _only(ids: Iterable[str]) -> str:
        found = tuple(ids)
        return found[0] if len(found) == 1 else ""


def plain_name(name: str) -> str:
    """Return a name as it is compared."""
    return " ".join(name.split()).casefold()


def _shares_detail(one: Person | None, other: Person) -> bool:
    if one is None:
        return False
    email = bool(one.email) and one.email.casefold() == other.email.casefold()
    return email or (one.birth_date is not None and one.birth_date == other.birth_date)


def _together(before: Person, now: Person) -> Person:
    """Return `before` with what the file says now; an empty cell erases nothing."""
    said = {
        field: value
        for field in now.__struct_fields__
        if (value := getattr(now, field)) not in {"", None} and (value or field != "minor")
    }
    return msgspec.structs.replace(before, **said)


def next_free(letter: str, digits: int, taken: Collection[str]) -> str:
    """Return the first id after `letter` that is not taken: ``"P001"``, ``"T07"``."""
    number = 1
    while f"{letter}{number:0{digits}}" in taken:
        number += 1
    return f"{letter}{number:0{digits}}"
