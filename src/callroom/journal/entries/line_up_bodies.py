"""What entries about line-ups carry: ids of people, never a name nor a reason of health."""

from callroom.journal.entries.bodies import Body
from callroom.model import LinedUp


class LineUpSet(Body, frozen=True):
    """Who of a team stands where in the workouts named; `allowed`: against the rules."""

    team: str
    workouts: tuple[str, ...]
    places: tuple[LinedUp, ...]
    reason: str = ""
    allowed: bool = False


class AthleteStoodDown(Body, frozen=True):
    """An athlete does not take the floor again until first aid says so."""

    team: str
    person: str


class AthleteCleared(Body, frozen=True):
    """First aid lets an athlete take the floor again."""

    team: str
    person: str
