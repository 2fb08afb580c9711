"""Hosting: the book goes to the hall as a file, and comes back as one."""

import asyncio
import shutil
import tempfile
from pathlib import Path
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.background_tasks import BackgroundTask
from litestar.datastructures import UploadFile
from litestar.response import File, Redirect

from callroom.actions.check_in import keep_book, take_book
from callroom.model import BadInput, CallroomError, Finding, Refusal
from callroom.model.away import Away
from callroom.web.errors import Unreadable, findings_of
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.pages import Page
from callroom.web.ports import Hall
from callroom.web.visitor import Visitor

# A book of a day with pictures of receipts stays far below; a disk must not be filled.
MOST_BOOK_BYTES = 512 * 1024 * 1024


class HostingPage(Page, frozen=True, kw_only=True):
    """``/director/hosting``: whether the book is here, and what was said about one brought back.

    `can`: this server can hand the book out. `behind_tls`: it is hosted.
    """

    template: ClassVar[str] = "hosting.html"
    away: Away | None
    can: bool
    behind_tls: bool
    generation: int
    coming: bool
    refused: tuple[Finding, ...]
    key: str


@get("/director/hosting")
async def show_hosting(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Where the book is, and how it goes to the hall and back."""
    need_director(visitor)
    return _page(request, house, visitor)


@post("/director/hosting", status_code=200)
async def take_or_keep(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Let the book go to the hall, or let it stay after all."""
    need_director(visitor)
    asked = {"take": take_book, "stay": keep_book}.get(form.text("do"))
    if asked is None:
        raise Unreadable("web.unknown_button", given=form.text("do")[:80])
    if form.text("do") == "take" and house.book.hall is None:
        raise Refusal("hall.no_file")
    try:
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked(), key=form.text("key") or new_key())
    except Refusal as fault:
        return _page(request, house, visitor, refused=findings_of(fault))
    return Redirect("/director/hosting", status_code=303)


@get("/director/hosting/book")
async def send_book(house: InHouse, visitor: ByVisitor) -> File:
    """Give the book out as a file, once it takes nothing more here."""
    need_director(visitor)
    hall = _hall(house)
    folder = Path(await asyncio.to_thread(tempfile.mkdtemp, prefix="callroom-"))
    try:
        await asyncio.to_thread(hall.copy, folder / "book")
    except CallroomError:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    return File(
        folder / "book",
        filename=house.book.path.name,
        media_type="application/vnd.sqlite3",
        headers={"cache-control": "no-store"},
        background=BackgroundTask(shutil.rmtree, folder, ignore_errors=True),
    )


@post("/director/hosting/back", status_code=200, request_max_body_size=MOST_BOOK_BYTES)
async def take_back(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Take the book back from the hall, or say why it is not this one."""
    del form  # read only to see that it came from our own page
    need_director(visitor)
    hall = _hall(house)
    sent = (await request.form()).get("book")
    if not isinstance(sent, UploadFile) or not sent.filename:
        raise Unreadable("hall.no_upload")
    with tempfile.TemporaryDirectory(prefix="callroom-") as folder:
        given = Path(folder) / "given.book"
        await asyncio.to_thread(_write, sent, given)
        try:
            await asyncio.to_thread(hall.bring_back, given)
        except BadInput as fault:
            return _page(request, house, visitor, refused=findings_of(fault))
        except CallroomError as fault:
            return _page(request, house, visitor, refused=(fault.finding(),))
    return _page(request, house, visitor, coming=True)


def _write(sent: UploadFile, to: Path) -> None:
    with to.open("wb") as file:
        shutil.copyfileobj(sent.file, file)


def _hall(house: House) -> Hall:
    if house.book.hall is None:
        raise Refusal("hall.no_file")
    return house.book.hall


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    *,
    refused: tuple[Finding, ...] = (),
    coming: bool = False,
) -> Response[str]:
    page = HostingPage(
        away=house.state.away,
        can=house.book.hall is not None,
        behind_tls=house.settings.behind_tls,
        generation=house.state.generation,
        coming=coming,
        refused=refused,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused else 200)


HANDLERS = (show_hosting, take_or_keep, send_book, take_back)
