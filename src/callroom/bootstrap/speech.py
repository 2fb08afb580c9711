"""What the writing of work rests on: the event's language, categories and movements."""

from callroom.bootstrap.language import language_of
from callroom.model import State
from callroom.standards import library_with
from callroom.views.work_wording import Speech, speech_of


def speech_for(state: State) -> Speech:
    """Return what work of this event is written with, in the event's own language."""
    if state.event is None:
        return Speech(catalogue=library_with(()).movements)
    words = language_of(state.event.language).words
    return speech_of(state.event, library_with(state.event.movements).movements, words)
