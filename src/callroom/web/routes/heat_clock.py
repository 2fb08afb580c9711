"""One heat's clock: start it, stop it and rule on the stop, start its re-runs."""

from typing import Any, ClassVar
from urllib.parse import quote

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import day, day_clock
from callroom.actions.request import Request
from callroom.model import CallroomError, Heat, State
from callroom.model.words import N_
from callroom.views.heat_clock import HeatClockDesk, heat_clock_desk
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role, new_key
from callroom.web.live_text import LiveText
from callroom.web.pages import Page

# One touch stops the clock: nobody types while somebody lies on the floor.
REASONS = (
    N_("Somebody is hurt"),
    N_("Kit has failed"),
    N_("Alarm, or the hall must be cleared"),
    N_("The clock or the start was wrong"),
)


class HeatClockPage(Page, frozen=True, kw_only=True):
    """``/heat/<heat>/clock``: `clock` is the clock of its floor, live.

    `reasons` are the usual ones for a stop; `rules`: this visitor may rule on it.
    """

    template: ClassVar[str] = "heat_clock.html"
    desk: HeatClockDesk
    clock: LiveText
    reasons: tuple[str, ...]
    rules: bool
    key: str


@get("/heat/{heat_id:str}/clock")
async def show_heat_clock(
    request: Asked, house: InHouse, visitor: ByVisitor, heat_id: FromPath[str]
) -> Response[str]:
    """The clock of one heat, with what may be done about it."""
    need_role(visitor, "heat.started")
    desk = heat_clock_desk(house.state, heat_id)
    page = HeatClockPage(
        desk=desk,
        clock=await house.live(f"clock/{desk.floor.id}"),
        reasons=REASONS,
        rules=visitor.may("stop.ruled"),
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/heat/{heat_id:str}/clock", status_code=200)
async def act_on_heat_clock(
    house: InHouse, visitor: ByVisitor, form: PostedForm, heat_id: FromPath[str]
) -> Response[Any]:
    """Start, stop, rule, start anew, or start the re-runs."""
    need_role(visitor, "heat.started")
    heat_clock_desk(house.state, heat_id)
    asked = _asked(house, heat_id, form)
    if visitor.actor is not None:
        try:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
        except CallroomError as fault:
            # The same button of the same page, pressed a moment before: its instant stands.
            if fault.rule != "journal.key_conflict":
                raise
    return Redirect(f"/heat/{quote(heat_id, safe='')}/clock", status_code=303)


def _asked(house: House, heat_id: str, form: Posted) -> Request:
    deed, _, reason = form.text("do").partition(":")
    typed = form.text("reason") or (house.words.gettext(reason) if reason in REASONS else "")
    state, now_ms = house.state, house.book.now_ms()
    if deed == "start":
        return day_clock.start_clock(state, heat_id, now_ms)
    if deed == "stop":
        return day_clock.stop_heat(heat_id, now_ms, typed)
    if deed == "restart":
        return day.restart_heat(heat_id, typed)
    if deed == "rule":
        return _ruling(state, _heat(state, heat_id), form)
    if deed == "rerun":
        at_ms = day_clock.zero_after_countdown(state, heat_id, now_ms)
        shared = state.heat_run(form.text("with")).started_ms
        return day_clock.start_reruns(state, _heat(state, heat_id), shared or at_ms)
    raise Unreadable("web.unknown_button", given=form.text("do")[:80])


def _ruling(state: State, heat: Heat, form: Posted) -> Request:
    ruling, reason = form.text("ruling"), form.text("reason")
    chosen = tuple(team for team in heat.teams if form.ticked(f"team-{team}"))
    if ruling == "as_at_stop":
        return day_clock.rule_on_stop(state, heat, "as_at_stop", reason)
    if ruling == "rerun":
        counts = "better" if form.text("counts") == "better" else "replaces"
        return day_clock.rule_on_stop(state, heat, "rerun", reason, teams=chosen, counts=counts)  # type: ignore[arg-type]
    if ruling == "credit":
        credit_s = form.whole("credit") or 0
        return day_clock.rule_on_stop(
            state, heat, "credit", reason, teams=chosen, credit_s=credit_s
        )
    raise Unreadable("web.unknown_button", given=ruling[:80])


def _heat(state: State, heat_id: str) -> Heat:
    assert state.plan is not None  # noqa: S101 - the desk of this heat was made from it
    return state.plan.heat(heat_id)


HANDLERS = (show_heat_clock, act_on_heat_clock)
