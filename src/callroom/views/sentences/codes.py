"""Sentences for the short codes on cards."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "code.unreadable": N_(
            "{given} is no card code. A code has eight characters, like 7KQF-2MXR, and never "
            "0, 1, I, L or O. Read it from the card again, or find the team by its heat and lane."
        ),
        "code.mistyped": N_(
            "{given} has a wrong character somewhere, or two of them exchanged. Read it from the "
            "card again."
        ),
        "code.unknown": N_(
            "No card of this event has the code {given}. Is the card from another event? If not, "
            "find the team by its heat and lane."
        ),
        "code.of_rehearsal": N_(
            "{given} is on a card of a rehearsal (team {team}, workout {workout}). It opens "
            "nothing here: use the card without the REHEARSAL mark."
        ),
        "code.ambiguous": N_(
            "Several cards have the code {given}: {cards}. Find the team by its heat and lane."
        ),
    }
)
