"""The crew, changed by hand one volunteer at a time."""

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import BadInput, CrewMember, Refusal, State, errors_among
from callroom.model.checking import check_teams


def set_member(state: State, member: CrewMember, seen: int) -> Request:
    """Return the request that lists or changes a volunteer, who was last changed by entry `seen`.

    Raises
    ------
    BadInput
        With everything that does not fit the event and its teams.
    """
    if state.event is None:
        raise Refusal("book.no_event")
    faults = [
        one
        for one in errors_among(check_teams(state.event, tuple(state.teams.values()), (member,)))
        if one.subject == f"crew.{member.person}"
    ]
    if faults:
        raise BadInput(tuple(faults))
    return propose(bodies.CrewSet(member=member), basis={f"crew:{member.person}": seen})


def member_left(state: State, person: str) -> Request:
    """Return the request that takes a volunteer, as they stand in `state`, off the list."""
    return propose(
        bodies.CrewLeft(person=person),
        basis={f"crew:{person}": state.subjects.get(f"crew:{person}", 0)},
    )
