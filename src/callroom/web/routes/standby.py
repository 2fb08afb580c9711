"""If this laptop fails: how the copy for another one stands, and how phones are led there."""

from typing import ClassVar

import msgspec
from litestar import Response, get

from callroom.bootstrap.copy_kept import CopyKept
from callroom.views.place_code import place_code
from callroom.web.given import ByVisitor, InHouse
from callroom.web.hosts import leads_here, open_to_phones
from callroom.web.house import Asked, House, need_director
from callroom.web.pages import Page
from callroom.web.qr import qr_svg


class Place(msgspec.Struct, frozen=True, kw_only=True):
    """Where phones find this server: the address, its code to type, its QR code as SVG."""

    address: str
    code: str
    qr: str


class StandbyPage(Page, frozen=True, kw_only=True):
    """``/director/standby``: the copy that is kept (None: none is), and where phones find us.

    `generation` counts the laptops that had this book.
    """

    template: ClassVar[str] = "standby.html"
    kept: CopyKept | None
    generation: int
    places: tuple[Place, ...]


@get("/director/standby")
async def show_standby(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What to do if this laptop fails, and the codes that lead phones here."""
    need_director(visitor)
    page = StandbyPage(
        kept=house.book.standby_copy,
        generation=house.state.generation,
        places=tuple(
            Place(address=address, code=place_code(address), qr=qr_svg(f"{address}/pad"))
            for address in _addresses(house)
        ),
    )
    return house.show(request, visitor, page)


def _addresses(house: House) -> tuple[str, ...]:
    event = house.state.event
    told = house.settings.address or (event.address if event is not None else "")
    mine = (told.rstrip("/"),) if told and leads_here(told, house.settings) else ()
    return tuple(dict.fromkeys((*mine, *open_to_phones(house.settings))))


HANDLERS = (show_standby,)
