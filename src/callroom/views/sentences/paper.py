"""Sentences for what keeps a sheet from being printed."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "print.no_address": N_(
            "The event has no address yet, so the QR codes on cards hold the bare code and open "
            "no page. Set the address of the server at the venue before you print."
        ),
        "print.code_shared": N_(
            "Several cards have the code {code}: {cards}. Give one of these teams another id, or "
            "find their cards by heat and lane."
        ),
        "paper.fonts_missing": N_(
            "The fonts for printing are not in {folder}. Install Callroom again; in a working "
            "copy of its source, run: make frontend"
        ),
        "paper.not_set": N_(
            "The sheet “{template}” could not be set: {message}. This is a fault of Callroom, "
            "not of your data; please report it with this message."
        ),
    }
)
