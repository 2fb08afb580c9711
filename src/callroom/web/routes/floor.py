"""The floor manager's page: one floor on a phone, with large buttons for the next thing to do."""

from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.model import NotFound, State
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role
from callroom.web.live_text import LiveText
from callroom.web.pages import Page, html
from callroom.web.routes.board import press
from callroom.web.visitor import Visitor


class FloorPage(Page, frozen=True, kw_only=True):
    """``/floor/<id>``: `desk` is the floor, live; None as long as there is no event."""

    template: ClassVar[str] = "floor.html"
    floor: str
    name: str
    desk: LiveText | None


@get("/floor")
async def show_first_floor(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The first floor of the event, with the way to the others."""
    floors = _floors(house.state)
    if floors:
        return await _show(request, house, visitor, next(iter(floors)))
    need_role(visitor, "heat.called")
    return house.show(request, visitor, FloorPage(floor="", name="", desk=None))


@get("/floor/{floor_id:str}")
async def show_floor(
    request: Asked, house: InHouse, visitor: ByVisitor, floor_id: FromPath[str]
) -> Response[str]:
    """One floor."""
    return await _show(request, house, visitor, floor_id)


@post("/floor/{floor_id:str}", status_code=200)
async def act_on_floor(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    floor_id: FromPath[str],
) -> Response[Any]:
    """Do what the button says: call, check, send on, start, end, or take back."""
    need_role(visitor, "heat.called")
    await press(house, visitor, form)
    if "hx-request" in request.headers:
        return html("")
    _need_floor(house.state, floor_id)
    return Redirect(f"/floor/{floor_id}", status_code=303)


async def _show(request: Asked, house: House, visitor: Visitor, floor_id: str) -> Response[str]:
    need_role(visitor, "heat.called")
    name = _need_floor(house.state, floor_id)
    desk = await house.live(f"floor/{floor_id}")
    return house.show(request, visitor, FloorPage(floor=floor_id, name=name, desk=desk))


def _floors(state: State) -> dict[str, str]:
    floors = state.event.floors if state.event is not None else ()
    return {floor.id: floor.name for floor in floors}


def _need_floor(state: State, floor_id: str) -> str:
    floors = _floors(state)
    if floor_id not in floors:
        raise NotFound("floor.unknown", floor=floor_id)
    return floors[floor_id]


HANDLERS = (show_first_floor, show_floor, act_on_floor)
