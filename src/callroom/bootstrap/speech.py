"""What the writing of work rests on, for commands: the event's categories and movements."""

from callroom.model import State
from callroom.standards import library_with
from callroom.views.work_wording import Speech, speech_of


def speech_for(state: State) -> Speech:
    """Return what work of this event is written with; English until there are translations."""
    if state.event is None:
        return Speech(catalogue=library_with(()).movements)
    return speech_of(state.event, library_with(state.event.movements).movements)
