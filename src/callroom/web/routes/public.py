"""Pages for everyone: no sign-in, no personal details."""

from litestar import Response, get
from litestar.params import FromPath

from callroom.model import NotFound
from callroom.views.home import division_links, home
from callroom.views.page_head import public_at
from callroom.views.raised import raised_view
from callroom.web.contexts import HomePage, StandingsPage, TeamPage, TimetablePage
from callroom.web.entering import is_open
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House
from callroom.web.routes import help_out
from callroom.web.visitor import Visitor


@get("/")
async def show_home(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What is on now and next."""
    audience = public_at(house.state, house.book.now_ms())
    page = HomePage(
        home=home(house.state, audience),
        now=await house.live("now"),
        raised=raised_view(house.state),
        entering=is_open(house),
        helping=help_out.is_open(house),
    )
    return house.show(request, visitor, page)


@get("/timetable")
async def show_timetable(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The day by floor and time."""
    return house.show(request, visitor, TimetablePage(day=await house.live("timetable")))


@get("/team/{team_id:str}")
async def show_team(
    request: Asked, house: InHouse, visitor: ByVisitor, team_id: FromPath[str]
) -> Response[str]:
    """One team's own day."""
    state = house.state
    team = state.teams.get(team_id)
    if team is None:
        raise NotFound("team.unknown", team=team_id)
    day = await house.live(f"team/{team_id}") if state.plan is not None else None
    division = next((one for one in division_links(state) if one.id == team.division), None)
    page = TeamPage(day=day, name=team.name, division=division)
    return house.show(request, visitor, page)


@get("/standings")
async def show_all_standings(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The standings of the first division, with the way to the others."""
    divisions = division_links(house.state)
    if divisions:
        return await _standings(request, house, visitor, divisions[0].id)
    page = StandingsPage(divisions=divisions, chosen=None, table=None)
    return house.show(request, visitor, page)


@get("/standings/{division_id:str}")
async def show_standings(
    request: Asked, house: InHouse, visitor: ByVisitor, division_id: FromPath[str]
) -> Response[str]:
    """The standings of one division, live."""
    return await _standings(request, house, visitor, division_id)


async def _standings(
    request: Asked, house: House, visitor: Visitor, division_id: str
) -> Response[str]:
    divisions = division_links(house.state)
    chosen = next((one for one in divisions if one.id == division_id), None)
    if chosen is None:
        raise NotFound("division.unknown", division=division_id)
    table = await house.live(f"standings/{division_id}")
    page = StandingsPage(divisions=divisions, chosen=chosen, table=table)
    return house.show(request, visitor, page)


HANDLERS = (show_home, show_timetable, show_team, show_all_standings, show_standings)
