"""Bodies of what is asked of the head judge and decided about results shown to everyone."""

from callroom.journal.entries.bodies import Body
from callroom.model.appeal import Ground


class AppealMade(Body, frozen=True):
    """A team's captain appeals; its number is given when it is folded.

    `workout` and `part` say about what (both empty: the standings as a whole), `handed_in_ms`
    when the captain came with it [ms, UTC].
    """

    team: str
    ground: Ground
    text: str
    handed_in_ms: int
    workout: str = ""
    part: str = ""


class AppealDecided(Body, frozen=True):
    """The head judge decided an appeal; what it changes in scores comes in the same request."""

    number: int
    upheld: bool
    reason: str


class AppealWithdrawn(Body, frozen=True):
    """A team takes its appeal back."""

    number: int
    reason: str = ""


class PodiumReleased(Body, frozen=True):
    """A division's first three are presented although something could still change them."""

    division: str
    reason: str


class EmbargoSet(Body, frozen=True):
    """From now on the results of a workout are kept from the public, or no longer."""

    workout: str
    hidden: bool
