"""Sentences of the event's pages and of the first questions."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "event.set_already": N_(
            'This book has an event already, "{known}". Change it on its pages, or begin another '
            "book."
        ),
        "first.no_division": N_(
            "No division is ticked. Tick at least one: more can be added later."
        ),
        "first.no_name": N_("The event has no name yet. Type one: it can be changed later."),
        "first.no_number": N_('"{given}" is no number from {least} to {most}. Type one.'),
    }
)
