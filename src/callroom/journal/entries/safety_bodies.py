"""Bodies of entries about safety: the venue's facts, the weather, incidents."""

from callroom.journal.entries.bodies import Body
from callroom.model.safety import IncidentSort, SafetyFacts, Weather


class SafetySet(Body, frozen=True):
    """What the safety plan rests on from now on, whole."""

    facts: SafetyFacts


class WeatherRead(Body, frozen=True):
    """Somebody read the weather on a floor, or typed in a forecast."""

    weather: Weather


class IncidentNoted(Body, frozen=True):
    """Somebody saw something happen; its number is given when it is folded.

    `record` names what was written about it among the book's notes, which can be erased.
    """

    happened_ms: int
    sort: IncidentSort
    place: str
    heat: str = ""
    first_aid: bool = False
    ambulance: bool = False
    record: str = ""


class IncidentFollowed(Body, frozen=True):
    """More was done about an incident; `closes`: nothing is left to do."""

    number: int
    record: str = ""
    closes: bool = False
