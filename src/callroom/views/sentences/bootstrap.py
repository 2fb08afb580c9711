"""Sentences for doors, devices and the processes around a book."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "passphrase.length": N_(
            "A passphrase has {least} to {most} characters. A short sentence is easy to remember."
        ),
        "passphrase.none": N_("No passphrase is set yet. Set one on this machine first."),
        "passphrase.wrong": N_("That is not the passphrase."),
        "guesses.too_many": N_("Too many wrong tries. Wait {wait_s}, then try again."),
        "code.used_or_unknown": N_(
            "This code lets nobody in: it was used already, or never given. Ask for a new one."
        ),
        "code.expired": N_("This code is too old. Ask the director for a new one."),
        "plan.solver_lost": N_(
            "The planner ended without an answer (code {code}). Try again; if it happens again, "
            "give it fewer wishes at once."
        ),
        "file.missing": N_("There is no file {file}. Look at its name and folder."),
        "file.unreadable": N_("The file {file} cannot be opened ({reason})."),
        "server.silent": N_(
            "A server has this book, but does not answer on port {port} ({reason}). If it has "
            "crashed, start it again; then repeat the command."
        ),
    }
)
