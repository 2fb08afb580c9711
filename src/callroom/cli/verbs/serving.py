"""The verb that serves a book to browsers and phones."""

import contextlib
import signal
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path

import click
import msgspec

from callroom.bootstrap.books import open_book
from callroom.bootstrap.hall import HallKeeping, let_in
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.places import Place, file_of, place_of
from callroom.bootstrap.standby_keeper import StandbyKeeper
from callroom.cli.rehearsal import Stage
from callroom.cli.saying import answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _
from callroom.cli.workers import Work, Workers, need_database
from callroom.model import CallroomError
from callroom.views.sentences import sentence
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
    "--behind-tls",
    metavar="URL",
    default="",
    help="Hosted: a server on this machine ends TLS for URL and hands everything on (docs/hosting.md).",
)
@click.option(
    "--copy-to",
    type=click.Path(file_okay=False, path_type=Path),
    help="Keep a copy of the public pages in this folder, for any static host.",
)
@click.option(
    "--keep",
    type=click.Path(file_okay=False, path_type=Path),
    help="Keep a copy of the book in this folder (a stick, a share): another laptop carries on.",
)
@click.option("--browser/--no-browser", default=True, help="Open a browser on it.")
@click.option(
    "--workers",
    type=click.IntRange(1, 32),
    default=1,
    show_default=True,
    help="So many server processes on one book; needs --database.",
)
@json_option
@answering
def serve(
    book: str,
    hall: bool,
    port: int,
    address: str,
    behind_tls: str,
    copy_to: Path | None,
    keep: Path | None,
    browser: bool,
    workers: int,
    as_json: bool,
) -> None:
    """Serve a book: pages, lane pads, live standings. Stop with Ctrl-C."""
    need_database(book, workers)
    _need_fitting(behind_tls, hall=hall)
    wanted = Serving(
        hall=hall,
        port=port,
        address=behind_tls or address,
        copy_to=copy_to,
        keep=keep,
        browser=browser and not behind_tls,
        behind_tls=bool(behind_tls),
    )
    if workers > 1:
        serve_with_workers(book, wanted, workers, as_json=as_json)
        return
    serve_book(place_of(book), wanted, as_json=as_json)


class Serving(msgspec.Struct, frozen=True, kw_only=True):
    """How a book is served: to whom, where, and which copies are kept of it.

    `behind_tls`: everything comes by way of a server on this machine that ends TLS.
    """

    hall: bool
    port: int
    address: str
    copy_to: Path | None
    keep: Path | None
    browser: bool
    behind_tls: bool = False


def serve_with_workers(book: str, wanted: Serving, workers: int, *, as_json: bool) -> None:
    """Serve a book in a database by several processes until this one is told to stop."""
    if wanted.keep is not None:
        file_of(place_of(book))  # says that a copy is kept of files only
    host = EVERYWHERE if wanted.hall else "127.0.0.1"
    work = Work(
        book=book,
        host=host,
        port=wanted.port,
        address=wanted.address,
        copy_to=str(wanted.copy_to or ""),
        behind_tls=wanted.behind_tls,
    )
    stop_on_request()
    with Workers(work, workers) as served:
        url = f"http://127.0.0.1:{served.port}"
        if as_json:
            say_json({"url": url, "port": served.port, "director": served.directors_url})
        else:
            told = _("{workers} workers serve {book} at {url}; the director's pages are at {own}.")
            progress(
                told.format(workers=workers, book=place_of(book), url=url, own=served.directors_url)
            )
        if wanted.browser:
            webbrowser.open(served.directors_url)
        served.wait()


def serve_book(path: Place, wanted: Serving, *, as_json: bool) -> None:
    """Serve a book until the process is told to stop.

    A book that is brought back from the hall meanwhile is let in, and served at the same port.
    """
    if wanted.copy_to is not None:
        CopyFolder(wanted.copy_to)  # said now if it is not fit, not in the middle of the day
    _let_in(path)
    port = _serve_once(path, wanted, as_json=as_json)
    while port:
        _let_in(path)
        again = msgspec.structs.replace(wanted, port=port, browser=False)
        port = _serve_once(path, again, as_json=as_json)


def _let_in(path: Place) -> None:
    """Put a book that was brought back in the place of the one here, if there is one."""
    if not isinstance(path, Path):
        return
    try:
        back = let_in(path)
    except CallroomError as fault:
        # Refused when it came and again now: what is here is served as it is.
        progress(sentence(fault.finding(), _))
        return
    if back is not None:
        said = _("{event} is back from the hall, with {seq} entries. It goes on here.")
        progress(said.format(event=back.event, seq=back.seq))


def _serve_once(path: Place, wanted: Serving, *, as_json: bool) -> int:
    """Serve until told to stop; return the port if it is because a book was brought back."""
    opened = open_book(path)
    returned = threading.Event()
    try:
        host = EVERYWHERE if wanted.hall else "127.0.0.1"
        stage = Stage(
            opened,
            host=host,
            port=wanted.port,
            address=wanted.address,
            copy_to=str(wanted.copy_to or ""),
            behind_tls=wanted.behind_tls,
        )
        if isinstance(path, Path):
            opened.hall = HallKeeping(opened, on_return=_ending(stage, returned))
        with stage, _kept(opened, wanted, stage):
            if as_json:
                say_json({"url": stage.url, "port": stage.port})
            else:
                _say_where(opened, wanted, stage)
            if wanted.browser:
                webbrowser.open(stage.url)
            stop_on_request()
            stage.wait()
    finally:
        opened.close()
    return stage.port if returned.is_set() else 0


def _ending(stage: Stage, returned: threading.Event) -> Callable[[], None]:
    """Return what ends serving because a book was brought back."""

    def end() -> None:
        returned.set()
        stage.stop()

    return end


def _need_fitting(behind_tls: str, *, hall: bool) -> None:
    """Refuse an address that is not behind TLS, or one that everybody could go around."""
    if not behind_tls:
        return
    if not behind_tls.startswith("https://"):
        raise click.UsageError(
            _(
                "--behind-tls takes the public address, which begins with https://. Given: {given}"
            ).format(given=behind_tls)
        )
    if hall:
        raise click.UsageError(
            _(
                "--behind-tls listens on this machine only; with --hall everybody could go around it."
            )
        )


def _kept(
    book: OpenBook, wanted: Serving, stage: Stage
) -> contextlib.AbstractContextManager[object]:
    """Return what keeps a copy for another laptop, if one was asked for."""
    if wanted.keep is None:
        return contextlib.nullcontext()
    settings = WebSettings(hosts=own_addresses() if wanted.hall else (), port=stage.port)
    book.standby = StandbyKeeper(book, wanted.keep, open_to_phones(settings))
    return book.standby


def _say_where(book: OpenBook, wanted: Serving, stage: Stage) -> None:
    said = _("{book} is served at {url}. Stop with Ctrl-C.")
    progress(said.format(book=book.path.name, url=stage.url))
    event = book.state.event
    told = wanted.address or (event.address if event is not None else "")
    if wanted.hall:
        progress(_for_phones(told, WebSettings(hosts=own_addresses(), port=stage.port)))


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
