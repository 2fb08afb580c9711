"""Loading somebody's own list of teams, crew or kit: sent, said what it means, looked at, loaded."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.datastructures import UploadFile
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.bootstrap.list_loading import (
    LISTS_SENT,
    Change,
    ListKind,
    Look,
    Sent,
    begin,
    load_key,
    look,
    with_gone,
)
from callroom.model import BadInput, Finding, NotFound
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.list_meaning import Choice, choices, chosen_value, read_meaning
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event
from callroom.web.pages import Page
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

KINDS: tuple[ListKind, ...] = ("teams", "crew", "kit")
SHOWN_ROWS = 6
MOST_SHOWN = 40
MOST_FILE_BYTES = 6_000_000


class LoadPage(Page, frozen=True, kw_only=True):
    """``/director/load``: which list, and the file."""

    template: ClassVar[str] = "load_choose.html"
    begun: tuple[ListKind, ...]
    faults: tuple[Finding, ...]
    told: Told | None
    has_event: bool


class LoadListPage(Page, frozen=True, kw_only=True):
    """``/director/load/{kind}``: what the list means, and what loading it would do.

    Attributes
    ----------
    choices, chosen
        What a column may be, and what each one is, as the form names it.
    headings, rows
        The row of headings, and the first rows below it with their numbers.
    changes
        What loading would do, by ``new``, ``changed``, ``same`` and ``gone``.
    faults, more_faults
        The first faults, and how many more there are.
    """

    template: ClassVar[str] = "load_list.html"
    kind: ListKind
    file: str
    seen: Look
    choices: tuple[Choice, ...]
    chosen: tuple[str, ...]
    headings: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    divisions: tuple[tuple[str, str], ...]
    categories: tuple[tuple[str, str], ...]
    changes: Mapping[str, tuple[Change, ...]]
    faults: tuple[Finding, ...]
    more_faults: int
    undone: bool


@get("/director/load")
async def show_load(
    request: Asked, house: InHouse, visitor: ByVisitor, done: FromQuery[str] = ""
) -> Response[str]:
    """Choose a list and send its file."""
    need_director(visitor)
    said = {
        "loaded": house.words.gettext("It is loaded."),
        "dropped": house.words.gettext("The list is let go of; nothing was loaded."),
    }.get(done)
    return house.show(request, visitor, _choose(house, told=Told(text=said) if said else None))


@post("/director/load", status_code=200, request_max_body_size=MOST_FILE_BYTES)
async def send_list(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Keep a file that was sent, with what it most likely means."""
    need_director(visitor)
    event = need_event(house.state)
    kind = _kind(form.text("kind"))
    file = (await request.form()).get("file")
    if not isinstance(file, UploadFile) or not file.filename:
        page = _choose(house, told=Told(text=house.words.gettext("Choose a file."), good=False))
        return house.show(request, visitor, page, 422)
    data = await file.read()
    try:
        sent = await asyncio.to_thread(begin, kind, file.filename[-80:], data, event)
    except BadInput as fault:
        return house.show(request, visitor, _choose(house, faults=findings_of(fault)), 422)
    await _keep(house, kind, sent)
    return Redirect(f"/director/load/{kind}", status_code=303)


@get("/director/load/{kind:str}")
async def show_list(
    request: Asked, house: InHouse, visitor: ByVisitor, kind: FromPath[str]
) -> Response[str]:
    """What the list means, and what loading it would do."""
    need_director(visitor)
    chosen = _kind(kind)
    return await _page(request, house, visitor, chosen, _sent(house, chosen))


@post("/director/load/{kind:str}", status_code=200)
async def decide_list(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, kind: FromPath[str]
) -> Response[Any]:
    """Say what the list means; then load it, or let go of it."""
    need_director(visitor)
    chosen, deed = _kind(kind), form.text("do")
    sent = _sent(house, chosen)
    if deed == "drop":
        await _keep(house, chosen, None)
        return Redirect("/director/load?done=dropped", status_code=303)
    sent = msgspec.structs.replace(sent, meaning=read_meaning(form, sent, need_event(house.state)))
    await _keep(house, chosen, sent)
    if deed not in {"load", "load-good"}:
        return Redirect(f"/director/load/{chosen}", status_code=303)
    seen = await asyncio.to_thread(look, house.book, sent, need_event(house.state))
    if not seen.good or (seen.bad and deed == "load"):
        return await _page(request, house, visitor, chosen, sent, undone=True)
    gone = tuple(
        one.id for one in seen.changes if one.what == "gone" and form.ticked(f"gone-{one.id}")
    )
    reason = house.words.gettext("not in the list any more")
    asked = with_gone(seen.request, house.state, chosen, gone, reason)
    if visitor.actor is not None and (asked.proposals or seen.beside):
        key = load_key(sent, house.state)
        await house.book.ask(visitor.actor, asked, key=key, beside=seen.beside)
    await _keep(house, chosen, None)
    return Redirect("/director/load?done=loaded", status_code=303)


def _kind(given: str) -> ListKind:
    if given not in KINDS:
        raise NotFound("web.no_page")
    return given


def _sent(house: House, kind: ListKind) -> Sent:
    kept = house.book.drafts(f"{LISTS_SENT}{kind}").get(f"{LISTS_SENT}{kind}")
    if kept is None:
        raise NotFound("web.no_page")
    try:
        return msgspec.msgpack.decode(kept, type=Sent)
    except msgspec.MsgspecError as fault:
        raise Unreadable("web.unreadable") from fault


async def _keep(house: House, kind: ListKind, sent: Sent | None) -> None:
    packed = None if sent is None else msgspec.msgpack.encode(sent)
    await asyncio.to_thread(house.book.keep_draft, f"{LISTS_SENT}{kind}", packed)


def _choose(
    house: House, *, faults: tuple[Finding, ...] = (), told: Told | None = None
) -> LoadPage:
    kept = house.book.drafts(LISTS_SENT)
    return LoadPage(
        begun=tuple(kind for kind in KINDS if f"{LISTS_SENT}{kind}" in kept),
        faults=faults,
        told=told,
        has_event=house.state.event is not None,
    )


async def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    kind: ListKind,
    sent: Sent,
    *,
    undone: bool = False,
) -> Response[str]:
    event = need_event(house.state)
    seen = await asyncio.to_thread(look, house.book, sent, event)
    meaning, sheet = seen.meaning, seen.sheet
    width = sheet.width
    head = sheet.rows[meaning.head - 1] if meaning.head else ("",) * width
    below = list(enumerate(sheet.rows, start=1))[meaning.head :]
    changes = {
        what: tuple(one for one in seen.changes if one.what == what)
        for what in ("new", "changed", "same", "gone")
    }
    page = LoadListPage(
        kind=kind,
        file=sent.file,
        seen=seen,
        choices=tuple(choices(kind, house.words.gettext)),
        chosen=tuple(chosen_value(column) for column in meaning.columns),
        headings=tuple(head),
        rows=tuple(below[:SHOWN_ROWS]),
        divisions=tuple((one.id, one.name) for one in event.divisions),
        categories=tuple((one.id, one.name) for one in event.categories),
        changes=changes,
        faults=seen.faults[:MOST_SHOWN],
        more_faults=max(0, len(seen.faults) - MOST_SHOWN),
        undone=undone,
    )
    return house.show(request, visitor, page, 422 if undone else 200)


HANDLERS = (show_load, send_list, show_list, decide_list)
