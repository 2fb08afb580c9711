"""The treasurer's pages: how the money stands, booking it, one booking. The director's only."""

import asyncio
from typing import Any

from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.actions import money as ask_money
from callroom.actions.request import Request
from callroom.model import BadInput, Finding, NotFound, Refusal
from callroom.model.money import AnyDeed
from callroom.views.account_book import account_book, booking_line, open_promises
from callroom.views.entry_fees import entry_fees
from callroom.views.money import money_view
from callroom.views.money_picture import bars, rise
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.money.deed_forms import DeedReader
from callroom.web.money.desk import (
    MOST_RECEIPT_BODY,
    as_known,
    event_and_budget,
    form_key,
    people_named,
    sent_receipt,
)
from callroom.web.money.pages import (
    AccountPage,
    BookingPage,
    EntriesPage,
    MoneyPage,
    RaisedPage,
)
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

LATEST = 12


@get("/raised")
async def show_raised(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The figure for the stage, live."""
    return house.show(request, visitor, RaisedPage(figure=await house.live("raised")))


@get("/director/money")
async def show_money(
    request: Asked, house: InHouse, visitor: ByVisitor, done: FromQuery[str] = ""
) -> Response[str]:
    """How the money stands."""
    need_director(visitor)
    state = house.state
    ready = state.event is not None and state.budget is not None
    view = money_view(state) if ready else None
    lines = account_book(state)
    page = MoneyPage(
        money=view,
        rise=rise(state, state.budget) if state.budget is not None else None,
        income=bars(view, "income") if view is not None else (),
        costs=bars(view, "cost") if view is not None else (),
        latest=tuple(reversed(lines[-LATEST:])),
        promises=open_promises(state),
        people=await people_named(house),
        told=Told(text=house.words.gettext("Booked.")) if done else None,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/director/money", status_code=200)
async def let_go(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Expect nothing more of a promise."""
    need_director(visitor)
    if form.text("do") != "end":
        raise Unreadable("web.unknown_button", given=form.text("do")[:80])
    asked = ask_money.end_promise(form.whole("promise") or 0, form.text("reason"))
    await _ask(house, visitor, asked, form)
    return Redirect("/director/money", status_code=303)


@get("/director/money/account")
async def show_account(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every line of the account book."""
    need_director(visitor)
    lines = tuple(reversed(account_book(house.state)))
    page = AccountPage(lines=lines, people=await people_named(house))
    return house.show(request, visitor, page)


@get("/director/money/entries")
async def show_entries(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Who has paid their entry."""
    need_director(visitor)
    return house.show(request, visitor, EntriesPage(fees=entry_fees(house.state)))


@get("/director/money/booking/{seq:int}")
async def show_booking(
    request: Asked, house: InHouse, visitor: ByVisitor, seq: FromPath[int]
) -> Response[str]:
    """One booking."""
    need_director(visitor)
    return await _booking_page(request, house, visitor, seq)


@post("/director/money/booking/{seq:int}", status_code=200, request_max_body_size=MOST_RECEIPT_BODY)
async def change_booking(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, seq: FromPath[int]
) -> Response[Any]:
    """Take a booking back, say what becomes of a payment, or add a cost's receipt."""
    need_director(visitor)
    reader = DeedReader(form, as_known(house), {}, "")
    beside: tuple[Any, ...] = ()
    try:
        if form.text("do") == "take_back":
            asked = ask_money.take_back(seq, reader.day(), form.text("reason"))
        elif form.text("do") == "return":
            asked = ask_money.book_money(_read(reader.returned(seq), reader))
        elif form.text("do") == "receipt":
            receipt, beside = await sent_receipt(request, form_key(form))
            asked = ask_money.keep_receipt(seq, receipt)
        else:
            raise Unreadable("web.unknown_button", given=form.text("do")[:80])
        await _ask(house, visitor, asked, form, beside)
    except (BadInput, Refusal) as fault:
        return await _booking_page(request, house, visitor, seq, findings_of(fault))
    return Redirect("/director/money?done=yes", status_code=303)


@get("/director/money/receipt/{name:str}")
async def send_receipt(house: InHouse, visitor: ByVisitor, name: FromPath[str]) -> Response[bytes]:
    """The picture of a receipt."""
    need_director(visitor)
    kept = await asyncio.to_thread(house.book.attachment, f"receipt/{name}")
    if kept is None:
        raise NotFound("money.receipt_unknown")
    way = "inline" if kept.media_type.startswith("image/") else "attachment"
    headers = {
        "content-disposition": f'{way}; filename="{kept.name}"',
        # Whatever is in the file, nothing of it may act here.
        "content-security-policy": "sandbox; default-src 'none'",
    }
    return Response(kept.content, media_type=kept.media_type, headers=headers)


def _read(deed: AnyDeed | None, reader: DeedReader) -> AnyDeed:
    if deed is None:
        raise BadInput(tuple(reader.faults))
    return deed


async def _booking_page(
    request: Asked,
    house: House,
    visitor: Visitor,
    seq: int,
    faults: tuple[Finding, ...] = (),
) -> Response[str]:
    _, budget = event_and_budget(house)
    line = booking_line(house.state, seq)
    if line is None:
        raise NotFound("money.no_booking", booking=seq)
    page = BookingPage(
        line=line,
        budget=budget,
        people=await people_named(house),
        teams={team.id: team.name for team in house.state.teams.values()},
        faults=faults,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if faults else 200)


async def _ask(
    house: House, visitor: Visitor, asked: Request, form: Posted, beside: tuple[Any, ...] = ()
) -> None:
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form_key(form), beside=beside)


HANDLERS = (
    show_raised,
    show_money,
    let_go,
    show_account,
    show_entries,
    show_booking,
    change_booking,
    send_receipt,
)
