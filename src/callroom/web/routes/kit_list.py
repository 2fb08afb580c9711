"""The list of kit by lender: changed by hand, and printed for collecting and giving back."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar, get_args, get_type_hints

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions.kit_list import drop_kit_item, set_kit_item
from callroom.actions.request import Request
from callroom.bootstrap.kit_typed import read_kit_item
from callroom.model import BadInput, Finding, KitItem, from_milliseconds
from callroom.paper import kit_sheets_pdf
from callroom.views.kit_lenders import by_lender
from callroom.views.page_head import page_head
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.voice import Told

_KINDS: tuple[str, ...] = get_args(get_type_hints(KitItem)["kind"])


class KitListPage(Page, frozen=True, kw_only=True):
    """``/director/kit/list``: the kit by lender (empty: our own, last), and a form for one.

    `changed` is the item in the form (None: a new one), `given` what stands in the form.
    """

    template: ClassVar[str] = "kit_list.html"
    lenders: tuple[tuple[str, tuple[KitItem, ...]], ...]
    changed: KitItem | None
    given: Mapping[str, str]
    kinds: tuple[str, ...]
    floors: tuple[tuple[str, str], ...]
    categories: tuple[tuple[str, str], ...]
    faults: tuple[Finding, ...]
    told: Told | None
    key: str


@get("/director/kit/list")
async def show_kit_list(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    change: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """The list of kit; `change` names the item in the form."""
    need_director(visitor)
    said = {
        "kept": house.words.gettext("It is kept."),
        "dropped": house.words.gettext("It is taken out."),
    }.get(done)
    page = _page(house, change, told=Told(text=said) if said else None)
    return house.show(request, visitor, page)


@post("/director/kit/list", status_code=200)
async def change_kit_list(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Keep an item, or take it out."""
    need_director(visitor)
    try:
        asked = _asked(house, form)
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except BadInput as fault:
        page = _page(house, form.text("id"), typed=form.texts, faults=findings_of(fault))
        return house.show(request, visitor, page, 422)
    done = "dropped" if form.text("do") == "drop" else "kept"
    return Redirect(f"/director/kit/list?done={done}", status_code=303)


def _asked(house: House, form: Posted) -> Request:
    deed = form.text("do")
    if deed == "drop":
        return drop_kit_item(house.state, form.text("id"))
    if deed == "keep":
        return set_kit_item(house.state, _read(house, form))
    raise Unreadable("web.unknown_button", given=deed[:80])


def _read(house: House, form: Posted) -> KitItem:
    taken = {one.id for one in house.state.kit}
    return read_kit_item(form.texts, form.text("id"), taken, need_event(house.state))


def _page(
    house: House,
    change: str,
    *,
    typed: Mapping[str, str] | None = None,
    faults: tuple[Finding, ...] = (),
    told: Told | None = None,
) -> KitListPage:
    event, kit = need_event(house.state), house.state.kit
    changed = next((one for one in kit if one.id == change), None)
    return KitListPage(
        lenders=tuple((one.name, one.items) for one in by_lender(kit)),
        changed=changed,
        given=typed if typed is not None else _as_typed(changed),
        kinds=_KINDS,
        floors=tuple((one.id, one.name) for one in event.floors),
        categories=tuple((one.id, one.name) for one in event.categories),
        faults=faults,
        told=told,
        key=new_key(),
    )


def _as_typed(item: KitItem | None) -> dict[str, str]:
    if item is None:
        return {"kind": "other"}
    return {
        "name": item.name,
        "kind": item.kind,
        "count": str(item.count),
        "mass": f"{item.mass.amount} {item.mass.unit}" if item.mass is not None else "",
        "floor": item.floor,
        "lender": item.lender,
        "category": item.category,
        "due back": item.due_back.isoformat() if item.due_back is not None else "",
    }


@get("/director/kit/list.pdf")
async def print_kit_list(
    house: InHouse, visitor: ByVisitor, size: FromQuery[str] = ""
) -> Response[bytes]:
    """The list to print, a page for each lender."""
    need_director(visitor)
    event, state = need_event(house.state), house.state
    letter = size == "letter" or (not size and event.mass_unit == "lb")
    pdf = await asyncio.to_thread(
        kit_sheets_pdf,
        by_lender(state.kit),
        event,
        page_head(state),
        size="us-letter" if letter else "a4",
        at=from_milliseconds(state.at_ms),
        at_ms=state.at_ms,
        words=house.words,
    )
    headers = {"content-disposition": 'inline; filename="kit-list.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


HANDLERS = (show_kit_list, change_kit_list, print_kit_list)
