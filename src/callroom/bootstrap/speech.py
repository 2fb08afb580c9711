"""What the writing of work rests on, for commands: the event's categories and movements."""

from callroom.model import State
from callroom.standards import all_movements
from callroom.views.work_wording import Speech, speech_of


def speech_for(state: State) -> Speech:
    """Return what work of this event is written with; English until there are translations."""
    catalogue = {movement.id: movement for movement in all_movements()}
    if state.event is None:
        return Speech(catalogue=catalogue)
    return speech_of(state.event, catalogue)
