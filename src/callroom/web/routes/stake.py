"""What is at stake in a division, for everyone, live."""

from typing import ClassVar

from litestar import Response, get
from litestar.params import FromPath

from callroom.model import NotFound
from callroom.views.home import DivisionLink, division_links
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked
from callroom.web.live_text import LiveText
from callroom.web.pages import Page


class StakePage(Page, frozen=True, kw_only=True):
    """``/standings/<division>/stake``: what each team needs next, and its chances."""

    template: ClassVar[str] = "stake.html"
    divisions: tuple[DivisionLink, ...]
    chosen: DivisionLink
    stake: LiveText


@get("/standings/{division_id:str}/stake")
async def show_stake(
    request: Asked, house: InHouse, visitor: ByVisitor, division_id: FromPath[str]
) -> Response[str]:
    """What is at stake in one division."""
    divisions = division_links(house.state)
    chosen = next((one for one in divisions if one.id == division_id), None)
    if chosen is None:
        raise NotFound("division.unknown", division=division_id)
    stake = await house.live(f"stake/{division_id}")
    return house.show(request, visitor, StakePage(divisions=divisions, chosen=chosen, stake=stake))


HANDLERS = (show_stake,)
