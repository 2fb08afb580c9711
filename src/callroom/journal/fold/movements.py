"""Folding of the director's own movements and of what divisions allow and bar."""

from msgspec.structs import replace

from callroom.journal.entries import movement_bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import Division


def movement_set(build: Builder, _entry: Entry, body: movement_bodies.MovementSet) -> None:
    """Add a movement to the event's own, or put it in the place of the one with its id."""
    if build.event is None:
        return
    own = [body.movement if one.id == body.movement.id else one for one in build.event.movements]
    if body.movement not in own:
        own.append(body.movement)
    build.event = replace(build.event, movements=tuple(own))
    build.touch("movements", f"movement:{body.movement.id}")


def movement_dropped(build: Builder, _entry: Entry, body: movement_bodies.MovementDropped) -> None:
    """Take a movement out of the event's own."""
    if build.event is None:
        return
    kept = tuple(one for one in build.event.movements if one.id != body.movement)
    build.event = replace(build.event, movements=kept)
    build.touch("movements", f"movement:{body.movement}")


def movement_permitted(
    build: Builder, _entry: Entry, body: movement_bodies.MovementPermitted
) -> None:
    """Put what the divisions say of a movement in the place of what they said."""
    if build.event is None:
        return
    divisions = tuple(_saying(division, body) for division in build.event.divisions)
    build.event = replace(build.event, divisions=divisions)
    build.touch("movements", f"movement:{body.movement}")


def _saying(division: Division, body: movement_bodies.MovementPermitted) -> Division:
    others = tuple(rule for rule in division.movement_rules if rule.movement != body.movement)
    return replace(division, movement_rules=(*others, *body.rules.get(division.id, ())))
