"""The gate of the podium: what is awaited, letting it out all the same, the presenter's sheet."""

import asyncio
from typing import Any, ClassVar
from urllib.parse import quote

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import verdicts
from callroom.bootstrap.speech import speech_for
from callroom.model import NotFound, Refusal, from_milliseconds
from callroom.paper import podium_pdf
from callroom.views.home import DivisionLink, division_links
from callroom.views.podium import Podium, podium
from callroom.views.podium_sheet import podium_sheet
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role, new_key
from callroom.web.pages import Page
from callroom.web.routes.judge import read_basis
from callroom.web.visitor import Visitor


class PodiumPage(Page, frozen=True, kw_only=True):
    """``/judge/podium/<division>``: the gate; `podium` is None without an event.

    `basis` is what letting it out rests on; `appeals_run`: the time for appeals is not over;
    `printable`: there is a plan to print under.
    """

    template: ClassVar[str] = "podium.html"
    divisions: tuple[DivisionLink, ...]
    podium: Podium | None
    basis: str
    appeals_run: bool
    printable: bool
    key: str


@get("/judge/podium")
async def show_first_podium(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The gate of the first division, with the way to the others."""
    need_role(visitor, "podium.released")
    divisions = division_links(house.state)
    return await _show(request, house, visitor, divisions[0].id if divisions else "")


@get("/judge/podium/{division_id:str}")
async def show_podium(
    request: Asked, house: InHouse, visitor: ByVisitor, division_id: FromPath[str]
) -> Response[str]:
    """The gate of one division."""
    need_role(visitor, "podium.released")
    return await _show(request, house, visitor, division_id)


@post("/judge/podium/{division_id:str}", status_code=200)
async def release(
    house: InHouse, visitor: ByVisitor, form: PostedForm, division_id: FromPath[str]
) -> Response[Any]:
    """Let a podium out although something could change it, with the reason."""
    need_role(visitor, "podium.released")
    basis = read_basis(form.text("basis"))
    asked = verdicts.release_podium(division_id, form.text("reason"), basis)
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect(f"/judge/podium/{quote(division_id, safe='')}", status_code=303)


@get("/judge/podium/{division_id:str}/sheet.pdf")
async def print_podium(
    house: InHouse, visitor: ByVisitor, division_id: FromPath[str]
) -> Response[bytes]:
    """The presenter's sheet, once the gate is open or was opened by a decision."""
    need_role(visitor, "podium.released")
    state = house.state
    view = await asyncio.to_thread(podium, state, division_id)
    if not view.printable:
        raise Refusal("podium.not_certain", division=division_id, scores=view.open_count)
    pdf = await asyncio.to_thread(
        podium_pdf,
        podium_sheet(state, view),
        size="a4",
        at=from_milliseconds(state.at_ms),
        speech=speech_for(state),
    )
    headers = {"content-disposition": 'attachment; filename="podium.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


async def _show(request: Asked, house: House, visitor: Visitor, division_id: str) -> Response[str]:
    state = house.state
    divisions = division_links(state)
    if divisions and division_id not in {one.id for one in divisions}:
        raise NotFound("division.unknown", division=division_id)
    view = await asyncio.to_thread(podium, state, division_id) if divisions else None
    until_ms = view.appeals_until_ms if view is not None else None
    page = PodiumPage(
        divisions=divisions,
        podium=view,
        basis=msgspec.json.encode(view.basis).decode() if view is not None else "",
        appeals_run=until_ms is not None and house.book.now_ms() <= until_ms,
        printable=state.plan is not None,
        key=new_key(),
    )
    return house.show(request, visitor, page)


HANDLERS = (show_first_podium, show_podium, release, print_podium)
