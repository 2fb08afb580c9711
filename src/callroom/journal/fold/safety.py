"""Folding of what concerns safety: the venue's facts, the weather, incidents."""

from msgspec.structs import replace

from callroom.journal.entries import safety_bodies as bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model.safety import Incident, IncidentStep


def safety_set(build: Builder, _entry: Entry, body: bodies.SafetySet) -> None:
    """Put the facts in the place of those before."""
    build.safety = body.facts
    build.touch("safety")


def weather_read(build: Builder, entry: Entry, body: bodies.WeatherRead) -> None:
    """Keep one reading; a later one for the same floor and time stands beside it."""
    build.weather.put(str(entry.seq), body.weather)
    build.touch("weather")


def incident_noted(build: Builder, entry: Entry, body: bodies.IncidentNoted) -> None:
    """Give an incident the next number; none is ever taken out, so no number comes twice."""
    incident = Incident(
        number=1 + len(build.incidents.view),
        happened_ms=body.happened_ms,
        sort=body.sort,
        place=body.place,
        heat=body.heat,
        first_aid=body.first_aid,
        ambulance=body.ambulance,
        steps=(
            IncidentStep(seq=entry.seq, at_ms=entry.at_ms, actor=entry.actor, record=body.record),
        ),
    )
    _put(build, incident)


def incident_followed(build: Builder, entry: Entry, body: bodies.IncidentFollowed) -> None:
    """Add a step to an incident; one that closes it may be followed by another that does not."""
    incident = build.incidents.get(str(body.number))
    if incident is None:
        return
    step = IncidentStep(
        seq=entry.seq,
        at_ms=entry.at_ms,
        actor=entry.actor,
        record=body.record,
        closes=body.closes,
    )
    _put(build, replace(incident, steps=(*incident.steps, step)))


def _put(build: Builder, incident: Incident) -> None:
    build.incidents.put(str(incident.number), incident)
    build.touch("incidents", f"incident:{incident.number}")
