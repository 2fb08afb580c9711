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
        "check_in.other_lanes": N_(
            "The lanes that were offered to {team} are not free any more. Look again at what is."
        ),
        "go.points_open": N_(
            "{count} points still ask for attention. Mend them, or decide to go with them open."
        ),
        "book.away": N_(
            "This book was taken to the hall, so nothing is changed here until it is brought back."
        ),
        "hall.not_taken": N_(
            "This book was not taken to the hall: press the button first, so that it takes nothing "
            "here while it is away. For the copy of a laptop that failed: callroom carry-on."
        ),
        "hall.taken_already": N_("This book goes on here already: serve it."),
        "hall.no_file": N_(
            "This server cannot hand the book out as a file: it is in a database, or a rehearsal."
        ),
        "hall.no_upload": N_("Choose the file of the book from the hall, then send it."),
        "hall.nothing_new": N_(
            "This is the file as it went to the hall, without anything from there. Give the file "
            "that the hall’s laptop served."
        ),
        "hall.two_books": N_(
            "Both books went on after they parted: here there are {here} entries, in the file "
            "{there}, and they differ. They are not merged. Keep one; callroom gather brings reports "
            "over from the other."
        ),
        "hall.never_taken": N_(
            "This file holds what is here and more, yet no laptop took it over with callroom take. "
            "Take it over there, then bring it back."
        ),
        "book.is_here": N_("This book was not taken to the hall; it goes on here. Reload."),
    }
)
