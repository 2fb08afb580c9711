"""A team's own page by its link: see, change, agree, pay, withdraw."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect
from markupsafe import Markup
from msgspec.structs import replace

from callroom.actions import entering as ask_entering
from callroom.model import (
    CallroomError,
    Event,
    Finding,
    NotFound,
    Refusal,
    Stale,
    State,
    milliseconds,
)
from callroom.model.entering import Entering
from callroom.model.person import Agreed, Person
from callroom.model.places_left import waiting_in
from callroom.views.entry_fees import entry_fees
from callroom.views.paying import Payable, payable
from callroom.views.teams_open import TeamOpen, is_minor, team_open
from callroom.web.entering import (
    MOST_FORM_BYTES,
    OwnTeam,
    basis_of,
    is_open,
    own_team,
    store_change,
    typed_form,
)
from callroom.web.errors import NeedsPrivacy, Unreadable, findings_of
from callroom.web.forms.posted import Posted
from callroom.web.forms.read_team import Filled, TeamReader
from callroom.web.forms.team_form import TeamForm, form_of, posted_team
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House, need_event, new_key
from callroom.web.pages import Page
from callroom.web.qr import pay_code_svg
from callroom.web.routes.judge import read_basis
from callroom.web.visitor import Visitor

_LONGEST_GUARDIAN = 200


class OwnTeamPage(Page, frozen=True, kw_only=True):
    """``/enter/team/<token>``: one team as it sees itself.

    Attributes
    ----------
    turn
        Its place on the waiting list, from 1; 0: it does not wait.
    pay, code
        How it pays (None: nothing to pay), and the payment code as SVG.
    link
        This page's own address, to be kept.
    form
        The form to change it; `changes`: it may still be sent.
    """

    template: ClassVar[str] = "own_team.html"
    own: OwnTeam
    open: TeamOpen
    names: Mapping[str, str]
    turn: int
    pay: Payable | None
    code: Markup | None
    event: Event
    entering: Entering
    division_name: str
    form: TeamForm
    ages: bool
    changes: bool
    may_leave: bool
    token: str
    link: str
    basis: str
    new: bool
    saved: bool
    refused: tuple[Finding, ...]
    key: str


@get("/enter/team/{token:str}")
async def show_own(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    token: FromPath[str],
    new: FromQuery[str] = "",
    saved: FromQuery[str] = "",
) -> Response[str]:
    """The team that this link opens."""
    own = own_team(house, visitor, token)
    people = await asyncio.to_thread(house.book.people)
    form = form_of(house.state, need_event(house.state), own.team, people)
    return _page(request, house, visitor, own, token, people, form, new=new, saved=saved)


@post("/enter/team/{token:str}", status_code=200, request_max_body_size=MOST_FORM_BYTES)
async def change_own(
    request: Asked, house: InHouse, visitor: ByVisitor, token: FromPath[str]
) -> Response[Any]:
    """Change the team, agree for one athlete, or withdraw."""
    typed = await typed_form(request, house, visitor)
    if not visitor.private:
        raise NeedsPrivacy("entering.needs_privacy")
    own = own_team(house, visitor, token)
    people = await asyncio.to_thread(house.book.people)
    event = need_event(house.state)
    form = posted_team(event, own.team.division, typed.form)
    if not typed.ours:
        again = Finding(rule="entering.send_again", severity="error", subject="form")
        return _page(request, house, visitor, own, token, people, form, refused=(again,))
    do = typed.form.text("do")
    try:
        if do == "change":
            _need_open(house)
            reader = TeamReader(
                house.state,
                event,
                form,
                key=typed.form.text("key"),
                hand="team",
                now_ms=house.book.now_ms(),
            )
            filled = reader.read(own.team, people)
            if filled.faults:
                form = replace(form, faults=filled.faults)
                return _page(request, house, visitor, own, token, people, form)
            basis = read_basis(typed.form.text("basis"))
            await store_change(house, own.actor, filled, basis, _key(typed.form))
        elif do == "agree":
            await _agree(house, own, people, typed.form)
        elif do == "withdraw" and typed.form.ticked("sure"):
            asked = ask_entering.withdraw(house.state, own.team.id)
            await house.book.ask(own.actor, asked, key=_key(typed.form))
        elif do != "withdraw":
            raise Unreadable("web.unknown_button", given=do[:80])
    except CallroomError as fault:
        shown = form if do == "change" else form_of(house.state, event, own.team, people)
        found = findings_of(fault)
        if isinstance(fault, Stale):
            found = (Finding(rule="entering.changed", severity="error", subject="form"),)
        return _page(request, house, visitor, own, token, people, shown, refused=found)
    return Redirect(f"/enter/team/{token}?saved=yes", status_code=303)


def _need_open(house: House) -> None:
    if not is_open(house):
        raise Refusal("entering.not_open")


async def _agree(house: House, own: OwnTeam, people: Mapping[str, Person], form: Posted) -> None:
    state, person_id = house.state, form.text("person")
    if person_id not in {one.person for one in own.team.athletes} or not state.terms:
        raise NotFound("person.not_held", person=person_id[:80])
    if not form.ticked("agree"):
        raise Unreadable("form.tick_first")
    person = people.get(person_id, Person(name=""))
    minor = form.ticked("minor") or bool(is_minor(person, need_event(state), state.entering))
    guardian = form.text("guardian")[:_LONGEST_GUARDIAN] or person.guardian
    if minor and not guardian:
        raise Unreadable("form.no_guardian")
    agreed = Agreed(
        terms=state.terms[-1].number,
        at_ms=house.book.now_ms(),
        by="guardian" if minor else "self",
    )
    now = replace(person, agreed=agreed, minor=minor or person.minor, guardian=guardian)
    basis = basis_of(state, own.team.id)
    filled = Filled(team=own.team, people={person_id: now}, gone=(), faults={})
    await store_change(house, own.actor, filled, basis, _key(form))


def _basis_text(state: State, team: str) -> str:
    return msgspec.json.encode(basis_of(state, team)).decode()


def _key(form: Posted) -> str:
    return f"own-{form.text('key') or new_key()}"


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    own: OwnTeam,
    token: str,
    people: Mapping[str, Person],
    form: TeamForm,
    *,
    refused: tuple[Finding, ...] = (),
    new: str = "",
    saved: str = "",
) -> Response[str]:
    state, event, team = house.state, need_event(house.state), own.team
    fee = next((one for one in entry_fees(state) if one.team == team.id), None)
    waiting = [one.team.id for one in waiting_in(state, team.division)]
    pay = payable(state, team, house.book.paying.get())
    code = None
    if pay is not None and pay.by_code:
        code = Markup(pay_code_svg(pay.to, pay.amount, pay.reference))  # noqa: S704 - drawn here
    page = OwnTeamPage(
        own=own,
        open=team_open(state, people, team, fee),
        names={
            one.person: people[one.person].name for one in team.athletes if one.person in people
        },
        turn=waiting.index(team.id) + 1 if team.id in waiting else 0,
        pay=pay,
        code=code,
        event=event,
        entering=state.entering,
        division_name=event.division(team.division).name,
        form=form,
        ages=team.division in state.entering.ages_in,
        changes=is_open(house) and not own.over,
        may_leave=not own.over and house.book.now_ms() < milliseconds(event.starts_at),
        token=token,
        link=f"{str(request.base_url).rstrip('/')}/enter/team/{token}",
        # What was changed meanwhile is told; whoever sends again after that has seen it.
        basis=form.text("basis") if form.faults else _basis_text(state, team.id),
        new=bool(new),
        saved=bool(saved),
        refused=refused,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused or form.faults else 200)


HANDLERS = (show_own, change_own)
