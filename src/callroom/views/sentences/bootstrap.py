"""Sentences for doors, devices and the processes around a book."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "carry.superseded": N_(
            "Another laptop ({machine}) carries on with this book, at {address}. Nothing more is"
            " taken here; what waits on a phone stays there until it is led to the other one."
        ),
        "carry.no_copy": N_(
            "There is no copy of a book in {folder}. While a book is served, one is kept with"
            " callroom serve BOOK --keep FOLDER."
        ),
        "carry.several": N_("There are several copies in {folder}: {copies}. Name one of them."),
        "carry.still_served": N_(
            "The book is still being served, at {address}. Two laptops must not take scores for"
            " one book: stop that one first. If it is another server that answers there, say"
            " --although-served."
        ),
        "carry.taken": N_(
            "{machine} carries on with this copy already, since {at} (UTC). Two laptops must not"
            " take scores for one book. If that one never began, say --again."
        ),
        "carry.not_whole": N_(
            "The copy is not what was written: {reason}. Use an older copy, or a backup."
        ),
        "passphrase.length": N_(
            "A passphrase has {least} to {most} characters. A short sentence is easy to remember."
        ),
        "passphrase.plain": N_(
            "That is among the first anybody would try. Take several words that stand nowhere on "
            "the event’s pages."
        ),
        "passphrase.none": N_("No passphrase is set yet. Set one on this machine first."),
        "passphrase.wrong": N_("That is not the passphrase."),
        "guesses.too_many": N_("Too many wrong tries. Wait {wait_s}, then try again."),
        "proof.used_or_unknown": N_(
            "This server does not know the phone, or it has been let in before. Join with a code."
        ),
        "code.used_or_unknown": N_(
            "This code lets nobody in: it was used already, or never given. Ask for a new one."
        ),
        "code.expired": N_("This code is too old. Ask the director for a new one."),
        "plan.solver_lost": N_(
            "The planner ended without an answer (code {code}). Try again; if it happens again, "
            "give it fewer wishes at once."
        ),
        "plan.nothing_met": N_(
            "The search ended before it had met any plan. Let it run a little longer."
        ),
        "rehearsal.of_rehearsal": N_(
            "{path} is a rehearsal itself. Rehearse the book it was made from."
        ),
        "rehearsal.no_form": N_("The server's page for joining was not found ({status})."),
        "rehearsal.code_refused": N_("The server did not let {label} in with its code."),
        "rehearsal.no_answer": N_("The server did not answer {tries} times in a row."),
        "server.not_started": N_(
            "The server did not start on port {port}. If something else uses the port, "
            "give another one with --port."
        ),
        "server.port_taken": N_(
            "Port {port} cannot be used ({reason}). Give another one with --port, or 0 for any."
        ),
        "shelf.bad_name": N_(
            "“{given}” cannot be the name of a file. Use letters, figures and spaces, at most 80."
        ),
        "file.missing": N_("There is no file {file}. Look at its name and folder."),
        "file.unreadable": N_("The file {file} cannot be opened ({reason})."),
        "server.silent": N_(
            "A server has this book, but does not answer on port {port} ({reason}). If it has "
            "crashed, start it again; then repeat the command."
        ),
    }
)
