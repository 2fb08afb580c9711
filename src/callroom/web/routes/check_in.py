"""The check-in: a team by its QR code or a part of its name; who is here, what is open."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.actions import check_in as ask
from callroom.actions import entering as ask_entering
from callroom.actions.request import Request
from callroom.model import (
    BadInput,
    Division,
    Event,
    Finding,
    NotAllowed,
    NotFound,
    Refusal,
    State,
    Team,
)
from callroom.model.currency import read_amount
from callroom.model.entering import next_team_id
from callroom.model.money import Place, Received
from callroom.views.check_in import (
    CheckInDesk,
    TeamIn,
    check_in_desk,
    check_in_of,
    found_by_name,
)
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_event, need_role, new_key
from callroom.web.late_lanes import LanesOffer, lanes_offered, take_lanes
from callroom.web.money.desk import today_at
from callroom.web.pages import Page
from callroom.web.visitor import Visitor

_NAMING = frozenset({"director", "head_judge", "desk"})


class CheckInPage(Page, frozen=True, kw_only=True):
    """``/check-in``: the teams, or those `found` by what was `typed`.

    `done` is the team that was just checked in, None: none. `adds`: this visitor may note a team
    that is not on the list; `waiting` were noted so and wait for the director.
    """

    template: ClassVar[str] = "check_in.html"
    desk: CheckInDesk
    typed: str
    found: tuple[TeamIn, ...]
    done: TeamIn | None
    added: str
    adds: bool
    divisions: tuple[Division, ...]
    waiting: tuple[Team, ...]
    refused: tuple[Finding, ...]
    key: str


class CheckInTeamPage(Page, frozen=True, kw_only=True):
    """``/check-in/<team>``: one team.

    `names` of its athletes by the person's id, only where nobody can read along and the role may
    see them. `offer`: free lanes, to the director, for a team that the plan has no heat for. `signs` and `takes`: this visitor may note signatures, and take the fee in cash, for
    which `tills` are the places.
    """

    template: ClassVar[str] = "check_in_team.html"
    team: TeamIn
    names: Mapping[str, str]
    offer: LanesOffer
    signs: bool
    takes: bool
    tills: tuple[Place, ...]
    refused: tuple[Finding, ...]
    key: str


@get("/check-in")
async def show_check_in(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    find: FromQuery[str] = "",
    done: FromQuery[str] = "",
    added: FromQuery[str] = "",
) -> Response[Any]:
    """Find a team; one that alone has what was typed is shown at once."""
    need_role(visitor, "athletes.here")
    desk = await _desk(house)
    found = found_by_name(desk, find[:80])
    if len(found) == 1:
        return Redirect(f"/check-in/{found[0].open.team}", status_code=303)
    return _page(request, house, visitor, desk, find[:80], found, done=done, added=added)


@post("/check-in", status_code=200)
async def add_team(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Note a team that is not on the list: it waits for the director."""
    need_role(visitor, "paper.signed")
    event = need_event(house.state)
    name, division = " ".join(form.text("name").split())[:80], form.text("division")
    if division not in {one.id for one in event.divisions}:
        raise NotFound("division.unknown", division=division[:80])
    try:
        await _note_new(house, visitor, name, division, form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        desk = await _desk(house)
        return _page(request, house, visitor, desk, "", (), refused=findings_of(fault))
    return Redirect("/check-in?added=yes", status_code=303)


@get("/check-in/{team_id:str}")
async def show_team(
    request: Asked, house: InHouse, visitor: ByVisitor, team_id: FromPath[str]
) -> Response[Any]:
    """One team; the same code leads everybody else to the team's day."""
    if not visitor.may("athletes.here") and team_id in house.state.teams:
        return Redirect(f"/team/{team_id}", status_code=303)
    need_role(visitor, "athletes.here")
    return await _team_page(request, house, visitor, team_id)


@post("/check-in/{team_id:str}", status_code=200)
async def note_team(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, team_id: FromPath[str]
) -> Response[Any]:
    """Note who is here, the pack, a signature, the fee."""
    need_role(visitor, "athletes.here")
    team = house.state.teams.get(team_id)
    if team is None:
        raise NotFound("team.unknown", team=team_id[:80])
    try:
        asked, kind = _asked(house, team, form)
        need_role(visitor, kind)
        if visitor.actor is not None:
            key = form.text("key") or new_key()
            await house.book.ask(visitor.actor, asked, key=f"{key}-{form.text('do')}"[:120])
    except NotAllowed:
        raise
    except (BadInput, Refusal) as fault:
        return await _team_page(request, house, visitor, team_id, findings_of(fault))
    whole = form.text("do") == "whole"
    back = f"/check-in?done={team_id}" if whole else f"/check-in/{team_id}"
    return Redirect(back, status_code=303)


def _asked(house: House, team: Team, form: Posted) -> tuple[Request, str]:
    """Return the request that a button makes, and the kind that decides who may press it."""
    do, _, person = form.text("do").partition(":")
    squad = tuple(one.person for one in team.athletes)
    if do == "whole":
        return ask.check_in_whole(team.id, squad), "athletes.here"
    if do in {"here", "away"}:
        return ask.note_here(team.id, (person,), here=do == "here"), "athletes.here"
    if do in {"pack", "no_pack"}:
        return ask.give_pack(team.id, given=do == "pack"), "pack.given"
    if do == "self":
        return ask.sign_paper(team.id, person, "self"), "paper.signed"
    if do == "guardian":
        return ask.sign_paper(team.id, person, "guardian"), "paper.signed"
    if do == "unsigned":
        return ask.sign_paper(team.id, person, "self", signed=False), "paper.signed"
    if do == "lanes":
        return take_lanes(house, team.id, form.text("shown")), "plan.repaired"
    if do == "fee":
        return _fee(house, team, form), "money.booked"
    raise Unreadable("web.unknown_button", given=do[:80])


def _fee(house: House, team: Team, form: Posted) -> Request:
    event = need_event(house.state)
    lines = house.state.budget.lines if house.state.budget is not None else ()
    line = next((one.id for one in lines if one.id == form.text("line")), "")
    deed = Received(
        day=today_at(house, event),
        line=line,
        place=form.text("place"),
        amount=read_amount(form.text("amount"), event.currency),
        team=team.id,
    )
    return ask.take_fee(deed)


async def _note_new(house: House, visitor: Visitor, name: str, division: str, key: str) -> None:
    async with house.entering:
        state: State = house.state
        team = Team(
            id=next_team_id(set(state.teams) | set(state.enrolments)), name=name, division=division
        )
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, ask_entering.note_walk_up(team), key=key)


async def _desk(house: House) -> CheckInDesk:
    return check_in_desk(house.state, await asyncio.to_thread(house.book.people))


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    desk: CheckInDesk,
    typed: str,
    found: tuple[TeamIn, ...],
    *,
    done: str = "",
    added: str = "",
    refused: tuple[Finding, ...] = (),
) -> Response[Any]:
    event: Event = need_event(house.state)
    page = CheckInPage(
        desk=desk,
        typed=typed,
        found=found,
        done=next((one for one in desk.teams if one.open.team == done), None),
        added=added,
        adds=visitor.may("paper.signed"),
        divisions=event.divisions,
        waiting=tuple(
            one.team for one in house.state.enrolments.values() if one.status == "waiting"
        ),
        refused=refused,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused else 200)


async def _team_page(
    request: Asked,
    house: House,
    visitor: Visitor,
    team_id: str,
    refused: tuple[Finding, ...] = (),
) -> Response[Any]:
    state = house.state
    people = await asyncio.to_thread(house.book.people)
    team = state.teams.get(team_id)
    shown = check_in_of(state, people, team) if team is not None else None
    if team is None or shown is None:
        raise NotFound("team.unknown", team=team_id[:80])
    names: dict[str, str] = {}
    if visitor.private and visitor.role in _NAMING:
        squad = (one.person for one in team.athletes)
        names = {one: people[one].name for one in squad if one in people}
    offer = LanesOffer()
    if visitor.role == "director" and shown.first is None:
        offer = await asyncio.to_thread(lanes_offered, house, team_id)
    places = state.budget.places if state.budget is not None else ()
    page = CheckInTeamPage(
        team=shown,
        names=names,
        offer=offer,
        signs=visitor.may("paper.signed"),
        takes=visitor.may("money.booked"),
        tills=tuple(one for one in places if one.sort == "cash"),
        refused=refused,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused else 200)


HANDLERS = (show_check_in, add_team, show_team, note_team)
