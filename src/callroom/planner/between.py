"""What has to happen between two heats of a floor: the changeover, and pauses."""

from callroom.model.event import Event
from callroom.model.plan import Heat
from callroom.model.wishes import Pause


def changeover_s(event: Event, one: Heat, other: Heat, *, same: bool) -> int:
    """Return the wished changeover from one heat to another [s]; `same`: of the same divisions."""
    if one.workout != other.workout:
        return event.wishes.changeover_workout_s
    return event.wishes.changeover_same_s if same else event.wishes.changeover_division_s


def pauses_between(event: Event, one: Heat, other: Heat) -> tuple[Pause, ...]:
    """Return the pauses of the floor that are planned between two heats."""
    return tuple(
        pause
        for pause in event.wishes.pauses
        if (not pause.floors or one.floor in pause.floors)
        and one.end_s <= pause.start_s
        and pause.start_s + pause.length_s <= other.start_s
    )
