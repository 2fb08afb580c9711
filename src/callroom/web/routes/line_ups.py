"""Line-ups on the day: who of a squad takes the floor, who stands down, who is cleared."""

from collections.abc import Mapping
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions.line_ups import clear_athlete, set_line_up, stand_down
from callroom.actions.request import Request
from callroom.model import LinedUp, NotFound, State
from callroom.views.home import DivisionLink, division_links
from callroom.views.line_ups import LineUpDesk, line_up_desk
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, need_role, new_key
from callroom.web.pages import Page
from callroom.web.routes.judge import read_basis


class LineUpsPage(Page, frozen=True, kw_only=True):
    """``/line-ups``: the teams, and which of them have a line-up that is not as entered."""

    template: ClassVar[str] = "line_ups.html"
    divisions: tuple[DivisionLink, ...]
    changed: frozenset[str]


class LineUpPage(Page, frozen=True, kw_only=True):
    """``/line-ups/<team>``: the squad and its line-ups.

    `names` are those of the squad by the person's id, only where nobody can read along and
    the role may see them. `basis` is what a change rests on, as JSON. What this visitor may
    do: change line-ups, `allow` what the rules refuse, `clear` who stands down.
    """

    template: ClassVar[str] = "line_up.html"
    desk: LineUpDesk
    names: Mapping[str, str]
    basis: str
    changes: bool
    allow: bool
    clear: bool
    key: str


@get("/line-ups")
async def show_line_ups(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Choose a team."""
    need_role(visitor, "athlete.stood_down")
    changed = frozenset(one.team for one in house.state.line_ups.values())
    page = LineUpsPage(divisions=division_links(house.state), changed=changed)
    return house.show(request, visitor, page)


@get("/line-ups/{team_id:str}")
async def show_line_up(
    request: Asked, house: InHouse, visitor: ByVisitor, team_id: FromPath[str]
) -> Response[str]:
    """The squad of a team and its line-up in each workout."""
    need_role(visitor, "athlete.stood_down")
    desk = line_up_desk(house.state, team_id)
    names: dict[str, str] = {}
    if visitor.private and visitor.role in {"director", "head_judge", "desk"}:
        people = house.book.people()
        names = {one.person: people[one.person].name for one in desk.squad if one.person in people}
    page = LineUpPage(
        desk=desk,
        names=names,
        basis=msgspec.json.encode(desk.basis).decode(),
        changes=visitor.may("line_up.set"),
        allow=visitor.role in {"head_judge", "director"},
        clear=visitor.may("athlete.cleared"),
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/line-ups/{team_id:str}", status_code=200)
async def change_line_up(
    house: InHouse, visitor: ByVisitor, form: PostedForm, team_id: FromPath[str]
) -> Response[Any]:
    """Change a line-up, let somebody stand down, or clear them."""
    need_role(visitor, "athlete.stood_down")
    if team_id not in house.state.teams:
        raise NotFound("team.unknown", team=team_id)
    asked, kind = _asked(house.state, team_id, form)
    need_role(visitor, kind)
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect(f"/line-ups/{team_id}", status_code=303)


def _asked(state: State, team_id: str, form: Posted) -> tuple[Request, str]:
    deed, person = form.text("do"), form.text("person")
    if deed == "stand_down":
        return stand_down(team_id, person), "athlete.stood_down"
    if deed == "clear":
        return clear_athlete(team_id, person), "athlete.cleared"
    if deed == "change":
        return _change(state, team_id, form), "line_up.set"
    raise Unreadable("web.unknown_button", given=deed[:80])


def _change(state: State, team_id: str, form: Posted) -> Request:
    desk = line_up_desk(state, team_id)
    first = form.text("workout")
    coming = [one.workout.id for one in desk.workouts if one.open]
    workouts: tuple[str, ...] = (first,)
    if form.ticked("later") and first in coming:
        workouts = tuple(coming[coming.index(first) :])
    named = [place for one in desk.workouts[:1] for place, _ in one.chosen]
    places = tuple(
        LinedUp(place=place, person=form.text(f"place_{place}"))
        for place in named
        if form.text(f"place_{place}")
    )
    return set_line_up(
        team_id,
        workouts,
        places,
        reason=form.text("reason"),
        allowed=form.ticked("allowed"),
        basis=read_basis(form.text("basis")),
    )


HANDLERS = (show_line_ups, show_line_up, change_line_up)
