"""Go or no-go: the morning's page, and what the director decides on it."""

import asyncio
import shutil
from pathlib import Path
from typing import Any, ClassVar, get_args

from litestar import Response, get, post
from litestar.response import Redirect

from callroom.actions.check_in import decide_go
from callroom.actions.ground import tick_check
from callroom.bootstrap.kit_making import KitDay, kit_day
from callroom.model import Finding, Refusal, State
from callroom.model.going import Verdict
from callroom.standards import library_with
from callroom.views.check_in import check_in_desk
from callroom.views.go import CLOCK_OFF_MS, GoPage, SeenNow, go_page
from callroom.views.safety_plan import safety_plan
from callroom.web.errors import Unreadable, findings_of
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor

VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
_MB = 1_000_000
# The plates of a large day take seconds to work out, once for each plan.
_PATIENCE_S = 0.5
_WORKING: set[asyncio.Future[KitDay]] = set()


class GoNowPage(Page, frozen=True, kw_only=True):
    """``/director/go``: the points of the morning as of `now_ms` [ms, UTC], and the decisions."""

    template: ClassVar[str] = "go.html"
    go: GoPage
    now_ms: int
    refused: tuple[Finding, ...]
    key: str


@get("/director/go")
async def show_go(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every point, green or not, with what mends it."""
    need_director(visitor)
    return await _page(request, house, visitor)


@post("/director/go", status_code=200)
async def decide(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Note that somebody looked, or what the director decides."""
    need_director(visitor)
    do, _, what = form.text("do").partition(":")
    verdict = next((one for one in VERDICTS if one == what), None)
    if do in {"looked", "not_looked"} and what.startswith("go/"):
        asked = tick_check(what[:40], done=do == "looked")
    elif do == "decide" and verdict is not None:
        shown = await _go(house)
        asked = decide_go(verdict, form.text("reason")[:300], shown.open)
    else:
        raise Unreadable("web.unknown_button", given=do[:80])
    try:
        if visitor.actor is not None:
            key = f"{form.text('key') or new_key()}-{form.text('do')}"[:120]
            await house.book.ask(visitor.actor, asked, key=key)
    except Refusal as fault:
        return await _page(request, house, visitor, findings_of(fault))
    return Redirect("/director/go", status_code=303)


async def _page(
    request: Asked, house: House, visitor: Visitor, refused: tuple[Finding, ...] = ()
) -> Response[str]:
    page = GoNowPage(
        go=await _go(house),
        now_ms=house.book.now_ms(),
        refused=refused,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused else 200)


async def _go(house: House) -> GoPage:
    state = house.state
    kit_short = await _kit_short(state)
    return await asyncio.to_thread(_points, house, state, kit_short)


def _points(house: House, state: State, kit_short: int | None) -> GoPage:
    desk = check_in_desk(state, house.book.people())
    return go_page(state, desk, seen_now(house, state, kit_short))


def seen_now(house: House, state: State, kit_short: int | None) -> SeenNow:
    """Return what the server knows of the morning beside the book."""
    copy, seen = house.book.standby_copy, house.seen
    errors = [one.clock_error_ms or 0 for one in seen.devices.values()]
    path = house.book.path
    return SeenNow(
        now_ms=house.book.now_ms(),
        kit_short=kit_short,
        safety_open=_safety_open(state),
        address=house.printed,
        phone_ms=seen.printed_ms,
        clocks_off=sum(one > CLOCK_OFF_MS for one in errors),
        devices=len(errors),
        copy_ms=copy.note.made_ms if copy is not None and copy.note is not None else None,
        copy_failing=copy.failing if copy is not None else "",
        disk_mb=_free_mb(path) if isinstance(path, Path) else None,
    )


async def _kit_short(state: State) -> int | None:
    """Return how much kit is short; None while that is worked out, which goes on meanwhile."""
    if state.event is None or state.plan is None:
        return None
    working = asyncio.ensure_future(asyncio.to_thread(kit_day, state))
    _WORKING.add(working)
    working.add_done_callback(_WORKING.discard)
    done, _ = await asyncio.wait({working}, timeout=_PATIENCE_S)
    return len(working.result().short) if done else None


def _safety_open(state: State) -> int:
    if state.event is None:
        return 0
    movements = library_with(state.event.movements).movements
    return len(safety_plan(state, state.event, movements).open_points)


def _free_mb(path: Path) -> int | None:
    try:
        return shutil.disk_usage(path.absolute().parent).free // _MB
    except OSError:
        return None


HANDLERS = (show_go, decide)
