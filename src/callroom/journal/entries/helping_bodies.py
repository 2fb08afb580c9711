"""What entries about helping carry: ids of people, never what they are called."""

from typing import Literal

from callroom.journal.entries.bodies import Body
from callroom.model import CrewMember
from callroom.model.helping import Helping


class HelpingSet(Body, frozen=True):
    """Whether people may sign up to help from now on."""

    helping: Helping


class HelpOffered(Body, frozen=True):
    """Somebody offered to help, and agreed that their details are kept."""

    member: CrewMember


class OfferEnded(Body, frozen=True):
    """An offer waits no more; who was accepted is listed by an entry of its own."""

    person: str
    how: Literal["accepted", "declined"]
