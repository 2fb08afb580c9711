"""A draft of the plan as a picture to change by hand, one small change at a time."""

import asyncio
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect
from markupsafe import Markup
from msgspec.structs import replace

from callroom.actions.touches import Effects, Impossible, TakeChange, locked
from callroom.bootstrap.looking import look_again
from callroom.bootstrap.plan_drafts import PlanDraft, draft_of, need_fresh
from callroom.bootstrap.plan_touching import (
    Step,
    draft_in_force,
    effects_of,
    hand_of,
    redo,
    step_of,
    teams_of,
    touch_draft,
    undo,
)
from callroom.model import CallroomError, Event, Finding, Refusal, State
from callroom.views.touch_picture import Held, TouchPicture, touch_picture
from callroom.web.errors import Unreadable, findings_of, status_of
from callroom.web.forms.posted import Posted
from callroom.web.forms.touch import read_touch
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.live_text import LiveText
from callroom.web.pages import Page, html
from callroom.web.routes.planning import SECONDS
from callroom.web.search_shown import read_taken
from callroom.web.topics import SEARCH
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

MOST_NAMED = 8
"""So many teams are named, and so many findings told; the rest is counted."""


class TouchDesk(msgspec.Struct, frozen=True, kw_only=True):
    """The part of the page that is drawn anew with every change.

    Attributes
    ----------
    draft, picture, event
        The draft, drawn, and the event as it wishes.
    effects, step, steps, turn
        What came of the changes so far; the last one and the next to be done again; how many
        there are; which turn of the draft this is.
    longer
        Names of teams that wait longer than in the draft as it was found.
    told
        What was just done, or why not.
    old, frozen, changes_event, crew, in_force
        Whether it cannot be published, as on the page of the draft; whether the crew is known,
        and a plan is in force to compare with.
    """

    draft: PlanDraft
    picture: TouchPicture
    event: Event
    effects: Effects
    step: Step
    steps: int
    turn: int
    longer: tuple[str, ...]
    told: Told | None
    old: bool
    frozen: bool
    changes_event: bool
    crew: int
    in_force: bool
    seconds: tuple[int, ...]
    form_token: str
    key: str


class TouchPage(Page, frozen=True, kw_only=True):
    """``/director/plan/{number}/touch``: the picture, what comes of it, and the search."""

    template: ClassVar[str] = "plan_touch.html"
    number: int
    desk: str
    search: LiveText
    basis: int
    key: str


@get("/director/plan/{number:int}/touch")
async def show_touch(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    number: FromPath[int],
    heat: FromQuery[str] = "",
) -> Response[str]:
    """The draft as a picture; `heat` is chosen. A script gets the part that changes alone."""
    need_director(visitor)
    draft = await asyncio.to_thread(draft_of, house.book, number)
    return await _shown(request, house, visitor, draft, heat)


@post("/director/plan/in-force/touch", status_code=200)
async def begin_touch(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Make a draft of the plan in force, to change it by hand."""
    need_director(visitor)
    del form
    book = house.book
    draft = await asyncio.to_thread(draft_in_force, book, house.state, book.now_ms())
    house.searches.drafts_changed()
    return Redirect(f"/director/plan/{draft.number}/touch", status_code=303)


@post("/director/plan/{number:int}/touch", status_code=200)
async def act_on_touch(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, number: FromPath[int]
) -> Response[Any]:
    """Make one change, take it back or do it again, look for a plan around what is locked."""
    need_director(visitor)
    chosen, told, status = form.text("heat"), None, 200
    async with house.touching:
        draft = await asyncio.to_thread(draft_of, house.book, number)
        try:
            told = await asyncio.to_thread(_act, house, draft, form)
        except (Refusal, Unreadable) as fault:
            told, status = _refused(house, draft, fault), status_of(fault)
        draft = await asyncio.to_thread(draft_of, house.book, number)
    if status == 200 and "hx-request" not in request.headers:
        to = f"?heat={chosen}#chosen" if chosen else ""
        return Redirect(f"/director/plan/{number}/touch{to}", status_code=303)
    return await _shown(request, house, visitor, draft, chosen, told=told, status=status)


def _act(house: House, draft: PlanDraft, form: Posted) -> Told | None:
    """Do what a button says; return what was done, if the draft is another after it."""
    book, state, searches = house.book, house.state, house.searches
    deed, _, rest = form.text("do").partition(" ")
    turn = form.whole("turn") or 0
    if deed == "stop":
        searches.stop()
        return None
    if deed == "solve":
        _look(house, draft, form.whole("seconds") or SECONDS[0])
        return None
    if deed == "undo":
        draft = undo(book, state, draft.number, turn)
        what = house.voice(_as_drawn(state, draft)).sentence(_need(step_of(state, draft).again))
        return Told(text=house.words.gettext("Taken back: {what}").format(what=what))
    if deed == "take":
        draft = _take(house, draft, rest)
    elif deed == "redo":
        draft = redo(book, state, draft.number, turn)
    else:
        touch = read_touch(form, draft.event, draft.plan)
        draft = touch_draft(book, state, draft.number, turn, touch)
    voice = house.voice(_as_drawn(state, draft))
    return Told(text=voice.sentence(_need(step_of(state, draft).last)))


def _need(said: Finding | None) -> Finding:
    if said is None:
        raise Refusal("touch.nothing")
    return said


def _look(house: House, draft: PlanDraft, seconds: int) -> None:
    book = house.book
    seconds = min(max(seconds, SECONDS[0]), SECONDS[-1])
    work = look_again(book, house.state, draft, seconds, book.now_ms())
    house.searches.start("plan", seconds, work)


def _take(house: House, draft: PlanDraft, told: str) -> PlanDraft:
    """Make the changes of one offer in the draft's wishes, and look for a plan at once."""
    try:
        changes = read_taken(told)
    except msgspec.MsgspecError as fault:
        raise Unreadable("web.unknown_button", given=told[:80]) from fault
    seconds = house.searches.now.seconds if house.searches.now is not None else SECONDS[0]
    for one in changes:
        turn = hand_of(house.state, draft).turn
        touch = TakeChange(kind=one.kind, subject=one.subject, level=one.level)
        draft = touch_draft(house.book, house.state, draft.number, turn, touch)
    _look(house, draft, seconds)
    return draft


def _refused(house: House, draft: PlanDraft, fault: CallroomError) -> Told:
    """Say why a change cannot be; of an impossible plan, everything that would be wrong."""
    voice = house.voice(_as_drawn(house.state, draft))
    found = fault.findings if isinstance(fault, Impossible) else ()
    said = [voice.sentence(one) for one in (found or findings_of(fault))[:2]]
    return Told(text=" ".join(said), good=False)


def _as_drawn(state: State, draft: PlanDraft) -> State:
    return replace(state, plan=draft.plan, event=draft.event)


async def _shown(
    request: Asked,
    house: House,
    visitor: Visitor,
    draft: PlanDraft,
    chosen: str,
    *,
    told: Told | None = None,
    status: int = 200,
) -> Response[str]:
    form_token = visitor.form_token
    text = await asyncio.to_thread(_fragment, house, draft, chosen, form_token, told=told)
    if "hx-request" in request.headers:
        return html(text, status)
    page = TouchPage(
        number=draft.number,
        desk=Markup(text),  # noqa: S704 - our own template made it
        search=await house.live(SEARCH),
        basis=house.state.subjects.get("event", 0),
        key=new_key(),
    )
    return house.show(request, visitor, page, status)


def _fragment(
    house: House, draft: PlanDraft, chosen: str, form_token: str, *, told: Told | None
) -> str:
    state = house.state
    drawn = _as_drawn(state, draft)
    teams = {team.id: team for team in teams_of(state)}
    found = effects_of(state, draft)
    step, hand = step_of(state, draft), hand_of(state, draft)
    held = locked(draft.event, teams, draft.plan)
    findings = hand.found.findings if draft.hand is None else draft.findings
    desk = TouchDesk(
        draft=draft,
        picture=touch_picture(
            drawn,
            draft.plan,
            findings,
            Held(heats=held.heats, places=held.places, changed=found.changed),
            chosen,
        ),
        event=draft.event,
        effects=found,
        step=step,
        steps=len(hand.steps),
        turn=hand.turn,
        longer=tuple(teams[one].name for one in found.longer if one in teams)[:MOST_NAMED],
        told=told,
        old=_is_old(state, draft),
        frozen=state.plan_told is not None and state.plan_told.frozen,
        changes_event=draft.event != state.event,
        crew=len(state.crew),
        in_force=state.plan is not None,
        seconds=SECONDS,
        form_token=form_token,
        key=new_key(),
    )
    return house.pages.fragment("parts/touch_desk.html", desk, drawn, most=MOST_NAMED)


def _is_old(state: State, draft: PlanDraft) -> bool:
    try:
        need_fresh(state, draft)
    except Refusal:
        return True
    return False


HANDLERS = (show_touch, begin_touch, act_on_touch)
