"""What the book holds of each person, why, and until when."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Literal

import msgspec

from callroom.model import Event, State, wall_time
from callroom.model.person import EVERYONE, Person
from callroom.views.account_book import people_in

Reason = Literal["athlete", "crew", "offered", "money", "other"]


class Tie(msgspec.Struct, frozen=True, kw_only=True):
    """Why a person is known: as an athlete of `team`, of the crew, as somebody who offered to help, for the accounts, or no more."""

    reason: Reason
    team: str = ""


class Held(msgspec.Struct, frozen=True, kw_only=True):
    """What is held of one person; `fields` are the names of what is filled in beside the name."""

    id: str
    name: str
    ties: tuple[Tie, ...]
    fields: tuple[str, ...]

    @property
    def for_money(self) -> bool:
        """Whether the accounts speak of them."""
        return any(tie.reason == "money" for tie in self.ties)


_FIELDS = (
    "email",
    "phone",
    "birth_date",
    "emergency_contact",
    "waiver",
    "medical_note",
    "agreed",
    "guardian",
    "shirt",
)


def held(state: State, people: Mapping[str, Person]) -> tuple[Held, ...]:
    """Return everybody the book knows, by name."""
    ties: dict[str, list[Tie]] = {}
    for id_, tie in _ties(state):
        known = ties.setdefault(id_, [])
        if tie not in known:
            known.append(tie)
    found = [
        Held(
            id=id_,
            name=person.name,
            ties=tuple(ties.get(id_, [Tie(reason="other")])),
            fields=tuple(name for name in _FIELDS if getattr(person, name)),
        )
        for id_, person in people.items()
    ]
    return tuple(sorted(found, key=lambda one: (one.name.casefold(), one.id)))


def erase_on(event: Event) -> date | None:
    """Return the day on which everything personal is erased; None: the director does it."""
    days = event.rules.keep_people_days
    return None if days is None else _last_day(event) + timedelta(days=days)


def _last_day(event: Event) -> date:
    ends_s = max((day.closes_s for day in event.wishes.days), default=0)
    return wall_time(event.instant(ends_s), event.zone).date()


def erased_for_good(state: State) -> int | None:
    """Return the entry by which everybody was erased, None if that was not done."""
    return state.erased.get(EVERYONE)


def _ties(state: State) -> Iterator[tuple[str, Tie]]:
    for team in state.teams.values():
        for athlete in team.athletes:
            yield athlete.person, Tie(reason="athlete", team=team.id)
    for enrolment in state.enrolments.values():
        for athlete in enrolment.team.athletes:
            yield athlete.person, Tie(reason="athlete", team=enrolment.team.id)
    for id_ in state.crew:
        yield id_, Tie(reason="crew")
    for id_ in state.offers:
        yield id_, Tie(reason="offered")
    for id_ in people_in(state):
        yield id_, Tie(reason="money")
