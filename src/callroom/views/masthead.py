"""What stands at the head and foot of every page and sheet of a published plan."""

from datetime import date, datetime, timedelta

import msgspec

from callroom.model import Event, NotFound, Plan, State
from callroom.model.mass import MassUnit
from callroom.model.wish_rows import EventDay


class Masthead(msgspec.Struct, frozen=True, kw_only=True):
    """The event, the plan's revision, and whether it is for real.

    All other times of a view are whole seconds from `starts_at` (UTC); :meth:`instant`
    turns one into an instant. `invented` marks demo data, `rehearsal` a practice run; `days` are
    those of an event of several.
    """

    event: str
    venue: str
    cause: str
    day: date
    zone: str
    starts_at: datetime
    language: str
    mass_unit: MassUnit
    revision: int
    rehearsal: bool
    invented: bool
    days: tuple[EventDay, ...] = ()

    def instant(self, offset_s: int) -> datetime:
        """Return the UTC instant `offset_s` seconds after the day's start."""
        return self.starts_at + timedelta(seconds=offset_s)


def published(state: State) -> tuple[Event, Plan]:
    """Return the event and its plan.

    Raises
    ------
    NotFound
        ``book.no_event`` or ``plan.none``.
    """
    if state.event is None:
        raise NotFound("book.no_event")
    if state.plan is None:
        raise NotFound("plan.none")
    return state.event, state.plan


def masthead(state: State) -> Masthead:
    """Return the masthead; NotFound without an event or a published plan."""
    published(state)
    return masthead_of(state)


def masthead_of(state: State) -> Masthead:
    """Return the masthead of a sheet that needs no plan, revision 0 without one."""
    if state.event is None:
        raise NotFound("book.no_event")
    event = state.event
    return Masthead(
        event=event.name,
        venue=event.venue,
        cause=event.cause,
        day=event.day,
        zone=event.zone,
        starts_at=event.starts_at,
        language=event.language,
        mass_unit=event.mass_unit,
        revision=state.plan.revision if state.plan is not None else 0,
        rehearsal=state.rehearsal,
        invented=event.invented,
        days=event.wishes.days,
    )
