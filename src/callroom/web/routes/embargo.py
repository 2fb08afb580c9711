"""Keeping a workout's results from the public, for a surprise at the end of the day."""

from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.response import Redirect

from callroom.actions import verdicts
from callroom.views.embargo import kept_back
from callroom.views.timetable import CREW, WorkoutTitle, workout_title
from callroom.web.errors import Unreadable
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, need_director, new_key
from callroom.web.pages import Page


class EmbargoPage(Page, frozen=True, kw_only=True):
    """``/director/embargo``: every workout, and whether its results are kept back."""

    template: ClassVar[str] = "embargo.html"
    workouts: tuple[tuple[WorkoutTitle, bool], ...]
    key: str


@get("/director/embargo")
async def show_embargo(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Which results the public does not see."""
    need_director(visitor)
    state = house.state
    hidden = kept_back(state)
    workouts = state.event.workouts if state.event is not None else ()
    page = EmbargoPage(
        workouts=tuple(
            (workout_title(state.event, workout, CREW), workout.id in hidden)
            for workout in workouts
            if state.event is not None
        ),
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/director/embargo", status_code=200)
async def change_embargo(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Keep a workout's results back, or let them out."""
    need_director(visitor)
    deed, _, workout = form.text("do").partition(":")
    if deed not in {"keep", "let"}:
        raise Unreadable("web.unknown_button", given=deed[:80])
    asked = verdicts.set_embargo(workout, hidden=deed == "keep")
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/director/embargo", status_code=303)


HANDLERS = (show_embargo, change_embargo)
