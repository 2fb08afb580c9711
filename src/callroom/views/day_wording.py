"""Times of the day in plain text, for commands and sentences outside of pages."""

from callroom.model import Event
from callroom.views.wording import clock

MORNING_S = 4 * 3600
"""So long before its first heat a day may have begun: setting up, briefings."""


def day_clock(event: Event, offset_s: int) -> str:
    """Return the wall time `offset_s` seconds after the day's start, ``"14:05"``.

    On an event of several days the name of the day stands before it: ``"Sunday 14:05"``.
    """
    wall = clock(event.instant(offset_s), event.zone)
    begun = [day.name for day in event.wishes.days if day.opens_s - MORNING_S <= offset_s]
    return f"{begun[-1]} {wall}" if begun else wall
