"""The checklists: ticked, added to, printed."""

import asyncio
from itertools import groupby
from typing import Any, ClassVar, cast
from urllib.parse import quote, urlencode

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions import ground as ask_ground
from callroom.actions.request import Request
from callroom.model import Refusal, from_milliseconds, wall_time
from callroom.model.checks import PHASES, OwnCheck, Phase
from callroom.model.crew import POSTS
from callroom.paper import checklists_pdf
from callroom.standards import library_with
from callroom.views.checklist import Check, checklist
from callroom.views.page_head import page_head
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page

_LONGEST_TEXT = 200
_OPEN_ONLY = "open"


class ChecklistsPage(Page, frozen=True, kw_only=True):
    """``/director/checklists``: points by time; `post` and `only` say which are shown.

    `late` are the ids of those of before the day that are due and open; `done` counts those
    ticked of `all`.
    """

    template: ClassVar[str] = "checklists.html"
    phases: tuple[tuple[Phase, tuple[Check, ...]], ...]
    late: frozenset[str]
    own: frozenset[str]
    posts: tuple[str, ...]
    post: str
    only: str
    done: int
    all: int
    choices: tuple[str, ...]
    times: tuple[Phase, ...]
    key: str


@get("/director/checklists")
async def show_checklists(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    post: FromQuery[str] = "",
    only: FromQuery[str] = "",
) -> Response[str]:
    """Every point of the lists, or those of one post, or only those that are open."""
    need_director(visitor)
    event, state = need_event(house.state), house.state
    points = checklist(state, event, library_with(event.movements).movements)
    today = wall_time(from_milliseconds(house.book.now_ms()), event.zone).date()
    shown = [
        one
        for one in points
        if (not post or one.post == post) and (only != _OPEN_ONLY or one.tick is None)
    ]
    page = ChecklistsPage(
        phases=tuple((phase, tuple(some)) for phase, some in groupby(shown, lambda one: one.phase)),
        late=frozenset(
            one.id for one in points if one.tick is None and one.by < today and one.by < event.day
        ),
        own=frozenset(state.own_checks),
        posts=tuple(dict.fromkeys(one.post for one in points)),
        post=post[:40],
        only=_OPEN_ONLY if only == _OPEN_ONLY else "",
        done=sum(one.tick is not None for one in points),
        all=len(points),
        choices=("director", *POSTS),
        times=PHASES,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/director/checklists", status_code=200)
async def change_checklists(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Tick a point or untick it, add one of the director's own, or take it out."""
    need_director(visitor)
    asked = _asked(house, form)
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    shown = {name: form.text(name) for name in ("post", "only") if form.text(name)}
    anchor = _anchor(form.text("check"))
    return Redirect(f"/director/checklists?{urlencode(shown)}#{anchor}", status_code=303)


def _anchor(check: str) -> str:
    return quote(check.replace(" ", ""))


def _asked(house: House, form: Posted) -> Request:
    deed, check = form.text("do"), form.text("check")
    if deed in {"tick", "untick"}:
        return ask_ground.tick_check(check, done=deed == "tick")
    if deed == "drop":
        return ask_ground.drop_check(check)
    if deed == "add":
        return ask_ground.add_check(_own(house, form))
    raise Unreadable("web.unknown_button", given=deed[:80])


def _own(house: House, form: Posted) -> OwnCheck:
    text = " ".join(form.text("text").split())[:_LONGEST_TEXT]
    if not text:
        raise Refusal("check.no_text")
    phase = cast("Phase", form.text("phase") if form.text("phase") in PHASES else "before")
    days = min(form.whole("days") or 0, 365)
    before = {"before": days, "after": -days}.get(phase, 0)
    number = 1
    while f"own-{number}" in house.state.own_checks or f"own-{number}" in house.state.ticks:
        number += 1
    owner = form.text("owner")
    return OwnCheck(
        id=f"own-{number}",
        phase=phase,
        text=text,
        days_before=before,
        post=owner if owner in POSTS else "",
    )


@get("/director/checklists.pdf")
async def print_checklists(
    house: InHouse, visitor: ByVisitor, size: FromQuery[str] = ""
) -> Response[bytes]:
    """The lists to print, a page for each time."""
    need_director(visitor)
    event, state = need_event(house.state), house.state
    letter = size == "letter" or (not size and event.mass_unit == "lb")
    pdf = await asyncio.to_thread(
        checklists_pdf,
        checklist(state, event, library_with(event.movements).movements),
        page_head(state),
        size="us-letter" if letter else "a4",
        at=from_milliseconds(state.at_ms),
        at_ms=state.at_ms,
        words=house.words,
    )
    headers = {"content-disposition": 'inline; filename="checklists.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


HANDLERS = (show_checklists, change_checklists, print_checklists)
