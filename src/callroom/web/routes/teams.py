"""Teams that leave and come back: at the desk by their own wish, by ruling of the head judge."""

from typing import Any

from litestar import Response, get, post
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.request import Request
from callroom.model import State
from callroom.views.home import division_links
from callroom.web.contexts import TeamsPage
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, need_role, new_key


@get("/desk/teams")
async def show_teams(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The teams, and who is no longer in the event."""
    need_role(visitor, "team.left")
    page = TeamsPage(
        divisions=division_links(house.state),
        out=house.state.team_status,
        rules=visitor.may("team.back"),
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/desk/teams", status_code=200)
async def change_team(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Withdraw or disqualify a team, or let it back in."""
    need_role(visitor, "team.left")
    asked, kind = _asked(house.state, form)
    need_role(visitor, kind)
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/desk/teams", status_code=303)


def _asked(state: State, form: Posted) -> tuple[Request, str]:
    deed, team, reason = form.text("do"), form.text("team"), form.text("reason")
    if deed == "withdraw":
        return day.withdraw_team(team, reason), "team.left"
    if deed == "disqualify":
        # Taking a team out against its will is a ruling, as letting one back in is.
        return day.disqualify_team(team, reason), "team.back"
    if deed == "back" and team in state.team_status:
        return day.reinstate_team(team, state.team_status[team].since_seq, reason), "team.back"
    raise Unreadable("web.unknown_button", given=deed[:80])


HANDLERS = (show_teams, change_team)
