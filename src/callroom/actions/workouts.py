"""Setting one workout of the event, as the request it makes."""

import msgspec

from callroom.actions.request import Request, propose
from callroom.actions.standards_check import check_standards
from callroom.journal.entries import bodies
from callroom.model import Event, Finding, Refusal, State, Workout
from callroom.model.checking import check_event
from callroom.standards import library_with


def set_workout(state: State, workout: Workout, basis: int) -> Request:
    """Put a workout in the place of the one with its id, or after the others.

    Parameters
    ----------
    basis
        The `seq` of the event that the director looked at: if the event has changed since,
        the request is refused as stale.

    Raises
    ------
    Refusal
        If there is no event.
    """
    event = state.event
    if event is None:
        raise Refusal("book.no_event")
    changed = with_workout(event, workout)
    # The movements in it are those of this State, not those the director looked at.
    now = {"event": basis, "movements": state.subjects.get("movements", 0)}
    return propose(bodies.EventSet(event=changed), basis=now)


def with_workout(event: Event, workout: Workout) -> Event:
    """Return the event with `workout` in the place of the one with its id, or as one more."""
    known = [workout if one.id == workout.id else one for one in event.workouts]
    if workout.id not in {one.id for one in event.workouts}:
        known.append(workout)
    return msgspec.structs.replace(event, workouts=tuple(known))


def check_drafted(state: State, event: Event, workout_id: str) -> tuple[Finding, ...]:
    """Return what is wrong with `event`, which has a workout that is being built.

    Beyond the checks of every event: what a lane of each division needs at one time that the
    kit list of `state` has too few of. Without a kit list nothing is said of it.
    """
    from callroom.planner.plates import lane_findings  # noqa: PLC0415 - loads an array library

    workout = event.workout(workout_id)
    library = library_with(event.movements).movements
    short = lane_findings(workout, event, state.kit, library) if state.kit else ()
    return (*check_event(event), *check_standards(event), *short)
