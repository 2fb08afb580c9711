"""A workout on paper before it has heats: its card for any team of a division, its standards."""

from msgspec.structs import replace

from callroom.model import Event, NotFound, State
from callroom.model.steps import place_names
from callroom.views.cards import Card, Cards
from callroom.views.codes import CardRef
from callroom.views.guide import Guide, guide
from callroom.views.line_ups import LineUpPlace
from callroom.views.masthead import masthead_of
from callroom.views.timetable import CREW, workout_title
from callroom.views.work import part_work


def sample_cards(state: State, workout_id: str, division_id: str) -> Cards:
    """Return the card of a workout for no team in particular; without a code, heat or lane.

    Raises
    ------
    NotFound
        If the event has no such workout or division.
    """
    event = _with_one(state, workout_id, division_id)
    division, workout = event.divisions[0], event.workouts[0]
    names = {category.id: category.name for category in event.categories}
    categories = [names[part.category] for part in division.make_up for _ in range(part.count)]
    made = Card(
        ref=CardRef(workout=workout.id, team=""),
        code="",
        address="",
        workout=workout_title(_event(state), workout, CREW),
        team="",
        division=division.name,
        line_up=tuple(
            LineUpPlace(place=place, category=category)
            for place, category in zip(place_names(division), categories, strict=True)
        ),
        heat=None,
        lane=None,
        floor=event.floor(workout.floor).name,
        judges=workout.judges_per_lane,
        parts=tuple(part_work(part, division) for part in workout.parts),
    )
    return Cards(masthead=masthead_of(state), cards=(made,))


def standards_of(state: State, workout_id: str, division_id: str) -> Guide:
    """Return the work and the standards of one workout as one division does it.

    Raises
    ------
    NotFound
        If the event has no such workout or division.
    """
    alone = guide(replace(state, event=_with_one(state, workout_id, division_id)), CREW)
    title = workout_title(_event(state), _event(state).workout(workout_id), CREW)
    return replace(alone, workouts=(replace(alone.workouts[0], title=title),))


def _with_one(state: State, workout_id: str, division_id: str) -> Event:
    event = _event(state)
    divisions = tuple(one for one in event.divisions if one.id == division_id)
    workouts = tuple(one for one in event.workouts if one.id == workout_id)
    if not divisions:
        raise NotFound("division.unknown", division=division_id)
    if not workouts:
        raise NotFound("workout.unknown", workout=workout_id)
    return replace(event, divisions=divisions, workouts=workouts)


def _event(state: State) -> Event:
    if state.event is None:
        raise NotFound("book.no_event")
    return state.event
