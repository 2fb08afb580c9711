"""Coming in and leaving: the director's passphrase, the crew's codes."""

from typing import Any

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.model import CallroomError
from callroom.web.contexts import JoinPage, SignInPage
from callroom.web.errors import NeedsPrivacy
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.hosts import is_private
from callroom.web.house import Asked, House
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

# Where each role begins its work.
START = {
    "director": "/director",
    "head_judge": "/judge",
    "desk": "/desk",
    "judge": "/pad",
    "crew": "/board",
    "first_aid": "/safety",
}


@get("/sign-in")
async def show_sign_in(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Ask for the passphrase; on first start, for a new one."""
    if not visitor.private:
        raise NeedsPrivacy("web.needs_privacy")
    first = not house.book.doors.has_passphrase()
    if first:
        _need_here(request, house, visitor)
    page = SignInPage(first=first, told=None)
    return house.show(request, visitor, page)


@post("/sign-in", status_code=200)
async def sign_in(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Let the director in; the first passphrase is set on the way."""
    if not visitor.private:
        raise NeedsPrivacy("web.needs_privacy")
    doors = house.book.doors
    first = not doors.has_passphrase()
    if first:
        _need_here(request, house, visitor)
    passphrase = form.texts.get("passphrase", "")
    try:
        if first:
            _need_same(passphrase, form.texts.get("again", ""))
            await doors.set_passphrase(passphrase)
        token = await doors.sign_in(passphrase, visitor.origin)
    except CallroomError as fault:
        told = Told(text=house.voice(house.state).sentence(fault.finding()), good=False)
        response = house.show(request, visitor, SignInPage(first=first, told=told), 403)
        if "wait_s" in fault.facts:
            response.status_code = 429
            response.headers["retry-after"] = str(fault.facts["wait_s"])
        return response
    return _in(request, house, token, START["director"])


@post("/sign-out", status_code=200)
async def sign_out(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """End this browser's session on the server."""
    del form  # read only to see that it came from our own page
    if visitor.actor is not None:
        house.book.doors.leave(visitor.token)
    return _in(request, house, "", "/")


@get(["/join", "/join/{code:str}"])
async def show_join(
    request: Asked, house: InHouse, visitor: ByVisitor, code: FromQuery[str] = ""
) -> Response[str]:
    """Ask for a code and a label; looking at the page does not use the code up."""
    return house.show(request, visitor, JoinPage(code=code[:40], label="", told=None))


@post("/join", status_code=200)
async def join(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Let this device in with a code."""
    house.tries.take(visitor.origin)
    code, label = form.text("code"), form.text("label")
    try:
        _, token = await house.book.doors.join(code, label, visitor.origin)
    except CallroomError as fault:
        told = Told(text=house.voice(house.state).sentence(fault.finding()), good=False)
        page = JoinPage(code=code[:40], label=label[:80], told=told)
        response = house.show(request, visitor, page, 403)
        if "wait_s" in fault.facts:
            response.status_code = 429
            response.headers["retry-after"] = str(fault.facts["wait_s"])
        return response
    actor = house.book.doors.holder(token)
    return _in(request, house, token, START[actor.role] if actor is not None else "/")


def _need_here(request: Asked, house: House, visitor: Visitor) -> None:
    """Refuse anybody who is not at the machine: whoever sets the passphrase is the director."""
    if house.settings.behind_tls:
        raise NeedsPrivacy("web.first_by_command")
    if not is_private("http", request.headers.get("host", ""), visitor.origin):
        raise NeedsPrivacy("web.first_here")


def _need_same(passphrase: str, again: str) -> None:
    if passphrase != again:
        raise CallroomError("passphrase.differs")


def _in(request: Asked, house: House, token: str, path: str) -> Response[Any]:
    response: Response[Any] = Redirect(path, status_code=303)
    house.hand_token(request, response, token)
    return response


HANDLERS = (show_sign_in, sign_in, sign_out, show_join, join)
