"""Names in place of ids, for sentences outside of pages."""

from collections.abc import Mapping

from callroom.model import Event, Fact


def named(event: Event, facts: Mapping[str, Fact]) -> dict[str, Fact]:
    """Return the facts of a finding with names for the ids of the event's own things."""
    known = {
        "floor": {one.id: one.name for one in event.floors},
        "workout": {one.id: one.name for one in event.workouts},
        "division": {one.id: one.name for one in event.divisions},
        "pause": {one.id: one.name for one in event.wishes.pauses},
    }
    return {
        key: known[key].get(value, value) if key in known and isinstance(value, str) else value
        for key, value in facts.items()
    }
