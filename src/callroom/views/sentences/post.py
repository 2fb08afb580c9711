"""Sentences for what the post refuses, or a mail server."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "post.no_server": N_(
            "No mail server is set, so letters cannot be sent from here. Set one, or copy the text"
            " and the addresses into your own mail program."
        ),
        "post.rehearsal": N_("This is a rehearsal: no letter leaves it."),
        "post.password_in_clear": N_(
            "Without TLS the password would go to {host} where others can read it. Choose TLS or"
            " STARTTLS."
        ),
        "post.not_let_in": N_(
            "{host} does not let us in with this name and password ({said}). Many providers want a"
            " password made for one program: look in their settings."
        ),
        "post.not_safe": N_(
            "The line to {host} is not safe ({said}). Look at the server's name and the kind of"
            " security: 465 is usually TLS, 587 STARTTLS."
        ),
        "post.no_answer": N_(
            "{host} does not answer on port {port} ({said}). Look at the name, the port and this"
            " machine's network. The letters wait."
        ),
        "post.not_taken": N_(
            "The server did not take the letter ({said}). It may want you to write from the address"
            " that belongs to its user."
        ),
        "post.no_host": N_("Name the mail server: mail.example.org."),
        "post.no_port": N_("“{given}” is no port. 465 and 587 are usual."),
        "post.no_sender": N_("“{given}” is no e-mail address. Letters need one to come from."),
        "post.nobody": N_("There is nobody to write to. Choose other teams."),
    }
)
