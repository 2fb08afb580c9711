"""Listening: one process, one loop, gone within a second when asked to stop."""

import contextlib
import socket
from ipaddress import ip_address

import uvicorn

from callroom.web.app import make_app
from callroom.web.ports import Book
from callroom.web.settings import WebSettings

# An open stream would keep a server from stopping for as long as somebody watches.
STOP_WITHIN_S = 1
KEEP_ALIVE_S = 75


def serve(
    book: Book,
    host: str = "127.0.0.1",
    port: int = 8000,
    *,
    address: str = "",
    hosts: tuple[str, ...] = (),
    owner_token: str = "",
    copy_to: str = "",
    behind_tls: bool = False,
    certificate: str | None = None,
    private_key: str | None = None,
) -> None:
    """Serve a book until the process is told to stop.

    Parameters
    ----------
    host, port
        Where to listen; ``0.0.0.0`` for every network of this machine.
    address, hosts
        Where phones find the server, and what else it may be called; the addresses of this
        machine are answered without being named when it listens on all of them.
    owner_token
        Opens the door by which commands on this machine write.
    copy_to
        A folder to keep as a copy of the public pages.
    behind_tls
        A server on this machine ends TLS and hands everything on, as docs/hosting.md has it.
    certificate, private_key
        Paths of PEM files; with them the server speaks TLS.
    """
    server(
        book,
        host,
        port,
        address=address,
        hosts=hosts,
        owner_token=owner_token,
        copy_to=copy_to,
        behind_tls=behind_tls,
        certificate=certificate,
        private_key=private_key,
    ).run()


def server(
    book: Book,
    host: str = "127.0.0.1",
    port: int = 8000,
    *,
    address: str = "",
    hosts: tuple[str, ...] = (),
    owner_token: str = "",
    copy_to: str = "",
    behind_tls: bool = False,
    certificate: str | None = None,
    private_key: str | None = None,
) -> uvicorn.Server:
    """Return the server that :func:`serve` runs, to be run in a thread of one's own."""
    named = (*hosts, *(own_addresses() if host in {"0.0.0.0", "::"} else (host,)))  # noqa: S104
    settings = WebSettings(
        hosts=named,
        port=port,
        address=address,
        owner_token=owner_token,
        copy_to=copy_to,
        foretell=True,
        behind_tls=behind_tls,
    )
    return uvicorn.Server(
        uvicorn.Config(
            make_app(book, settings),
            host=host,
            port=port,
            lifespan="on",
            timeout_graceful_shutdown=STOP_WITHIN_S,
            timeout_keep_alive=KEEP_ALIVE_S,
            # A header anybody can send must not make a phone look like this machine: it is read
            # only where everything comes by way of a server of this machine.
            proxy_headers=behind_tls,
            forwarded_allow_ips="127.0.0.1,::1",
            server_header=False,
            access_log=False,
            log_level="warning",
            ssl_certfile=certificate,
            ssl_keyfile=private_key,
        )
    )


def own_addresses() -> tuple[str, ...]:
    """Return this machine's name and its addresses in the networks it is in."""
    name = socket.gethostname()
    found = {name.lower(), f"{name.lower()}.local"}
    with contextlib.suppress(OSError):
        found |= {str(info[4][0]) for info in socket.getaddrinfo(name, None)}
    # Nothing is sent: choosing a route is enough to learn the address it would start from.
    with (
        contextlib.suppress(OSError),
        socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe,
    ):
        probe.connect(("192.0.2.1", 9))
        found.add(str(probe.getsockname()[0]))
    return tuple(sorted(name for name in found if _usable(name)))


def _usable(name: str) -> bool:
    try:
        return not ip_address(name).is_unspecified
    except ValueError:
        return bool(name)
