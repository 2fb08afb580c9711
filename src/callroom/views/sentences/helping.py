"""Sentences for what the crew's list and the sign-up of helpers refuse."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "crew.holds_shifts": N_(
            "{person} still holds shifts in the rota. Give them to others first: the rota finds who"
            " can take them over."
        ),
        "help.closed": N_("Nobody can sign up to help just now. Ask the director."),
        "help.no_name": N_("Give a name, so that you can be called."),
        "help.no_contact": N_("Give an e-mail address or a phone number: else nobody can answer."),
        "help.not_agreed": N_("Without your yes these details cannot be kept. Tick it, then send."),
        "help.no_post": N_("Tick at least one thing to help with."),
        "help.no_time": N_("“{given}” is no time here. Write it like 09:30."),
        "help.never_free": N_("This ends before it begins. Look at both times."),
        "help.not_waiting": N_(
            "This offer does not wait any more. Reload to see what became of it."
        ),
        "help.full": N_("More offers wait than can be answered. Ask the director."),
        "help.known": N_("{person} is on the list of crew already."),
    }
)
