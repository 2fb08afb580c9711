"""Standings to be hung up, as PDF."""

import asyncio

from litestar import Response, get
from litestar.params import FromQuery

from callroom.bootstrap.speech import speech_for
from callroom.model import from_milliseconds
from callroom.paper import WallSize, wall_standings_pdf
from callroom.views.page_head import public_at
from callroom.views.wall import wall_standings
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import need_role

SIZES: dict[str, WallSize] = {
    "a4": "a4",
    "a3": "a3",
    "letter": "us-letter",
    "tabloid": "us-tabloid",
}


@get("/judge/wall.pdf")
async def print_wall(
    house: InHouse,
    visitor: ByVisitor,
    size: FromQuery[str] = "a4",
    division: FromQuery[str] = "",
) -> Response[bytes]:
    """The standings of one division or of all, with the time for appeals and the seal."""
    need_role(visitor, "standings.posted")
    state = house.state
    seal = await asyncio.to_thread(house.book.seal, state.seq)
    view = wall_standings(state, public_at(state, house.book.now_ms()), seal, division)
    pdf = await asyncio.to_thread(
        wall_standings_pdf,
        view,
        size=SIZES.get(size, "a4"),
        at=from_milliseconds(state.at_ms),
        speech=speech_for(state),
    )
    headers = {"content-disposition": 'attachment; filename="standings.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


HANDLERS = (print_wall,)
