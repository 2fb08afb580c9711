"""The work and the standards: what the printed athletes' guide and briefing say, as pages."""

from typing import ClassVar

from litestar import Response, get
from litestar.params import FromPath

from callroom.model import NotFound, State
from callroom.standards import library_with, movement
from callroom.views.guide import Guide, GuideWorkout, Standard, guide, standard
from callroom.views.guide_text import (
    StandardText,
    WorkoutText,
    guide_text,
    standard_text,
    workout_text,
)
from callroom.views.page_head import public_at
from callroom.views.rulings import RulingText, rulings_about
from callroom.views.timetable import CREW, Audience
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House
from callroom.web.pages import Page
from callroom.web.visitor import Visitor


class WorkoutsPage(Page, frozen=True, kw_only=True):
    """``/workouts``: every workout with what it is about, and every standard by name."""

    template: ClassVar[str] = "workouts.html"
    workouts: tuple[WorkoutText, ...]
    standards: tuple[StandardText, ...]


class WorkoutPage(Page, frozen=True, kw_only=True):
    """``/workouts/<id>``: the work of one workout, its loads, its standards, its rulings.

    `divisions` are the heads of the columns of loads; `hidden` tells a visitor of the crew
    that the public does not see this yet.
    """

    template: ClassVar[str] = "workout.html"
    workout: WorkoutText
    divisions: tuple[str, ...]
    standards: tuple[StandardText, ...]
    rulings: tuple[RulingText, ...]
    hidden: bool


class MovementPage(Page, frozen=True, kw_only=True):
    """``/movements/<id>``: a standard, once for each way in which the event asks for it."""

    template: ClassVar[str] = "movement.html"
    name: str
    standards: tuple[StandardText, ...]


@get("/workouts")
async def show_workouts(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every workout, as far as released."""
    state = house.state
    if state.event is None:
        return house.show(request, visitor, WorkoutsPage(workouts=(), standards=()))
    told = guide_text(guide(state, audience_of(house, visitor)), house.voice(state).speech)
    page = WorkoutsPage(workouts=told.workouts, standards=told.standards)
    return house.show(request, visitor, page)


@get("/workouts/{workout_id:str}")
async def show_workout(
    request: Asked, house: InHouse, visitor: ByVisitor, workout_id: FromPath[str]
) -> Response[str]:
    """One workout with its standards; before its release, when it comes."""
    state, audience = house.state, audience_of(house, visitor)
    speech = house.voice(state).speech
    view = guide(state, audience)
    one = view.workout(workout_id)
    page = WorkoutPage(
        workout=workout_text(view, one, speech),
        divisions=view.divisions,
        standards=tuple(standard_text(needed, speech) for needed in view.standards_of(one)),
        rulings=_rulings(state, one, audience),
        hidden=not _seen_by_all(house, one),
    )
    return house.show(request, visitor, page)


@get("/movements/{movement_id:str}")
async def show_movement(
    request: Asked, house: InHouse, visitor: ByVisitor, movement_id: FromPath[str]
) -> Response[str]:
    """A movement as this event asks for it; as usual, where no workout that is shown does."""
    state = house.state
    view = guide(state, audience_of(house, visitor)) if state.event is not None else None
    asked = _asked(view, movement_id) or (_usual(state, movement_id),)
    speech = house.voice(state).speech
    page = MovementPage(
        name=asked[0].movement.name, standards=tuple(standard_text(one, speech) for one in asked)
    )
    return house.show(request, visitor, page)


def _usual(state: State, movement_id: str) -> Standard:
    """Return a movement that no workout shown asks for, as it is done as usual."""
    library = library_with(state.event.movements if state.event is not None else ())
    known = library.movements.get(movement_id)
    return standard(movement(movement_id) if known is None else known, library)


def audience_of(house: House, visitor: Visitor) -> Audience:
    """Return what a visitor may see: whoever holds a role sees what is not released as well."""
    return CREW if visitor.actor is not None else public_at(house.state, house.book.now_ms())


def _asked(view: Guide | None, movement_id: str) -> tuple[Standard, ...]:
    standards = view.standards if view is not None else ()
    return tuple(one for one in standards if one.movement.id == movement_id)


def _rulings(state: State, one: GuideWorkout, audience: Audience) -> tuple[RulingText, ...]:
    if state.event is None:
        raise NotFound("book.no_event")
    workout = state.event.workout(one.title.id)
    return rulings_about(state, workout) if audience.may_see(workout) else ()


def _seen_by_all(house: House, one: GuideWorkout) -> bool:
    state = house.state
    if state.event is None:
        return True
    return public_at(state, house.book.now_ms()).may_see(state.event.workout(one.title.id))


HANDLERS = (show_workouts, show_workout, show_movement)
