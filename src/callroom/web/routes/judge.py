"""The head judge: settle, confirm, open again, place what fits nowhere, post standings."""

from collections.abc import Mapping
from typing import Any
from urllib.parse import quote

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.request import Request
from callroom.model import State
from callroom.views.appeals import appeals
from callroom.views.heat_desk import heat_scores
from callroom.views.home import division_links
from callroom.views.score_list import score_list
from callroom.web.contexts import JudgeHeatPage, JudgePage
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role, new_key
from callroom.web.visitor import Visitor


@get("/judge")
async def show_judge(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What waits for the head judge."""
    need_role(visitor, "heat.confirmed")
    scores = score_list(house.state)
    page = JudgePage(
        scores=scores,
        labels=house.labels({one.kept.device for one in scores.unplaced}),
        divisions=division_links(house.state),
        appeals=tuple(one for one in appeals(house.state) if one.appeal.open),
        told=None,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/judge", status_code=200)
async def rule_on_reports(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Place or put aside a report that fits nowhere; post a division's standings."""
    need_role(visitor, "heat.confirmed")
    await _ask(house, visitor, _ruling(house.state, form), form)
    posted = form.text("do").removeprefix("post:")
    # What was posted is shown as everybody sees it, with the time until when to appeal.
    seen = posted != form.text("do")
    where = f"/standings/{quote(posted, safe='')}" if seen else "/judge"
    return Redirect(where, status_code=303)


@get("/judge/heat/{heat_id:str}")
async def show_judge_heat(
    request: Asked, house: InHouse, visitor: ByVisitor, heat_id: FromPath[str]
) -> Response[str]:
    """Every lane of a heat, to be confirmed as shown."""
    need_role(visitor, "heat.confirmed")
    heat = heat_scores(house.state, heat_id)
    page = JudgeHeatPage(heat=heat, basis=_written(heat.basis), told=None, key=new_key())
    return house.show(request, visitor, page)


@post("/judge/heat/{heat_id:str}", status_code=200)
async def rule_on_heat(
    house: InHouse, visitor: ByVisitor, form: PostedForm, heat_id: FromPath[str]
) -> Response[Any]:
    """Confirm a heat as it was shown, or open it again, or take back its start."""
    need_role(visitor, "heat.confirmed")
    reason = form.text("reason")
    deed = form.text("do")
    if deed == "confirm":
        asked = day.confirm_heat(heat_id, read_basis(form.text("basis")))
    elif deed == "reopen":
        asked = day.reopen_heat(heat_id, reason)
    elif deed == "restart":
        asked = day.restart_heat(heat_id, reason)
    else:
        raise Unreadable("web.unknown_button", given=deed[:80])
    await _ask(house, visitor, asked, form)
    return Redirect(f"/judge/heat/{quote(heat_id, safe='')}", status_code=303)


def read_basis(text: str) -> Mapping[str, int]:
    """Return the subjects with their last `seq` that a page carried."""
    try:
        return msgspec.json.decode(text, type=dict[str, int])
    except msgspec.DecodeError as fault:
        raise Unreadable("web.unreadable", given=text[:80]) from fault


def _written(basis: Mapping[str, int]) -> str:
    return msgspec.json.encode(basis).decode()


def _ruling(state: State, form: Posted) -> Request:
    deed, reason = form.text("do"), form.text("reason")
    if deed.startswith("post:"):
        return day.post_standings(deed.removeprefix("post:"), final=form.ticked("final"))
    seq = form.text("report")
    kept = state.unplaced.get(seq)
    if kept is None:
        raise Unreadable("report.not_unplaced", report=seq[:20])
    if deed == "take":
        return day.take_report(kept.seq, kept.report, reason)
    if deed == "dismiss":
        return day.dismiss_report(kept.seq, reason)
    raise Unreadable("web.unknown_button", given=deed[:80])


async def _ask(house: House, visitor: Visitor, asked: Request, form: Posted) -> None:
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())


HANDLERS = (show_judge, rule_on_reports, show_judge_heat, rule_on_heat)
