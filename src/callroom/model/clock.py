"""Times: whole seconds from the day's start, instants in UTC, wall time only in views."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from callroom.model.errors import CallroomError


class BadTime(CallroomError):
    """A local time that does not exist, exists twice, or is not a time."""


def zone_of(name: str) -> ZoneInfo:
    """Return the IANA zone called `name`, or refuse with :class:`BadTime`."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as fault:
        raise BadTime("time.unknown_zone", zone=name) from fault


def parse_clock(text: str) -> int:
    """Return the seconds since midnight of ``"HH:MM"`` or ``"HH:MM:SS"``.

    Raises
    ------
    BadTime
        If `text` is not a time of day.
    """
    fields = text.split(":")
    whole = [int(field) for field in fields if field.isascii() and field.isdigit()]
    if len(fields) not in {2, 3} or len(whole) != len(fields):
        raise BadTime("time.unreadable", given=text)
    hour, minute, second = (*whole, 0)[:3]
    if hour > 23 or minute > 59 or second > 59:
        raise BadTime("time.unreadable", given=text)
    return hour * 3600 + minute * 60 + second


def local_instant(day: date, clock_s: int, zone: str) -> datetime:
    """Return the UTC instant of a wall-clock time.

    Parameters
    ----------
    day, clock_s, zone
        The local date, the seconds since local midnight, the IANA zone.

    Raises
    ------
    BadTime
        If clocks were put forward over that time (it is absent) or back (it exists twice).
    """
    where = zone_of(zone)
    wall = datetime.combine(day, time()) + timedelta(seconds=clock_s)
    early, late = wall.replace(tzinfo=where, fold=0), wall.replace(tzinfo=where, fold=1)
    if early.utcoffset() != late.utcoffset():
        back = early.astimezone(UTC).astimezone(where).replace(tzinfo=None)
        rule = "time.doubled" if back == wall else "time.absent"
        raise BadTime(rule, given=wall.isoformat(sep=" "), zone=zone)
    return early.astimezone(UTC)


def wall_time(instant: datetime, zone: str) -> datetime:
    """Return `instant` on the venue's wall clock."""
    return instant.astimezone(zone_of(zone))


def milliseconds(instant: datetime) -> int:
    """Return `instant` as whole milliseconds since 1970, UTC."""
    return (instant - datetime(1970, 1, 1, tzinfo=UTC)) // timedelta(milliseconds=1)


def from_milliseconds(at_ms: int) -> datetime:
    """Return the UTC instant `at_ms` milliseconds after 1970."""
    return datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=at_ms)
