"""What is asked at the check-in and on the morning, each as the request it makes."""

from callroom.actions.request import Request, propose
from callroom.journal.entries import check_in_bodies as bodies
from callroom.journal.entries import money_bodies
from callroom.model.check_in import SignedBy
from callroom.model.going import Verdict
from callroom.model.money import Received


def note_here(team: str, people: tuple[str, ...], *, here: bool = True) -> Request:
    """Say that athletes of a team are here, or are not after all."""
    return propose(bodies.AthletesHere(team=team, people=people, here=here))


def check_in_whole(team: str, people: tuple[str, ...]) -> Request:
    """Say that these athletes are here and that the team has its pack, both or neither."""
    return propose(
        bodies.AthletesHere(team=team, people=people), bodies.PackGiven(team=team, given=True)
    )


def give_pack(team: str, *, given: bool = True) -> Request:
    """Say that a team was given its pack, or was not after all."""
    return propose(bodies.PackGiven(team=team, given=given))


def sign_paper(team: str, person: str, by: SignedBy, *, signed: bool = True) -> Request:
    """Say that an athlete or their guardian signed on paper, or did not after all."""
    return propose(bodies.PaperSigned(team=team, person=person, by=by, signed=signed))


def take_fee(deed: Received) -> Request:
    """Book what a team paid at the check-in; the rule knows what it still owes."""
    return propose(money_bodies.MoneyBooked(booked=deed))


def decide_go(verdict: Verdict, reason: str, still_open: tuple[str, ...]) -> Request:
    """Let the day begin, or not, with these points open."""
    return propose(bodies.GoDecided(verdict=verdict, reason=reason, open=still_open))


def take_book() -> Request:
    """Take the book to the hall: here it takes nothing until it is back."""
    return propose(bodies.BookTaken())


def keep_book() -> Request:
    """Go on here: the book was not taken to the hall after all."""
    return propose(bodies.BookStayed())
