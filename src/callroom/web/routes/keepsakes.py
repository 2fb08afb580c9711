"""What is kept of the day: the results book, certificates, a text for the press."""

import asyncio
from collections.abc import Mapping
from typing import ClassVar

from litestar import MediaType, Response, get
from litestar.params import FromQuery

from callroom.bootstrap.speech import speech_for
from callroom.model import State, from_milliseconds
from callroom.paper import PaperSize, certificates_pdf, results_book_pdf
from callroom.views.certificates import certificates
from callroom.views.home import DivisionLink, division_links
from callroom.views.page_head import public_at
from callroom.views.press import press_text
from callroom.views.results_book import ResultsBook, results_book
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House, need_director
from callroom.web.pages import Page

_SIZES: Mapping[str, PaperSize] = {"a4": "a4", "letter": "us-letter"}


class KeepsakesPage(Page, frozen=True, kw_only=True):
    """``/director/results``: how final each division is, and what can be taken away.

    `open` are the divisions not posted as final, or changed since; `planned`: there is a plan
    to print under; `press` is the text, empty before.
    """

    template: ClassVar[str] = "keepsakes.html"
    divisions: tuple[DivisionLink, ...]
    open: tuple[str, ...]
    planned: bool
    press: str


@get("/director/results")
async def show_keepsakes(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What can be kept of the results, and what is not final yet."""
    need_director(visitor)
    state = house.state
    planned = state.event is not None and state.plan is not None
    book = await _book(house, state) if planned else None
    page = KeepsakesPage(
        divisions=division_links(state),
        open=tuple(
            table.division.name
            for table in (book.tables if book is not None else ())
            if table.changed or not table.final
        ),
        planned=planned,
        press=press_text(book, house.words) if book is not None else "",
    )
    return house.show(request, visitor, page)


@get("/director/results/book.pdf")
async def print_book(
    house: InHouse, visitor: ByVisitor, size: FromQuery[str] = ""
) -> Response[bytes]:
    """The results book."""
    need_director(visitor)
    state = house.state
    pdf = await asyncio.to_thread(
        results_book_pdf,
        await _book(house, state),
        size=_size(state, size),
        at=from_milliseconds(state.at_ms),
        speech=speech_for(state),
    )
    return _file(pdf, "results.pdf")


@get("/director/results/certificates.pdf")
async def print_certificates(
    house: InHouse, visitor: ByVisitor, team: FromQuery[str] = "", size: FromQuery[str] = ""
) -> Response[bytes]:
    """The certificates of every team, or of one; with names only where nobody reads along."""
    need_director(visitor)
    state = house.state
    people = await asyncio.to_thread(house.book.people) if visitor.private else {}
    audience = public_at(state, house.book.now_ms())
    pdf = await asyncio.to_thread(
        certificates_pdf,
        certificates(state, audience, people, team),
        size=_size(state, size),
        at=from_milliseconds(state.at_ms),
        speech=speech_for(state),
    )
    return _file(pdf, "certificates.pdf")


@get("/director/results/press.txt")
async def take_press(house: InHouse, visitor: ByVisitor) -> Response[bytes]:
    """The text for the press."""
    need_director(visitor)
    text = press_text(await _book(house, house.state), house.words)
    headers = {"content-disposition": 'attachment; filename="press.txt"'}
    return Response(text.encode(), media_type=f"{MediaType.TEXT}; charset=utf-8", headers=headers)


async def _book(house: House, state: State) -> ResultsBook:
    seal = await asyncio.to_thread(house.book.seal, state.seq)
    return results_book(state, public_at(state, house.book.now_ms()), seal)


def _size(state: State, asked: str) -> PaperSize:
    pounds = state.event is not None and state.event.mass_unit == "lb"
    return _SIZES.get(asked, "us-letter" if pounds else "a4")


def _file(pdf: bytes, name: str) -> Response[bytes]:
    headers = {"content-disposition": f'inline; filename="{name}"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


HANDLERS = (show_keepsakes, print_book, print_certificates, take_press)
