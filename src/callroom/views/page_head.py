"""What stands at the head and foot of every page, also before there is an event or a plan."""

from datetime import date, datetime, timedelta

import msgspec

from callroom.model import State, milliseconds
from callroom.model.mass import MassUnit
from callroom.model.wish_rows import EventDay
from callroom.views.timetable import Audience


class PageHead(msgspec.Struct, frozen=True, kw_only=True):
    """The event and the plan's revision, as far as they exist.

    `starts_at` is the day's start (UTC), from which all times of a view count [s]; None
    without an event. `revision` is None until a plan is published. `invented` marks demo
    data, `rehearsal` a practice run, `away` that the book was taken to the hall. `days` are those of an event of several. `address` is where phones find the event's server.
    """

    event: str = ""
    venue: str = ""
    cause: str = ""
    day: date | None = None
    zone: str = "UTC"
    starts_at: datetime | None = None
    language: str = "en"
    mass_unit: MassUnit = "kg"
    address: str = ""
    revision: int | None = None
    rehearsal: bool = False
    invented: bool = False
    away: bool = False
    days: tuple[EventDay, ...] = ()

    def instant(self, offset_s: int) -> datetime:
        """Return the UTC instant `offset_s` seconds after the day's start."""
        if self.starts_at is None:
            raise ValueError("there is no event, so no day to count from")
        return self.starts_at + timedelta(seconds=offset_s)


def page_head(state: State) -> PageHead:
    """Return the head of every page of a book as it stands."""
    event = state.event
    if event is None:
        return PageHead(rehearsal=state.rehearsal, away=state.away is not None)
    return PageHead(
        event=event.name,
        venue=event.venue,
        cause=event.cause,
        day=event.day,
        zone=event.zone,
        starts_at=event.starts_at,
        language=event.language,
        mass_unit=event.mass_unit,
        address=event.address,
        revision=state.plan.revision if state.plan is not None else None,
        rehearsal=state.rehearsal,
        invented=event.invented,
        away=state.away is not None,
        days=event.wishes.days,
    )


def public_at(state: State, now_ms: int) -> Audience:
    """Return the public as it is at `now_ms` [ms, UTC], for what is released by then."""
    if state.event is None:
        return Audience(public=True)
    passed_ms = now_ms - milliseconds(state.event.starts_at)
    return Audience(public=True, now_s=passed_ms // 1000)


def released(state: State, audience: Audience) -> frozenset[str]:
    """Return the workouts this audience may see, so that a change of it can be noticed."""
    workouts = state.event.workouts if state.event is not None else ()
    return frozenset(workout.id for workout in workouts if audience.may_see(workout))
