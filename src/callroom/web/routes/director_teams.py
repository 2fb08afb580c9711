"""The director's teams: all by division with what is open, and each one with its people."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect
from msgspec.structs import replace

from callroom.model import BadInput, Event, Finding, NotFound, Refusal, Stale, Team, TeamStatus
from callroom.model.entering import Enrolment, Entering
from callroom.model.person import Person
from callroom.views.entry_fees import EntryFee, entry_fees
from callroom.views.entry_form import DivisionRoom, division_rooms
from callroom.views.team_doubles import Double, team_doubles
from callroom.views.teams_open import TeamOpen, shirts_wanted, team_open, teams_open
from callroom.web.entering import basis_of
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.posted import Posted
from callroom.web.forms.read_team import Filled, TeamReader
from callroom.web.forms.team_form import TeamForm, blank_form, form_of, posted_team
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.routes.judge import read_basis
from callroom.web.team_post import confirm
from callroom.web.teams_desk import decision, enter_by_hand, moved, store_by_director, team_of
from callroom.web.visitor import Visitor


class TeamsByDivision(msgspec.Struct, frozen=True, kw_only=True):
    """One division on the list: its room, the teams that are in, those that wait in turn."""

    room: DivisionRoom
    teams: tuple[TeamOpen, ...]
    waiting: tuple[TeamOpen, ...]


class DirectorTeamsPage(Page, frozen=True, kw_only=True):
    """``/director/teams``: teams by division; `names` of teams and people, by id, for doubles.

    `ended` are forms of teams that withdrew or were declined before they were in.
    `only_open`: those about which nothing is open are left out. `shirts` are sizes with how many
    are wanted; an empty size stands for those not said.
    """

    template: ClassVar[str] = "director_teams.html"
    divisions: tuple[TeamsByDivision, ...]
    doubles: tuple[Double, ...]
    names: Mapping[str, str]
    only_open: bool
    out: int
    ended: tuple[Enrolment, ...]
    shirts: tuple[tuple[str, int], ...]
    key: str


class DirectorTeamPage(Page, frozen=True, kw_only=True):
    """``/director/teams/<id>`` and ``/new``: one team, to be changed.

    Attributes
    ----------
    open, enrolment, status, fee
        What is open, the form it sent, whether it has left, what it paid; None: nothing of it.
    link
        The link just made for it, shown once; `linked`: it has one.
    agreed
        Who of its athletes agreed to the texts or signed, by their place.
    """

    template: ClassVar[str] = "director_team.html"
    team: Team
    event: Event
    entering: Entering
    form: TeamForm
    ages: bool
    open: TeamOpen | None
    enrolment: Enrolment | None
    status: TeamStatus | None
    fee: EntryFee | None
    linked: bool
    link: str
    agreed: tuple[tuple[str, Person], ...]
    saved: bool
    refused: tuple[Finding, ...]
    basis: str
    key: str


@get("/director/teams")
async def show_all(
    request: Asked, house: InHouse, visitor: ByVisitor, only: FromQuery[str] = ""
) -> Response[str]:
    """Every team by division, with what is open about it."""
    need_director(visitor)
    state = house.state
    people = await asyncio.to_thread(house.book.people)
    opened = teams_open(state, people)
    shown = [one for one in opened if not (only == "open" and one.nothing)]
    names = {one.team: one.name for one in opened}
    page = DirectorTeamsPage(
        divisions=tuple(
            TeamsByDivision(
                room=room,
                teams=tuple(one for one in shown if one.division == room.id and not one.waiting),
                waiting=tuple(one for one in opened if one.division == room.id and one.waiting),
            )
            for room in division_rooms(state, house.words)
        ),
        doubles=team_doubles(state, people),
        names=names | {id_: person.name for id_, person in people.items()},
        only_open=only == "open",
        out=len(state.team_status),
        ended=tuple(
            one
            for one in state.enrolments.values()
            if one.status in {"withdrawn", "declined"} and one.team.id not in state.teams
        ),
        shirts=shirts_wanted(state, people),
        key=new_key(),
    )
    return house.show(request, visitor, page)


@get("/director/teams/new")
async def show_new(
    request: Asked, house: InHouse, visitor: ByVisitor, division: FromQuery[str] = ""
) -> Response[str]:
    """An empty form to enter a team by hand."""
    need_director(visitor)
    event = need_event(house.state)
    chosen = division or event.divisions[0].id
    _need_division(event, chosen)
    team = Team(id="", name="", division=chosen)
    return await _page(request, house, visitor, team, blank_form(event, chosen))


@post("/director/teams/new", status_code=200)
async def add_team(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Enter a team by hand."""
    need_director(visitor)
    event = need_event(house.state)
    division = form.text("division")
    _need_division(event, division)
    before = Team(id="", name="", division=division)
    typed = posted_team(event, division, form)
    filled = _read(house, event, typed, form, before, {})
    if filled.faults:
        typed = replace(typed, faults=filled.faults)
        return await _page(request, house, visitor, before, typed)
    try:
        team_id = await enter_by_hand(house, visitor, filled, _key(form))
    except (BadInput, Refusal) as fault:
        return await _page(request, house, visitor, before, typed, refused=findings_of(fault))
    return Redirect(f"/director/teams/{team_id}?saved=yes", status_code=303)


@get("/director/teams/{team_id:str}")
async def show_one(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    team_id: FromPath[str],
    saved: FromQuery[str] = "",
) -> Response[str]:
    """One team with everything about it."""
    need_director(visitor)
    team = team_of(house.state, team_id)
    return await _page(request, house, visitor, team, None, saved=bool(saved))


@post("/director/teams/{team_id:str}", status_code=200)
async def change_one(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, team_id: FromPath[str]
) -> Response[Any]:
    """Change a team, move it, decide about it, or make its link."""
    need_director(visitor)
    team = team_of(house.state, team_id)
    typed: TeamForm | None = None
    try:
        if form.text("do") == "change":
            event = need_event(house.state)
            typed = posted_team(event, team.division, form)
            people = await asyncio.to_thread(house.book.people)
            filled = _read(house, event, typed, form, team, people)
            if filled.faults:
                typed = replace(typed, faults=filled.faults)
                return await _page(request, house, visitor, team, typed)
            basis = dict(read_basis(form.text("basis")))
            await store_by_director(house, visitor, filled, basis, _key(form))
        elif form.text("do") == "link":
            token = await asyncio.to_thread(house.book.links.renew, team_id)
            link = f"{str(request.base_url).rstrip('/')}/enter/team/{token}"
            return await _page(request, house, visitor, team, None, link=link)
        elif form.text("do") == "unlink":
            await asyncio.to_thread(house.book.links.revoke, team_id)
        else:
            await _decide(house, visitor, form, team)
            if form.text("do") == "accept":
                await confirm(house, request, team_id, "", "accepted")
    except (BadInput, Refusal) as fault:
        found = findings_of(fault)
        if isinstance(fault, Stale):
            found = (Finding(rule="entering.changed", severity="error", subject="form"),)
        return await _page(request, house, visitor, team, typed, refused=found)
    back = "/director/teams" if form.text("from") == "list" else f"/director/teams/{team_id}"
    return Redirect(f"{back}?saved=yes", status_code=303)


async def _decide(house: House, visitor: Visitor, form: Posted, team: Team) -> None:
    do = form.text("do")
    if do == "move":
        event = need_event(house.state)
        _need_division(event, form.text("division"))
        asked = moved(house.state, event, team, form.text("division"))
    else:
        found = decision(house.state, team.id, do, form.text("reason"))
        if found is None:
            raise Unreadable("web.unknown_button", given=do[:80])
        asked = found
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=_key(form))


def _read(
    house: House,
    event: Event,
    typed: TeamForm,
    form: Posted,
    before: Team,
    people: Mapping[str, Person],
) -> Filled:
    now_ms = house.book.now_ms()
    key = form.text("key") or new_key()
    reader = TeamReader(house.state, event, typed, key=key, hand="director", now_ms=now_ms)
    return reader.read(before, people)


def _need_division(event: Event, division: str) -> None:
    if division not in {one.id for one in event.divisions}:
        raise NotFound("division.unknown", division=division[:80])


def _key(form: Posted) -> str:
    return form.text("key") or new_key()


async def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    team: Team,
    typed: TeamForm | None,
    *,
    refused: tuple[Finding, ...] = (),
    link: str = "",
    saved: bool = False,
) -> Response[str]:
    state, event = house.state, need_event(house.state)
    people = await asyncio.to_thread(house.book.people)
    fee = next((one for one in entry_fees(state) if one.team == team.id), None)
    form = typed if typed is not None else form_of(state, event, team, people)
    basis = form.text("basis") if form.faults and form.text("basis") else ""
    page = DirectorTeamPage(
        team=team,
        event=event,
        entering=state.entering,
        form=form,
        ages=team.division in state.entering.ages_in,
        open=team_open(state, people, team, fee) if team.id else None,
        enrolment=state.enrolments.get(team.id),
        status=state.team_status.get(team.id),
        fee=fee,
        linked=bool(team.id) and house.book.links.has_link(team.id),
        link=link,
        agreed=tuple(
            (one.place, people[one.person])
            for one in team.athletes
            if one.person in people
            and (people[one.person].agreed is not None or people[one.person].waiver)
        ),
        saved=saved,
        refused=refused,
        basis=basis or msgspec.json.encode(basis_of(state, team.id)).decode(),
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused or form.faults else 200)


HANDLERS = (show_all, show_new, add_team, show_one, change_one)
