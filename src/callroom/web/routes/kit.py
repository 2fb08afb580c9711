"""Kit, plates and changeovers of the planned day, for the director."""

import asyncio
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions.take_change import take_event
from callroom.bootstrap.kit_making import (
    MOST_PEOPLE,
    PEOPLE,
    KitDay,
    bars_of,
    kit_day,
    with_longer_changeovers,
)
from callroom.bootstrap.speech import speech_for
from callroom.model import State, from_milliseconds
from callroom.paper import lane_loads_pdf
from callroom.views.kit_day import KitSheets, kit_sheets
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.pages import Page


class KitPage(Page, frozen=True, kw_only=True):
    """``/director/kit``: what is short, what is on the bars, and whether changeovers fit.

    `short` and `hurried` are sentences; `kit` is None without a plan. `basis` is the `seq` of
    the event that longer changeovers were worked out for.
    """

    template: ClassVar[str] = "kit.html"
    kit: KitSheets | None
    short: tuple[str, ...]
    hurried: tuple[str, ...]
    people: int
    most_people: int
    basis: int
    key: str


@get("/director/kit")
async def show_kit(
    request: Asked, house: InHouse, visitor: ByVisitor, people: FromQuery[int] = PEOPLE
) -> Response[str]:
    """The kit of the plan in force."""
    need_director(visitor)
    page = await asyncio.to_thread(_page, house, people)
    return house.show(request, visitor, page)


def _page(house: House, people: int) -> KitPage:
    state = house.state
    basis = state.subjects.get("event", 0)
    if state.event is None or state.plan is None:
        return KitPage(
            kit=None,
            short=(),
            hurried=(),
            people=people,
            most_people=MOST_PEOPLE,
            basis=basis,
            key=new_key(),
        )
    day, voice = kit_day(state, people=people), house.voice(state)
    return KitPage(
        kit=sheets_of(state, day),
        short=tuple(voice.sentence(one) for one in day.short),
        hurried=tuple(voice.sentence(one) for one in day.hurried),
        people=day.people,
        most_people=MOST_PEOPLE,
        basis=basis,
        key=new_key(),
    )


def sheets_of(state: State, day: KitDay) -> KitSheets:
    """Return the bars of a day as shown."""
    return kit_sheets(state, bars_of(day))


@post("/director/kit", status_code=200)
async def lengthen(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Make the changeovers wished long enough for the bars; then the day is planned again."""
    need_director(visitor)
    people = form.whole("people") or PEOPLE
    event = await asyncio.to_thread(with_longer_changeovers, house.state, people)
    if visitor.actor is not None:
        asked = take_event(event, form.whole("basis") or 0)
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/director/plan", status_code=303)


@get("/director/kit/lanes.pdf")
async def print_lanes(
    house: InHouse, visitor: ByVisitor, people: FromQuery[int] = PEOPLE
) -> Response[bytes]:
    """A sheet for each lane: every bar of the day, and what comes off and goes on."""
    need_director(visitor)
    pdf = await asyncio.to_thread(_pdf, house.state, people)
    headers = {"content-disposition": 'attachment; filename="changeovers.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _pdf(state: State, people: int) -> bytes:
    view = sheets_of(state, kit_day(state, people=people))
    at = from_milliseconds(state.at_ms)
    return lane_loads_pdf(view, size="a4", at=at, speech=speech_for(state))


HANDLERS = (show_kit, lengthen, print_lanes)
