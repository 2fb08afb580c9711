"""What entries about entering carry: teams and ids of people, never what somebody typed."""

from typing import Literal

from callroom.journal.entries.bodies import Body
from callroom.model import Team
from callroom.model.entering import Entering, Outcome


class EnteringSet(Body, frozen=True):
    """How teams enter from now on, whole."""

    entering: Entering


class TeamEnrolled(Body, frozen=True):
    """A team sent an entry form; it is ``in`` at once, or ``waiting``."""

    team: Team
    outcome: Outcome


class TeamRevised(Body, frozen=True):
    """A team changed what it had sent, or details of its people, which stand elsewhere."""

    team: Team


class TeamAccepted(Body, frozen=True):
    """A team that waited is in."""

    team: str


class EnrolmentEnded(Body, frozen=True):
    """A team that waited does not any more: it withdrew, or the director declined it."""

    team: str
    how: Literal["withdrawn", "declined"]
    reason: str = ""
