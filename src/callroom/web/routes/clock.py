"""The heat clock of a floor, for a screen across the hall or a phone beside the lane."""

from typing import ClassVar

from litestar import Response, get
from litestar.params import FromPath

from callroom.model import Floor, NotFound
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked
from callroom.web.live_text import LiveText
from callroom.web.pages import Page


class ClocksPage(Page, frozen=True, kw_only=True):
    """``/clock``: the floors, each with its clock."""

    template: ClassVar[str] = "clocks.html"
    floors: tuple[Floor, ...]


class ClockPage(Page, frozen=True, kw_only=True):
    """``/clock/<floor>``: one floor's clock, live."""

    template: ClassVar[str] = "clock.html"
    floor: Floor
    clock: LiveText


@get("/clock")
async def show_clocks(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The floors to choose a clock of."""
    event = house.state.event
    page = ClocksPage(floors=event.floors if event is not None else ())
    return house.show(request, visitor, page)


@get("/clock/{floor:str}")
async def show_clock(
    request: Asked, house: InHouse, visitor: ByVisitor, floor: FromPath[str]
) -> Response[str]:
    """The clock of one floor."""
    event = house.state.event
    found = next((one for one in event.floors if one.id == floor), None) if event else None
    if found is None:
        raise NotFound("clock.no_floor", floor=floor)
    page = ClockPage(floor=found, clock=await house.live(f"clock/{floor}"))
    return house.show(request, visitor, page)


HANDLERS = (show_clocks, show_clock)
