"""What is asked about line-ups, each as the request it makes."""

from collections.abc import Mapping

from callroom.actions.request import Request, propose
from callroom.journal.entries import line_up_bodies
from callroom.model import LinedUp


def set_line_up(
    team: str,
    workouts: tuple[str, ...],
    places: tuple[LinedUp, ...],
    *,
    reason: str = "",
    allowed: bool = False,
    basis: Mapping[str, int] | None = None,
) -> Request:
    """Say who of a team stands where in workouts to come; `allowed`: against the rules."""
    body = line_up_bodies.LineUpSet(
        team=team, workouts=workouts, places=places, reason=reason, allowed=allowed
    )
    return propose(body, basis=basis)


def stand_down(team: str, person: str) -> Request:
    """Keep an athlete off the floor until first aid says otherwise."""
    return propose(line_up_bodies.AthleteStoodDown(team=team, person=person))


def clear_athlete(team: str, person: str) -> Request:
    """Let an athlete take the floor again, on the word of first aid."""
    return propose(line_up_bodies.AthleteCleared(team=team, person=person))
