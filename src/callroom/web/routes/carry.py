"""A pad arrives from another address of the server: it keeps what it brought and who it is."""

from typing import Any, ClassVar

from litestar import MediaType, Response, get, post

from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked
from callroom.web.pages import Page, html


class CarryPage(Page, frozen=True, kw_only=True):
    """``/carry`` and ``/carry/in``: `step` is what its script does here."""

    template: ClassVar[str] = "carry.html"
    step: str


@get("/carry")
async def arrive(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Take in what a pad brought in the address.

    The browser came from another site and sends no cookie, so none is given either: a new one
    would take the place of the one this phone may have here.
    """
    page = CarryPage(step="arrive")
    text = house.pages.page(page, state=house.state, visitor=visitor, path=request.url.path)
    return html(text)


@get("/carry/in")
async def show_who(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Go on to the pad, or first show who this phone is."""
    return house.show(request, visitor, CarryPage(step="identify"))


@post("/carry/in", status_code=200)
async def take_over(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Let a phone in as the device it was before, by the proof its pad carries; works once."""
    house.tries.take(visitor.origin)
    token = await house.book.doors.take_over(form.text("proof"), visitor.origin)
    response: Response[Any] = Response({"in": True}, media_type=MediaType.JSON)
    house.hand_token(request, response, token)
    return response


HANDLERS = (arrive, show_who, take_over)
