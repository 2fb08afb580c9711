"""The crew: who helps, with what and when; who has no shift; what is short; one by hand."""

import asyncio
from collections.abc import Mapping
from datetime import date
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect
from msgspec.structs import replace

from callroom.actions import helping
from callroom.actions.crew_list import member_left, set_member
from callroom.actions.request import Request
from callroom.bootstrap import rota_making as making
from callroom.bootstrap.team_links import beside_people, person_id
from callroom.model import (
    BadInput,
    CallroomError,
    CrewMember,
    Event,
    Finding,
    NotFound,
    Refusal,
    State,
    wall_time,
)
from callroom.model.crew import POSTS
from callroom.model.helping import Helping
from callroom.model.person import Person
from callroom.views.crew_list import (
    CrewLine,
    OfferLine,
    PostCount,
    crew_lines,
    found,
    offer_lines,
    post_counts,
)
from callroom.views.rota_day import left_open
from callroom.web.errors import NeedsPrivacy, Unreadable, findings_of
from callroom.web.forms.crew_form import CrewForm, CrewRead, crew_form, days_of, read_crew_form
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.routes.rota import in_sentences
from callroom.web.team_post import link_base
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

NEW = "new"


class CrewPage(Page, frozen=True, kw_only=True):
    """``/director/crew``: everybody, or those that were looked for.

    `offers` wait, the first first, and `address` is where they are made from
    outside (empty: nowhere). `count` are all, `idle` those without a shift; `short` are sentences about the published
    rota, which is there if `in_rota`.
    """

    template: ClassVar[str] = "crew.html"
    lines: tuple[CrewLine, ...]
    teams: Mapping[str, str]
    offers: tuple[OfferLine, ...]
    helping: Helping
    address: str
    counts: tuple[PostCount, ...]
    count: int
    idle: int
    in_rota: bool
    short: tuple[str, ...]
    wanted: str
    show: str
    told: Told | None
    key: str


class CrewMemberPage(Page, frozen=True, kw_only=True):
    """``/director/crew/<person>``: one volunteer to be changed; `person` is empty for a new one.

    `first_time` is when their first shift begins, as a clock shows it; `seen` the entry that last
    changed them.
    """

    template: ClassVar[str] = "crew_member.html"
    person: str
    title: str
    form: CrewForm
    posts: tuple[str, ...]
    teams: tuple[tuple[str, str], ...]
    days: tuple[date, ...]
    line: CrewLine | None
    first_time: str
    seen: int
    refused: tuple[Finding, ...]
    key: str


@get("/director/crew")
async def show_crew(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    q: FromQuery[str] = "",
    show: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """Everybody of the crew, or those whose name has `q` in it and who can do the post `show`."""
    need_private(visitor)
    need_event(house.state)
    page = await asyncio.to_thread(
        _list_page, house, _address(house, request), q[:80], show[:40], done
    )
    return house.show(request, visitor, page)


def _list_page(
    house: House, address: str, wanted: str = "", show: str = "", done: str = ""
) -> CrewPage:
    state, people = house.state, house.book.people()
    lines = crew_lines(state, people)
    rota, plan = state.rota, state.plan
    in_rota = rota is not None and plan is not None and bool(state.crew)
    short: tuple[str, ...] = ()
    if in_rota and rota is not None and plan is not None and rota.plan_revision == plan.revision:
        short = in_sentences(house, left_open(making.question(state), rota), people)
    say = house.words.gettext
    said = {
        "took": say("They are on the list now."),
        "declined": say("The offer is declined, and its details are let go of."),
        "open": say("The sign-up is open."),
        "closed": say("The sign-up is closed."),
        "kept": say("It is kept."),
        "left": say("They are off the list."),
    }.get(done)
    return CrewPage(
        lines=found(lines, wanted, show),
        offers=offer_lines(state, people),
        helping=state.helping,
        address=address,
        teams={team.id: team.name for team in state.teams.values()},
        counts=post_counts(tuple(state.crew.values())),
        count=len(lines),
        idle=sum(not line.duties for line in lines),
        in_rota=in_rota,
        short=short,
        wanted=wanted,
        show=show,
        told=Told(text=said) if said else None,
        key=new_key(),
    )


def _address(house: House, request: Asked) -> str:
    base = link_base(house, request, safe=True)
    return f"{base}/help-out" if base else ""


@post("/director/crew", status_code=200)
async def act_on_crew(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Accept or decline an offer, or open and close the sign-up."""
    need_private(visitor)
    state, deed, person = house.state, form.text("do"), form.text("person")
    people = await asyncio.to_thread(house.book.people)
    kept: Mapping[str, Person] = {}
    gone: tuple[str, ...] = ()
    if deed == "accept":
        asked, kept, gone = _taken_on(state, person, people)
    elif deed == "decline":
        asked = helping.decline_offer(person)
        gone = (person,) if person in state.offers else ()
    elif deed in {"open", "close"}:
        asked = helping.set_helping(Helping(open=deed == "open", welcome=form.text("welcome")))
    else:
        raise Unreadable("web.unknown_button", given=deed[:80])
    if visitor.actor is not None:
        key = form.text("key") or new_key()
        await house.book.ask(visitor.actor, asked, key=key, beside=beside_people(kept, gone))
    done = {"accept": "took", "decline": "declined", "open": "open", "close": "closed"}[deed]
    return Redirect(f"/director/crew?done={done}", status_code=303)


def _taken_on(
    state: State, person: str, people: Mapping[str, Person]
) -> tuple[Request, Mapping[str, Person], tuple[str, ...]]:
    """Return the request, the details to be kept, and whose are let go of."""
    offer = state.offers.get(person)
    if offer is None:
        raise Refusal("help.not_waiting")
    sent = CrewRead(member=offer.member, person=people.get(person, Person(name=person)), faults={})
    read = as_athlete(state, sent, people)
    listed = read.member.person
    if listed in state.crew:
        raise Refusal("help.known", person=read.person.name)
    gone = (person,) if listed != person else ()
    return helping.accept_offer(state, person, read.member), {listed: read.person}, gone


@get("/director/crew/{person:str}")
async def show_member(
    request: Asked, house: InHouse, visitor: ByVisitor, person: FromPath[str]
) -> Response[str]:
    """One volunteer, to be changed; ``new``: a form to add one."""
    need_private(visitor)
    event = need_event(house.state)
    people = await asyncio.to_thread(house.book.people)
    if person == NEW:
        form = crew_form(event, CrewMember(person="", posts=()), Person(name=""))
        return _member_page(request, house, visitor, "", form, people)
    member, known = _known(house.state, person, people)
    form = crew_form(event, member, known)
    return _member_page(request, house, visitor, person, form, people)


@post("/director/crew/{person:str}", status_code=200)
async def change_member(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, person: FromPath[str]
) -> Response[Any]:
    """Keep a volunteer as typed, or take one off the list who cannot come."""
    need_private(visitor)
    event, key = need_event(house.state), form.text("key") or new_key()
    people = await asyncio.to_thread(house.book.people)
    deed = form.text("do")
    if deed == "left":
        asked = member_left(house.state, person)
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=key)
        return Redirect("/director/crew?done=left", status_code=303)
    if deed != "keep":
        raise Unreadable("web.unknown_button", given=deed[:80])
    if person == NEW:
        before = (CrewMember(person=person_id(key, "crew"), posts=()), Person(name=""))
    else:
        before = _known(house.state, person, people)
    read = read_crew_form(event, form, *before, public=False)
    shown = CrewForm(texts=form.texts, faults=read.faults)
    own = "" if person == NEW else person
    if read.faults:
        return _member_page(request, house, visitor, own, shown, people)
    if person == NEW:
        read = as_athlete(house.state, read, people)
        if read.member.person in house.state.crew:
            twice = Finding(rule="help.known", severity="error", subject="name",
                            facts={"person": read.person.name})  # fmt: skip
            shown = CrewForm(texts=form.texts, faults={"name": twice})
            return _member_page(request, house, visitor, own, shown, people)
    try:
        asked = set_member(house.state, read.member, form.whole("seen") or 0)
        if visitor.actor is not None:
            beside = beside_people({read.member.person: read.person})
            await house.book.ask(visitor.actor, asked, key=key, beside=beside)
    except BadInput as fault:
        return _member_page(request, house, visitor, own, shown, people, findings_of(fault))
    except CallroomError as fault:
        return _member_page(request, house, visitor, own, shown, people, (fault.finding(),))
    return Redirect("/director/crew?done=kept", status_code=303)


def as_athlete(state: State, read: CrewRead, people: Mapping[str, Person]) -> CrewRead:
    """Return who competes in the team they named under the id they have there, by their name.

    So the rota knows when they compete, and nobody is kept twice. What is known of them stays.
    """
    team = state.teams.get(read.member.team)
    name = read.person.name.casefold()
    for athlete in team.athletes if team is not None else ():
        known = people.get(athlete.person)
        if known is not None and known.name.casefold() == name:
            person = replace(
                known,
                email=read.person.email or known.email,
                phone=read.person.phone or known.phone,
                ask_again=read.person.ask_again or known.ask_again,
            )
            return replace(read, member=replace(read.member, person=athlete.person), person=person)
    return read


def need_private(visitor: Visitor) -> None:
    """Refuse whoever is not the director, and to show names where others could read along."""
    need_director(visitor)
    if not visitor.private:
        raise NeedsPrivacy("web.needs_privacy")


def team_choices(state: State) -> tuple[tuple[str, str], ...]:
    """Return the teams by name, with their ids."""
    named = ((team.id, team.name) for team in state.teams.values())
    return tuple(sorted(named, key=lambda one: (one[1].casefold(), one[0])))


def _known(state: State, person: str, people: Mapping[str, Person]) -> tuple[CrewMember, Person]:
    member = state.crew.get(person)
    if member is None:
        raise NotFound("person.unknown", person=person[:80])
    return member, people.get(person, Person(name=""))


def _member_page(
    request: Asked,
    house: House,
    visitor: Visitor,
    person: str,
    form: CrewForm,
    people: Mapping[str, Person],
    refused: tuple[Finding, ...] = (),
) -> Response[str]:
    state = house.state
    event = need_event(state)
    member = state.crew.get(person)
    line = None
    if member is not None:
        line = next(one for one in crew_lines(state, people) if one.member.person == person)
    page = CrewMemberPage(
        person=person,
        title=line.person.name if line is not None else "",
        form=form,
        posts=(*POSTS, *(one for one in (member.posts if member else ()) if one not in POSTS)),
        teams=team_choices(state),
        days=days_of(event),
        line=line,
        first_time=_first_time(event, line),
        seen=state.subjects.get(f"crew:{person}", 0),
        refused=refused,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused or form.faults else 200)


def _first_time(event: Event, line: CrewLine | None) -> str:
    if line is None or not line.duties:
        return ""
    first_s = min(duty.start_s for duty in line.duties)
    return wall_time(event.instant(first_s), event.zone).strftime("%H:%M")


HANDLERS = (show_crew, act_on_crew, show_member, change_member)
