"""The rota: make it, see what is short, publish it, mend it; and everybody's own day."""

import asyncio
from collections.abc import Iterable, Mapping
from typing import Any, ClassVar
from urllib.parse import urlencode

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.actions import planned
from callroom.actions.day_now import day_now, typed_s
from callroom.bootstrap import rota_making as making
from callroom.bootstrap.speech import speech_for
from callroom.model import (
    Duty,
    Finding,
    NotFound,
    Refusal,
    Rota,
    RotaRules,
    State,
    Training,
    from_milliseconds,
)
from callroom.model.person import Person
from callroom.paper import person_days_pdf, rota_pdf
from callroom.views import rota_wording
from callroom.views.rota_day import (
    HandOver,
    PersonDay,
    RotaDay,
    ShiftToCome,
    hand_overs,
    name_of,
    person_day,
    rota_day,
    shifts_to_come,
    shortage,
)
from callroom.web.errors import NotSignedIn, Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor

MINUTE_S = 60


class RotaPage(Page, frozen=True, kw_only=True):
    """``/director/rota``: who is where and when; what is short, and what would do.

    `draft`: nobody was told this one yet. `ready`: there are a plan and a crew to make one from.
    `short` and `remedies` are sentences; `told` are those who have to be told of a change just made; `trained` has the last self-check of each volunteer.
    """

    template: ClassVar[str] = "rota.html"
    ready: bool
    draft: bool
    in_force: bool
    rota: RotaDay | None
    rules: RotaRules
    short: tuple[str, ...]
    remedies: tuple[str, ...]
    trained: Mapping[str, Training]
    people: tuple[tuple[str, str], ...]
    now_s: int
    shifts: tuple[ShiftToCome, ...]
    told: tuple[tuple[str, str], ...]
    key: str


class IllPage(Page, frozen=True, kw_only=True):
    """``/director/rota/ill``: what changes hands if somebody drops out from a time on [s]."""

    template: ClassVar[str] = "rota_ill.html"
    person: str
    name: str
    from_s: int
    moves: tuple[HandOver, ...]
    left_open: int
    key: str


class MyDayPage(Page, frozen=True, kw_only=True):
    """``/my-day``: one volunteer's own day; without a number, a form to type it."""

    template: ClassVar[str] = "my_day.html"
    day: PersonDay | None
    wrong: str


@get("/director/rota")
async def show_rota(
    request: Asked, house: InHouse, visitor: ByVisitor, told: FromQuery[str] = ""
) -> Response[str]:
    """The rota: the draft if there is one, else the one in force; `told` have to be told now."""
    need_director(visitor)
    return house.show(request, visitor, await asyncio.to_thread(_rota_page, house, told))


def _rota_page(house: House, told: str) -> RotaPage:
    state, people = house.state, house.book.people()
    draft = making.kept_rota(house.book)
    rota = draft.rota if draft is not None else state.rota
    rules = draft.rules if draft is not None else state.rota_rules
    ready = state.event is not None and state.plan is not None and bool(state.crew)
    shown = rota_day(state, rota, people) if ready and rota is not None else None
    short: tuple[str, ...] = ()
    remedies: tuple[str, ...] = ()
    if ready and rota is not None and shown is not None and not shown.old:
        found = shortage(making.question(state, rules=rules), rota)
        short = in_sentences(house, found.short, people)
        remedies = in_sentences(house, found.remedies, people)
    now_s = day_now(state, house.book.now_ms()).now_s if state.event is not None else 0
    ahead: tuple[ShiftToCome, ...] = ()
    if shown is not None and state.rota is not None and draft is None:
        ahead = shifts_to_come(state, state.rota, now_s, people)
    return RotaPage(
        ready=ready,
        draft=draft is not None,
        in_force=state.rota is not None,
        rota=shown,
        rules=rules,
        short=short,
        remedies=remedies,
        trained=state.trained,
        people=tuple(
            sorted(
                ((person, name_of(person, people)) for person in state.crew),
                key=lambda pair: pair[1].casefold(),
            )
        ),
        now_s=max(now_s, 0),
        shifts=ahead,
        told=tuple(
            (person, name_of(person, people)) for person in told.split(",") if person in state.crew
        ),
        key=new_key(),
    )


def in_sentences(
    house: House, findings: Iterable[Finding], people: Mapping[str, Person]
) -> tuple[str, ...]:
    """Return findings as sentences, with people and posts by name."""
    voice, words = house.voice(house.state), house.words
    said = []
    for one in findings:
        facts = dict(one.facts)
        if isinstance(facts.get("person"), str):
            facts["person"] = name_of(str(facts["person"]), people)
        if isinstance(facts.get("post"), str):
            facts["post"] = rota_wording.post(str(facts["post"]), words)
        said.append(voice.sentence(msgspec.structs.replace(one, facts=facts)))
    return tuple(said)


@post("/director/rota", status_code=200)
async def act_on_rota(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Make a rota, carry the old one over, publish the draft or let go of it."""
    need_director(visitor)
    deed = form.text("do")
    if deed in {"make", "carry"}:
        await asyncio.to_thread(_keep_made, house, form, deed)
    elif deed == "publish":
        await _publish(house, visitor, form)
    elif deed == "hand":
        return await _by_hand(house, visitor, form)
    elif deed == "discard":
        await asyncio.to_thread(making.keep_rota, house.book, None)
    else:
        raise Unreadable("web.unknown_button", given=deed[:80])
    return Redirect("/director/rota", status_code=303)


async def _by_hand(house: House, visitor: Visitor, form: Posted) -> Response[Any]:
    """Give one shift to somebody, or to nobody, as the director wants it."""
    shift, person = form.text("shift"), form.text("person")
    rota = house.state.rota
    before = rota.holder_of(shift) if rota is not None else None
    asked = planned.change_rota((Duty(shift=shift, person=person),), house.words.gettext("by hand"))
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    touched = ",".join(who for who in (before, person) if who)
    return Redirect(f"/director/rota?{urlencode({'told': touched})}", status_code=303)


def _keep_made(house: House, form: Posted, deed: str) -> None:
    state = house.state
    if deed == "make":
        rules = _rules(state.rota_rules, form)
        rota = making.made_for(state, rules=rules)
    else:
        if state.plan is None:
            raise Refusal("plan.none")
        now_s = day_now(state, house.book.now_ms()).now_s
        carried = making.carried(state, state.plan, now_s)
        if carried is None:
            raise Refusal("rota.none")
        rules, rota = state.rota_rules, carried.rota
    making.keep_rota(house.book, making.RotaDraft(rota=rota, rules=rules))


def _rules(rules: RotaRules, form: Posted) -> RotaRules:
    """Return the rules as typed; a field left empty or out of reason stays as it was."""
    in_a_row, break_min = form.whole("in_a_row"), form.whole("break_min")
    if in_a_row is not None and 1 <= in_a_row <= 20:
        rules = msgspec.structs.replace(rules, most_in_a_row=in_a_row)
    if break_min is not None and break_min <= 120:
        rules = msgspec.structs.replace(rules, break_s=break_min * MINUTE_S)
    return rules


async def _publish(house: House, visitor: Visitor, form: Posted) -> None:
    draft = await asyncio.to_thread(making.kept_rota, house.book)
    if draft is None:
        raise Refusal("rota.none")
    if visitor.actor is not None:
        asked = planned.publish_rota(draft.rota, draft.rules)
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    await asyncio.to_thread(making.keep_rota, house.book, None)


@get("/director/rota/ill")
async def show_ill(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    person: FromQuery[str] = "",
    at: FromQuery[str] = "",
) -> Response[str]:
    """What changes hands if somebody drops out."""
    need_director(visitor)
    illness = await asyncio.to_thread(_illness, house, person, at)
    state, people = house.state, house.book.people()
    page = IllPage(
        person=person,
        name=name_of(person, people),
        from_s=illness.from_s,
        moves=hand_overs(state, illness.repair, people),
        left_open=sum(not move.after for move in illness.repair.moves),
        key=new_key(),
    )
    return house.show(request, visitor, page)


def _illness(house: House, person: str, at: str) -> making.Illness:
    state = house.state
    now_s = max(day_now(state, house.book.now_ms()).now_s, 0)
    from_s = typed_s(state, at) if at else now_s
    return making.without(state, person, from_s, now_s)


@post("/director/rota/ill", status_code=200)
async def accept_ill(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Let the shifts of somebody who drops out change hands as was proposed."""
    need_director(visitor)
    person, from_s = form.text("person"), form.whole("from_s") or 0
    state = house.state
    now_s = day_now(state, house.book.now_ms()).now_s
    illness = await asyncio.to_thread(making.without, state, person, from_s, now_s)
    if visitor.actor is not None:
        # Of health nothing is written: that somebody is not there is all the journal says.
        asked = making.accepted(state, illness, house.words.gettext("not there any more"))
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    moves = illness.repair.moves
    touched = dict.fromkeys(who for move in moves for who in (move.before, move.after) if who)
    return Redirect(f"/director/rota?{urlencode({'told': ','.join(touched)})}", status_code=303)


@get("/my-day")
async def ask_my_day(
    request: Asked, house: InHouse, visitor: ByVisitor, number: FromQuery[str] = ""
) -> Response[Any]:
    """A form for the number on one's sheet; with it, on to the day."""
    if visitor.actor is None:
        raise NotSignedIn("web.not_signed_in")
    wanted = number.strip().upper()
    found = next((one for one in house.state.crew if one.upper() == wanted), None)
    if found is not None:
        return Redirect(f"/my-day/{found}", status_code=303)
    page = MyDayPage(day=None, wrong=number.strip()[:40])
    return house.show(request, visitor, page)


@get("/my-day/{person:str}")
async def show_my_day(
    request: Asked, house: InHouse, visitor: ByVisitor, person: FromPath[str]
) -> Response[str]:
    """One volunteer's day, for the crew; the name only where nobody can read along."""
    if visitor.actor is None:
        raise NotSignedIn("web.not_signed_in")
    state = house.state
    if state.rota is None:
        raise NotFound("rota.none")
    private = visitor.private and visitor.role == "director"
    people = house.book.people() if private else {}
    day = person_day(state, state.rota, person, people)
    return house.show(request, visitor, MyDayPage(day=day, wrong=""))


@get("/director/rota/whole.pdf")
async def print_rota(house: InHouse, visitor: ByVisitor) -> Response[bytes]:
    """The whole rota on one big sheet."""
    need_director(visitor)
    return await asyncio.to_thread(_pdf, house, "rota")


@get("/director/rota/days.pdf")
async def print_days(
    house: InHouse, visitor: ByVisitor, only: FromQuery[str] = ""
) -> Response[bytes]:
    """A sheet for each volunteer, or for some `only`, by their numbers."""
    need_director(visitor)
    return await asyncio.to_thread(_pdf, house, "my-days", only)


def _pdf(house: House, name: str, only: str = "") -> Response[bytes]:
    state = house.state
    view = rota_day(state, _shown_rota(state, house), house.book.people())
    if only:
        wanted = tuple(day for day in view.people if day.person in only.split(","))
        view = msgspec.structs.replace(view, people=wanted)
    make = rota_pdf if name == "rota" else person_days_pdf
    pdf = make(view, size="a4", at=from_milliseconds(state.at_ms), speech=speech_for(state))
    headers = {"content-disposition": f'attachment; filename="{name}.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _shown_rota(state: State, house: House) -> Rota:
    draft = making.kept_rota(house.book)
    rota = state.rota if state.rota is not None else (draft.rota if draft is not None else None)
    if rota is None:
        raise NotFound("rota.none")
    return rota


HANDLERS = (
    show_rota,
    act_on_rota,
    show_ill,
    accept_ill,
    print_rota,
    print_days,
    ask_my_day,
    show_my_day,
)
