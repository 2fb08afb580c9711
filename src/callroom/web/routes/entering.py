"""The public form by which teams enter. Personal details only where nobody can read along."""

import asyncio
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect
from msgspec.structs import replace

from callroom.model import BadInput, CallroomError, Event, Finding, NotFound, Team, milliseconds
from callroom.model.entering import Entering
from callroom.views.entry_form import DivisionRoom, division_rooms
from callroom.web.entering import (
    LEAST_KEY,
    MOST_FORM_BYTES,
    enrol,
    is_open,
    typed_form,
)
from callroom.web.errors import NeedsPrivacy, findings_of
from callroom.web.forms.read_team import TeamReader
from callroom.web.forms.team_form import TeamForm, blank_form, posted_team
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House, need_event, new_key
from callroom.web.pages import Page
from callroom.web.team_post import confirm
from callroom.web.visitor import Visitor


class EnterPage(Page, frozen=True, kw_only=True):
    """``/enter``: the divisions with room, and when entering opens and closes [ms, UTC].

    `open`: now. `over`: it has closed.
    """

    template: ClassVar[str] = "enter.html"
    rooms: tuple[DivisionRoom, ...]
    entering: Entering
    open: bool
    over: bool
    closes_ms: int


class EnterDivisionPage(Page, frozen=True, kw_only=True):
    """``/enter/<division>``: the form; `refused` is why it was not taken as a whole."""

    template: ClassVar[str] = "enter_division.html"
    room: DivisionRoom
    entering: Entering
    event: Event
    form: TeamForm
    ages: bool
    open: bool
    refused: tuple[Finding, ...]
    key: str


@get("/enter")
async def show_enter(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Which divisions there are, and whether a team can enter."""
    event = need_event(house.state)
    entering, now_ms = house.state.entering, house.book.now_ms()
    closes_ms = entering.closes_ms or milliseconds(event.starts_at)
    page = EnterPage(
        rooms=division_rooms(house.state, house.words),
        entering=entering,
        open=is_open(house),
        over=entering.opens_ms is not None and now_ms >= closes_ms,
        closes_ms=closes_ms,
    )
    return house.show(request, visitor, page)


@get("/enter/{division:str}")
async def show_form(
    request: Asked, house: InHouse, visitor: ByVisitor, division: FromPath[str]
) -> Response[str]:
    """The form of one division, empty."""
    event = need_event(house.state)
    _room(house, division)
    return _page(request, house, visitor, division, blank_form(event, division), "")


@post("/enter/{division:str}", status_code=200, request_max_body_size=MOST_FORM_BYTES)
async def send_form(
    request: Asked, house: InHouse, visitor: ByVisitor, division: FromPath[str]
) -> Response[Any]:
    """Enter a team, or show the form again with everything that is wrong beside its field."""
    typed = await typed_form(request, house, visitor)
    if not visitor.private:
        raise NeedsPrivacy("entering.needs_privacy")
    event = need_event(house.state)
    _room(house, division)
    form = posted_team(event, division, typed.form)
    key = typed.form.text("key")
    if not typed.ours or len(key) < LEAST_KEY:
        again = Finding(rule="entering.send_again", severity="error", subject="form")
        return _page(request, house, visitor, division, form, key, (again,))
    reader = TeamReader(house.state, event, form, key=key, hand="form", now_ms=house.book.now_ms())
    filled = reader.read(Team(id="", name="", division=division), {})
    if filled.faults:
        form = replace(form, faults=filled.faults)
        return _page(request, house, visitor, division, form, key)
    try:
        token = await enrol(house, filled, key)
    except BadInput as fault:
        return _page(request, house, visitor, division, form, key, findings_of(fault))
    except CallroomError as fault:
        return _page(request, house, visitor, division, form, key, (fault.finding(),))
    base = str(request.base_url).rstrip("/")
    team_id = await asyncio.to_thread(house.book.links.team_of, token)
    await confirm(house, request, team_id, f"{base}/enter/team/{token}")
    return Redirect(f"/enter/team/{token}?new=yes", status_code=303)


def _room(house: House, division: str) -> DivisionRoom:
    rooms = {one.id: one for one in division_rooms(house.state, house.words)}
    if division not in rooms:
        raise NotFound("division.unknown", division=division[:80])
    return rooms[division]


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    division: str,
    form: TeamForm,
    key: str,
    refused: tuple[Finding, ...] = (),
) -> Response[str]:
    page = EnterDivisionPage(
        room=_room(house, division),
        entering=house.state.entering,
        event=need_event(house.state),
        form=form,
        ages=division in house.state.entering.ages_in,
        open=is_open(house),
        refused=refused,
        key=key if len(key) >= LEAST_KEY else new_key() + new_key(),
    )
    return house.show(request, visitor, page, 422 if refused or form.faults else 200)


HANDLERS = (show_enter, show_form, send_form)
