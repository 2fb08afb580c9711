"""Bodies of what is asked of the head judge and decided about results and what follows them."""

from callroom.journal.entries.bodies import Body
from callroom.model import Heat
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


class PlanReseeded(Body, frozen=True):
    """The teams of a division stand in other heats and lanes of a workout, by the standings.

    Names the revision of the plan it makes; `heats` are those that change.
    """

    revision: int
    workout: str
    division: str
    heats: tuple[Heat, ...]
