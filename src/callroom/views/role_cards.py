"""What the cards of the roles take from the event: where phones join, whom to ask, where help is."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, get_args

import msgspec

from callroom.model import State
from callroom.model.person import Person
from callroom.views.masthead import Masthead, masthead_of

CardRole = Literal["judge", "desk", "floor", "announcer", "check_in"]
CARD_ROLES: tuple[CardRole, ...] = get_args(CardRole)

# More names than these are no help to somebody who looks for one person.
_MOST_NAMES = 3


class RoleCards(msgspec.Struct, frozen=True, kw_only=True):
    """What all cards share. An empty text or no name: not known, and left to be written in.

    `join` is the address at which a phone types its code; `heads` are the names of the head judges,
    `managers` of the floor managers, in the order of their first shift.
    """

    masthead: Masthead
    join: str = ""
    heads: tuple[str, ...] = ()
    managers: tuple[str, ...] = ()
    emergency_number: str = ""
    first_aid_place: str = ""
    aed_place: str = ""


def role_cards(state: State, people: Mapping[str, Person] = MappingProxyType({})) -> RoleCards:
    """Return the facts of the cards, before there is a plan, crew or safety plan as well.

    `people` are those whose names may be shown.

    Raises
    ------
    NotFound
        Without an event.
    """
    address = state.event.address.rstrip("/") if state.event is not None else ""
    return RoleCards(
        masthead=masthead_of(state),
        join=f"{address}/join" if address else "",
        heads=_holders(state, "head_judge", people),
        managers=_holders(state, "floor", people),
        emergency_number=state.safety.emergency_number,
        first_aid_place=state.safety.first_aid_place,
        aed_place=state.safety.aed_place,
    )


def _holders(state: State, post: str, people: Mapping[str, Person]) -> tuple[str, ...]:
    """Return who holds a post by the rota; before there is one, who can hold it."""
    if state.rota is not None:
        shifts = sorted(state.rota.shifts, key=lambda one: (one.start_s, one.id))
        held = [state.rota.holder_of(one.id) for one in shifts if one.post == post]
    else:
        held = [one.person for one in state.crew.values() if post in one.posts]
    known = dict.fromkeys(people[one].name for one in held if one is not None and one in people)
    return tuple(known)[:_MOST_NAMES]
