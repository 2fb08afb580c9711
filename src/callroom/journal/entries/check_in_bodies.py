"""What entries about the check-in and the morning carry: ids of people, nobody's name."""

from typing import Annotated

import msgspec

from callroom.journal.entries.bodies import Body
from callroom.model.check_in import SignedBy
from callroom.model.going import Verdict

Reason = Annotated[str, msgspec.Meta(max_length=300)]


class AthletesHere(Body, frozen=True):
    """These athletes of a team are here, or (`here` false) are not after all."""

    team: str
    people: tuple[str, ...]
    here: bool = True


class PackGiven(Body, frozen=True):
    """A team was given its pack, or (`given` false) was not after all."""

    team: str
    given: bool = True


class PaperSigned(Body, frozen=True):
    """An athlete, or their guardian, signed on paper; or (`signed` false) did not after all."""

    team: str
    person: str
    by: SignedBy = "self"
    signed: bool = True


class GoDecided(Body, frozen=True):
    """The director lets the day begin, or does not, with these points open."""

    verdict: Verdict
    reason: Reason = ""
    open: tuple[str, ...] = ()


class BookTaken(Body, frozen=True):
    """The book goes to the hall: here it takes nothing until it is back."""


class BookStayed(Body, frozen=True):
    """The book was not taken to the hall after all; it goes on here."""
