"""The day an event file speaks of: wall times in the file, seconds from the start in the model."""

from datetime import UTC, date, datetime, time, timedelta

import msgspec

from callroom.exchange.faults import shown
from callroom.exchange.toml_section import Section
from callroom.model import BadTime, parse_clock, wall_time
from callroom.model.clock import local_instant


class EventDay(msgspec.Struct, frozen=True):
    """A local day with its zone and start.

    Offsets count from the start as an instant, so a change of the clocks during the day
    neither adds nor loses an hour.
    """

    day: date
    zone: str
    starts_at: datetime

    def offset_s(self, moment: str | time | datetime) -> int:
        """Return the seconds from the start of the day to `moment`.

        Parameters
        ----------
        moment
            ``"12:30"`` on the day, or a date with a time (in the event's zone unless it
            names its own offset).

        Raises
        ------
        BadTime
            If it is no time, or the clocks skip or repeat it.
        """
        delta = self._instant(moment) - self.starts_at
        return delta // timedelta(seconds=1)

    def _instant(self, moment: str | time | datetime) -> datetime:
        if isinstance(moment, str):
            return local_instant(self.day, parse_clock(moment.strip()), self.zone)
        if isinstance(moment, time):
            return self._instant(datetime.combine(self.day, moment))
        if moment.microsecond:
            raise BadTime("time.unreadable", given=moment.isoformat(sep=" "))
        if moment.tzinfo is not None:
            return moment.astimezone(UTC)
        seconds = moment.hour * 3600 + moment.minute * 60 + moment.second
        return local_instant(moment.date(), seconds, self.zone)

    def written(self, offset_s: int) -> str | datetime:
        """Return `offset_s` in the plainest form that :meth:`offset_s` reads back.

        A time of day where it falls on the day, else a local date and time; a time that the
        clocks repeat is given in UTC.
        """
        instant = self.starts_at + timedelta(seconds=offset_s)
        wall = wall_time(instant, self.zone).replace(tzinfo=None, fold=0)
        try:
            local_instant(wall.date(), wall.hour * 3600 + wall.minute * 60 + wall.second, self.zone)
        except BadTime:
            return instant
        if wall.date() == self.day:
            return clock_text(wall.time())
        return wall


def clock_text(wall: time) -> str:
    """Return ``"09:30"``, with seconds only where there are some."""
    return f"{wall:%H:%M:%S}" if wall.second else f"{wall:%H:%M}"


def moment_s(section: Section, key: str, day: EventDay | None) -> int | None:
    """Return the seconds from the day's start to the moment under `key`, or None.

    Without a sound day nothing can be set against it: None, as the day's own fault is kept.
    """
    moment = section.moment(key)
    if moment is None or day is None:
        return None
    try:
        return day.offset_s(moment)
    except BadTime as fault:
        time_fault(section, key, fault, moment)
    except OverflowError:  # the year 1 or 9999, moved into another zone
        section.fault("toml.no_clock", key, given=shown(moment))
    return None


def time_fault(section: Section, key: str, fault: BadTime, given: object) -> None:
    """Keep a fault of a time under `key` with the rule that says what is wrong with it."""
    rules = {
        "time.unknown_zone": "toml.no_zone",
        "time.unreadable": "toml.no_clock",
        "time.absent": "toml.clock_absent",
        "time.doubled": "toml.clock_doubled",
    }
    zone = fault.facts.get("zone", "")
    section.fault(rules[fault.rule], key, given=shown(given), zone=zone)
