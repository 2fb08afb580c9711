"""What is asked about entering, each as the request it makes."""

from collections.abc import Mapping

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.journal.entries import entering_bodies as entering
from callroom.model import Event, State, Team
from callroom.model.entering import Entering
from callroom.model.places_left import outcome_now


def set_entering(settings: Entering, *, seen: int | None = None) -> Request:
    """Put these settings in place; with `seen`, only if that is still their last entry."""
    basis = {} if seen is None else {"entering": seen}
    return propose(entering.EnteringSet(entering=settings), basis=basis)


def save_settings(
    before: Event, event: Event, settings: Entering, basis: Mapping[str, int]
) -> Request:
    """Put settings in place, with the event where a limit of a division changed, all or none."""
    changed = (bodies.EventSet(event=event),) if event != before else ()
    return propose(*changed, entering.EnteringSet(entering=settings), basis=basis)


def enrol(state: State, team: Team) -> Request:
    """Enter a team by its form, in at once or waiting, as `state` has it."""
    return propose(entering.TeamEnrolled(team=team, outcome=outcome_now(state, team.division)))


def note_walk_up(team: Team) -> Request:
    """Note a team that came without being on the list: it waits for the director."""
    return propose(entering.TeamEnrolled(team=team, outcome="waiting"))


def revise(team: Team, basis: Mapping[str, int]) -> Request:
    """Change a team, or details of its people that lie beside the request."""
    return propose(entering.TeamRevised(team=team), basis=basis)


def enter_by_hand(team: Team, basis: Mapping[str, int]) -> Request:
    """Enter or change a team for the director, whatever the limits are."""
    return propose(bodies.TeamSet(team=team), basis=basis)


def accept(team: str) -> Request:
    """Let a team in that waits."""
    return propose(entering.TeamAccepted(team=team))


def decline(team: str, reason: str) -> Request:
    """Tell a team that waits that it cannot be in."""
    return propose(entering.EnrolmentEnded(team=team, how="declined", reason=reason))


def withdraw(state: State, team: str) -> Request:
    """Take a team out by its own wish, from the event or from the waiting list."""
    if team in state.teams:
        return propose(bodies.TeamLeft(team=team, status="withdrawn"))
    return propose(entering.EnrolmentEnded(team=team, how="withdrawn"))
