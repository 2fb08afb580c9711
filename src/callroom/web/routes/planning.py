"""Plans: look for them, watch and stop the search, compare, publish, freeze."""

import asyncio
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.actions import day, planned
from callroom.actions.take_change import take_changes, take_event
from callroom.bootstrap.kit_making import kit_day
from callroom.bootstrap.looking import look_for_choices, look_for_plan, look_for_prices
from callroom.bootstrap.plan_drafts import (
    PlanDraft,
    draft_of,
    drafts_of,
    drop_draft,
    keep_option,
    need_fresh,
    numbered,
)
from callroom.bootstrap.rota_making import made_for
from callroom.model import Event, Finding, NotFound, Plan, PlanTold, Refusal, State
from callroom.views.plan_desk import PlanPair, drawn_plan, gap_said, plan_pair
from callroom.views.timetable import Timetable
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.live_text import LiveText
from callroom.web.pages import Page
from callroom.web.search_shown import read_taken
from callroom.web.topics import SEARCH
from callroom.web.visitor import Visitor

SECONDS = (20, 60, 300)
"""How long a search may be asked for [s]: a look, a search, a coffee."""
EACH_PRICE_S, EACH_CHOICE_S = 1, 4
SAID_BY_THE_GAP = frozenset({"certificate.reached", "certificate.above"})
IN_FORCE = 0
"""In a comparison, the plan in force instead of a draft."""


class InForce(msgspec.Struct, frozen=True, kw_only=True):
    """The plan in force, when it was told, and whether it is frozen."""

    plan: Plan
    told: PlanTold | None


class PlansPage(Page, frozen=True, kw_only=True):
    """``/director/plan``: the plan in force, a search with the drafts found.

    `begun`: a heat has started, so the day is repaired and not planned anew. `basis` is the `seq` of the event that offered changes were worked out for.
    """

    template: ClassVar[str] = "plans.html"
    ready: bool
    begun: bool
    in_force: InForce | None
    search: LiveText
    running: bool
    seconds: tuple[int, ...]
    basis: int
    key: str


class DraftPage(Page, frozen=True, kw_only=True):
    """``/director/plan/{number}``: one draft, drawn, with what is proven of it.

    `old`: the data it was made from have changed since, so it cannot be published.
    """

    template: ClassVar[str] = "plan_draft.html"
    draft: PlanDraft
    day: Timetable
    proven: tuple[str, ...]
    found: tuple[tuple[str, str], ...]
    pair: PlanPair | None
    old: bool
    frozen: bool
    changes_event: bool
    crew: int
    key: str


class ComparePage(Page, frozen=True, kw_only=True):
    """``/director/plan/compare``: two plans side by side; 0 is the plan in force."""

    template: ClassVar[str] = "plan_compare.html"
    before: int
    after: int
    choices: tuple[int, ...]
    pair: PlanPair


@get("/director/plan")
async def show_plans(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The plan in force, the search under way, and drafts."""
    need_director(visitor)
    return house.show(request, visitor, await _plans(house))


async def _plans(house: House) -> PlansPage:
    state, now = house.state, house.searches.now
    return PlansPage(
        ready=state.event is not None and bool(state.teams),
        begun=any(run.started_ms is not None for run in state.heats.values()),
        in_force=InForce(plan=state.plan, told=state.plan_told) if state.plan else None,
        search=await house.live(SEARCH),
        running=now is not None and not now.ended,
        seconds=SECONDS,
        basis=state.subjects.get("event", 0),
        key=new_key(),
    )


@post("/director/plan", status_code=200)
async def act_on_plans(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Begin or stop a search, take an offered change or plan, freeze or thaw."""
    need_director(visitor)
    deed, _, rest = form.text("do").partition(" ")
    if deed in {"plan", "prices", "choices"}:
        _look(house, deed, form.whole("seconds") or SECONDS[0])
    elif deed == "stop":
        house.searches.stop()
    elif deed == "take":
        await _take(house, visitor, form, rest)
    elif deed == "keep":
        await _keep_choice(house, rest)
    elif deed in {"freeze", "thaw"}:
        await _freeze_or_thaw(house, visitor, form, deed)
    else:
        raise Unreadable("web.unknown_button", given=form.text("do")[:80])
    return Redirect("/director/plan", status_code=303)


def _look(house: House, deed: str, seconds: int) -> None:
    state, book = house.state, house.book
    if deed == "plan":
        seconds = min(max(seconds, SECONDS[0]), SECONDS[-1])
        work = look_for_plan(book, state, seconds, book.now_ms())
        house.searches.start("plan", seconds, work)
    elif deed == "prices":
        house.searches.start("prices", 0, look_for_prices(state, EACH_PRICE_S))
    else:
        house.searches.start("choices", 0, look_for_choices(state, EACH_CHOICE_S))


async def _take(house: House, visitor: Visitor, form: Posted, told: str) -> None:
    try:
        changes = read_taken(told)
    except msgspec.MsgspecError as fault:
        raise Unreadable("web.unknown_button", given=told[:80]) from fault
    asked = take_changes(house.state, changes, form.whole("basis") or 0)
    if visitor.actor is None:
        return
    await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    now = house.searches.now
    if now is not None and now.ended and now.kind == "plan":
        _look(house, "plan", now.seconds)


async def _keep_choice(house: House, name: str) -> None:
    now = house.searches.now
    choice = next((one for one in now.choices if one.name == name), None) if now else None
    if choice is None:
        raise Refusal("plan.nothing_to_take")
    book = house.book
    await asyncio.to_thread(keep_option, book, house.state, choice, book.now_ms())
    house.searches.drafts_changed()


async def _freeze_or_thaw(house: House, visitor: Visitor, form: Posted, deed: str) -> None:
    revision = form.whole("revision") or 0
    asked = (
        planned.freeze_plan(revision)
        if deed == "freeze"
        else planned.thaw_plan(revision, form.text("reason"))
    )
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=f"{form.text('key')}-{deed}")


@get("/director/plan/{number:int}")
async def show_draft(
    request: Asked, house: InHouse, visitor: ByVisitor, number: FromPath[int]
) -> Response[str]:
    """One draft: the day drawn, what is proven, and what differs from the plan in force."""
    need_director(visitor)
    draft = await asyncio.to_thread(draft_of, house.book, number)
    page = await asyncio.to_thread(_draft_page, house.state, house, draft)
    return house.show(request, visitor, page)


def _draft_page(state: State, house: House, draft: PlanDraft) -> DraftPage:
    drawn = msgspec.structs.replace(state, plan=draft.plan, event=draft.event)
    voice = house.voice(drawn)
    bars = kit_day(drawn).hurried
    reasons = (one for one in draft.because if one.rule not in SAID_BY_THE_GAP)
    proven = (gap_said(draft.plan, draft.certificate_s), *reasons)
    try:
        need_fresh(state, draft)
        old = False
    except Refusal:
        old = True
    return DraftPage(
        draft=draft,
        day=drawn_plan(state, draft.plan, draft.event),
        proven=tuple(voice.sentence(one) for one in proven),
        found=tuple(
            (one.severity, voice.sentence(one)) for one in _grouped((*draft.findings, *bars))
        ),
        pair=_pair(state, draft.event, state.plan, draft.plan),
        old=old,
        frozen=state.plan_told is not None and state.plan_told.frozen,
        changes_event=draft.event != state.event,
        crew=len(state.crew),
        key=new_key(),
    )


def _grouped(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return findings with what is worst first, each rule's a few times at most."""
    order = {"error": 0, "warning": 1, "note": 2}
    seen: dict[str, int] = {}
    kept = []
    for one in sorted(findings, key=lambda one: order[one.severity]):
        seen[one.rule] = seen.get(one.rule, 0) + 1
        if seen[one.rule] <= MOST_ALIKE:
            kept.append(one)
    return tuple(kept)


MOST_ALIKE = 6


def _pair(state: State, event: Event, before: Plan | None, after: Plan) -> PlanPair | None:
    if before is None:
        return None
    return plan_pair(event, state.teams.values(), before, after)


@post("/director/plan/{number:int}", status_code=200)
async def act_on_draft(
    house: InHouse, visitor: ByVisitor, form: PostedForm, number: FromPath[int]
) -> Response[Any]:
    """Publish a draft, or let go of it."""
    need_director(visitor)
    deed = form.text("do")
    draft = await asyncio.to_thread(draft_of, house.book, number)
    if deed == "discard":
        await asyncio.to_thread(drop_draft, house.book, number)
        house.searches.drafts_changed()
        return Redirect("/director/plan", status_code=303)
    if deed != "publish":
        raise Unreadable("web.unknown_button", given=deed[:80])
    key, with_rota = form.text("key") or new_key(), form.ticked("rota")
    await _publish(house, visitor, draft, key, with_rota=with_rota)
    return Redirect("/director/plan", status_code=303)


async def _publish(
    house: House, visitor: Visitor, draft: PlanDraft, key: str, *, with_rota: bool
) -> None:
    """Tell everyone a draft; if it was found for another day, make the day that one first.

    With a rota: it is made for that plan, and both are told, or neither is.
    """
    event = need_fresh(house.state, draft)
    if visitor.actor is None:
        return
    if draft.event != event:
        basis = house.state.subjects.get("event", 0)
        await house.book.ask(visitor.actor, take_event(draft.event, basis), key=f"{key}-day")
    state = house.state
    plan = numbered(state, draft)
    asked = day.publish_plan(plan)
    if with_rota:
        rota = await asyncio.to_thread(made_for, state, plan)
        asked = planned.publish_plan_with_rota(plan, rota, state.rota_rules)
    await house.book.ask(visitor.actor, asked, key=f"{key}-plan")
    await asyncio.to_thread(drop_draft, house.book, draft.number)
    house.searches.drafts_changed()


@get("/director/plan/compare")
async def compare_plans(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    before: FromQuery[int] = IN_FORCE,
    after: FromQuery[int] = IN_FORCE,
) -> Response[str]:
    """Two plans side by side, in words and drawn."""
    need_director(visitor)
    state = house.state
    drafts = {draft.number: draft for draft in await asyncio.to_thread(drafts_of, house.book)}
    plans = {number: draft.plan for number, draft in drafts.items()}
    if state.plan is not None:
        plans[IN_FORCE] = state.plan
    if before not in plans or after not in plans or state.event is None:
        missing = before if before not in plans else after
        raise NotFound("plan.no_draft", number=missing)
    event = drafts[after].event if after in drafts else state.event
    page = ComparePage(
        before=before,
        after=after,
        choices=tuple(sorted(plans)),
        pair=plan_pair(event, state.teams.values(), plans[before], plans[after]),
    )
    return house.show(request, visitor, page)


HANDLERS = (show_plans, act_on_plans, compare_plans, show_draft, act_on_draft)
