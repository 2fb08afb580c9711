"""The verb that serves a book to browsers and phones."""

import signal
import webbrowser
from pathlib import Path

import click

from callroom.bootstrap.books import open_book
from callroom.cli.rehearsal import Stage
from callroom.cli.saying import answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _

EVERYWHERE = "0.0.0.0"  # noqa: S104 - phones in the hall must reach it; asked for by --hall


@click.command()
@book_argument
@click.option("--hall", is_flag=True, help="Let phones on this network in, not this machine only.")
@click.option("--port", default=8000, show_default=True, help="0: any free port.")
@click.option("--address", default="", help="Where phones find it, if not as the event says.")
@click.option("--browser/--no-browser", default=True, help="Open a browser on it.")
@json_option
@answering
def serve(book: str, hall: bool, port: int, address: str, browser: bool, as_json: bool) -> None:
    """Serve a book: pages, lane pads, live standings. Stop with Ctrl-C."""
    opened = open_book(Path(book))
    try:
        host = EVERYWHERE if hall else "127.0.0.1"
        with Stage(opened, host=host, port=port, address=address) as stage:
            if as_json:
                say_json({"url": stage.url, "port": stage.port})
            else:
                progress(
                    _("{book} is served at {url}. Stop with Ctrl-C.").format(
                        book=book, url=stage.url
                    )
                )
            if browser:
                webbrowser.open(stage.url)
            stop_on_request()
            stage.wait()
    finally:
        opened.close()


def stop_on_request() -> None:
    """Let the system's request to end stop the server as Ctrl-C does."""

    def interrupt(_number: int, _frame: object) -> None:
        raise KeyboardInterrupt

    signal.signal(signal.SIGTERM, interrupt)
