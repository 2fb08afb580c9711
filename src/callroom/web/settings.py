"""What whoever starts the server decides about it."""

import msgspec


class WebSettings(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Where the server answers, and to whom.

    Attributes
    ----------
    hosts
        Names and addresses this server may be asked by, besides this machine's own
        ``localhost`` and the host of the event's address; without ports.
    port
        The port it listens on; names its cookies, so that two books on one machine do not
        sign each other's people out.
    address
        Where phones find it, ``http://192.168.1.20:8000``; the event's own address if empty.
    owner_token
        What a command on this machine shows to write through the server; empty: no command
        may.
    copy_to
        A folder that is kept as a copy of the public pages; empty: none.
    foretell
        Work out from the forecast how long heats will take, and from that when those behind
        them are to be expected; otherwise they are taken to last as planned.
    behind_tls
        A server on this machine ends TLS before this one and says so in ``X-Forwarded-Proto`` and
        ``X-Forwarded-For``; nothing else than TLS is then taken to be private.
    kept
        Copies say that they are kept as they are, not made anew.
    """

    hosts: tuple[str, ...] = ()
    port: int = 8000
    address: str = ""
    owner_token: str = ""
    copy_to: str = ""
    foretell: bool = False
    behind_tls: bool = False
    kept: bool = False
