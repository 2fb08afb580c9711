"""Which day of an event a time is on: said wherever a bare time of the clock could be any day's."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from callroom.model import Event
from callroom.model.wish_rows import EventDay
from callroom.views.wording import clock

MORNING_S = 4 * 3600
"""So long before its first heat a day may have begun: setting up, briefings."""


def day_clock(event: Event, offset_s: int) -> str:
    """Return the wall time `offset_s` seconds after the day's start, ``"14:05"``.

    On an event of several days the name of the day stands before it: ``"Sunday 14:05"``.
    """
    wall = clock(event.instant(offset_s), event.zone)
    return f"{day_name(event.wishes.days, offset_s)} {wall}".strip()


class DaySpan(NamedTuple):
    """A day of an event, by name (empty: the only one), from its first to its last thing [s]."""

    name: str
    first_s: int
    last_s: int


def day_spans(days: Sequence[EventDay], spans: Iterable[tuple[int, int]]) -> tuple[DaySpan, ...]:
    """Return on which days something lies, with the time it takes of each: a night is none."""
    found: dict[str, DaySpan] = {}
    for start_s, end_s in sorted(spans):
        name = day_name(days, start_s)
        first_s, last_s = found[name][1:] if name in found else (start_s, end_s)
        found[name] = DaySpan(name, first_s, max(last_s, end_s))
    return tuple(found.values())


def day_name(days: Sequence[EventDay], offset_s: int) -> str:
    """Return the name of the day a time is on [s from the event's start]; empty if there is one.

    A day goes on until the next begins; what lies before the first has no name.
    """
    begun = [day.name for day in days if day.opens_s - MORNING_S <= offset_s]
    return begun[-1] if begun and len(days) > 1 else ""
