"""Rules for the check-in, the morning's decision and a book that goes to the hall.

What two people see of one team at once never contradicts itself: who is here adds up, a pack
given twice is a pack given. Only money is counted, so only a fee can be refused the second time.
"""

from callroom.actions.case import Case, need_reason
from callroom.funds import asked_of, paid_by
from callroom.journal.entries import check_in_bodies as bodies
from callroom.model import NotAllowed, Refusal
from callroom.model.money import AnyDeed, Budget, Received


def athletes_here(case: Case, body: bodies.AthletesHere) -> None:
    """Some of the squad of a team that is in."""
    _need_squad(case, body.team, body.people)


def pack_given(case: Case, body: bodies.PackGiven) -> None:
    """A pack for a team that is in."""
    _need_squad(case, body.team, ())


def paper_signed(case: Case, body: bodies.PaperSigned) -> None:
    """One of the squad of a team that is in."""
    _need_squad(case, body.team, (body.person,))


def go_decided(case: Case, body: bodies.GoDecided) -> None:
    """A go with nothing open; anything else says which points, or why."""
    del case
    if body.verdict == "go" and body.open:
        raise Refusal("go.points_open", count=len(body.open))
    if body.verdict == "no_go":
        need_reason(body.reason)


def book_taken(case: Case, body: bodies.BookTaken) -> None:
    """A book that is here."""
    del body
    if case.state.away is not None:
        raise Refusal("book.away")


def book_stayed(case: Case, body: bodies.BookStayed) -> None:
    """A book that was taken."""
    del body
    if case.state.away is None:
        raise Refusal("book.is_here")


def need_fee_at_check_in(case: Case, deed: AnyDeed) -> None:
    """Let others than the director book one thing only: cash for what a team still owes.

    Of two people who take one fee at the same moment, the second is told that it is paid.
    """
    if not isinstance(deed, Received) or not deed.team or deed.goods or deed.promise is not None:
        raise NotAllowed("check_in.fee_only", role=case.actor.role)
    budget = case.state.budget or Budget()
    team = case.team(deed.team)
    lines = {line.id for line in budget.lines if line.sort == "entries"}
    places = {place.id for place in budget.places if place.sort == "cash"}
    if deed.line not in lines or deed.place not in places:
        raise NotAllowed("check_in.fee_only", role=case.actor.role)
    asked = asked_of(budget, team.division, case.event.division(team.division).team_size)
    owed = asked - paid_by(budget, case.state.bookings.values(), team.id)
    if not 0 < deed.amount <= owed:
        raise Refusal("check_in.paid_already", team=team.id)


def _need_squad(case: Case, team_id: str, people: tuple[str, ...]) -> None:
    team = case.team(team_id)
    if team_id in case.state.team_status:
        raise Refusal("team.left_already", team=team_id)
    strangers = set(people) - {one.person for one in team.athletes}
    if strangers:
        raise Refusal("line_up.not_of_squad", team=team_id, count=len(strangers))
