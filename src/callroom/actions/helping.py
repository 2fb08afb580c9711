"""What is asked about helping: opening the sign-up, offering, accepting and declining."""

from callroom.actions.crew_list import set_member
from callroom.actions.request import Request, propose
from callroom.journal.entries import helping_bodies as bodies
from callroom.model import CrewMember, State
from callroom.model.helping import Helping


def set_helping(helping: Helping) -> Request:
    """Open or close the sign-up."""
    return propose(bodies.HelpingSet(helping=helping))


def offer_help(member: CrewMember) -> Request:
    """Offer to help; the director answers."""
    return propose(bodies.HelpOffered(member=member))


def accept_offer(state: State, person: str, member: CrewMember) -> Request:
    """Take somebody on who offered as `person`, listed as `member`.

    Raises
    ------
    BadInput
        If it does not fit the event and its teams any more.
    """
    asked = set_member(state, member, state.subjects.get(f"crew:{member.person}", 0))
    ended = bodies.OfferEnded(person=person, how="accepted")
    return propose(*asked.proposals, ended, basis=asked.basis)


def decline_offer(person: str) -> Request:
    """Tell the list that an offer is not taken."""
    return propose(bodies.OfferEnded(person=person, how="declined"))
