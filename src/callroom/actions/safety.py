"""Safety, the weather and incidents, each as the request it makes."""

from callroom.actions.day import Basis
from callroom.actions.request import Request, propose
from callroom.journal.entries import safety_bodies as bodies
from callroom.model.safety import IncidentSort, SafetyFacts, Weather


def set_facts(facts: SafetyFacts, basis: Basis | None = None) -> Request:
    """Say what the safety plan needs to know of the venue and the crowd."""
    return propose(bodies.SafetySet(facts=facts), basis=basis)


def read_weather(weather: Weather) -> Request:
    """Report a reading, or a forecast, of the weather on a floor."""
    return propose(bodies.WeatherRead(weather=weather))


def note_incident(
    happened_ms: int,
    sort: IncidentSort,
    place: str,
    *,
    heat: str = "",
    first_aid: bool = False,
    ambulance: bool = False,
    record: str = "",
) -> Request:
    """Report that something happened; `record` is the id of what was written of it."""
    return propose(
        bodies.IncidentNoted(
            happened_ms=happened_ms,
            sort=sort,
            place=place,
            heat=heat,
            first_aid=first_aid,
            ambulance=ambulance,
            record=record,
        )
    )


def follow_incident(number: int, *, record: str = "", closes: bool = False) -> Request:
    """Note what more was done about an incident."""
    return propose(bodies.IncidentFollowed(number=number, record=record, closes=closes))
