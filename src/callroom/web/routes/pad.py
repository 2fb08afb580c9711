"""Where a judge's phone chooses its heat and lane."""

from litestar import Response, get

from callroom.web.contexts import PadChoicePage
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, need_role


@get("/pad")
async def choose_lane(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The heats that are on or next, with their lanes."""
    need_role(visitor, "score.reported")
    return house.show(request, visitor, PadChoicePage(heats=await house.live("pad/heats")))


HANDLERS = (choose_lane,)
