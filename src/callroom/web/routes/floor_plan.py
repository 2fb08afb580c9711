"""The floor plan: drawn to scale, laid out from sizes, moved by numbers, printed."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar
from urllib.parse import urlencode

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions import ground as ask_ground
from callroom.model import BadInput, Finding, NotFound, from_milliseconds
from callroom.model.ground import SPOT_KINDS, WALLS, Ground, SpotKind, Wall
from callroom.paper import floor_plan_pdf
from callroom.standards import library_with
from callroom.views.floor_plan import (
    Drawing,
    WorkoutPlan,
    floor_findings,
    venue_drawing,
    workout_plan,
    workout_plans,
)
from callroom.views.floor_plan_wording import start_names
from callroom.views.page_head import page_head
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.ground import read_ground, read_measured
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.voice import Told


class FloorPlanPage(Page, frozen=True, kw_only=True):
    """``/director/floor-plan``: the drawing, what is wrong with it, and every size to change.

    `shown` is the workout whose lanes are drawn (None: the whole venue); `tabs` those that
    can be. `typed` are the fields of a form that was refused; empty: those of `ground`.
    `seq` is the entry the ground comes from.
    """

    template: ClassVar[str] = "floor_plan.html"
    ground: Ground
    drawing: Drawing | None
    shown: WorkoutPlan | None
    workout: str
    tabs: tuple[tuple[str, str], ...]
    floors: tuple[tuple[str, str], ...]
    workouts: tuple[tuple[str, str], ...]
    wrong: tuple[Finding, ...]
    kinds: tuple[SpotKind, ...]
    walls: tuple[Wall, ...]
    outdoor: bool
    typed: Mapping[str, str]
    faults: tuple[Finding, ...]
    told: Told | None
    seq: int
    key: str


@get("/director/floor-plan")
async def show_floor_plan(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    show: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """The floor plan; `show` is a workout whose lanes are to be drawn."""
    need_director(visitor)
    said = {
        "kept": house.words.gettext("The floor plan is kept."),
        "laid": house.words.gettext(
            "Laid out from your sizes. Look at it in the hall, tape in hand, and move what is not so."
        ),
    }.get(done)
    page = await asyncio.to_thread(_page, house, show, told=Told(text=said) if said else None)
    return house.show(request, visitor, page)


@post("/director/floor-plan", status_code=200)
async def change_floor_plan(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Lay the venue out from its sizes, or keep every size as typed."""
    need_director(visitor)
    show = form.text("show")
    try:
        ground, done = _ground_asked(house, form.text("do"), form)
        basis = {"ground": form.whole("seq") or 0}
        asked = ask_ground.set_ground(ground, basis)
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except BadInput as fault:
        page = _page(house, show, typed=form.texts, faults=findings_of(fault))
        return house.show(request, visitor, page, 422)
    query = urlencode({"done": done, "show": show})
    return Redirect(f"/director/floor-plan?{query}", status_code=303)


def _ground_asked(house: House, deed: str, form: Posted) -> tuple[Ground, str]:
    event = need_event(house.state)
    if deed == "start":
        inside, outside = read_measured(form, event.mass_unit)
        names = start_names(house.words)
        return ask_ground.lay_out(house.state, inside, outside, names), "laid"
    if deed == "keep":
        return read_ground(form, event), "kept"
    raise Unreadable("web.unknown_button", given=deed[:80])


@get("/director/floor-plan.pdf")
async def print_floor_plan(
    house: InHouse, visitor: ByVisitor, size: FromQuery[str] = ""
) -> Response[bytes]:
    """The floor plan to print: the venue, then each workout's lanes, to a true scale."""
    need_director(visitor)
    state, event = house.state, need_event(house.state)
    if not state.ground.drawn:
        raise NotFound("web.no_page")
    letter = size == "letter" or (not size and event.mass_unit == "lb")
    pdf = await asyncio.to_thread(
        floor_plan_pdf,
        venue_drawing(state.ground, event),
        workout_plans(state.ground, event, library_with(event.movements).movements),
        page_head(state),
        size="us-letter" if letter else "a4",
        at=from_milliseconds(state.at_ms),
        at_ms=state.at_ms,
        words=house.words,
    )
    headers = {"content-disposition": 'inline; filename="floor-plan.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _page(
    house: House,
    show: str,
    *,
    typed: Mapping[str, str] | None = None,
    faults: tuple[Finding, ...] = (),
    told: Told | None = None,
) -> FloorPlanPage:
    event, state = need_event(house.state), house.state
    ground, movements = state.ground, library_with(event.movements).movements
    laid = {field.floor for field in ground.fields}
    tabs = tuple((one.id, one.name) for one in event.workouts if one.floor in laid)
    shown = None
    if show in dict(tabs):
        shown = workout_plan(ground, event, event.workout(show), movements)
    drawing = shown.drawing if shown is not None else None
    if drawing is None and ground.drawn:
        drawing = venue_drawing(ground, event)
    return FloorPlanPage(
        ground=ground,
        drawing=drawing,
        shown=shown,
        workout=show if shown is not None else "",
        tabs=tabs,
        floors=tuple((floor.id, floor.name) for floor in event.floors),
        workouts=tuple((one.id, one.name) for one in event.workouts),
        wrong=floor_findings(ground, event, movements),
        kinds=SPOT_KINDS,
        walls=WALLS,
        outdoor=any(floor.outdoor for floor in event.floors),
        typed=typed or {},
        faults=faults,
        told=told,
        seq=state.subjects.get("ground", 0),
        key=new_key(),
    )


HANDLERS = (show_floor_plan, change_floor_plan, print_floor_plan)
