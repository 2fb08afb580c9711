"""An event file as a whole: the event, and the director's own movements that stand in it."""

from msgspec.structs import replace

from callroom.exchange import FaultyEvent, read_event
from callroom.exchange.text_encoding import decode_utf8
from callroom.model import Event, Finding, errors_among
from callroom.standards import read_own


def read_event_file(data: bytes, file: str = "event.toml") -> Event:
    """Return the event of a file with its own movements.

    Raises
    ------
    FaultyEvent
        With every fault of the file, those of its movements after the others.
    """
    faults: tuple[Finding, ...] = ()
    try:
        event = read_event(data, file)
    except FaultyEvent as faulty:
        if faulty.event is None:
            raise
        event, faults = faulty.event, faulty.findings
    own = read_own(decode_utf8(data), file)
    faults += errors_among(own.findings)
    if faults:
        raise FaultyEvent(faults, event)
    return replace(event, movements=own.movements)
