"""Setting one workout of the event, as the request it makes."""

import msgspec

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import Event, Refusal, State, Workout


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
