"""`callroom` without a verb: the browser on a list of books."""

import contextlib
import socket
import webbrowser

import uvicorn

from callroom.bootstrap.books import new_book
from callroom.bootstrap.demonstration import make_demo_book
from callroom.bootstrap.serving_apart import Servers
from callroom.bootstrap.shelf import default_shelf
from callroom.cli.saying import answering, progress
from callroom.cli.words import _
from callroom.web.shelf import ShelfPorts, make_shelf


@answering
def show_shelf(browser: bool = True) -> None:
    """Serve the list of books to this machine's browser until Ctrl-C."""
    servers = Servers()
    ports = ShelfPorts(
        folder=default_shelf(),
        make=new_book,
        make_demo=make_demo_book,
        serve=servers.address_of,
    )
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        url = f"http://127.0.0.1:{listening.getsockname()[1]}/"
        config = uvicorn.Config(make_shelf(ports), log_level="warning", timeout_graceful_shutdown=1)
        progress(_("Your books are at {url}. Stop with Ctrl-C.").format(url=url))
        if browser:
            webbrowser.open(url)
        # The server hands Ctrl-C on once it has stopped; it is how this command ends.
        with contextlib.suppress(KeyboardInterrupt), contextlib.closing(servers):
            uvicorn.Server(config).run(sockets=[listening])
