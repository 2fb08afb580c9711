"""Times of the day in plain text, for commands and sentences outside of pages."""

from callroom.model import Event
from callroom.views.wording import clock


def day_clock(event: Event, offset_s: int) -> str:
    """Return the wall time `offset_s` seconds after the day's start, ``"14:05"``."""
    return clock(event.instant(offset_s), event.zone)
