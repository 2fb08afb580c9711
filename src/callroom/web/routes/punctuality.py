"""How likely the plan is to be kept, and where slack does most good, for the director."""

import asyncio
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions.day_now import typed_s
from callroom.bootstrap.plan_drafts import keep_plan
from callroom.bootstrap.punctual import WANTED, PunctualDay, punctual_day
from callroom.model import Refusal
from callroom.views.timetable import CREW, HeatSlot, heat_slot
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director
from callroom.web.pages import Page


class HeatChance(msgspec.Struct, frozen=True, kw_only=True):
    """A heat, on how many days of a thousand it is late, and by how much on one in ten [s]."""

    heat: HeatSlot
    late_permille: int
    p90_s: int


class FloorChances(msgspec.Struct, frozen=True, kw_only=True):
    """The heats of one floor in order of time."""

    name: str
    heats: tuple[HeatChance, ...]


class PlaceOfSlack(msgspec.Struct, frozen=True, kw_only=True):
    """Before which heat five more minutes do how much good, and what they cost [s]."""

    heat: HeatSlot
    saved_s: int
    end_later_s: int


class PunctualityPage(Page, frozen=True, kw_only=True):
    """``/director/punctuality``: `day` is None without a plan; `end_s` when it shall be over [s]."""

    template: ClassVar[str] = "punctuality.html"
    day: PunctualDay | None
    floors: tuple[FloorChances, ...]
    places: tuple[PlaceOfSlack, ...]
    end_s: int
    percent: int


@get("/director/punctuality")
async def show_punctuality(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    by: FromQuery[str] = "",
    percent: FromQuery[int] = WANTED,
) -> Response[str]:
    """The chance that each heat is late, and what slack would do."""
    need_director(visitor)
    page = await asyncio.to_thread(_page, house, by, percent)
    return house.show(request, visitor, page)


def _page(house: House, by: str, percent: int) -> PunctualityPage:
    state = house.state
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return PunctualityPage(day=None, floors=(), places=(), end_s=0, percent=percent)
    day = _day(house, by, percent)
    slots = {heat.id: heat_slot(state, heat, CREW) for heat in plan.heats}
    chances = [
        HeatChance(heat=slots[one.heat], late_permille=one.late_permille, p90_s=one.p90_s)
        for one in day.report.heats
    ]
    return PunctualityPage(
        day=day,
        floors=tuple(
            FloorChances(
                name=floor.name, heats=tuple(one for one in chances if one.heat.floor == floor.id)
            )
            for floor in event.floors
        ),
        places=tuple(
            PlaceOfSlack(
                heat=slots[place.heat], saved_s=place.saved_s, end_later_s=place.end_later_s
            )
            for place in day.places
        ),
        end_s=day.report.end_s,
        percent=day.wanted_percent,
    )


def _day(house: House, by: str, percent: int) -> PunctualDay:
    state = house.state
    end_s = typed_s(state, by) if by else None
    return punctual_day(state, end_s=end_s, wanted_percent=percent)


@post("/director/punctuality", status_code=200)
async def keep_promise(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Keep the times that hold as often as wanted as a draft of the plan."""
    need_director(visitor)
    percent, end_s = form.whole("percent") or WANTED, form.whole("end_s")
    state = house.state
    day = await asyncio.to_thread(punctual_day, state, end_s=end_s, wanted_percent=percent)
    if day.promised is None:
        raise Refusal("plan.nothing_to_take")
    book = house.book
    draft = await asyncio.to_thread(keep_plan, book, state, day.promised, "slack", book.now_ms())
    house.searches.drafts_changed()
    return Redirect(f"/director/plan/{draft.number}", status_code=303)


HANDLERS = (show_punctuality, keep_promise)
