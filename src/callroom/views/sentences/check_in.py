"""Sentences for what the rules of the check-in, the morning and hosting refuse."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "check_in.fee_only": N_(
            "As {role} you can book cash for what a team still owes for its entry, and nothing "
            "else. Ask the director."
        ),
        "check_in.paid_already": N_(
            "Nothing, or less than that, is left to pay for {team}: somebody may just have booked "
            "it. Reload the page before you take money."
        ),
        "go.points_open": N_(
            "{count} points still ask for attention. Mend them, or decide to go with them open."
        ),
        "book.away": N_(
            "This book was taken to the hall, so nothing is changed here until it is brought back."
        ),
        "book.is_here": N_("This book was not taken to the hall; it goes on here. Reload."),
    }
)
