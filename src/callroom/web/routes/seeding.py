"""Seeding from results: what the standings propose, accepted by the director, what is stale."""

import asyncio
import hashlib
import io
import zipfile
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions.request import Request, content
from callroom.actions.reseeding import accept_reseeding, new_faults, reseeding, reseedings
from callroom.bootstrap.speech import speech_for
from callroom.model import Stale, State, from_milliseconds
from callroom.paper import print_change
from callroom.views.page_head import public_at
from callroom.views.plan_change import PlanChange, plan_change
from callroom.views.seeding import Seeding, seeding
from callroom.web.errors import Unreadable
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.pages import Page


class SeedingPage(Page, frozen=True, kw_only=True):
    """``/director/seeding``: proposals from the standings, and what a change made stale.

    `shown` names what each proposal is, so that exactly that is accepted.
    """

    template: ClassVar[str] = "seeding.html"
    seedings: tuple[tuple[Seeding, str], ...]
    changes: tuple[PlanChange, ...]
    key: str


@get("/director/seeding")
async def show_seeding(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What the standings would change in workouts to come."""
    need_director(visitor)
    page = await asyncio.to_thread(_page, house)
    return house.show(request, visitor, page)


@post("/director/seeding", status_code=200)
async def accept(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Publish a proposal exactly as it was shown."""
    need_director(visitor)
    workout, _, division = form.text("about").partition("/")
    if form.text("do") != "accept":
        raise Unreadable("web.unknown_button", given=form.text("do")[:80])
    proposed = reseeding(house.state, workout, division)
    asked = accept_reseeding(house.state, proposed)
    if form.text("shown") != _digest(asked):
        raise Stale("seeding.other_standings", workout=workout, division=division)
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/director/seeding", status_code=303)


@get("/director/seeding/{revision:int}/sheets.zip")
async def print_changed(
    house: InHouse, visitor: ByVisitor, revision: FromPath[int]
) -> Response[bytes]:
    """The sheets that a change of the running plan made stale, and no others."""
    need_director(visitor)
    state = house.state
    view = plan_change(state, revision, public_at(state, house.book.now_ms()).now_s)
    packed = await asyncio.to_thread(_packed, state, view)
    headers = {"content-disposition": f'attachment; filename="revision-{revision}.zip"'}
    return Response(packed, media_type="application/zip", headers=headers)


def _page(house: House) -> SeedingPage:
    state = house.state
    now_s = public_at(state, house.book.now_ms()).now_s
    revisions = sorted((repair.revision for repair in state.repairs.values()), reverse=True)
    found = []
    for one in reseedings(state):
        findings = new_faults(state, one) if one.ready else ()
        if state.event is not None:
            digest = _digest(accept_reseeding(state, one))
            found.append((seeding(state, state.event, one, findings), digest))
    return SeedingPage(
        seedings=tuple(found),
        changes=tuple(plan_change(state, revision, now_s) for revision in revisions),
        key=new_key(),
    )


def _digest(asked: Request) -> str:
    """Return what tells one proposal from another."""
    return hashlib.sha256(content(asked)).hexdigest()


def _packed(state: State, view: PlanChange) -> bytes:
    made = print_change(
        view, size="a4", at=from_milliseconds(state.at_ms), speech=speech_for(state)
    )
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, pdf in made.items():
            archive.writestr(name, pdf)
    return packed.getvalue()


HANDLERS = (show_seeding, accept, print_changed)
