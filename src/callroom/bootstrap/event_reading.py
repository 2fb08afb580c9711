"""An event file as a whole: the event, and the director's own movements that stand in it."""

from msgspec.structs import replace

from callroom.exchange import FaultyEvent, read_event
from callroom.exchange.text_encoding import decode_utf8
from callroom.model import Event, Finding, errors_among
from callroom.standards import read_own

_UNREADABLE = ("file.", "toml.unreadable", "toml.twice", "toml.too_deep")
"""Rules about a file of which nothing can be read."""


def read_event_file(data: bytes, file: str = "event.toml") -> Event:
    """Return the event of a file with its own movements.

    Raises
    ------
    FaultyEvent
        With every fault of the file, those of its movements after the others.
    """
    event: Event | None
    faults: tuple[Finding, ...] = ()
    try:
        event = read_event(data, file)
    except FaultyEvent as faulty:
        if any(one.rule.startswith(_UNREADABLE) for one in faulty.findings):
            raise
        event, faults = faulty.event, faulty.findings
    own = read_own(decode_utf8(data), file)
    faults += errors_among(own.findings)
    if faults or event is None:
        raise FaultyEvent(faults, event)
    return replace(event, movements=own.movements)


def kept_in(event: Event, known: Event | None) -> Event:
    """Return the event of a file with what was made in the browser and the file is silent about.

    A file without any movement leaves the director's own as they are, and a division of which
    it allows and bars nothing keeps what it allows and bars.
    """
    if known is None or known.id != event.id:
        return event
    rules = {division.id: division.movement_rules for division in known.divisions}
    divisions = tuple(
        division
        if division.movement_rules
        else replace(division, movement_rules=rules.get(division.id, ()))
        for division in event.divisions
    )
    return replace(event, movements=event.movements or known.movements, divisions=divisions)
