"""Letters by e-mail: the server they go through, and each letter on its way."""

from typing import Annotated, Literal

import msgspec

LetterKind = Literal["confirmation", "reminder", "day", "thanks", "test"]
Security = Literal["tls", "starttls", "none"]
LetterState = Literal["waiting", "sending", "sent", "failed", "unsure"]


class PostServer(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The SMTP server of the director's own mail; it lies with the secrets.

    Attributes
    ----------
    security
        ``tls`` from the first byte (usually port 465), ``starttls`` (587), or ``none``, which
        never carries a password beyond this machine.
    sender, sender_name
        Whom letters come from, and where answers go.
    confirms
        A letter is sent by itself when a team enters by the form.
    """

    host: str
    port: Annotated[int, msgspec.Meta(ge=1, le=65_535)]
    security: Security = "starttls"
    user: str = ""
    password: str = ""
    sender: str
    sender_name: str = ""
    confirms: bool = True


class OutLetter(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A letter in the outbox.

    Attributes
    ----------
    id
        Its own; a letter asked for twice has one id and is one letter.
    body
        Empty once it was sent: what is not needed any more is not kept.
    state
        ``waiting`` to be sent; ``sending`` just now; ``sent``: a server took it; ``failed``: a
        server will not take it; ``unsure``: the line broke when it might have been taken, so it
        is not sent again by itself.
    said
        What the server or the network said last.
    generation
        Of the book, when it was put in: another laptop does not send what the first one may have.
    """

    id: str
    team: str
    kind: LetterKind
    to: str
    subject: str
    body: str
    made_ms: int
    generation: int
    state: LetterState = "waiting"
    tried_ms: int | None = None
    said: str = ""
