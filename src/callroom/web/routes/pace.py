"""The forecast held against the day's results, and the pace taken over from them."""

import asyncio
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.response import Redirect

from callroom.actions.paces import drop_paces, take_paces
from callroom.actions.request import Request
from callroom.bootstrap.calibrating import calibration_of
from callroom.model import State
from callroom.views.calibration import Calibration
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, need_director, new_key
from callroom.web.pages import Page
from callroom.web.routes.judge import read_basis


class PacePage(Page, frozen=True, kw_only=True):
    """``/director/pace``: forecast and results; `told` is None as long as there is no event.

    `basis` is what taking a pace over rests on, as JSON.
    """

    template: ClassVar[str] = "pace.html"
    told: Calibration | None
    basis: str
    key: str


@get("/director/pace")
async def show_pace(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What results say of the forecast, before and after."""
    need_director(visitor)
    state = house.state
    told = await asyncio.to_thread(calibration_of, state) if state.event is not None else None
    basis = msgspec.json.encode(told.basis).decode() if told is not None else "{}"
    return house.show(request, visitor, PacePage(told=told, basis=basis, key=new_key()))


@post("/director/pace", status_code=200)
async def take_pace(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Use what is ticked for the rest of the day, or go back to the model's own pace."""
    need_director(visitor)
    state = house.state
    asked = await asyncio.to_thread(_asked, state, form)
    if visitor.actor is not None and asked.proposals:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/director/pace", status_code=303)


def _asked(state: State, form: Posted) -> Request:
    deed = form.text("do")
    basis = read_basis(form.text("basis"))
    if deed == "drop":
        ticked = [one for key, one in state.paces.items() if form.ticked(f"drop {key}")]
        return drop_paces(ticked or state.paces.values(), basis=basis)
    if deed != "take":
        raise Unreadable("web.unknown_button", given=deed[:80])
    told = calibration_of(state)
    measured = [
        one.pace for one in told.measured if one.pace is not None and form.ticked(f"use {one.key}")
    ]
    carried = [
        one.pace for one in told.carried if one.pace is not None and form.ticked(f"use {one.key}")
    ]
    return take_paces(measured, carried, basis=basis)


HANDLERS = (show_pace, take_pace)
