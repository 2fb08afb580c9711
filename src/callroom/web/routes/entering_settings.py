"""How teams enter: when, how many, what is asked, what they agree to, how they pay."""

import asyncio
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect
from msgspec.structs import replace

from callroom.actions import entering as ask_entering
from callroom.model import BadInput, Event, Finding, Refusal
from callroom.model.entering import Terms
from callroom.views.entry_fees import fee_of
from callroom.web.errors import findings_of
from callroom.web.forms.entering_form import EnteringForm, EnteringReader, entering_form
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor

_MOST_BODY = 256 * 1024


class EnteringSettingsPage(Page, frozen=True, kw_only=True):
    """``/director/entering``: the settings; `seen` is what a change rests on.

    `terms` are the texts in force, if there are any; `texts` all there ever were. `fees`
    are what a team of each division pays [minor units]. `address` is where teams enter.
    """

    template: ClassVar[str] = "entering_settings.html"
    event: Event
    form: EnteringForm
    terms: Terms | None
    texts: tuple[Terms, ...]
    fees: tuple[tuple[str, int], ...]
    address: str
    seen: str
    saved: bool
    refused: tuple[Finding, ...]
    key: str


@get("/director/entering")
async def show_settings(
    request: Asked, house: InHouse, visitor: ByVisitor, saved: FromQuery[str] = ""
) -> Response[str]:
    """How teams enter."""
    need_director(visitor)
    event = need_event(house.state)
    pay = await asyncio.to_thread(house.book.paying.get)
    form = entering_form(house.state, event, pay)
    return _page(request, house, visitor, form, saved=bool(saved))


@post("/director/entering", status_code=200, request_max_body_size=_MOST_BODY)
async def save_settings(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Save how teams enter, or show the form again with everything that is wrong."""
    need_director(visitor)
    event = need_event(house.state)
    typed = EnteringForm(texts=form.texts)
    read = EnteringReader(form, event).read()
    if read.faults:
        return _page(request, house, visitor, replace(typed, faults=read.faults))
    seen = _basis(house)
    given = form.text("seen")
    if given != _seen(seen):
        old = Finding(rule="entering.settings_changed", severity="error", subject="form")
        return _page(request, house, visitor, typed, refused=(old,))
    try:
        if visitor.actor is not None:
            asked = ask_entering.save_settings(event, read.event, read.entering, seen)
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
            await asyncio.to_thread(house.book.paying.put, read.pay)
    except (BadInput, Refusal) as fault:
        return _page(request, house, visitor, typed, refused=findings_of(fault))
    return Redirect("/director/entering?saved=yes", status_code=303)


def _basis(house: House) -> dict[str, int]:
    subjects = house.state.subjects
    return {name: subjects.get(name, 0) for name in ("entering", "event")}


def _seen(basis: dict[str, int]) -> str:
    return "-".join(str(seq) for seq in basis.values())


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    form: EnteringForm,
    *,
    refused: tuple[Finding, ...] = (),
    saved: bool = False,
) -> Response[str]:
    terms = house.state.terms[-1] if house.state.terms else None
    page = EnteringSettingsPage(
        event=need_event(house.state),
        form=form,
        terms=terms if terms is not None and (terms.consent or terms.waiver) else None,
        texts=house.state.terms,
        fees=tuple(
            (one.name, fee_of(house.state, one.id)) for one in need_event(house.state).divisions
        ),
        address=f"{str(request.base_url).rstrip('/')}/enter",
        seen=_seen(_basis(house)),
        saved=saved,
        refused=refused,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused or form.faults else 200)


HANDLERS = (show_settings, save_settings)
