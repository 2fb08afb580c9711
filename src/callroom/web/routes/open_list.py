"""What is still open before the day."""

from datetime import date
from typing import ClassVar

from litestar import Response, get

from callroom.model import NotFound, from_milliseconds, wall_time
from callroom.standards import library_with
from callroom.views.open_list import OpenItem, open_list
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House, need_director
from callroom.web.pages import Page


class OpenListPage(Page, frozen=True, kw_only=True):
    """``/director/open``: everything open, those that are late first.

    `days_left` is how many days there are until the event's; less than none: it is over.
    """

    template: ClassVar[str] = "open_list.html"
    late: tuple[OpenItem, ...]
    coming: tuple[OpenItem, ...]
    days_left: int


@get("/director/open")
async def show_open(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Everything that is open, by the day it is due, with the page that mends it."""
    need_director(visitor)
    event = house.state.event
    if event is None:
        raise NotFound("book.no_event")
    items = open_items(house)
    page = OpenListPage(
        late=tuple(one for one in items if one.late),
        coming=tuple(one for one in items if not one.late),
        days_left=(event.day - today_at(house)).days,
    )
    return house.show(request, visitor, page)


def open_items(house: House) -> tuple[OpenItem, ...]:
    """Return what is open as the book stands; nothing without an event, or once its day is over."""
    state = house.state
    event = state.event
    if event is None:
        return ()
    today = today_at(house)
    if today > event.day:
        return ()
    movements = library_with(event.movements).movements
    return open_list(state, event, movements, house.book.people(), today)


def today_at(house: House) -> date:
    """Return the day it is at the venue."""
    event = house.state.event
    zone = event.zone if event is not None else "UTC"
    return wall_time(from_milliseconds(house.book.now_ms()), zone).date()


HANDLERS = (show_open,)
