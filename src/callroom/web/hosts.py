"""Which names this server answers to, and who sits at the machine itself."""

from functools import lru_cache
from ipaddress import ip_address
from urllib.parse import urlsplit

from callroom.model import State
from callroom.web.settings import WebSettings

LOOPBACK_NAMES = frozenset({"localhost", "127.0.0.1", "::1"})


@lru_cache(maxsize=1024)  # every request asks it, nearly always the same
def host_name(header: str) -> str:
    """Return the host of a ``Host`` header in lower case, without port and brackets."""
    try:
        return urlsplit(f"//{header.strip()}").hostname or ""
    except ValueError:
        return ""


def may_ask(header: str, settings: WebSettings, state: State) -> bool:
    """Whether a request with this ``Host`` header is meant for this server.

    A page of some other site can make a browser ask any address under its own name; only
    names that were set are answered.
    """
    name = host_name(header)
    if name in LOOPBACK_NAMES:
        return True
    addresses = [settings.address, state.event.address if state.event is not None else ""]
    known = {host_name(host) for host in settings.hosts}
    known |= {urlsplit(address).hostname or "" for address in addresses}
    return bool(name) and name in known


def leads_here(address: str, settings: WebSettings) -> bool:
    """Whether a phone that opens `address` comes to this server, as far as can be seen from here.

    A name may be anybody's: only its port is looked at. TLS may end at a server before this.
    """
    try:
        parts = urlsplit(address)
        port = settings.port if parts.scheme == "https" else parts.port or 80
    except ValueError:
        return False
    host = parts.hostname or ""
    if not host or host in LOOPBACK_NAMES or port != settings.port:
        return False
    return not _is_number(host) or host in settings.hosts


def open_to_phones(settings: WebSettings) -> tuple[str, ...]:
    """Return the addresses at which other devices find this server; empty: at none."""
    return tuple(
        f"http://{host}:{settings.port}"
        for host in settings.hosts
        if _is_number(host) and ":" not in host and not is_loopback(host)
    )


def _is_number(host: str) -> bool:
    try:
        ip_address(host)
    except ValueError:
        return False
    return True


@lru_cache(maxsize=1024)
def is_loopback(address: str) -> bool:
    """Whether a peer's address is this machine's own."""
    try:
        found = ip_address(address)
    except ValueError:
        return False
    mapped = getattr(found, "ipv4_mapped", None)
    return (mapped or found).is_loopback


def is_private(scheme: str, host_header: str, peer: str, *, behind_tls: bool = False) -> bool:
    """Whether nobody on the venue's network can read along: TLS, or never left the machine.

    `behind_tls`: everything comes by way of a server on this machine that ends TLS, so that
    coming from this machine says nothing; only what that server says came over TLS is private.
    """
    if scheme == "https":
        return True
    return not behind_tls and is_loopback(peer) and host_name(host_header) in LOOPBACK_NAMES
