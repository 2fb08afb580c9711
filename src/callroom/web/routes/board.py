"""The call board: for everyone to read, for the crew to call, check, start and finish."""

import hashlib
from collections.abc import Callable
from typing import Any

from litestar import Response, get, post
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.day_clock import start_clock
from callroom.actions.end_heat import end_heat
from callroom.actions.request import Request
from callroom.model import CallroomError, State
from callroom.web.contexts import BoardPage
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role
from callroom.web.pages import html
from callroom.web.topics import board_topic
from callroom.web.visitor import Visitor

# Each button says what it does, to which heat, and which entry about the heat its page had
# seen last: pressing twice is then one request, pressing again after a change another.
DEEDS: dict[str, tuple[str, Callable[[State, str, str, int], Request]]] = {
    "call": ("heat.called", lambda _state, heat, _team, _now_ms: day.call_heat(heat)),
    "walk": ("heat.on_floor", lambda _state, heat, _team, _now_ms: day.send_on_floor(heat)),
    "start": ("heat.started", lambda state, heat, _team, now_ms: start_clock(state, heat, now_ms)),
    "finish": ("heat.finished", lambda state, heat, _team, _now_ms: end_heat(state, heat)),
    "back": ("heat.stepped_back", lambda _state, heat, _team, _now_ms: day.step_back(heat)),
    "arrive": ("team.arrived", lambda _state, heat, team, _now_ms: day.mark_arrived(heat, team)),
    "absent": ("team.no_show", lambda _state, heat, team, _now_ms: day.mark_no_show(heat, team)),
    "await": ("team.awaited", lambda _state, heat, team, _now_ms: day.await_team(heat, team)),
}
# Somebody else, or the same finger a moment ago, has done it already.
_DONE_BEFORE = frozenset(
    {
        "heat.already_called",
        "heat.already_started",
        "heat.on_floor_already",
        "journal.key_conflict",
    }
)


@get("/board")
async def show_board(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The call board, with the buttons of the visitor's role."""
    topic = board_topic(visitor)
    page = BoardPage(board=await house.live(topic), hands=topic != "board")
    return house.show(request, visitor, page)


@post("/board", status_code=200)
async def act_on_board(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Call, check, start or finish a heat, or take a step back."""
    await press(house, visitor, form)
    if "hx-request" in request.headers:
        return html("")
    return Redirect("/board", status_code=303)


async def press(house: House, visitor: Visitor, form: Posted) -> None:
    """Do what the button says that was pressed on a board."""
    deed, heat, team, seq = _button(form.text("do"))
    kind, make = DEEDS[deed]
    need_role(visitor, kind)
    if visitor.actor is None:
        return
    try:
        asked = make(house.state, heat, team, house.book.now_ms())
        await house.book.ask(visitor.actor, asked, key=_key(deed, heat, team, seq))
    except CallroomError as fault:
        if fault.rule not in _DONE_BEFORE:
            raise


def _button(value: str) -> tuple[str, str, str, str]:
    fields = value.split("|")
    if len(fields) != 4 or fields[0] not in DEEDS:
        raise Unreadable("web.unknown_button", given=value[:80])
    return fields[0], fields[1], fields[2], fields[3]


def _key(*fields: str) -> str:
    return "board-" + hashlib.sha256("|".join(fields).encode()).hexdigest()[:32]


HANDLERS = (show_board, act_on_board)
