"""Booking: one form for each kind of deed. The director's only."""

from collections.abc import Mapping
from typing import Any

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import money as ask_money
from callroom.actions.request import Request
from callroom.bootstrap.money_keeping import beside_person, named_by
from callroom.model import BadInput, Finding, NotFound, Refusal
from callroom.model.money import AnyDeed, Booking, Spent
from callroom.views.account_book import open_promises
from callroom.views.count_sheet import pieces
from callroom.web.errors import findings_of
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.money.deed_forms import FORMS, DeedReader, filled
from callroom.web.money.desk import (
    MOST_RECEIPT_BODY,
    as_known,
    event_and_budget,
    form_key,
    known_in,
    people_named,
    sent_receipt,
    suggested_names,
    today_at,
)
from callroom.web.money.pages import DeedPage
from callroom.web.visitor import Visitor


@get("/director/money/book/{deed:str}")
async def show_deed(
    request: Asked, house: InHouse, visitor: ByVisitor, deed: FromPath[str]
) -> Response[str]:
    """The form for one kind of deed; what stands in the address is filled in."""
    need_director(visitor)
    given = {name: value for name, value in request.query_params.items() if len(value) < 200}
    if "corrects" in given:
        event, _ = event_and_budget(house)
        form, before = filled(
            _corrected(house, given["corrects"]).deed, await people_named(house), event.currency
        )
        if form != deed:
            raise NotFound("web.no_page")
        given |= before
    return await _deed_page(request, house, visitor, deed, given)


@post("/director/money/book/{deed:str}", status_code=200, request_max_body_size=MOST_RECEIPT_BODY)
async def book(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, deed: FromPath[str]
) -> Response[Any]:
    """Book what was typed, or show it again with what is wrong with it."""
    need_director(visitor)
    event_and_budget(house)
    try:
        asked, beside = await _asked(request, house, form, deed)
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=form_key(form), beside=beside)
    except (BadInput, Refusal) as fault:
        return await _deed_page(
            request, house, visitor, deed, form.texts, faults=findings_of(fault)
        )
    return Redirect("/director/money?done=yes", status_code=303)


async def _asked(
    request: Asked, house: House, form: Posted, deed: str
) -> tuple[Request, tuple[Any, ...]]:
    """Return the request a form makes, and what of it is kept beside the journal."""
    event, budget = event_and_budget(house)
    key = form_key(form)
    known = await suggested_names(house)
    reader = DeedReader(form, as_known(house), known, f"giver-{named_by(key)}")
    if deed == "promised":
        asked = _promise(reader, form)
        return asked, _people_beside(reader, form)
    beside: tuple[Any, ...] = ()
    if deed == "received":
        made = reader.received()
    elif deed == "spent":
        receipt, beside = await sent_receipt(request, key)
        made = reader.spent(receipt or _receipt_before(house, form))
    elif deed == "moved":
        made = reader.moved()
    elif deed == "counted":
        place = form.text("place")
        in_it = known_in(house, budget).get(place, 0)
        made = reader.counted(in_it, pieces(event.currency))
    else:
        raise NotFound("web.no_page")
    if made is None:
        raise BadInput(tuple(reader.faults))
    return _booked(made, reader, form), (*_people_beside(reader, form), *beside)


def _booked(made: AnyDeed, reader: DeedReader, form: Posted) -> Request:
    """Book a deed, in place of another if the form says so."""
    corrects = form.whole("corrects")
    if corrects is not None:
        return ask_money.correct(corrects, reader.day(), form.text("reason"), made)
    return ask_money.book_money(made, seen=form.whole("seen"))


def _corrected(house: House, seq: str) -> Booking:
    booking = house.state.bookings.get(seq)
    if booking is None:
        raise NotFound("money.no_booking", booking=seq[:20])
    return booking


def _receipt_before(house: House, form: Posted) -> str:
    """Return the receipt of the cost that is being corrected; empty: none, or no correction."""
    booking = house.state.bookings.get(form.text("corrects"))
    deed = booking.deed if booking is not None else None
    return deed.receipt if isinstance(deed, Spent) else ""


def _promise(reader: DeedReader, form: Posted) -> Request:
    amount, giver = reader.amount("amount"), reader.person("giver")
    if reader.faults:
        raise BadInput(tuple(reader.faults))
    return ask_money.note_promise(
        form.text("line"),
        amount,
        giver=giver,
        may_name=form.ticked("may_name"),
        what=form.text("what")[:200],
    )


def _people_beside(reader: DeedReader, form: Posted) -> tuple[Any, ...]:
    email = form.text("email")[:200]
    return tuple(beside_person(person, name, email) for person, name in reader.new_people.items())


async def _deed_page(
    request: Asked,
    house: House,
    visitor: Visitor,
    deed: str,
    given: Mapping[str, str],
    *,
    faults: tuple[Finding, ...] = (),
) -> Response[str]:
    if deed not in FORMS:
        raise NotFound("web.no_page")
    event, budget = event_and_budget(house)
    suggested = await suggested_names(house)
    page = DeedPage(
        deed=deed,
        budget=budget,
        given={"day": today_at(house, event).isoformat(), **given},
        teams={team.id: team.name for team in house.state.teams.values()},
        names=tuple(sorted(set(suggested.values()))),
        promises=open_promises(house.state),
        people=await people_named(house),
        values=pieces(event.currency) if deed == "counted" else (),
        known=known_in(house, budget),
        seen=house.state.subjects.get("money", 0),
        faults=faults,
        told=None,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if faults else 200)


HANDLERS = (show_deed, book)
