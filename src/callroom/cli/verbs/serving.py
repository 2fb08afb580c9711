"""The verb that serves a book to browsers and phones."""

import signal
import webbrowser
from pathlib import Path

import click

from callroom.bootstrap.books import open_book
from callroom.cli.rehearsal import Stage
from callroom.cli.saying import answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _
from callroom.web.copies import CopyFolder
from callroom.web.hosts import leads_here, open_to_phones
from callroom.web.serving import own_addresses
from callroom.web.settings import WebSettings

EVERYWHERE = "0.0.0.0"  # noqa: S104 - phones in the hall must reach it; asked for by --hall


@click.command()
@book_argument
@click.option("--hall", is_flag=True, help="Let phones on this network in, not this machine only.")
@click.option("--port", default=8000, show_default=True, help="0: any free port.")
@click.option("--address", default="", help="Where phones find it, if not as the event says.")
@click.option(
    "--copy-to",
    type=click.Path(file_okay=False, path_type=Path),
    help="Keep a copy of the public pages in this folder, for any static host.",
)
@click.option("--browser/--no-browser", default=True, help="Open a browser on it.")
@json_option
@answering
def serve(
    book: str,
    hall: bool,
    port: int,
    address: str,
    copy_to: Path | None,
    browser: bool,
    as_json: bool,
) -> None:
    """Serve a book: pages, lane pads, live standings. Stop with Ctrl-C."""
    if copy_to is not None:
        CopyFolder(copy_to)  # said now if it is not fit, not in the middle of the day
    opened = open_book(Path(book))
    try:
        host = EVERYWHERE if hall else "127.0.0.1"
        copies = str(copy_to or "")
        with Stage(opened, host=host, port=port, address=address, copy_to=copies) as stage:
            if as_json:
                say_json({"url": stage.url, "port": stage.port})
            else:
                progress(
                    _("{book} is served at {url}. Stop with Ctrl-C.").format(
                        book=book, url=stage.url
                    )
                )
            event = opened.state.event
            told = address or (event.address if event is not None else "")
            if hall and not as_json:
                progress(_for_phones(told, WebSettings(hosts=own_addresses(), port=stage.port)))
            if browser:
                webbrowser.open(stage.url)
            stop_on_request()
            stage.wait()
    finally:
        opened.close()


def _for_phones(address: str, settings: WebSettings) -> str:
    """Return where phones find the server, and the mend if they are sent to somewhere else."""
    if leads_here(address, settings):
        return _("Phones find it at {address}.").format(address=address)
    places = ", ".join(open_to_phones(settings)) or "–"
    if not address:
        return _(
            "Phones find it at {places}. Put the right one of these into the event as its address,"
            " or start with --address, before cards and codes are printed."
        ).format(places=places)
    return _(
        "Cards and codes lead phones to {address}; as far as this machine can see, that is not"
        " here. It answers at {places}: start with --address and the right one of these, and put"
        " it into the event before cards are printed."
    ).format(address=address, places=places)


def stop_on_request() -> None:
    """Let the system's request to end stop the server as Ctrl-C does."""

    def interrupt(_number: int, _frame: object) -> None:
        raise KeyboardInterrupt

    signal.signal(signal.SIGTERM, interrupt)
