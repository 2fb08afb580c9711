"""Rules for helping: while it is open, for teams and posts that there are."""

from callroom.actions.case import Case
from callroom.journal.entries import helping_bodies as bodies
from callroom.model import BadInput, Refusal, errors_among, milliseconds
from callroom.model.checking import check_teams
from callroom.model.crew import POSTS

_LONGEST_GYM = 80
_MOST_WAITING = 1_000


def help_offered(case: Case, body: bodies.HelpOffered) -> None:
    """Somebody new who fits the event and its teams; by the public form only while it is open."""
    state, member = case.state, body.member
    day_ms = milliseconds(case.event.starts_at)
    if case.actor.role == "public" and not state.helping.is_open(case.now_ms, day_ms):
        raise Refusal("help.closed")
    if len(state.offers) >= _MOST_WAITING:
        raise Refusal("help.full")
    if member.person in state.crew or member.person in state.offers:
        raise Refusal("help.known", person=member.person)
    if not set(member.posts) <= set(POSTS) or len(member.gym) > _LONGEST_GYM:
        raise Refusal("help.no_post")
    checked = check_teams(case.event, tuple(state.teams.values()), (member,))
    faults = [one for one in errors_among(checked) if one.subject == f"crew.{member.person}"]
    if faults:
        raise BadInput(tuple(faults))


def offer_ended(case: Case, body: bodies.OfferEnded) -> None:
    """An offer that waits."""
    if body.person not in case.state.offers:
        raise Refusal("help.not_waiting")
