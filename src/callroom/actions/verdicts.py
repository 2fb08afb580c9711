"""Appeals, podiums and embargoes, each as the request it makes."""

from callroom.actions.day import Basis
from callroom.actions.request import Asked, Request, propose
from callroom.journal.entries import verdict_bodies as bodies
from callroom.model.appeal import Ground


def make_appeal(
    team: str,
    text: str,
    *,
    ground: Ground,
    handed_in_ms: int,
    workout: str = "",
    part: str = "",
) -> Request:
    """File a team's appeal about a part of a workout, or about the standings as a whole."""
    return propose(
        bodies.AppealMade(
            team=team,
            ground=ground,
            text=text,
            handed_in_ms=handed_in_ms,
            workout=workout,
            part=part,
        )
    )


def decide_appeal(
    number: int, reason: str, *, upheld: bool, changes: tuple[Asked, ...] = (), basis: Basis
) -> Request:
    """Decide an appeal; `changes` are what that does to scores, stored with it or not at all."""
    decided = bodies.AppealDecided(number=number, upheld=upheld, reason=reason)
    return propose(*changes, decided, basis=basis)


def withdraw_appeal(number: int, reason: str = "") -> Request:
    """Note that a team took its appeal back."""
    return propose(bodies.AppealWithdrawn(number=number, reason=reason))


def release_podium(division: str, reason: str, basis: Basis) -> Request:
    """Present a division's first three as shown although something could change them."""
    return propose(bodies.PodiumReleased(division=division, reason=reason), basis=basis)


def set_embargo(workout: str, *, hidden: bool) -> Request:
    """Keep a workout's results from the public, or let them out."""
    return propose(bodies.EmbargoSet(workout=workout, hidden=hidden))
